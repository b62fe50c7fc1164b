/**
 * What a hand is at stays under it, though what stands above it grows or shrinks.
 */

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
}
