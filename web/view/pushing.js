/**
 * A picture wider than its frame moves on while a stroke is held at its side.
 */

/** How near to the frame's side a carried stroke makes a long beat scroll, and by how much, in pixels. Our choice. */
const SIDE = 28;
const PUSH = 14;
/** Milliseconds from push to push. Our choice. */
const PACE = 30;

export class Pushing {
  #moved;
  /** @type {ReturnType<typeof setInterval> | undefined} */
  #timer;

  /** @param {() => void} moved called when the picture has moved below the hand */
  constructor(moved) {
    this.#moved = moved;
  }

  /** Push no more. */
  stop() {
    clearInterval(this.#timer);
  }

  /**
   * Push while the hand stays here; null where there is no hand.
   * @param {{ x: number } | null} point in the window @param {Element | null} scroller @param {number} labels pixels of it
   *   that the words take at its left
   */
  push(point, scroller, labels) {
    this.stop();
    if (!point || !scroller || scroller.scrollWidth <= scroller.clientWidth) return;
    const box = scroller.getBoundingClientRect();
    const push = point.x > box.right - SIDE ? PUSH : point.x < box.left + labels + SIDE ? -PUSH : 0;
    if (!push) return;
    const before = scroller.scrollLeft;
    this.#timer = setInterval(() => {
      scroller.scrollLeft += push;
      if (scroller.scrollLeft === before) return;
      this.stop();
      this.#moved(); // which ends here again, and goes on
    }, PACE);
  }
}
