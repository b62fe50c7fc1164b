/**
 * All that changes the document: edits, what is tried, undo, another document.
 *
 * One after the other, each on the document that the one before has left, so quick fingers lose nothing. What is done is
 * shown, kept in the undo, written to the address, and what sounds.
 */

import { History, changedStage } from "./history.js";
import { Session } from "./session.js";

/** @typedef {import("../draw/shapes.js").View} View */
/** @typedef {import("./asking.js").Question} Question */

export class Changes {
  #store;
  #asking;
  #listening;
  #address;
  /** @type {Promise<void>} */
  #changes = Promise.resolve();
  /** How many wait or are on their way. */
  #pending = 0;
  #history = new History();
  #session = new Session();
  /** @type {Promise<void>} until the chosen stage is what sounds */
  #followed = Promise.resolve();

  /**
   * @param {import("./store.js").Store} store @param {import("./asking.js").Asking} asking
   * @param {import("./listening.js").Listening} listening @param {import("./address.js").Address} address
   */
  constructor(store, asking, listening, address) {
    this.#store = store;
    this.#asking = asking;
    this.#listening = listening;
    this.#address = address;
  }

  /** Whether a change is on its way. @returns {boolean} */
  get busy() {
    return this.#pending > 0;
  }

  /** Whether a reload brings back the other ways of the beat. @returns {boolean} */
  get keepsWays() {
    return this.#session.holds;
  }

  /** Until the chosen stage, as it was changed last, is what sounds. @returns {Promise<void>} */
  get followed() {
    return this.#followed;
  }

  /**
   * Change the document: a question of the engine without its document. One entry in the undo.
   * Waits for the changes before it; a tentative one is kept by it.
   * @param {Question} change @returns {Promise<boolean>} whether it was done; else a notice says why not
   */
  edit(change) {
    return this.#inTurn(async () => {
      const { view, before, chosen } = this.#store.state;
      if (!view || this.#isNewer(view)) return false;
      const reply = await this.#asking.ask({ ...change, document: view.document }, { shown: view, first: !before });
      if (!reply) {
        this.#asking.unglimpse(view);
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
   * takes this one back. @param {Question} change @returns {Promise<boolean>}
   */
  attempt(change) {
    return this.#inTurn(async () => {
      const { view, before, chosen } = this.#store.state;
      const from = before ?? view;
      if (!view || !from || this.#isNewer(view)) return false;
      const reply = await this.#asking.ask({ ...change, document: from.document }, { shown: from });
      if (!reply) return false;
      this.#store.tell("edit", null);
      this.#store.set({ before: from, beforeChosen: before ? this.#store.state.beforeChosen : chosen });
      this.#show(reply, false);
      return true;
    });
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
      const reply = await this.#asking.ask({ ask: "new" }, { lane: "open" });
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
      const reply = await this.#asking.ask({ ask: "view", document }, { shown: view });
      if (!reply) return false;
      this.#history.push((before ?? view).document);
      this.#store.set({ before: null });
      this.#show(reply);
      return true;
    });
  }

  /** Tell the engine's view anew where it is not on the kit that is wished for. @returns {Promise<boolean>} */
  refit() {
    const again = async (/** @type {View} */ view) => {
      const question = view.newer ? { ask: "open", text: `#${view.link}` } : { ask: "view", document: view.document };
      const reply = await this.#asking.ask(question);
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

  /** Bring a beat that is opened: its last stage is shown. @param {Question} request @returns {Promise<void>} */
  async bring(request) {
    const first = this.#store.state.view === null || this.#store.state.origin === "example";
    if (first) this.#store.set({ expecting: this.#store.state.view === null });
    this.#store.tell("open", null);
    const reply = (await this.#kept(request)) ?? (await this.#asking.ask(request, { lane: "open" }));
    if (reply === "overtaken") return;
    this.#store.set({ expecting: false });
    if (!reply) return;
    const { view, origin, before } = this.#store.state;
    if (view && origin === "link") this.#history.push((before ?? view).document);
    this.#store.set({ before: null, chosen: reply.stages.length - 1, tempo: null });
    this.#show(reply);
    this.refit(); // the kit may have become known meanwhile
  }

  /**
   * Open the document with its other ways that this tab has kept for a link.
   * @param {Question} request @returns {Promise<any>} null where there is none
   */
  async #kept({ ask, text }) {
    const document = ask === "open" && typeof text === "string" && text[0] === "#" ? this.#session.find(text.slice(1)) : null;
    const reply = document && (await this.#asking.ask({ ask, text: document }, { lane: "open" }));
    if (document && !reply) this.#store.tell("open", null); // the link itself tells what is wrong
    return reply || null;
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
      const reply = await this.#asking.ask({ ask: "view", document }, { shown: view });
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
    this.#pending += 1;
    const done = this.#changes.then(deed);
    const settled = () => {
      this.#pending -= 1;
    };
    this.#changes = done.then(settled, settled);
    return done;
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
}
