/**
 * What is known of playing the chosen stage: who plays what, how fast it can go, what is hard about it.
 *
 * The engine is asked when the document, the stage, the practice tempo, the player or the kit has become another one,
 * and only after a rest: it does one thing at a time, and the answer to an edit must not wait for this. Meanwhile the
 * last that was known of the stage stays. What is overtaken is dropped.
 */

/** Milliseconds of rest before the engine is asked: after a change of the document, and after anything else. Our choice. */
const REST = 600;
const SOON = 120;
/** How many answers are kept, so that going to and fro asks nothing anew. Our choice. */
const MOST = 32;

/** @typedef {import("../draw/shapes.js").Playing} Reply */

export class Playing {
  #store;
  #engine;
  #isBusy;
  /** What is known, or asked for. */
  #wanted = "";
  #document = "";
  /** The key of the stage that `playing` of the state is about. */
  #stage = -1;
  /** @type {Map<string, Reply>} */
  #known = new Map();
  /** @type {ReturnType<typeof setTimeout> | undefined} */
  #rest;

  /**
   * @param {import("./store.js").Store} store @param {import("../engine/client.js").EngineClient} engine
   * @param {() => boolean} isBusy whether a change of the document is on its way
   */
  constructor(store, engine, isBusy) {
    this.#store = store;
    this.#engine = engine;
    this.#isBusy = isBusy;
    store.listen(() => this.#look());
  }

  #look() {
    const { view, partial, chosen, tempo, player, engine } = this.#store.state;
    const stage = view?.stages[chosen];
    if (engine !== "ready") this.#wanted = ""; // what was asked may be lost with the engine
    // A glimpse is a picture still without its document.
    if (!view || !stage || partial || engine !== "ready") return;
    const question = { ask: "playing", document: view.document, stage: chosen, tempo: tempo ?? 0, player, kit: view.kit?.text ?? "" };
    const wanted = JSON.stringify(question);
    if (wanted === this.#wanted) return;
    this.#wanted = wanted;
    clearTimeout(this.#rest);
    const edited = question.document !== this.#document;
    this.#document = question.document;
    const known = this.#known.get(wanted);
    if (known) {
      this.#show(known, stage.key);
      return;
    }
    if (stage.key !== this.#stage) this.#store.set({ playing: null, spot: -1 });
    this.#stage = stage.key;
    this.#store.set({ playingStale: true });
    this.#askLater(question, wanted, stage.key, edited ? REST : SOON);
  }

  /** @param {{ ask: string, [field: string]: unknown }} question @param {string} wanted @param {number} key @param {number} rest */
  #askLater(question, wanted, key, rest) {
    this.#rest = setTimeout(() => {
      if (this.#isBusy()) this.#askLater(question, wanted, key, REST);
      else this.#ask(question, wanted, key);
    }, rest);
  }

  /** @param {{ ask: string, [field: string]: unknown }} question @param {string} wanted @param {number} key of the stage */
  async #ask(question, wanted, key) {
    try {
      /** @type {Reply} */
      const reply = await this.#engine.ask(question, { supersedes: "playing" });
      this.#known.set(wanted, reply);
      const [oldest] = this.#known.keys();
      if (this.#known.size > MOST) this.#known.delete(oldest);
      if (wanted === this.#wanted) this.#show(reply, key);
    } catch {
      // The engine's own state tells why, or a newer question has overtaken this one. Without an answer nothing is said.
      if (wanted === this.#wanted) this.#store.set({ playing: null, playingStale: false });
    }
  }

  /** @param {Reply} reply @param {number} key of the stage */
  #show(reply, key) {
    const { view, playing, spot } = this.#store.state;
    this.#stage = key;
    // A spot that is looked at stays so while it is the same one.
    const looked = playing?.spots[spot];
    const still = looked ? reply.spots.findIndex(({ kind, text }) => kind === looked.kind && text === looked.text) : -1;
    const keys = view?.stages.map((stage) => stage.key) ?? [];
    const home = new Map(reply.home.map((one) => [keys[one.stage] ?? -1, one]));
    this.#store.set({ playing: reply, playingStale: false, spot: still, home });
  }
}
