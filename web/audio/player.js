/**
 * The sound of the page: one Player plays timelines through the audio thread.
 *
 *     const player = new Player({kit: "kit/kit.json", processor: "app/processor.<hash>.js"});
 *     player.load(timeline);                 // the `timeline` answer of the engine, as it came
 *     button.onclick = () => player.play();  // must run inside a user's gesture
 *
 * Playing
 *   warm()                        fetches the sounds of what is loaded, before any gesture; never needed, never fails.
 *   load(timeline)                what the next play() plays. While playing: the same as swap at "loop".
 *   play(): Promise<boolean>      builds the sound on first use, fetches what the timeline needs, starts.
 *                                 false if it could not (a `problem` event says why). Never rejects.
 *   stop()                        silence within 20 ms; the next play() starts at the beginning.
 *   swap(timeline, {at})          at "loop" (default): on at the loop point without a gap;
 *                                 at "now": at once, at the same musical place. Ends a queue.
 *   queue([{timeline, passes, stage}], {then, at})
 *                                 plays each so many passes, on at the loop point. then: "stop" (default),
 *                                 "stay" on the last, or "again" from the first. upAndBack(list) gives the way
 *                                 up and back to the base. When stopped it waits for play().
 *   close()                       gives the audio device back.
 * Settings (set at any time, also before the first play)
 *   tempo       number|null       20..300 in the timeline's tempo unit, two decimals; null: the timeline's own
 *   mix         0..1              0 the base beat as written, 1 the chosen stage, 0.5 both (default 1)
 *   onlyAdded   boolean           only events with added=true (the slider does not count then)
 *   mute(surface, on), solo(surface, on), muted, soloed (sets of surface names), clearLines()
 *   click       0..1              loudness of the click, 0 off (default)
 *   count       0..1              loudness of the count-in, which sounds once after play() if the timeline has one
 *   clickPan    -1..1             where the click and the count-in are heard, left to right (default 0)
 *   volume      0..1              0.6 at first: a modest level
 *   kit         address           of another kit.json: its sounds come in as they arrive, also while playing
 *   offset      seconds           a user's own correction of the drawing, -0.1..0.5
 * Reading
 *   state       "idle" | "loading" | "playing" | "stopped" | "interrupted"
 *   position()  {ticks, pass, stage, index, lead} as heard now, for drawing in requestAnimationFrame; null when silent.
 *               ticks: from the start of the cycle (fraction); pass: from 0 since this timeline came on; index: place
 *               in the queue; lead: true before the first stroke (ticks 0). During a count-in it is null.
 *   latency     seconds to the ear as the browser states them; null before the first play
 * Events (CustomEvent)
 *   state       detail {state}
 *   stage       detail {stage, index}: the queue or a swap has moved on (position().stage follows as heard)
 *   problem     detail {code, message}: a sentence or two for a person. Codes:
 *               sound.insecure   plain http on a LAN address, no audio thread: says what to do
 *               sound.none       no Web Audio here     sound.blocked   the browser holds the sound back
 *               sound.processor  the audio thread's program did not load
 *               sound.timeline   a timeline that cannot be played exactly
 *               kit.missing, kit.broken   samples not found, or not readable
 *               kit.no-surface   a surface without samples; the rest plays
 *               sound.fault      a fault of this program; the error goes to the console as well
 */
import { Balance } from "./balance.js";
import { Clock, Playhead } from "./clock.js";
import { Device } from "./device.js";
import { FASTEST, SLOWEST } from "./frames.js";
import { Kit, SoundProblem } from "./kit.js";
import { lineOf } from "./line.js";
import { Plans, surfacesOf } from "./plans.js";
import { Supply } from "./supply.js";

export { upAndBack } from "./plans.js";

