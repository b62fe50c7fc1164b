/**
 * All that a person can ask of the page, by name. The elements' events end here.
 *
 * Whatever goes wrong, what is shown stays; a notice says what happened. Changes are made one after the other, each on
 * the document that the one before has left, so quick fingers lose nothing.
 */

import { EngineLost, EngineOvertaken } from "../engine/client.js";
import { FileTrouble, readFile } from "../input/files.js";

/** @typedef {import("../draw/shapes.js").View} View */

/** Failures of the engine that a second try may mend. */
const WORTH_A_TRY = new Set(["engine.network", "engine.stalled", "engine.died-twice"]);

export class Commands {
  #store;
  #engine;
  #listening;
  #address;
  /** @type {Promise<void>} */
  #changes = Promise.resolve();
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
   * @returns {Promise<void>}
   */
  switch({ key, on, undo }) {
    this.#changes = this.#changes.then(async () => {
      const { view } = this.#store.state;
      if (!view) return;
      const reply = await this.#ask({ ask: "switch", document: view.document, key, on });
      if (reply) this.#show(reply);
      else undo();
    });
    return this.#changes;
  }

  /** @param {number} bpm the practice tempo; it is not part of the document */
  setTempo(bpm) {
    this.#store.set({ tempo: bpm });
    this.#listening.settle();
  }

  /** @param {{ mix?: number, onlyAdded?: boolean, click?: boolean }} change */
  listen(change) {
    this.#store.set(change);
    this.#listening.settle();
  }

  /** @param {import("./store.js").State["through"]} through */
  through(through) {
    this.#listening.through(through);
  }

  /** Play or stop; inside a user's gesture only. */
  toggle() {
    if (this.#store.state.timeline) this.#listening.toggle();
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
    const reply = await this.#ask(request, "open");
    if (reply === "overtaken") return;
    this.#store.set({ expecting: false });
    if (!reply) return;
    this.#store.set({ chosen: reply.stages.length - 1, tempo: null });
    this.#show(reply);
  }

  /** @param {View} view */
  #show(view) {
    const chosen = Math.min(this.#store.state.chosen, view.stages.length - 1);
    this.#store.set({ view, origin: "link", chosen });
    if (view.link && !view.link_trouble) this.#address.write(view.link);
    this.#listening.settle();
    this.#listening.follow();
  }

  /**
   * Ask the engine; once more if it died over it. Trouble becomes a notice.
   * @param {{ ask: string, [field: string]: unknown }} request @param {string} [lane]
   * @param {boolean} [second] @returns {Promise<any>} null if there is no answer, "overtaken" if a newer one comes
   */
  async #ask(request, lane, second = false) {
    try {
      return await this.#engine.ask(request, lane ? { supersedes: lane } : {});
    } catch (error) {
      if (error instanceof EngineOvertaken) return "overtaken";
      if (error instanceof EngineLost) {
        if (this.#engine.state.state === "failed") {
          this.#store.tell("engine", { text: error.message, trouble: true, again: this.canTryAgain });
          if (lane === "open") this.#unanswered = () => this.#bring(request);
          return null;
        }
        if (!second) return this.#ask(request, lane, true);
      }
      const text = error instanceof Error ? error.message : String(error);
      this.#store.tell("open", { text, trouble: true, again: false });
      return null;
    }
  }
}
