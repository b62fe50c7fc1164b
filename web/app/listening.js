/**
 * Between store and player: the chosen stage is what sounds, and what sounds is what is shown.
 *
 * Timelines come from the engine, one a stage, and are kept as long as the document stays the same; the others are
 * fetched when the chosen one is there, so that going on to another stage needs no waiting.
 */

import { upAndBack } from "../audio/player.js";
import { pairPlaces, touched, writtenAt } from "../draw/marker.js";

/** @typedef {import("../draw/shapes.js").Timeline} Timeline */

/** How long a stroke's thread glows, in seconds. Our choice. */
const GLOW = 0.22;

export class Listening {
  #player;
  #engine;
  #store;
  #document = "";
  /** @type {Map<number, Timeline>} by stage */
  #lines = new Map();
  /** @type {WeakMap<Timeline, [number, number][]>} */
  #pairs = new WeakMap();
  /** @type {Timeline | null} */
  #loaded = null;

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
    this.#turnTo(document);
    this.#lines.set(timeline.stage, timeline);
  }

  /** Let the chosen stage be what sounds: from the next loop point on while something plays. */
  async follow() {
    const { view, chosen } = this.#store.state;
    if (!view) return;
    this.#turnTo(view.document);
    this.#store.set({ timeline: this.#lines.get(chosen) ?? null });
    const line = await this.#fetch(view.document, chosen);
    const now = this.#store.state;
    if (!line || now.view?.document !== view.document || now.chosen !== chosen) return;
    if (line !== this.#loaded && !now.through.on) this.#player.swap(line);
    this.#loaded = line;
    this.#store.set({ timeline: line });
    for (const { stage } of view.stages) {
      if (this.#document !== view.document) return;
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
    const stages = view.stages.filter((stage) => stage.on).map(({ stage }) => stage);
    const lines = [];
    for (const stage of stages) {
      const line = this.#lines.get(stage) ?? (await this.#fetch(view.document, stage));
      if (line) lines.push({ timeline: line, passes: through.times, stage });
    }
    const now = this.#store.state;
    if (!now.through.on || now.view?.document !== view.document || !lines.length) return;
    this.#player.queue(through.back ? upAndBack(lines) : lines, { then: "stop" });
    if (this.#player.state !== "playing") this.#play();
  }

  /** Where the music is heard now, for drawing. @returns {import("../view/light.js").Heard | null} */
  hear() {
    const { view, tempo } = this.#store.state;
    const now = this.#player.position();
    if (!view || !now || now.lead) return null;
    const stage = Math.min(now.stage, view.stages.length - 1);
    const line = this.#lines.get(stage);
    const ticks = now.ticks % view.cycle;
    if (!line) return { at: ticks, stage, ids: [] };
    let pairs = this.#pairs.get(line);
    if (!pairs) this.#pairs.set(line, (pairs = pairPlaces(line, view.stages, view.cycle)));
    const hold = (GLOW * (tempo ?? view.tempo) * line.tempo_unit_ticks) / 60;
    return { at: writtenAt(pairs, ticks), stage, ids: touched(line, ticks, Math.min(hold, view.cycle), view.cycle) };
  }

  /** Hand the settings of the store to the player. */
  settle() {
    const { tempo, mix, onlyAdded, click } = this.#store.state;
    const player = this.#player;
    if (player.tempo !== tempo) player.tempo = tempo;
    if (player.mix !== mix) player.mix = mix;
    if (player.onlyAdded !== onlyAdded) player.onlyAdded = onlyAdded;
    const loudness = click ? 1 : 0;
    if (player.click !== loudness) player.click = loudness;
  }

  #play() {
    this.#store.tell("sound", null);
    this.#player.play();
  }

  #hearState() {
    const sound = this.#player.state;
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
    if (this.#store.state.through.on) this.#store.set({ chosen: stage, timeline: this.#lines.get(stage) ?? null });
  }

  /** @param {string} document */
  #turnTo(document) {
    if (document === this.#document) return;
    this.#document = document;
    this.#lines = new Map();
    this.#loaded = null;
  }

  /** @param {string} document @param {number} stage @returns {Promise<Timeline | null>} */
  async #fetch(document, stage) {
    const known = this.#lines.get(stage);
    if (known) return known;
    try {
      const line = await this.#engine.ask({ ask: "timeline", document, stage });
      if (document === this.#document) this.#lines.set(stage, line);
      return line;
    } catch {
      // The engine's own state tells why; what was loaded before goes on sounding.
      return null;
    }
  }
}
