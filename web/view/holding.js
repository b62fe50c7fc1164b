/**
 * What a hand is at stays under it, though what stands above it grows or shrinks; and what the sound has come to is seen.
 */

/** So much of a stage, of its own height or of the window's, must be seen if it is to count as in view. Our choice. */
const ENOUGH = 0.5;

export class Holding {
  /** @type {{ top: number, part: string } | null} where it stood, from the top of the window */
  #held = null;

  /** Whether something is held. @returns {boolean} */
  get holds() {
    return this.#held !== null;
  }

  /** Hold a part until the next change is drawn. @param {ParentNode} root @param {string} part as a selector */
  hold(root, part) {
    const top = root.querySelector(part)?.getBoundingClientRect().top;
    this.#held = top === undefined ? null : { top, part };
  }

  /** Let go. */
  release() {
    this.#held = null;
  }

  /**
   * Bring the chosen stage back under the hand that chose it, or at least into sight.
   * @param {ParentNode} root @param {boolean} whole let all of it be seen: not after a change, which must not move under
   *   the hand
   */
  async stayInSight(root, whole) {
    // All parts are drawn by then, and nothing was painted yet; to measure sooner would lay the page out twice.
    await new Promise(requestAnimationFrame);
    const section = root.querySelector("section.chosen");
    if (!section) return;
    const held = this.#held && section.parentElement?.querySelector(this.#held.part);
    if (held && this.#held) window.scrollBy(0, held.getBoundingClientRect().top - this.#held.top);
    if (!held || whole) section.scrollIntoView({ block: "nearest", inline: "nearest" });
    this.#held = null;
  }

  /**
   * The sound has gone on to another stage, and no hand chose it: the page moves only where that stage is out of view, and
   * not if what steers the sound would leave the screen.
   * @param {ParentNode} root @param {Element | null} steered what is in use, if it is on the screen now
   */
  async follow(root, steered) {
    this.#held = null;
    await new Promise(requestAnimationFrame);
    const section = root.querySelector("section.chosen");
    if (!section || isInView(section)) return;
    const [left, top] = [scrollX, scrollY];
    const seen = steered && isWhole(steered);
    section.scrollIntoView({ block: "nearest", inline: "nearest" });
    if (seen && !isWhole(steered)) scrollTo({ left, top, behavior: "instant" });
  }
}

/** @param {Element} element @returns {boolean} whether enough of it is between the edges of the window */
function isInView(element) {
  const { top, bottom, height } = element.getBoundingClientRect();
  return Math.min(bottom, innerHeight) - Math.max(top, 0) >= ENOUGH * Math.min(height, innerHeight);
}

/** @param {Element} element @returns {boolean} whether it is on the screen from top to bottom */
function isWhole(element) {
  const { top, bottom } = element.getBoundingClientRect();
  return top >= 0 && bottom <= innerHeight;
}
