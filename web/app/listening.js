/**
 * Between store and player: the chosen stage is what sounds, and what sounds is what is shown.
 *
 * Timelines come from the engine, one a stage, and are kept as long as the document stays the same; the others are
 * fetched when the chosen one is there, so that going on to another stage needs no waiting.
 */

import { upAndBack } from "../audio/player.js";
import { pairPlaces, touched, writtenAt } from "../draw/marker.js";
import { unfoldTimeline } from "./unfold.js";

/** @typedef {import("../draw/shapes.js").Timeline} Timeline */

/** Milliseconds of rest after a change before the other stages' timelines are fetched. Our choice. */
const AHEAD = 800;
/** How long a stroke's thread glows, in seconds. Our choice. */
const GLOW = 0.22;

export class Listening {
  #player;
  #engine;
  #store;
  #document = "";
  /** @type {import("./store.js").Range | null} */
  #range = null;
  /** @type {Map<number, Timeline>} by stage */
  #lines = new Map();
  /** @type {{ lines: Map<number, Timeline>, range: import("./store.js").Range | null }} what sounds, until a swap comes on */
  #heard = { lines: this.#lines, range: null };
  /** @type {WeakMap<Timeline, [number, number][]>} */
  #pairs = new WeakMap();
  /** @type {Timeline | null} */
  #loaded = null;
  /** @type {ReturnType<typeof setTimeout> | undefined} */
  #ahead;

