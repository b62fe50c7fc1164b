/**
 * What keeps the loudspeaker and the ear safe, however loud the mix becomes?
 *
 * What comes to the ceiling, 1 dB under full scale, or stays below it goes through as it is, bit by bit. Higher than that
 * both channels are turned down together, on the very frame, so that the louder one stands at the ceiling: there is no
 * step, as the frame before was at most there too. Then the gain comes back within some tenths of a second, quickly at
 * first. It looks at frames only, not between them. A number that is none (NaN, infinite) becomes silence.
 * Files do not pass here: writing.js lowers a file as a whole, so that its loud places keep their measure to the soft.
 */

/** Highest level put out; the nearest number that the output can hold, so that rounding never exceeds it. */
export const CEILING = Math.fround(10 ** (-1 / 20));
/** Seconds in which what is missing of the gain falls to its 1/e. Our choice: no flutter, and soon as loud as before. */
const RELEASE = 0.08;
/** Reductions less than this are none: a thousandth of a decibel makes no step. */
const NONE = 1e-4;

export class Limiter {
  #keep;
  /** What is missing of the gain: 0 for none. */
  #missing = 0;

  /** @param {number} rate */
  constructor(rate) {
    this.#keep = Math.exp(-1 / (RELEASE * rate));
  }

  /**
   * Limit a block in place. Nothing is allocated.
   *
   * @param {Float32Array} left
   * @param {Float32Array} right  as long
   */
  limit(left, right) {
    let missing = this.#missing;
    for (let i = 0; i < left.length; i++) {
      let a = left[i];
      let b = right[i];
      if (a - a !== 0) left[i] = a = 0;
      if (b - b !== 0) right[i] = b = 0;
      const peak = Math.max(Math.abs(a), Math.abs(b));
      if (peak > CEILING) missing = Math.max(missing, 1 - CEILING / peak);
      if (missing === 0) continue;
      left[i] = held(a * (1 - missing));
      right[i] = held(b * (1 - missing));
      missing *= this.#keep;
      if (missing < NONE) missing = 0;
    }
    this.#missing = missing;
  }
}

/** @param {number} value */
function held(value) {
  return value > CEILING ? CEILING : value < -CEILING ? -CEILING : value;
}
