/**
 * Which hand does a stroke get that is asked for another one? First the other hand, then the one that it had, then it is
 * free again, and the engine finds its hand.
 */

/** @typedef {import("../draw/shapes.js").Stroke} Stroke @typedef {import("../draw/shapes.js").Limb} Limb */

export class Pinning {
  /** @type {Map<string, string>} by stroke id: the hand that the engine found when the stroke was free */
  #found = new Map();

  /** Remember what the engine found. @param {Iterable<Limb>} limbs */
  learn(limbs) {
    for (const { id, limb, letter, pinned } of limbs) if (!pinned && limb.endsWith("hand")) this.#found.set(id, letter);
  }

  /**
   * Give the hand that comes next, "" for a free stroke, null where there is none: feet are not pinned.
   * @param {Stroke} stroke @param {Limb | undefined} limb @returns {"R" | "L" | "" | null}
   */
  next({ id, hand }, limb) {
    if (limb && !limb.limb.endsWith("hand")) return null;
    const found = this.#found.get(id) ?? limb?.letter;
    if (!found) return null;
    if (!hand) return found === "R" ? "L" : "R";
    return hand !== this.#found.get(id) && this.#found.has(id) ? /** @type {"R" | "L"} */ (found) : "";
  }
}
