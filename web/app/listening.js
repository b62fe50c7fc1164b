/**
 * Between store and player: the chosen stage is what sounds, and what sounds is what is shown.
 *
 * Timelines come from the engine, one a stage, and are kept as long as the document stays the same; the others are
 * fetched when the chosen one is there, so that going on to another stage needs no waiting.
 */

import { upAndBack } from "../audio/player.js";
import { frameOf } from "../draw/frame.js";
import { pairPlaces, touched, writtenAt } from "../draw/marker.js";
import { itemsOf } from "./aside.js";
import { USUAL } from "./own-click.js";
import { EXACT } from "./own-loose.js";
import { unfoldTimeline } from "./unfold.js";

/** @typedef {import("../draw/shapes.js").Timeline} Timeline */

/** Milliseconds of rest after a change before the other stages' timelines are fetched. Our choice. */
const AHEAD = 800;
/** How a beat is heard that is to be told from others: as the stage is written, all of it. */
const AS_WRITTEN = { mix: 1, onlyAdded: false, muted: [], soloed: [] };
/** How long a stroke's thread glows, in seconds. Our choice. */
const GLOW = 0.22;

export class Listening {
  #player;
  #engine;
  #store;
  #document = "";
  #kit = "";
  /** What of the beat is heard, and who plays it where that matters. @type {{ part: string, player: string }} */
  #part = { part: "", player: "" };
  /** The next line is another part of what sounds: it comes at once. */
  #atOnce = false;
  /** @type {import("./store.js").Range | null} */
  #range = null;
  #clicks = USUAL.kind;
  #countIn = USUAL.countIn;
  #loose = EXACT;
  /** @type {WeakSet<Timeline>} with other clicks or another hand than wished for: they do until the engine has answered */
  #stale = new WeakSet();
  /** @type {Map<number, Timeline>} by stage */
  #lines = new Map();
  /** @type {{ lines: Map<number, Timeline>, range: import("./store.js").Range | null }} what sounds, until a swap comes on */
  #heard = { lines: this.#lines, range: null };
  /** @type {WeakMap<Timeline, [number, number][]>} */
  #pairs = new WeakMap();
  /** @type {Timeline | null} */
  #loaded = null;
  /** @type {{ tempo: number | null } | null} what sounds and nothing of it is to be seen: at which tempo, null for the store's */
  #hidden = null;
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
    const { clicking, loose } = this.#store.state;
    this.#turnTo(document, null);
    this.#lines.set(timeline.stage, timeline);
    // It is as it was stored with the page: exact, with the usual click.
    if (loose !== EXACT || clicking.kind !== USUAL.kind || clicking.countIn !== USUAL.countIn) this.#stale.add(timeline);
  }

  /** Let the chosen stage be what sounds: from the next loop point on while something plays. */
  async follow() {
    const { view, chosen, turns } = this.#store.state;
    if (!view) return;
    if (turns.on && chosen !== turns.own && chosen !== turns.other) this.#store.set({ turns: { ...turns, on: false } });
    this.#turnTo(view.document, this.#rangeIn(view), view.kit?.text);
    const lines = this.#lines;
    this.#store.set({ timeline: lines.get(chosen) ?? null });
    const line = await this.#fetch(view.document, chosen);
    const now = this.#store.state;
    if (!line || this.#lines !== lines || now.chosen !== chosen) return;
    if (line !== this.#loaded && !now.through.on && !this.#hidden) {
      if (now.turns.on) await this.#alternate(chosen);
      else this.#player.swap(line, { at: this.#atOnce ? "now" : "loop" });
    }
    this.#atOnce = false;
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
    const { through: before, turns } = this.#store.state;
    this.#store.set({ through, turns: { ...turns, on: turns.on && !through.on } });
    if (!through.on) {
      if (!before.on) return;
      this.#loaded = null;
      await this.follow();
      return;
    }
    const { view } = this.#store.state;
    if (!view) return;
    this.#turnTo(view.document, this.#rangeIn(view), view.kit?.text);
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

  /** Play two stages in turn, or end that. @param {import("./store.js").State["turns"]} turns */
  async turns(turns) {
    const { turns: before, through, chosen } = this.#store.state;
    this.#store.set({ turns, through: { ...through, on: through.on && !turns.on } });
    if (!turns.on) {
      if (!before.on) return;
      this.#loaded = null;
      await this.follow();
      return;
    }
    await this.#alternate(before.on && chosen === before.other ? turns.other : turns.own);
    if (this.#store.state.turns.on && this.#player.state !== "playing") this.#play();
  }

  /** Of two stages in turn, go on to the other one at the loop point. */
  changeOver() {
    const { turns, chosen } = this.#store.state;
    if (turns.on && !this.#hidden) this.#alternate(chosen === turns.own ? turns.other : turns.own);
  }

  /** Have the two stages played in turn, from the next loop point on. @param {number} first which of them begins */
  async #alternate(first) {
    const { view, turns } = this.#store.state;
    if (!view) return;
    this.#turnTo(view.document, this.#rangeIn(view), view.kit?.text);
    const kept = this.#lines;
    const items = [];
    for (const stage of first === turns.own ? [turns.own, turns.other] : [turns.other, turns.own]) {
      const line = await this.#fetch(view.document, stage);
      if (line) items.push({ timeline: line, passes: turns.every, stage });
    }
    if (!this.#store.state.turns.on || this.#lines !== kept || this.#hidden || items.length < 2) return;
    this.#player.queue(items, { then: "again" });
  }

  /** The timelines of stages as they are heard now; those that can't be had are left out. @param {number[]} stages @returns {Promise<Timeline[]>} */
  async linesOf(stages) {
    const { view } = this.#store.state;
    if (!view) return [];
    this.#turnTo(view.document, this.#rangeIn(view), view.kit?.text);
    const lines = [];
    for (const stage of stages) lines.push(await this.#fetch(view.document, stage));
    return lines.filter((line) => line !== null);
  }

  /**
   * Play a stage so many times, showing nothing of it; 0 times stops that. Must be called inside a user's gesture.
   * @param {string} document @param {number} stage @param {number} times @returns {Promise<boolean>} whether it sounds
   */
  once(document, stage, times) {
    if (!times) return this.#hush();
    return this.#aside(null, "stop", async () => [{ timeline: await this.#askAside({ document, stage }, 0), passes: times, stage }]);
  }

  /**
   * Play a step of a practice plan round and round at a tempo of its own; null stops that. Must be called inside a user's
   * gesture. It is played exactly as written: what one practises with does not stray.
   * @param {import("./aside.js").Step | null} step @returns {Promise<boolean>} whether it sounds
   */
  rehearse(step) {
    if (!step) return this.#hush();
    const { document, tempo } = step;
    return this.#aside(tempo, "again", () => itemsOf(step, (what) => this.#askAside({ document, loose: EXACT, ...what })));
  }

  /** Go on with the step of a plan at another tempo. @param {number} bpm */
  pace(bpm) {
    if (!this.#hidden) return;
    this.#hidden = { tempo: bpm };
    this.settle();
  }

  /** @returns {Promise<boolean>} */
  async #hush() {
    if (this.#hidden) this.#player.stop();
    return false;
  }

  /**
   * @param {{ document: string, stage: number, start?: number, end?: number, loose?: number }} what
   * @param {number} [count_in] bars @returns {Promise<Timeline>}
   */
  async #askAside(what, count_in = this.#store.state.clicking.countIn) {
    const { view, clicking, loose } = this.#store.state;
    const question = { ask: "timeline", loose, ...what, clicks: clicking.kind, count_in, kit: view?.kit?.text ?? "", have: "" };
    return unfoldTimeline(/** @type {any} */ (await this.#engine.ask(question, { supersedes: "once" })));
  }

  /**
   * Play something of which nothing is shown.
   * @param {number | null} tempo null for that of the store @param {"stop" | "again"} then
   * @param {() => Promise<import("../audio/player.js").Item[]>} make @returns {Promise<boolean>} whether it sounds
   */
  async #aside(tempo, then, make) {
    const { through } = this.#store.state;
    this.#player.stop();
    if (through.on) this.#store.set({ through: { ...through, on: false } });
    try {
      const items = await make();
      this.#hidden = { tempo };
      this.settle();
      this.#player.queue(items, { then });
      this.#store.tell("sound", null);
      const begun = await this.#player.play();
      if (!begun && this.#player.state !== "loading") this.#show();
      return begun;
    } catch {
      return false; // the engine's own state tells why
    }
  }

  /** What was hidden is over: the chosen stage is what sounds next. */
  #show() {
    this.#hidden = null;
    this.#loaded = null;
    this.settle();
    this.follow();
  }

  /** Where the music is heard now, for drawing. @returns {import("../view/light.js").Heard | null} */
  hear() {
    const { view, tempo } = this.#store.state;
    const now = this.#player.position();
    if (!view || !now || now.lead || this.#hidden) return null;
    const { lines, range } = this.#heard;
    const stage = Math.min(now.stage, view.stages.length - 1);
    const line = lines.get(now.stage);
    const { cycle } = frameOf(view, stage);
    if (!line) return { at: now.ticks % cycle, stage, ids: [] };
    const span = line.loop / line.parts;
    const { start, end } = range ?? { start: 0, end: span };
    const ticks = now.ticks % span;
    let pairs = this.#pairs.get(line);
    if (!pairs) this.#pairs.set(line, (pairs = pairPlaces(line, view.stages, end, start)));
    const hold = (GLOW * (tempo ?? view.tempo) * line.tempo_unit_ticks) / 60;
    return { at: writtenAt(pairs, ticks) % cycle, stage, ids: touched(line, ticks, Math.min(hold, span), span) };
  }

  /** Seconds to the ear as the browser states them, null before it has played. */
  get latency() {
    return this.#player.latency;
  }

  /** Hand the settings of the store to the player. */
  settle() {
    const { click, clicking, volume, offset } = this.#store.state;
    const tempo = this.#hidden?.tempo ?? this.#store.state.tempo;
    const { mix, onlyAdded, muted, soloed } = this.#hidden ? AS_WRITTEN : this.#store.state;
    const player = this.#player;
    if (player.tempo !== tempo) player.tempo = tempo;
    if (player.mix !== mix) player.mix = mix;
    if (player.onlyAdded !== onlyAdded) player.onlyAdded = onlyAdded;
    const loudness = clicking.loud ** 2; // half way sounds about half as loud, as with the volume
    const clicked = click ? loudness : 0;
    if (player.click !== clicked) player.click = clicked;
    if (player.count !== loudness) player.count = loudness;
    if (player.clickPan !== clicking.pan) player.clickPan = clicking.pan;
    if (player.volume !== volume) player.volume = volume;
    player.offset = offset;
    const { sounds, sounding } = this.#store.state;
    player.kit = sounds.find(({ name }) => name === sounding)?.address ?? player.kit;
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
    if (sound === "stopped" && this.#hidden) this.#show();
    const { through } = this.#store.state;
    if (sound === "stopped" && through.on) {
      this.#store.set({ through: { ...through, on: false } });
      this.#loaded = null;
      this.follow();
    }
  }

  /** @param {number} stage */
  #hearStage(stage) {
    if (this.#hidden) return;
    this.#heard = { lines: this.#lines, range: this.#range };
    const { through, turns } = this.#store.state;
    if (through.on || turns.on) this.#store.set({ chosen: stage, timeline: this.#lines.get(stage) ?? null });
  }

  /** The part to be looped, if the chosen stage has it. @param {import("../draw/shapes.js").View} view */
  #rangeIn(view) {
    const { range, chosen } = this.#store.state;
    if (!range) return null;
    const { cycle, grid } = frameOf(view, chosen);
    const there = range.end <= cycle && grid.some(({ at }) => at === range.start);
    if (!there) this.#store.set({ range: null });
    return there ? range : null;
  }

  /** @param {string} document @param {import("./store.js").Range | null} range @param {string} [kit] that it is played on */
  #turnTo(document, range, kit = "") {
    const { loose, clicking: { kind, countIn } } = this.#store.state;
    const clicked = kind === this.#clicks && countIn === this.#countIn && loose === this.#loose;
    const heard = this.#heardPart();
    const whole = heard.part === this.#part.part && heard.player === this.#part.player;
    const same = document === this.#document && kit === this.#kit && range?.start === this.#range?.start && range?.end === this.#range?.end;
    if (clicked && same && whole) return;
    this.#clicks = kind;
    this.#countIn = countIn;
    this.#loose = loose;
    this.#part = heard;
    this.#atOnce = same && !whole;
    if (same && whole) {
      for (const line of this.#lines.values()) this.#stale.add(line);
      this.#lines = new Map(this.#lines);
      return;
    }
    this.#document = document;
    this.#kit = kit;
    this.#range = range;
    this.#lines = new Map();
    this.#loaded = null;
  }

  /** What of the beat is to be heard; who plays matters only where one limb is. */
  #heardPart() {
    const { part, player } = this.#store.state;
    return { part, player: /hand$|foot$/.test(part) ? player : "" };
  }

  /** @param {string} document @param {number} stage @returns {Promise<Timeline | null>} */
  async #fetch(document, stage) {
    const lines = this.#lines;
    const known = lines.get(stage);
    if (known && (!this.#stale.has(known) || this.#store.state.engine !== "ready")) return known;
    try {
      const clicks = { clicks: this.#clicks, count_in: this.#countIn, loose: this.#loose };
      const reply = await this.#engine.ask({ ask: "timeline", document, stage, ...this.#range, ...clicks, ...this.#part, kit: this.#kit, have: "" });
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
