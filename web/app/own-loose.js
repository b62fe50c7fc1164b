/**
 * How loosely what is heard is played, remembered by the browser: never in a link, never in a file, never undone.
 */

const KEY = "groundbeat.loose";
/** Range of the engine (timeline/hand.py). */
const MOST = 100;
/** A steady hand: a little off, as the command line does it. Our choice. */
export const USUAL = 20;
/** Exactly as written. */
export const EXACT = 0;

/** What was set last. @returns {number} 0 to 100 */
export function storedLoose() {
  try {
    const loose = JSON.parse(localStorage.getItem(KEY) ?? String(USUAL));
    if (Number.isInteger(loose) && loose >= EXACT && loose <= MOST) return loose;
  } catch {
    // A private window or a frame may have no storage; what is there may be somebody else's.
  }
  return USUAL;
}

/** Remember it; without storage it is kept until the page is left. @param {number} loose */
export function storeLoose(loose) {
  try {
    localStorage.setItem(KEY, JSON.stringify(loose));
  } catch {
    // Then it is set anew at the next visit.
  }
}
