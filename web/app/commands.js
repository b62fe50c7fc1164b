/**
 * All that a person can ask of the page, by name. The elements' events end here.
 *
 * Whatever goes wrong, what is shown stays; a notice says what happened. What changes the document is in changes.js,
 * what is known of playing it in playing.js.
 */

import { FileTrouble, questionOf, readFile, readText } from "../input/files.js";
import { Asking } from "./asking.js";
import { Changes } from "./changes.js";
import { storeClick, storedClick } from "./own-click.js";
import { storeLoose, storedLoose } from "./own-loose.js";
import { isKit, storeKit, storedKit } from "./own-kit.js";
import { storeHearing, storedHearing } from "./own-offset.js";
import { storePlayer, storedPlayer } from "./own-player.js";
import { storeSound } from "./own-sound.js";
import { storeStaff, storedStaff } from "./own-staff.js";
import { Playing } from "./playing.js";

/** @typedef {import("../draw/shapes.js").View} View */
/** @typedef {{ ask: string, [field: string]: unknown }} Change */

export class Commands {
  #store;
  #engine;
  #listening;
  #asking;
  #changes;

  /**
   * @param {import("./store.js").Store} store @param {import("../engine/client.js").EngineClient} engine
   * @param {import("./listening.js").Listening} listening @param {import("./address.js").Address} address
   */
  constructor(store, engine, listening, address) {
    this.#store = store;
    this.#engine = engine;
    this.#listening = listening;
    this.#asking = new Asking(store, engine);
    this.#changes = new Changes(store, this.#asking, listening, address);
    store.set({ player: storedPlayer(), loose: storedLoose(), staff: storedStaff(), ...storedClick(), ...storedHearing() });
    new Playing(store, engine, () => this.#changes.busy);
    engine.addEventListener("state", () => this.#learnKinds());
  }

  /** Open a link, or the text of a groove file, tablature or a score. @param {string} text @returns {Promise<void>} */
  open(text) {
    const given = readText(text);
    return this.#changes.bring(given.kind === "text" ? { ask: "open", text } : questionOf(given));
  }

  /** Open a file of any kind. @param {File} file @param {string} [bars] of a MIDI file, a score or tablature, "A-B" */
  async openFile(file, bars = "") {
    try {
      await this.#changes.bring(questionOf(await readFile(file), bars));
    } catch (error) {
      if (!(error instanceof FileTrouble)) throw error;
      this.#store.tell("open", { text: error.message, trouble: true, again: false });
    }
  }

  /** Show the example that came with the page, unless something is there. @param {View} view @param {import("../draw/shapes.js").Timeline | null} line */
  showExample(view, line) {
    const now = this.#store.state;
    if (now.view || now.expecting) return;
    if (line) this.#listening.keep(line, view.document);
    this.#store.set({ view, origin: "example", chosen: line ? line.stage : view.stages.length - 1, tempo: null });
    this.#listening.follow();
  }

  /** @param {number} stage */
  choose(stage) {
    const { view, chosen, through, turns } = this.#store.state;
    if (!view || !view.stages[stage] || stage === chosen) return;
    this.#store.set({ chosen: stage, through: { ...through, on: false }, turns: { ...turns, on: false } });
    this.#listening.follow();
  }

  /** @param {number} by */
  step(by) {
    this.choose(this.#store.state.chosen + by);
  }

  /**
   * Switch a variation off or on.
   * @param {{ key: number, on: boolean, undo: () => void }} wish undo() shows that it was not done
   */
  async switch({ key, on, undo }) {
    if (!(await this.edit({ ask: "switch", key, on }))) undo();
  }

  /**
   * Change the document: a question of the engine without its document. One entry in the undo.
   * @param {Change} change @returns {Promise<boolean>} whether it was done; else a notice says why not
   */
  edit(change) {
    return this.#changes.edit(change);
  }

  /** Try a change: it is drawn and heard, and becomes part of the document when it is kept. @param {Change} change @returns {Promise<boolean>} */
  attempt(change) {
    return this.#changes.attempt(change);
  }

  /** Try a change and hear it, from the next loop point on. @param {Change} change @returns {Promise<boolean>} */
  async hear(change) {
    const { sound } = this.#store.state;
    this.#endRows();
    if (!(await this.attempt(change))) return false;
    await this.#changes.followed;
    if (sound !== "playing") this.toggle();
    return true;
  }

  /** Whether a reload brings back the other ways of the beat. @returns {boolean} */
  get keepsWays() {
    return this.#changes.keepsWays;
  }

  /** Keep what is tried. */
  keep() {
    return this.#changes.keep();
  }

  /** Take back what is tried. */
  drop() {
    return this.#changes.drop();
  }

  /** Take the last change back. */
  undo() {
    return this.#changes.undo();
  }

  /** Do again what was taken back. */
  redo() {
    return this.#changes.redo();
  }

  /** Begin with an empty beat; what was there stays in the undo. */
  startNew() {
    return this.#changes.startNew();
  }

  /** Take another document in place of the one that is shown; one entry in the undo. @param {string} document */
  take(document) {
    return this.#changes.take(document);
  }

  /** Show and play on the student's kit, "" for as written; the document stays as it is. @param {string} kit */
  setKit(kit) {
    storeKit(kit);
    this.#store.set({ kit });
    return this.#changes.refit();
  }

  /** Hear another of the kits. @param {string} sounding its name */
  setSound(sounding) {
    storeSound(sounding);
    this.#store.set({ sounding });
    this.#listening.settle();
  }

  /** Show the chosen stage on a staff too, or not; it is remembered. @param {import("./own-staff.js").StaffLook} staff */
  setStaff(staff) {
    storeStaff(staff);
    this.#store.set({ staff });
  }

  /** Say who plays, "" for the usual player; the document stays as it is. @param {string} player */
  setPlayer(player) {
    storePlayer(player);
    this.#store.set({ player });
    if (this.#store.state.part) this.#listening.follow(); // another player may play it with other hands
  }

  /** Ask something that changes nothing, about the document as it is. @param {Change} question @returns {Promise<any>} */
  inquire(question) {
    const { view } = this.#store.state;
    return view ? this.#asking.ask({ ...question, document: view.document }) : Promise.resolve(null);
  }

  /**
   * Ask what this player makes of the document as it is, on the kit that it is shown on; a refusal is an answer too.
   * @param {Change} question @param {View | null} [shown] where it is not about what is shown now @returns {Promise<any>} a reply, or {trouble}
   */
  study(question, shown = this.#store.state.view) {
    const { player } = this.#store.state;
    return this.probe({ player, ...question, document: shown?.document ?? "", kit: shown?.kit?.text ?? "" });
  }

  /** Ask something that needs no document. @param {Change} question @returns {Promise<any>} */
  lookUp(question) {
    return this.#asking.ask(question);
  }

  /** Ask something whose refusal is an answer too, in words. @param {Change} question @returns {Promise<any>} a reply, or {trouble} */
  probe(question) {
    return this.#asking.probe(question);
  }

  async #learnKinds() {
    if (this.#engine.state.state !== "ready" || this.#store.state.kinds.length) return;
    const reply = await this.probe({ ask: "kinds" });
    if (!reply.kinds) return;
    const { kinds, things, presets, purposes } = reply;
    this.#store.set({ kinds, things, presets, purposes });
    const kit = storedKit();
    if (isKit(kit, things)) this.setKit(kit);
    const { player } = this.#store.state;
    // What is stored may be older than the page: then the usual player plays until somebody says otherwise.
    if (player && (await this.probe({ ask: "player", player })).trouble) this.#store.set({ player: "" });
  }

  /** @param {number} bpm the practice tempo; it is not part of the document */
  setTempo(bpm) {
    this.#store.set({ tempo: bpm });
    this.#listening.settle();
  }

  /** @param {{ mix?: number, onlyAdded?: boolean, volume?: number, offset?: number, muted?: string[], soloed?: string[] }} change */
  listen(change) {
    this.#store.set(change);
    storeHearing(change);
    this.#listening.settle();
  }

  /**
   * Another click or count-in; it is remembered, and neither in the link nor undone. The click changes at the loop
   * point, its loudness and place at once.
   * @param {Partial<import("./own-click.js").Clicking> & { on?: boolean }} change
   */
  setClick({ on = this.#store.state.click, ...change }) {
    const clicking = { ...this.#store.state.clicking, ...change };
    this.#store.set({ click: on, clicking });
    storeClick(on, clicking);
    this.#listening.settle();
    // Playing through the stages goes on as it began; what follows it has the new clicks.
    if (("kind" in change || "countIn" in change || "counted" in change) && !this.#store.state.through.on) this.#listening.follow();
  }

  /** Hear only a part of the beat, "" for all of it, at once. @param {string} part */
  setPart(part) {
    this.#store.set({ part });
    if (!this.#store.state.through.on) this.#listening.follow();
  }

  /** Play two stages in turn, or end that. @param {import("./store.js").State["turns"]} turns */
  turns(turns) {
    this.#listening.turns(turns);
  }

  /** Of two stages that take turns, go on to the other one at the loop point. */
  changeOver() {
    this.#listening.changeOver();
  }

  /** The timelines of stages as they are heard now. @param {number[]} stages */
  lines(stages) {
    return this.#listening.linesOf(stages);
  }

  /** What plays several stages one after the other ends, for what is to be heard now. */
  #endRows() {
    const { through, turns } = this.#store.state;
    if (through.on) this.through({ ...through, on: false });
    if (turns.on) this.turns({ ...turns, on: false });
  }

  /** Seconds to the ear as the browser states them, null before it has played. @returns {number | null} */
  latency() {
    return this.#listening.latency;
  }

  /** Have it played more exactly or more loosely, from the loop point on; it is remembered as the click is. @param {number} loose */
  setLoose(loose) {
    this.#store.set({ loose });
    storeLoose(loose);
    if (!this.#store.state.through.on) this.#listening.follow();
  }

  /** @param {import("./store.js").State["through"]} through */
  through(through) {
    this.#listening.through(through);
  }

  /** Loop only a part of the cycle, or all of it. @param {import("./store.js").Range | null} range */
  loop(range) {
    this.#store.set({ range });
    this.#listening.follow();
  }

  /** Loop a part of the cycle, null for all of it, and hear it; inside a user's gesture only. @param {import("./store.js").Range | null} range */
  async hearPart(range) {
    const { sound } = this.#store.state;
    this.#endRows();
    this.#store.set({ range });
    await this.#listening.follow();
    if (sound !== "playing" && sound !== "loading") this.toggle();
  }

  /** How the chosen stage is looked at: with stroke types or without, at which of its spots. @param {{ strokeTypes?: boolean, spot?: number }} change */
  look(change) {
    this.#store.set(change);
  }

  /** Play or stop; inside a user's gesture only. */
  toggle() {
    if (this.#store.state.timeline) this.#listening.toggle();
  }

  /** Play a stage so many times, not showing which; 0 times stops that. @param {string} document @param {number} stage @param {number} times */
  once(document, stage, times) {
    return this.#listening.once(document, stage, times);
  }

  /** Play a step of a practice plan, showing nothing of it; null stops that. @param {import("./aside.js").Step | null} step */
  rehearse(step) {
    return this.#listening.rehearse(step);
  }

  /** Go on with the step of a plan at another tempo. @param {number} bpm */
  pace(bpm) {
    this.#listening.pace(bpm);
  }

  /** @param {import("./store.js").Topic} topic */
  dismiss(topic) {
    this.#store.tell(topic, null);
  }

  /** Whether starting the engine once more may mend its failure. @returns {boolean} */
  get canTryAgain() {
    return this.#asking.canTryAgain;
  }

  /** Start the engine once more, and do what it could not do. */
  again() {
    this.#store.tell("engine", null);
    const unanswered = this.#asking.takeUnanswered();
    this.#engine.start();
    if (unanswered) this.#changes.bring(unanswered);
    else this.#listening.follow();
  }
}