/** @typedef {import("./line.js").Timeline} Timeline */
/** @typedef {import("./plans.js").Item} Item */
/** @typedef {import("./plans.js").Plan} Plan */
/** @typedef {"idle"|"loading"|"playing"|"stopped"|"interrupted"} State */
/**
 * @typedef {object} Options
 * @property {string} kit  address of kit.json
 * @property {string} processor  address of the bundled processor.js
 * @property {(output: AudioNode, context: AudioContext) => void | Promise<void>} [tap]  called with the node that gives
 *   the raw output, before the volume, ahead of the first start
 */

export class Player extends Balance {
  #options;
  #plans = new Plans();
  /** @type {Promise<Kit>|null} */
  #kit = null;
  /** @type {Device|null} */
  #device = null;
  /** @type {{node: AudioWorkletNode, supply: Supply}|null} */
  #stage = null;
  /** Grows with every wish; what comes back from loading for an older wish is dropped. */
  #wish = 0;
  #begun = false;
  /** @type {State} */
  #state = "idle";
  #clock = new Clock();
  #playhead = new Playhead();
  /** @type {number|null} */
  #tempo = null;
  #volume = 0.6;
  /** @type {Set<string>} surfaces without a sound that were told about */
  #unknown = new Set();
  offset = 0;

  /** @param {Options} options */
  constructor(options) {
    super();
    this.#options = options;
  }

  /** @param {Timeline} timeline */
  load(timeline) {
    this.swap(timeline);
  }

  /**
   * @param {Timeline} timeline
   * @param {{at?: "loop"|"now"}} [how]
   */
  swap(timeline, { at = "loop" } = {}) {
    this.#take(this.#plans.make([{ timeline, passes: 0 }], "stay"), at);
  }

  /**
   * @param {ReadonlyArray<Item>} items
   * @param {{then?: "stop"|"stay"|"again", at?: "loop"|"now"}} [how]
   */
  queue(items, { then = "stop", at = "loop" } = {}) {
    if (items.length > 0) this.#take(this.#plans.make(items, then), at);
  }

  async warm() {
    const plan = this.#plans.newest;
    try {
      const kit = await this.#openKit();
      if (plan !== undefined) await Promise.all([...kit.partsFor(surfacesOf(plan))].map((part) => kit.fetch(part)));
    } catch {
      // play() tries again and says what is wrong.
    }
  }

