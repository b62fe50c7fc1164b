/**
 * Which hints a person has put away: kept by the browser where it keeps anything, else until the page is left.
 */

const KEY = "groundbeat.hints";
/** @type {Set<string>} */
const seen = new Set();

/** Whether a hint was put away. @param {string} name @returns {boolean} */
export function isSeen(name) {
  return seen.has(name) || stored().includes(name);
}

/** Put a hint away. @param {string} name */
export function markSeen(name) {
  seen.add(name);
  try {
    localStorage.setItem(KEY, [...new Set([...stored(), ...seen])].join(" "));
  } catch {
    // A private window or a frame may have no storage; then it is put away for this visit.
  }
}

/** @returns {string[]} */
function stored() {
  try {
    return (localStorage.getItem(KEY) ?? "").split(" ");
  } catch {
    return [];
  }
}
