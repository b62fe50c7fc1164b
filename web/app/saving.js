/**
 * The sound to take along: the chosen stage as it is heard now, at the practice tempo, so many rounds, as a WAV file.
 *
 * Where there are several, all stages one after the other can be had as well, as they are played through.
 *
 * What is heard is what the file holds: the mix, only what was added, silent lines, the click, the looped counts, and a
 * count-in where there is one. The volume is not in it.
 */

import { FASTEST, SLOWEST } from "../audio/frames.js";
import { SoundProblem } from "../audio/kit.js";
import { upAndBack } from "../audio/plans.js";
import { RATE, passSeconds, writeSound } from "../audio/writing.js";
import { frameOf } from "../draw/frame.js";

/** Seconds of a file at most: 80 MB, which a phone can still hold twice. Our choice. */
const MOST = 300;
/** Bytes of a second: two channels of three bytes. */
const A_SECOND = RATE * 6;

/**
 * @typedef {object} SoundFile
 * @property {number} most  rounds at most; 0 where there can be no file
 * @property {(rounds: number) => string} about  what the file would be, as a sentence
 * @property {(rounds: number) => Promise<{ wav: Blob | null, ending: string, says: string }>} save  ending: of its name
 * @property {SoundFile | null} through  the stages one after the other, null where there is one only
 */
/** @typedef {import("../draw/shapes.js").Timeline} Timeline */
/**
 * @typedef {object} Row  what is played one after the other
 * @property {string} what  as a sentence begins
 * @property {string} name  in the file's name
 * @property {number} pass  seconds of a round of each
 * @property {() => Promise<Timeline[]>} lines
 */

/**
 * Say what can be saved now, null for nothing.
 * @param {import("./store.js").State} state @param {(stages: number[]) => Promise<Timeline[]>} linesOf asks for their timelines
 * @param {string} [usual] address of the usual kit.json @returns {SoundFile | null}
 */
export function soundOf(state, linesOf, usual = document.documentElement.dataset.kit ?? "") {
  const { view, timeline, chosen, sounds, sounding } = state;
  const kit = sounds.find(({ name }) => name === sounding)?.address ?? usual;
  if (!view || !timeline) return null;
  const bpm = state.tempo ?? view.tempo;
  if (bpm < SLOWEST || bpm > FASTEST) {
    const says = `There is sound from ${SLOWEST} to ${FASTEST} beats a minute; this is ${bpm}.`;
    return { most: 0, about: () => says, save: async () => ({ wav: null, ending: "", says }), through: null };
  }
  const what = chosen === 0 ? "The base beat" : `Stage ${chosen}`;
  const one = { what, name: `stage-${chosen}`, pass: passSeconds(timeline, bpm), lines: async () => [timeline] };
  const ways = throughOf(state, linesOf);
  return { ...file(state, timeline, kit, bpm, one), through: ways && file(state, timeline, kit, bpm, ways) };
}

/**
 * The stages one after the other, as they are played through; null where there is one only.
 * @param {import("./store.js").State} state @param {(stages: number[]) => Promise<Timeline[]>} linesOf @returns {Row | null}
 */
function throughOf(state, linesOf) {
  const { view, timeline, range, through } = state;
  const on = view?.stages.filter((stage) => stage.on).map(({ stage }) => stage) ?? [];
  if (!view || !timeline || on.length < 2) return null;
  const way = through.back ? upAndBack(on) : on;
  const ticks = (/** @type {number} */ stage) => (range ? range.end - range.start : frameOf(view, stage).cycle);
  const total = way.reduce((sum, stage) => sum + ticks(stage), 0);
  const pass = passSeconds({ ...timeline, loop: total, parts: 1 }, state.tempo ?? view.tempo);
  const what = `From the base beat to stage ${on.at(-1)}${through.back ? " and back" : ""}, each stage`;
  return { what, name: through.back ? "there-and-back" : "through", pass, lines: () => linesOf(way) };
}

/**
 * @param {import("./store.js").State} state @param {Timeline} timeline the first that is heard, or one like it
 * @param {string} kit address of kit.json @param {number} bpm @param {Row} row @returns {SoundFile}
 */
function file(state, timeline, kit, bpm, { what, name, pass, lines }) {
  const { clicking } = state;
  const lead = leadOf(timeline);
  const before = lead ? passSeconds(lead, bpm) : 0;
  const most = Math.max(1, Math.floor((MOST - before) / pass));
  const beside = [lead ? "a count-in" : "", state.click ? "the click" : ""].filter(Boolean).join(" and ");
  /** @param {number} rounds */
  const about = (rounds) => {
    const seconds = before + rounds * pass;
    const megabytes = Math.max(0.1, (seconds * A_SECOND) / 1e6).toFixed(1);
    const held = `${what} as you hear it now, at ${bpm}${beside ? `, with ${beside}` : ""}`;
    const end = rounds >= most ? ` A file has at most ${MOST / 60} minutes.` : "";
    return `${held}: ${Math.round(seconds)} seconds, ${megabytes}\u00a0MB as WAV.${end}`;
  };
  /** @param {number} rounds */
  const save = async (rounds) => {
    const ending = `${name}-at-${String(bpm).replace(".", "-")}.wav`;
    const { mix, onlyAdded, muted, soloed } = state;
    const count = clicking.loud ** 2; // as it is heard: see Listening
    const click = state.click ? count : 0;
    try {
      const told = await lines();
      if (!told.length) return { wav: null, ending, says: "The engine does not answer. Try again in a moment." };
      const first = leadOf(told[0]);
      const passes = Math.min(rounds, most);
      const parts = [...(first ? [{ timeline: first, passes: 1 }] : []), ...told.map((line) => ({ timeline: line, passes }))];
      const made = await writeSound(kit, parts, bpm, { mix, onlyAdded, muted, soloed, click, count, clickPan: clicking.pan });
      const quieter = made.quieter ? ` It is ${made.quieter.toFixed(1)} dB quieter, so that nothing is distorted.` : "";
      return { wav: made.wav, ending, says: `Saved: ${Math.round(made.seconds)} seconds.${quieter}` };
    } catch (error) {
      if (error instanceof SoundProblem) return { wav: null, ending, says: error.message };
      if (!(error instanceof RangeError)) throw error;
      return { wav: null, ending, says: "There is not enough room for so long a file here. Ask for fewer rounds." };
    }
  };
  return { most, about, save, through: null };
}

/**
 * The count-in of a timeline as a timeline of its own, null for none.
 * @param {import("../draw/shapes.js").Timeline} timeline @returns {import("../audio/line.js").Timeline | null}
 */
function leadOf(timeline) {
  const { count_in: count } = timeline;
  return count ? /** @type {any} */ ({ ...timeline, ...count, events: [], rounds: 1, count_in: null, counting: true }) : null;
}
