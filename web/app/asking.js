/**
 * How the page asks the engine: with what is shown, on which kit, and what becomes of an answer that does not come.
 *
 * Trouble becomes a notice; what is shown stays. An edit is asked twice, first for the edited stage alone, so that the
 * hand sees at once what it did.
 */

import { EngineLost, EngineOvertaken } from "../engine/client.js";
import { unfold, unfoldGlimpse } from "./unfold.js";

/** @typedef {import("../draw/shapes.js").View} View */
/** @typedef {{ ask: string, [field: string]: unknown }} Question */

/** Failures of the engine that a second try may mend. */
const WORTH_A_TRY = new Set(["engine.network", "engine.stalled", "engine.died-twice"]);

export class Asking {
  #store;
  #engine;
  /** @type {View | null} a view that was only a glimpse, to be taken back where no answer follows */
  #glimpsed = null;
  /** @type {Question | null} what was to be opened when the engine failed */
  #unanswered = null;

  /** @param {import("./store.js").Store} store @param {import("../engine/client.js").EngineClient} engine */
  constructor(store, engine) {
    this.#store = store;
    this.#engine = engine;
  }

  /** Whether starting the engine once more may mend its failure. @returns {boolean} */
  get canTryAgain() {
    return WORTH_A_TRY.has(this.#engine.state.code);
  }

  /** What was to be opened when the engine failed; asked for once. @returns {Question | null} */
  takeUnanswered() {
    const unanswered = this.#unanswered;
    this.#unanswered = null;
    return unanswered;
  }

  /** Show a view again in place of a glimpse that no answer followed. @param {View} view */
  unglimpse(view) {
    if (this.#glimpsed && this.#store.state.view === this.#glimpsed) this.#store.set({ view, partial: false });
  }

  /** Ask something whose refusal is an answer too, in words. @param {Question} question @returns {Promise<any>} a reply, or {trouble} */
  async probe(question) {
    try {
      return await this.#engine.ask(question);
    } catch (error) {
      return { trouble: error instanceof Error ? error.message : String(error) };
    }
  }

  /**
   * Ask the engine; once more if it died over it. Trouble becomes a notice.
   * @param {Question} request
   * @param {{ lane?: string, shown?: View | null, first?: boolean, second?: boolean }} [how] shown: the view of the
   *   question's document or of another, against which a view is told; first: draw the edited stage before the others
   * @returns {Promise<any>} null if there is no answer, "overtaken" if a newer one comes
   */
  async ask(request, how = {}) {
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
          if (lane === "open") this.#unanswered = request;
          return null;
        }
        if (!second) return this.ask(request, { ...how, second: true });
      }
      const text = error instanceof Error ? error.message : String(error);
      this.#store.tell(lane === "open" ? "open" : "edit", { text, trouble: true, again: false });
      return null;
    }
  }

  /**
   * Ask for the edited stage alone, and draw it; what comes of it is only shown, the document follows with the answer.
   * @param {Question} request @param {View} shown
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
