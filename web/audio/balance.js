/**
 * How loud is each layer and each line?
 *
 * The slider x goes from the base beat (0) to the chosen stage (1). With s = x x (3 - 2x), what is only in the base has
 * the gain sqrt(1 - s), what is only in the stage sqrt(s), and what is in both stays: the powers of the two add up to one
 * wherever the slider is, so that the middle is as loud as the ends. Such an s is flat at both ends, as the sine and
 * cosine that are usual for this are; unlike those, roots are the same to the last bit in every language, and the
 * engine's sound/stage.py has the same. With "only what was added" the added strokes sound alone, wherever the slider
 * is. A line that is the only one wished for sounds even if it is muted as well.
 */
import { CLICK_GROUP, COUNT_GROUP, GROUPS } from "./line.js";

/** The settings of the Player that decide gains. */
export class Balance extends EventTarget {
  #mix = 1;
  #onlyAdded = false;
  #click = 0;
  #count = 1;
  #clickPan = 0;
  /** @type {Set<string>} */
  #muted = new Set();
  /** @type {Set<string>} */
  #soloed = new Set();

  get mix() {
    return this.#mix;
  }

  set mix(share) {
    this.#mix = Math.min(1, Math.max(0, share));
    this.balanced();
  }

  get onlyAdded() {
    return this.#onlyAdded;
  }

  set onlyAdded(on) {
    this.#onlyAdded = on;
    this.balanced();
  }

  get click() {
    return this.#click;
  }

  set click(gain) {
    this.#click = Math.min(1, Math.max(0, gain));
    this.balanced();
  }

  get count() {
    return this.#count;
  }

  set count(gain) {
    this.#count = Math.min(1, Math.max(0, gain));
    this.balanced();
  }

  get clickPan() {
    return this.#clickPan;
  }

  set clickPan(pan) {
    this.#clickPan = Math.min(1, Math.max(-1, pan));
    this.balanced();
  }

  /** @returns {ReadonlySet<string>} */
  get muted() {
    return this.#muted;
  }

  /** @returns {ReadonlySet<string>} */
  get soloed() {
    return this.#soloed;
  }

  /**
   * @param {string} surface
   * @param {boolean} on
   */
  mute(surface, on) {
    if (on) this.#muted.add(surface);
    else this.#muted.delete(surface);
    this.balanced();
  }

  /**
   * @param {string} surface
   * @param {boolean} on
   */
  solo(surface, on) {
    if (on) this.#soloed.add(surface);
    else this.#soloed.delete(surface);
    this.balanced();
  }

  clearLines() {
    this.#muted.clear();
    this.#soloed.clear();
    this.balanced();
  }

  /** Called after every change; the Player sends the gains on. */
  balanced() {}

  /**
   * Work out the gains of the groups and of the surfaces.
   *
   * @param {ReadonlyArray<string>} names  of the surfaces, in the order of their numbers
   * @returns {{groups: Float32Array, surfaces: Float32Array}} the click's own surface last
   */
  gains(names) {
    const share = this.#mix * this.#mix * (3 - 2 * this.#mix);
    const layers = [Math.sqrt(1 - share), Math.sqrt(share), 1];
    const groups = new Float32Array(GROUPS);
    layers.forEach((gain, layer) => {
      groups[layer * 2] = this.#onlyAdded ? 0 : gain;
      groups[layer * 2 + 1] = this.#onlyAdded ? 1 : gain;
    });
    groups[CLICK_GROUP] = this.#click;
    groups[COUNT_GROUP] = this.#count;
    const alone = this.#soloed.size > 0;
    const lines = names.map((name) => Number(alone ? this.#soloed.has(name) : !this.#muted.has(name)));
    return { groups, surfaces: Float32Array.from([...lines, 1]) };
  }
}
