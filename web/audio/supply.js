/**
 * Which sounds are with the audio thread already, and how do the others get there?
 *
 * One Supply a device. Parts are fetched, decoded at the device's rate and handed over once; handed-over samples
 * belong to the audio thread alone.
 */

/** @typedef {import("./kit.js").Kit} Kit */
/** @typedef {import("./kit.js").Sample} Sample */

export class Supply {
  #kit;
  #context;
  #hand;
  /** @type {Map<string, Promise<void>>} */
  #sending = new Map();
  /** @type {Set<string>} */
  #there = new Set();
  #retired = false;

  /**
   * @param {Kit} kit
   * @param {BaseAudioContext} context
   * @param {(samples: Sample[]) => void} hand  gives samples to the audio thread
   */
  constructor(kit, context, hand) {
    this.#kit = kit;
    this.#context = context;
    this.#hand = hand;
  }

  /** Supply the audio thread behind a node. @param {AudioWorkletNode} node @param {Kit} kit */
  static to(node, kit) {
    return new Supply(kit, node.context, (samples) =>
      node.port.postMessage({ kind: "samples", samples }, samples.map((sample) => sample.pcm.buffer)),
    );
  }

  /** Hand over nothing more: another kit has taken the place of this one. */
  retire() {
    this.#retired = true;
  }

  get kit() {
    return this.#kit;
  }

  /**
   * Say whether everything these surfaces need is there.
   *
   * @param {ReadonlySet<string>} surfaces
   */
  has(surfaces) {
    return [...this.#kit.partsFor(surfaces)].every((part) => this.#there.has(part));
  }

  /**
   * Bring what these surfaces need.
   *
   * @param {ReadonlySet<string>} surfaces
   * @returns {Promise<void>}
   * @throws {import("./kit.js").SoundProblem} kit.missing or kit.broken
   */
  async bring(surfaces) {
    await Promise.all([...this.#kit.partsFor(surfaces)].map((part) => this.#part(part)));
  }

  /** Bring the other parts, one after the other. A failure here is met again, and told, when one is needed. */
  async bringRest() {
    for (const part of this.#kit.parts) if (!this.#retired) await this.#part(part).catch(() => undefined);
  }

  /** @param {string} part */
  #part(part) {
    const known = this.#sending.get(part);
    if (known !== undefined) return known;
    const sending = this.#kit.samples(part, this.#context).then((samples) => {
      if (this.#retired) return;
      this.#hand(samples);
      this.#there.add(part);
    });
    this.#sending.set(part, sending);
    sending.catch(() => this.#sending.delete(part));
    return sending;
  }
}
