/**
 * What is being heard at this moment, for drawing?
 *
 * The audio context's time moves in steps of 3 to 20 ms. The clock follows it smoothly by the page's own clock and
 * never runs backwards. The Playhead remembers the straight lines that the audio thread reports (a pass, a tempo) and
 * reads the place at a heard frame off them.
 */

/** Share of a new difference that is believed at each look, and the difference that is a jump. Our choices. */
const TRUST = 0.08;
const JUMP = 0.08;

export class Clock {
  /** @type {number|null} */
  #ahead = null;
  #last = 0;

  /**
   * Give the context's time now, in seconds.
   *
   * @param {number} current  context.currentTime
   * @param {number} now  performance.now() in seconds
   */
  read(current, now) {
    const ahead = current - now;
    if (this.#ahead === null || Math.abs(ahead - this.#ahead) > JUMP) this.#ahead = ahead;
    else this.#ahead += TRUST * (ahead - this.#ahead);
    this.#last = Math.max(this.#last, now + this.#ahead);
    return this.#last;
  }
}

/**
 * @typedef {object} Stretch  a straight line from frames to ticks
 * @property {number} since  frame from which it holds
 * @property {number} start  frame of the start of the pass
 * @property {number} frames  of the loop
 * @property {number} ticks  of the loop
 * @property {number} pass
 * @property {number} stage
 * @property {number} index  in the queue
 */

export class Playhead {
  /** @type {Stretch[]} */
  #stretches = [];
  #last = -Infinity;

  clear() {
    this.#stretches = [];
    this.#last = -Infinity;
  }

  /** @param {Stretch} stretch */
  add(stretch) {
    const last = this.#stretches.at(-1);
    if (last !== undefined && last.since === stretch.since && last.start === stretch.start) return;
    this.#stretches.push(stretch);
    if (this.#stretches.length > 32) this.#stretches.shift();
  }

  /**
   * Say where the music is at a heard frame.
   *
   * @param {number} frame
   * @returns {{ticks: number, pass: number, stage: number, index: number, lead: boolean}|null}
   */
  at(frame) {
    const heard = Math.max(frame, this.#last);
    this.#last = heard;
    const stretch = this.#stretches.findLast(({ since }) => since <= heard) ?? this.#stretches[0];
    if (stretch === undefined) return null;
    const { pass, stage, index, frames, ticks } = stretch;
    const place = Math.min((heard - stretch.start) / frames, 1) * ticks;
    return { ticks: Math.max(0, place), pass, stage, index, lead: place < 0 && pass === 0 };
  }
}