  /**
   * @param {import("../audio/player.js").Player} player
   * @param {import("../engine/client.js").EngineClient} engine
   * @param {import("./store.js").Store} store
   */
  constructor(player, engine, store) {
    this.#player = player;
    this.#engine = engine;
    this.#store = store;
    player.addEventListener("state", () => this.#hearState());
    player.addEventListener("stage", (event) => this.#hearStage(/** @type {CustomEvent} */ (event).detail.stage));
    player.addEventListener("problem", (event) => {
      const { message } = /** @type {CustomEvent} */ (event).detail;
      store.tell("sound", { text: message, trouble: true, again: false });
    });
  }

  /** Take a timeline that came with the page. @param {Timeline} timeline @param {string} document */
  keep(timeline, document) {
    this.#turnTo(document, null);
    this.#lines.set(timeline.stage, timeline);
  }

  /** Let the chosen stage be what sounds: from the next loop point on while something plays. */
  async follow() {
    const { view, chosen } = this.#store.state;
    if (!view) return;
    this.#turnTo(view.document, this.#rangeIn(view));
    const lines = this.#lines;
    this.#store.set({ timeline: lines.get(chosen) ?? null });
    const line = await this.#fetch(view.document, chosen);
    const now = this.#store.state;
    if (!line || this.#lines !== lines || now.chosen !== chosen) return;
    if (line !== this.#loaded && !now.through.on) this.#player.swap(line);
    this.#loaded = line;
    this.#store.set({ timeline: line });
    clearTimeout(this.#ahead);
    this.#ahead = setTimeout(() => this.#fetchAhead(view, lines), AHEAD);
  }

  /** Fetch the other stages, so that going on to one needs no waiting. @param {import("../draw/shapes.js").View} view @param {Map<number, Timeline>} lines */
  async #fetchAhead(view, lines) {
    for (const { stage } of view.stages) {
      if (this.#lines !== lines) return;
      await this.#fetch(view.document, stage);
    }
  }

  /** Play, or stop. Must be called inside a user's gesture. */
  toggle() {
    if (this.#player.state === "playing" || this.#player.state === "loading") this.#player.stop();
    else this.#play();
  }

  /** Play through the stages, or end that. @param {import("./store.js").State["through"]} through */
  async through(through) {
    const before = this.#store.state.through;
    this.#store.set({ through });
    if (!through.on) {
      if (!before.on) return;
      this.#loaded = null;
      await this.follow();
      return;
    }
    const { view } = this.#store.state;
    if (!view) return;
    this.#turnTo(view.document, this.#rangeIn(view));
    const kept = this.#lines;
    const stages = view.stages.filter((stage) => stage.on).map(({ stage }) => stage);
    const lines = [];
    for (const stage of stages) {
      const line = await this.#fetch(view.document, stage);
      if (line) lines.push({ timeline: line, passes: through.times, stage });
    }
    const now = this.#store.state;
    if (!now.through.on || this.#lines !== kept || !lines.length) return;
    this.#player.queue(through.back ? upAndBack(lines) : lines, { then: "stop" });
    if (this.#player.state !== "playing") this.#play();
  }

  /** Where the music is heard now, for drawing. @returns {import("../view/light.js").Heard | null} */
  hear() {
    const { view, tempo } = this.#store.state;
    const now = this.#player.position();
    if (!view || !now || now.lead) return null;
    const { lines, range } = this.#heard;
    const stage = Math.min(now.stage, view.stages.length - 1);
    const line = lines.get(now.stage);
    if (!line) return { at: now.ticks % view.cycle, stage, ids: [] };
    const span = line.loop / line.parts;
    const { start, end } = range ?? { start: 0, end: span };
    const ticks = now.ticks % span;
    let pairs = this.#pairs.get(line);
    if (!pairs) this.#pairs.set(line, (pairs = pairPlaces(line, view.stages, end, start)));
    const hold = (GLOW * (tempo ?? view.tempo) * line.tempo_unit_ticks) / 60;
    return { at: writtenAt(pairs, ticks) % view.cycle, stage, ids: touched(line, ticks, Math.min(hold, span), span) };
  }

  /** Hand the settings of the store to the player. */
  settle() {
    const { tempo, mix, onlyAdded, click, volume, muted, soloed } = this.#store.state;
    const player = this.#player;
    if (player.tempo !== tempo) player.tempo = tempo;
    if (player.mix !== mix) player.mix = mix;
    if (player.onlyAdded !== onlyAdded) player.onlyAdded = onlyAdded;
    const loudness = click ? 1 : 0;
    if (player.click !== loudness) player.click = loudness;
    if (player.volume !== volume) player.volume = volume;
    balance(player.muted, muted, (surface, on) => player.mute(surface, on));
    balance(player.soloed, soloed, (surface, on) => player.solo(surface, on));
  }

  #play() {
    this.#store.tell("sound", null);
    this.#player.play();
  }

  #hearState() {
    const sound = this.#player.state;
    if (sound === "playing") this.#heard = { lines: this.#lines, range: this.#range };
    this.#store.set({ sound });
    const { through } = this.#store.state;
    if (sound === "stopped" && through.on) {
      this.#store.set({ through: { ...through, on: false } });
      this.#loaded = null;
      this.follow();
    }
  }

  /** @param {number} stage */
  #hearStage(stage) {
    this.#heard = { lines: this.#lines, range: this.#range };
    if (this.#store.state.through.on) this.#store.set({ chosen: stage, timeline: this.#lines.get(stage) ?? null });
  }

  /** The part to be looped, if this beat has it. @param {import("../draw/shapes.js").View} view */
  #rangeIn({ cycle, grid }) {
    const { range } = this.#store.state;
    if (!range) return null;
    const there = range.end <= cycle && grid.some(({ at }) => at === range.start);
    if (!there) this.#store.set({ range: null });
    return there ? range : null;
  }

  /** @param {string} document @param {import("./store.js").Range | null} range */
  #turnTo(document, range) {
    if (document === this.#document && range?.start === this.#range?.start && range?.end === this.#range?.end) return;
    this.#document = document;
    this.#range = range;
    this.#lines = new Map();
    this.#loaded = null;
  }

  /** @param {string} document @param {number} stage @returns {Promise<Timeline | null>} */
  async #fetch(document, stage) {
    const lines = this.#lines;
    const known = lines.get(stage);
    if (known) return known;
    try {
      const reply = await this.#engine.ask({ ask: "timeline", document, stage, ...this.#range, have: "" });
      const line = unfoldTimeline(/** @type {any} */ (reply));
      lines.set(stage, line);
      return line;
    } catch {
      // The engine's own state tells why; what was loaded before goes on sounding.
      return null;
    }
  }
}

/**
 * Let the player's set of lines be what the store wishes.
 * @param {ReadonlySet<string>} now @param {string[]} wished @param {(surface: string, on: boolean) => void} set
 */
function balance(now, wished, set) {
  for (const surface of [...now]) if (!wished.includes(surface)) set(surface, false);
  for (const surface of wished) if (!now.has(surface)) set(surface, true);
}
