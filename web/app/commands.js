/**
 * All that a person can ask of the page, by name. The elements' events end here.
 *
 * Whatever goes wrong, what is shown stays; a notice says what happened. Changes are made one after the other, each on
 * the document that the one before has left, so quick fingers lose nothing.
 */

import { EngineLost, EngineOvertaken } from "../engine/client.js";
import { FileTrouble, readFile } from "../input/files.js";
import { History, changedStage } from "./history.js";
import { isKit, storeKit, storedKit } from "./own-kit.js";
import { Session } from "./session.js";
import { unfold, unfoldGlimpse } from "./unfold.js";

/** @typedef {import("../draw/shapes.js").View} View */
/** @typedef {{ ask: string, [field: string]: unknown }} Change */

/** Failures of the engine that a second try may mend. */
const WORTH_A_TRY = new Set(["engine.network", "engine.stalled", "engine.died-twice"]);

export class Commands {
  #store;
  #engine;
  #listening;
  #address;
  /** @type {Promise<void>} */
  #changes = Promise.resolve();
  #history = new History();
  #session = new Session();
  /** @type {Promise<void>} until the chosen stage is what sounds */
  #followed = Promise.resolve();
  /** @type {View | null} a view that was only a glimpse, to be taken back where no answer follows */
  #glimpsed = null;
  /** @type {(() => Promise<void>) | null} what was asked for when the engine failed */
  #unanswered = null;

