/**
 * What does the audio thread need to know of a timeline?
 *
 * A Line is the engine's timeline made ready for one tempo and one rate: typed arrays in the order of sounding, with
 * surfaces, dynamics and layers as numbers. It is plain data and goes to the audio thread by postMessage.
 * Group of an event: layer * 2 + added, with layer base 0, stage 1, both 2; clicks are group 6, a count-in is group 7.
 * Slot of an event: surface * 4 + dynamic, with the surface's number in the kit.
 * Clicks may differ from round to round: the timeline lays those of several rounds out one after the other. Here each
 * has its place within the loop and the number of its round, so that all rounds have the same exact frames. Strokes as
 * a hand plays them have the number of their round already, and are a little louder or softer than usual.
 */
import { framesOf } from "./frames.js";

export const DYNAMICS = /** @type {const} */ (["ghost", "soft", "normal", "accent"]);
export const LAYERS = /** @type {const} */ (["base", "stage", "both"]);
export const CLICK_GROUP = 6;
export const COUNT_GROUP = 7;
export const GROUPS = 8;
/** Gain of a quiet click; the engine's timeline/clicks.py has the same. */
export const QUIET = 0.4;

/**
 * @typedef {object} TimelineEvent  one stroke, or the end of a ringing one
 * @property {number} at  1/parts tick from the start of the cycle
 * @property {number} us  fixed offset in microseconds
 * @property {string} surface
 * @property {string} dynamic
 * @property {string} id
 * @property {string} layer  "base", "stage" or "both"
 * @property {boolean} added
 * @property {boolean} grace
 * @property {boolean} stop
 * @property {number} [gain]  hundredths of a decibel more than usual; 0 if not told
 * @property {number} [round]  in which of the rounds it sounds; -1, each of them, if not told
 */

/**
 * @typedef {object} Timeline  the engine's answer of that name
 * @property {number} stage
 * @property {number} loop  1/parts tick
 * @property {number} parts
 * @property {number} tempo_unit_ticks
 * @property {number} tempo
 * @property {TimelineEvent[]} events
 * @property {Click[]} clicks  of all `rounds` of the loop, one after the other
 * @property {number} [rounds]  after how many clicks and strokes begin again; 1 if not told
 * @property {{loop: number, clicks: Click[]} | null} [count_in]  what sounds once before the loop
 * @property {boolean} [counting]  it is a count-in itself
 */
/** @typedef {{at: number, us: number, strong: boolean, quiet?: boolean}} Click */

/**
 * @typedef {object} LineOnly
 * @property {number} key  which timeline this is; the same at every tempo
 * @property {number} loopTicks  the loop in ticks, for drawing
 * @property {Int32Array} slot
 * @property {Int32Array} surface
 * @property {Uint8Array} group
 * @property {Uint8Array} stop
 * @property {Float32Array} level  gain of the event, 1 but for quiet clicks and for a hand's strokes
 * @property {number} rounds  after how many rounds all begins again
 * @property {Int32Array} round  in which of these rounds it sounds, -1 for each of them
 */
/** @typedef {import("./frames.js").Frames & LineOnly} Line */

/**
 * Make a timeline ready for the audio thread.
 *
 * @param {number} key
 * @param {Timeline} timeline
 * @param {number} bpm
 * @param {number} rate  frames a second
 * @param {(surface: string) => number} surfaceNumber  -1 for one the kit does not have: its events are left out
 * @param {number} clickSurface  number of the click's own surface
 * @returns {Line}
 * @throws {RangeError} as framesOf
 */
export function lineOf(key, timeline, bpm, rate, surfaceNumber, clickSurface) {
  const strokes = timeline.events
    .map((event) => ({ ...event, number: surfaceNumber(event.surface) }))
    .filter((event) => event.number >= 0)
    .map((event) => ({
      at: event.at,
      us: event.us,
      surface: event.number,
      dynamic: DYNAMICS.indexOf(/** @type {any} */ (event.dynamic)),
      group: LAYERS.indexOf(/** @type {any} */ (event.layer)) * 2 + Number(event.added),
      stop: Number(event.stop),
      level: event.gain ? 10 ** (event.gain / 2000) : 1,
      round: event.round ?? -1,
    }));
  const { loop, rounds = 1 } = timeline;
  const clicks = timeline.clicks.map((click) => ({
    at: rounds > 1 ? click.at % loop : click.at,
    us: click.us,
    surface: clickSurface,
    dynamic: click.strong ? 3 : 0,
    group: timeline.counting ? COUNT_GROUP : CLICK_GROUP,
    stop: 0,
    level: click.quiet ? QUIET : 1,
    round: rounds > 1 ? Math.floor(click.at / loop) : -1,
  }));
  const events = [...strokes, ...clicks];
  const odd = events.find((event) => event.dynamic < 0 || event.group < 0);
  if (odd) throw new RangeError(`cannot play the event at ${odd.at}: its dynamic or layer is not known here`);
  const frames = framesOf(timeline, events, bpm, rate);
  const order = Array.from(frames.source, (index) => events[index]);
  return {
    ...frames,
    key,
    loopTicks: timeline.loop / timeline.parts,
    slot: Int32Array.from(order, (event) => event.surface * 4 + event.dynamic),
    surface: Int32Array.from(order, (event) => event.surface),
    group: Uint8Array.from(order, (event) => event.group),
    stop: Uint8Array.from(order, (event) => event.stop),
    level: Float32Array.from(order, (event) => event.level),
    rounds,
    round: Int32Array.from(order, (event) => event.round),
  };
}