  /** @returns {Promise<boolean>} */
  async play() {
    if (this.#plans.newest === undefined) return false;
    const wish = ++this.#wish;
    try {
      let woken = await this.#prepare();
      if (woken === "frozen" && wish === this.#wish) {
        this.#shut();
        woken = await this.#prepare();
      }
      const plan = this.#plans.newest;
      if (wish !== this.#wish || plan === undefined) return false;
      if (woken !== "running") {
        throw new SoundProblem("sound.blocked", "The browser holds the sound back. Press play once more.");
      }
      const programme = { ...this.#programme(plan), lead: this.#lead(plan) };
      this.#plans.only(plan);
      this.#playhead.clear();
      this.#begun = false;
      this.balanced();
      this.#post({ kind: "play", programme });
      this.#set("playing");
      this.#stage?.supply.bringRest();
      return true;
    } catch (error) {
      if (wish === this.#wish) this.#halt();
      this.#complain(error);
      return false;
    }
  }

  stop() {
    this.#wish++;
    this.#halt();
  }

  close() {
    this.stop();
    this.#shut();
    this.#set("idle");
  }

  get state() {
    return this.#state;
  }

  get tempo() {
    return this.#tempo;
  }

  set tempo(bpm) {
    this.#tempo = bpm === null ? null : Math.min(FASTEST, Math.max(SLOWEST, Math.round(bpm * 100) / 100));
    if (!this.#sounding) return;
    this.#guard(() => {
      this.#post({ kind: "retime", lines: Array.from(this.#plans.timelines, (timeline) => this.#line(timeline)) });
    });
  }

  get kit() {
    return this.#options.kit;
  }

  set kit(address) {
    if (address === this.#options.kit) return;
    this.#options = { ...this.#options, kit: address };
    this.#kit = null;
    if (this.#sounding) this.#exchange(address);
  }

  get volume() {
    return this.#volume;
  }

  set volume(volume) {
    this.#volume = Math.min(1, Math.max(0, volume));
    this.#device?.setVolume(this.#volume);
  }

  get latency() {
    return this.#device?.latency ?? null;
  }

  position() {
    const device = this.#device;
    if (device === null || !this.#sounding) return null;
    const { currentTime, sampleRate } = device.context;
    const heard = this.#clock.read(currentTime, performance.now() / 1000) - device.latency - this.offset;
    return this.#playhead.at(heard * sampleRate);
  }

  get #sounding() {
    return this.#state === "playing" || this.#state === "interrupted";
  }

  /**
   * Make a plan the newest. If something plays, send it as soon as its sounds are there.
   *
   * @param {Plan} plan
   * @param {"loop"|"now"} at
   */
  #take(plan, at) {
    const supply = this.#stage?.supply;
    if (!this.#sounding || supply === undefined) {
      this.#plans.only(plan);
      if (this.#state === "loading") this.play();
      return;
    }
    const wish = ++this.#wish;
    const send = () =>
      this.#guard(() => {
        const programme = this.#programme(plan);
        this.#plans.add(plan);
        this.#post({ kind: "programme", programme, at });
      });
    const surfaces = surfacesOf(plan);
    if (supply.has(surfaces)) return send();
    supply.bring(surfaces).then(
      () => {
        if (wish !== this.#wish) return;
        if (this.#sounding) send();
        else this.#plans.only(plan);
      },
      (error) => this.#complain(error),
    );
  }

  /**
   * Have everything ready for the newest plan; begins inside the user's gesture.
   *
   * @returns {ReturnType<Device["wake"]>}
   */
  async #prepare() {
    const device = this.#device ?? this.#open();
    const waking = device.wake();
    this.#set("loading");
    const kit = await this.#openKit();
    const node = await device.build(this.#options.processor, kit);
    if (this.#stage?.node !== node && this.#device === device) {
      node.port.onmessage = ({ data }) => this.#hear(data);
      this.#stage = { node, supply: Supply.to(node, kit) };
      await this.#options.tap?.(node, device.context);
    }
    if (this.#stage && this.#stage.supply.kit !== kit && this.#device === device) this.#replace(this.#stage, kit);
    const plan = this.#plans.newest;
    if (plan !== undefined) await this.#stage?.supply.bring(surfacesOf(plan));
    return waking;
  }

  /** Take the sounds of another kit from now on; surfaces, pans and choke groups are those of every kit. @param {string} address */
  async #exchange(address) {
    try {
      const kit = await this.#openKit();
      const plan = this.#plans.newest;
      if (address !== this.#options.kit || this.#stage === null || this.#device === null || plan === undefined) return;
      const supply = this.#replace(this.#stage, kit);
      await supply.bring(surfacesOf(plan));
      await supply.bringRest();
    } catch (error) {
      if (address === this.#options.kit) this.#complain(error);
    }
  }

  /** @param {{node: AudioWorkletNode, supply: Supply}} stage @param {Kit} kit */
  #replace(stage, kit) {
    stage.supply.retire();
    return (stage.supply = Supply.to(stage.node, kit));
  }

  #openKit() {
    this.#kit ??= Kit.open(this.#options.kit).catch((error) => {
      this.#kit = null;
      throw error;
    });
    return this.#kit;
  }

  #open() {
    const device = new Device();
    device.addEventListener("change", () => this.#follow(device));
    device.addEventListener("gesture", () => this.#revive(device));
    device.setVolume(this.#volume);
    this.#device = device;
    return device;
  }

  #shut() {
    this.#device?.close();
    this.#device = null;
    this.#stage = null;
    this.#clock = new Clock();
  }

  #halt() {
    this.#post({ kind: "stop" });
    this.#finish();
  }

  /** The music has ended; what rings may ring. */
  #finish() {
    this.#playhead.clear();
    if (this.#state !== "idle") this.#set("stopped");
  }

  /** @param {Timeline} timeline */
  #line(timeline) {
    const { kit } = /** @type {{supply: Supply}} */ (this.#stage).supply;
    const rate = /** @type {Device} */ (this.#device).context.sampleRate;
    const numberOf = (/** @type {string} */ surface) => kit.surfaceNumber(surface);
    return lineOf(this.#plans.key(timeline), timeline, this.#tempo ?? timeline.tempo, rate, numberOf, kit.clickSurface);
  }

  /** The count-in of a plan. @param {Plan} plan @returns {import("./sequencer.js").Entry|null} */
  #lead(plan) {
    const timeline = this.#plans.lead(plan);
    return timeline && { line: this.#line(timeline), passes: 1, tag: 0 };
  }

  /**
   * @param {Plan} plan
   * @returns {import("./sequencer.js").Programme}
   */
  #programme(plan) {
    const lines = new Map();
    const entries = plan.entries.map(({ timeline, passes, tag }) => {
      if (!lines.has(timeline)) lines.set(timeline, this.#line(timeline));
      return { line: lines.get(timeline), passes, tag };
    });
    for (const surface of surfacesOf(plan)) {
      if (this.#unknown.has(surface) || this.#stage?.supply.kit.surfaceNumber(surface) !== -1) continue;
      this.#unknown.add(surface);
      this.#complain(new SoundProblem("kit.no-surface", `There is no sound for "${surface}"; everything else plays.`));
    }
    return { entries, then: plan.then };
  }

  /** @override */
  balanced() {
    if (this.#stage === null) return;
    this.#post({ kind: "gains", ...this.gains(this.#stage.supply.kit.surfaceNames) });
    this.#post({ kind: "pan", surface: -1, pan: this.clickPan });
  }

  /** @param {import("./processor.js").Command} command */
  #post(command) {
    this.#stage?.node.port.postMessage(command);
  }

  /** @param {Float64Array|{kind: string, frame: number}} note  what the audio thread says */
  #hear(note) {
    if (!(note instanceof Float64Array)) {
      if (note.kind === "begun") this.#begun = true;
      else if (this.#begun && this.#sounding) this.#finish();
      return;
    }
    const [, start, frames, ticks, pass, tag, since] = note;
    const heard = this.#sounding ? this.#plans.hear(tag) : null;
    if (heard === null) return;
    const { stage, index, news } = heard;
    this.#playhead.add({ since, start, frames, ticks, pass, stage, index });
    if (news) this.#tell("stage", { stage, index });
  }

  /** @param {Device} device */
  #follow(device) {
    if (device !== this.#device) return;
    if (this.#state === "playing" && !device.running) this.#set("interrupted");
    else if (this.#state === "interrupted" && device.running) this.#set("playing");
  }

  /** Come back from an interruption when the user touches the page. @param {Device} device */
  async #revive(device) {
    if (this.#state !== "interrupted" || (await device.wake()) !== "frozen" || this.#device !== device) return;
    this.#shut();
    this.play();
  }

  /** @param {State} state */
  #set(state) {
    if (state === this.#state) return;
    this.#state = state;
    this.#tell("state", { state });
  }

  /** @param {() => void} deed */
  #guard(deed) {
    try {
      deed();
    } catch (error) {
      this.#complain(error);
    }
  }

  /** @param {unknown} error */
  #complain(error) {
    if (error instanceof SoundProblem) {
      this.#tell("problem", { code: error.code, message: error.message });
    } else if (error instanceof RangeError) {
      this.#tell("problem", { code: "sound.timeline", message: `This beat cannot be played: ${error.message}.` });
    } else {
      reportError(error);
      const message = "The sound failed through a fault of this page. Reload it.";
      this.#tell("problem", { code: "sound.fault", message });
    }
  }

  /**
   * @param {string} name
   * @param {object} detail
   */
  #tell(name, detail) {
    this.dispatchEvent(new CustomEvent(name, { detail }));
  }
}