  /**
   * @param {import("./store.js").Store} store @param {import("../engine/client.js").EngineClient} engine
   * @param {import("./listening.js").Listening} listening @param {import("./address.js").Address} address
   */
  constructor(store, engine, listening, address) {
    this.#store = store;
    this.#engine = engine;
    this.#listening = listening;
    this.#address = address;
    engine.addEventListener("state", () => this.#learnKinds());
  }

  /** Open a link or the text of a groove file. @param {string} text @returns {Promise<void>} */
  open(text) {
    return this.#bring({ ask: "open", text });
  }

  /** Open a file of either kind. @param {File} file @param {string} [bars] of a MIDI file, "A-B" */
  async openFile(file, bars = "") {
    try {
      const given = await readFile(file);
      if (given.kind === "text") await this.#bring({ ask: "open", text: given.text, name: given.name });
      else await this.#bring({ ask: "open_midi", name: given.name, base64: given.base64, bars });
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
    const { view, chosen, through } = this.#store.state;
    if (!view || !view.stages[stage] || stage === chosen) return;
    this.#store.set({ chosen: stage, through: { ...through, on: false } });
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
   * Waits for the changes before it; a tentative one is kept by it.
   * @param {Change} change @returns {Promise<boolean>} whether it was done; else a notice says why not
   */
  edit(change) {
    return this.#inTurn(async () => {
      const { view, before, chosen } = this.#store.state;
      if (!view || this.#isNewer(view)) return false;
      const reply = await this.#ask({ ...change, document: view.document }, { shown: view, first: !before });
      if (!reply) {
        if (this.#glimpsed && this.#store.state.view === this.#glimpsed) this.#store.set({ view, partial: false });
        return false;
      }
      if (this.#store.state.chosen !== chosen) reply.select = null; // somebody has chosen meanwhile
      this.#store.tell("edit", null);
      if (reply.document !== view.document || before) this.#history.push(before?.document ?? view.document);
      this.#store.set({ before: null });
      this.#show(reply);
      return true;
    });
  }

  /**
   * Try a change: it is drawn and heard, and becomes part of the document when it is kept. Trying another one first
   * takes this one back. @param {Change} change @returns {Promise<boolean>}
   */
  attempt(change) {
    return this.#inTurn(async () => {
      const { view, before, chosen } = this.#store.state;
      const from = before ?? view;
      if (!view || !from || this.#isNewer(view)) return false;
      const reply = await this.#ask({ ...change, document: from.document }, { shown: from });
      if (!reply) return false;
      this.#store.tell("edit", null);
      this.#store.set({ before: from, beforeChosen: before ? this.#store.state.beforeChosen : chosen });
      this.#show(reply, false);
      return true;
    });
  }

  /** Try a change and hear it, from the next loop point on. @param {Change} change @returns {Promise<boolean>} */
  async hear(change) {
    const { through, sound } = this.#store.state;
    if (through.on) this.through({ ...through, on: false });
    if (!(await this.attempt(change))) return false;
    await this.#followed;
    if (sound !== "playing") this.toggle();
    return true;
  }

  /** Whether a reload brings back the other ways of the beat. @returns {boolean} */
  get keepsWays() {
    return this.#session.holds;
  }

  /** Keep what is tried. */
  keep() {
    return this.#inTurn(async () => {
      const { view, before } = this.#store.state;
      if (!view || !before) return false;
      if (before.document !== view.document) this.#history.push(before.document);
      this.#store.set({ before: null });
      this.#show(view);
      return true;
    });
  }

  /** Take back what is tried. */
  drop() {
    return this.#inTurn(async () => {
      const { before, beforeChosen } = this.#store.state;
      if (!before) return false;
      this.#store.set({ before: null, chosen: beforeChosen });
      this.#show(before);
      return true;
    });
  }

  /** Take the last change back. */
  undo() {
    return this.#turn((now) => this.#history.undo(now));
  }

  /** Do again what was taken back. */
  redo() {
    return this.#turn((now) => this.#history.redo(now));
  }

  /** Begin with an empty beat; what was there stays in the undo. */
  startNew() {
    return this.#inTurn(async () => {
      const reply = await this.#ask({ ask: "new" }, { lane: "open" });
      if (!reply || reply === "overtaken") return false;
      const { view, origin } = this.#store.state;
      if (view && origin === "link") this.#history.push(view.document);
      this.#store.set({ before: null, chosen: 0, tempo: null, expecting: false });
      this.#show(reply);
      return true;
    });
  }

  /** Take another document in place of the one that is shown; one entry in the undo. @param {string} document */
  take(document) {
    return this.#inTurn(async () => {
      const { view, before } = this.#store.state;
      if (!view) return false;
      const reply = await this.#ask({ ask: "view", document }, { shown: view });
      if (!reply) return false;
      this.#history.push((before ?? view).document);
      this.#store.set({ before: null });
      this.#show(reply);
      return true;
    });
  }

  /** Show and play on the student's kit, "" for as written; the document stays as it is. @param {string} kit */
  setKit(kit) {
    storeKit(kit);
    this.#store.set({ kit });
    return this.#refit();
  }

  /** Tell the engine's view anew where it is not on the kit that is wished for. @returns {Promise<boolean>} */
  #refit() {
    const again = async (/** @type {View} */ view) => {
      const question = view.newer ? { ask: "open", text: `#${view.link}` } : { ask: "view", document: view.document };
      const reply = await this.#ask(question);
      return reply && { ...reply, says: view.says };
    };
    return this.#inTurn(async () => {
      const { view, before, kit } = this.#store.state;
      if (!view || (view.kit?.text ?? "") === kit) return false;
      const now = await again(view);
      const then = before && (await again(before));
      if (!now || (before && !then)) return false;
      this.#store.set({ view: now, before: then });
      this.#listening.follow();
      return true;
    });
  }

  /** Ask something that changes nothing, about the document as it is. @param {Change} question @returns {Promise<any>} */
  inquire(question) {
    const { view } = this.#store.state;
    return view ? this.#ask({ ...question, document: view.document }) : Promise.resolve(null);
  }

  /** Ask something that needs no document. @param {Change} question @returns {Promise<any>} */
  lookUp(question) {
    return this.#ask(question);
  }

  /** Ask something whose refusal is an answer too, in words. @param {Change} question @returns {Promise<any>} a reply, or {trouble} */
  async probe(question) {
    try {
      return await this.#engine.ask(question);
    } catch (error) {
      return { trouble: error instanceof Error ? error.message : String(error) };
    }
  }

  async #learnKinds() {
    if (this.#engine.state.state !== "ready" || this.#store.state.kinds.length) return;
    const reply = await this.probe({ ask: "kinds" });
    if (!reply.kinds) return;
    const { kinds, things, presets, purposes } = reply;
    this.#store.set({ kinds, things, presets, purposes });
    const kit = storedKit();
    if (isKit(kit, things)) this.setKit(kit);
  }

  /** @param {(now: string) => string | null} take @returns {Promise<boolean>} */
  #turn(take) {
    return this.#inTurn(async () => {
      const { view, before } = this.#store.state;
      if (!view) return false;
      if (before) {
        this.#store.set({ before: null, chosen: this.#store.state.beforeChosen });
        this.#show(before);
        return true;
      }
      const document = take(view.document);
      if (document === null) return false;
      const reply = await this.#ask({ ask: "view", document }, { shown: view });
      if (!reply) return false;
      reply.select = changedStage(view, reply);
      this.#show(reply);
      return true;
    });
  }

  /** Say that a beat of a newer Groundbeat is only shown, and not changed. @param {View} view @returns {boolean} */
  #isNewer(view) {
    if (!view.newer) return false;
    const text = `${view.newer.message}. It cannot be changed here.`;
    this.#store.tell("edit", { text, trouble: true, again: false });
    return true;
  }

  /** Do one thing after the other. @template T @param {() => Promise<T>} deed @returns {Promise<T>} */
  #inTurn(deed) {
    const done = this.#changes.then(deed);
    this.#changes = done.then(
      () => {},
      () => {},
    );
    return done;
  }

  /** @param {number} bpm the practice tempo; it is not part of the document */
  setTempo(bpm) {
    this.#store.set({ tempo: bpm });
    this.#listening.settle();
  }

  /** @param {{ mix?: number, onlyAdded?: boolean, click?: boolean, volume?: number, muted?: string[], soloed?: string[] }} change */
  listen(change) {
    this.#store.set(change);
    this.#listening.settle();
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

  /** Play or stop; inside a user's gesture only. */
  toggle() {
    if (this.#store.state.timeline) this.#listening.toggle();
  }

  /** Play a stage so many times, not showing which; 0 times stops that. @param {string} document @param {number} stage @param {number} times */
  once(document, stage, times) {
    return this.#listening.once(document, stage, times);
  }

  /** @param {import("./store.js").Topic} topic */
  dismiss(topic) {
    this.#store.tell(topic, null);
  }

  /** Whether starting the engine once more may mend its failure. @returns {boolean} */
  get canTryAgain() {
    return WORTH_A_TRY.has(this.#engine.state.code);
  }

  /** Start the engine once more, and do what it could not do. */
  again() {
    this.#store.tell("engine", null);
    const unanswered = this.#unanswered;
    this.#unanswered = null;
    this.#engine.start();
    if (unanswered) unanswered();
    else this.#listening.follow();
  }

  /** @param {{ ask: string, [field: string]: unknown }} request @returns {Promise<void>} */
  async #bring(request) {
    const first = this.#store.state.view === null || this.#store.state.origin === "example";
    if (first) this.#store.set({ expecting: this.#store.state.view === null });
    this.#store.tell("open", null);
    const reply = (await this.#kept(request)) ?? (await this.#ask(request, { lane: "open" }));
    if (reply === "overtaken") return;
    this.#store.set({ expecting: false });
    if (!reply) return;
    const { view, origin, before } = this.#store.state;
    if (view && origin === "link") this.#history.push((before ?? view).document);
    this.#store.set({ before: null, chosen: reply.stages.length - 1, tempo: null });
    this.#show(reply);
    this.#refit(); // the kit may have become known meanwhile
  }

  /**
   * Open the document with its other ways that this tab has kept for a link.
   * @param {{ ask: string, [field: string]: unknown }} request @returns {Promise<any>} null where there is none
   */
  async #kept({ ask, text }) {
    const document = ask === "open" && typeof text === "string" && text[0] === "#" ? this.#session.find(text.slice(1)) : null;
    const reply = document && (await this.#ask({ ask, text: document }, { lane: "open" }));
    if (document && !reply) this.#store.tell("open", null); // the link itself tells what is wrong
    return reply || null;
  }

  /** @param {View} view @param {boolean} [lasting] whether the address follows */
  #show(view, lasting = true) {
    const wish = view.select ?? this.#store.state.chosen;
    const chosen = Math.max(0, Math.min(wish, view.stages.length - 1));
    const { canUndo, canRedo } = this.#history;
    this.#store.set({ view, partial: false, origin: "link", chosen, canUndo, canRedo });
    if (lasting && !view.newer) this.#session.keep(view);
    if (lasting && view.link && !view.link_trouble && !view.newer) this.#address.write(view.link);
    this.#listening.settle();
    this.#followed = this.#listening.follow();
  }

  /**
   * Ask the engine; once more if it died over it. Trouble becomes a notice.
   * @param {{ ask: string, [field: string]: unknown }} request
   * @param {{ lane?: string, shown?: View | null, first?: boolean, second?: boolean }} [how] shown: the view of the
   *   question's document or of another, against which a view is told; first: draw the edited stage before the others
   * @returns {Promise<any>} null if there is no answer, "overtaken" if a newer one comes
   */
  async #ask(request, how = {}) {
    const { lane, shown = null, first = false, second = false } = how;
    try {
      const options = lane ? { supersedes: lane } : {};
      const { kit } = this.#store.state;
      const known = (shown?.kit?.text ?? "") === kit ? shown : null; // on another kit all is told anew
      const have = !known ? "" : known.document === request.document ? "=" : known.document;
      const question = kit ? { ...request, kit } : request;
      const glimpse = first && known ? this.#glimpse(question, known) : null;
      const reply = await this.#engine.ask({ ...question, have }, options);
      return reply.answer === "view" ? unfold(/** @type {any} */ (reply), known, glimpse ? await glimpse : null) : reply;
    } catch (error) {
      if (error instanceof EngineOvertaken) return "overtaken";
      if (error instanceof EngineLost) {
        if (this.#engine.state.state === "failed") {
          this.#store.tell("engine", { text: error.message, trouble: true, again: this.canTryAgain });
          if (lane === "open") this.#unanswered = () => this.#bring(request);
          return null;
        }
        if (!second) return this.#ask(request, { ...how, second: true });
      }
      const text = error instanceof Error ? error.message : String(error);
      this.#store.tell(lane === "open" ? "open" : "edit", { text, trouble: true, again: false });
      return null;
    }
  }

  /**
   * Ask for the edited stage alone, and draw it; what comes of it is only shown, the document follows with the answer.
   * @param {{ ask: string, [field: string]: unknown }} request @param {View} shown
   * @returns {Promise<import("../draw/shapes.js").Stage | null>}
   */
  async #glimpse(request, shown) {
    try {
      const reply = await this.#engine.ask({ ...request, first: true });
      const view = unfoldGlimpse(/** @type {any} */ (reply), shown);
      if (!view || this.#store.state.view !== shown) return null;
      this.#glimpsed = view;
      this.#store.set({ view, partial: true });
      return view.stages[/** @type {any} */ (reply).stage];
    } catch {
      return null; // the question itself tells what is wrong
    }
  }
}
