/**
 * A tempo from taps: the median of the last gaps between them.
 *
 * A gap unlike the others (a pause, a slip) counts for nothing, unless the next one is like it: then somebody taps
 * another tempo, and the older gaps are forgotten. Times in milliseconds.
 */

/** As many gaps count. Our choice. */
const GAPS = 8;
/** Gaps of the slowest and the fastest practice tempo, 20 and 300 a minute, with some room. */
const LONGEST = 60_000 / 20 + 100;
const SHORTEST = 60_000 / 300 - 20;
/** Gaps that differ by more than this share are unlike. Our choice. */
const UNLIKE = 0.25;

export class Taps {
  #last = -Infinity;
  /** @type {number[]} */
  #gaps = [];
  /** @type {number | null} a gap unlike the others, if it was the last */
  #odd = null;

  /**
   * Take a tap.
   * @param {number} time @returns {number | null} beats a minute, null while there are too few taps
   */
  tap(time) {
    const gap = time - this.#last;
    if (gap < SHORTEST) return this.#bpm(); // a finger that bounced
    this.#last = time;
    const usual = median(this.#gaps);
    if (gap > LONGEST) this.#odd = null;
    else if (usual === null || !unlike(gap, usual)) this.#count([...this.#gaps, gap]);
    else if (this.#odd !== null && !unlike(gap, this.#odd)) this.#count([this.#odd, gap]);
    else this.#odd = gap;
    return this.#bpm();
  }

  /** @param {number[]} gaps */
  #count(gaps) {
    this.#gaps = gaps.slice(-GAPS);
    this.#odd = null;
  }

  #bpm() {
    const gap = median(this.#gaps);
    return gap === null ? null : 60_000 / gap;
  }
}

/** @param {number} gap @param {number} other */
function unlike(gap, other) {
  return Math.abs(gap - other) > UNLIKE * other;
}

/** @param {number[]} values @returns {number | null} */
function median(values) {
  if (!values.length) return null;
  const sorted = [...values].sort((a, b) => a - b);
  const half = sorted.length >> 1;
  return sorted.length % 2 ? sorted[half] : (sorted[half - 1] + sorted[half]) / 2;
}
