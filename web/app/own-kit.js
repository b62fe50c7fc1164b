/**
 * The student's kit, remembered by the browser: never in a link, never in a file.
 */

const KEY = "groundbeat.kit";

/** The kit that was chosen last, as text; "" for beats as they are written. @returns {string} */
export function storedKit() {
  try {
    return localStorage.getItem(KEY) ?? "";
  } catch {
    return ""; // a private window or a frame may have no storage
  }
}

/** Remember a kit; without storage it is kept until the page is left. @param {string} kit */
export function storeKit(kit) {
  try {
    if (kit) localStorage.setItem(KEY, kit);
    else localStorage.removeItem(KEY);
  } catch {
    // Then it is chosen anew at the next visit.
  }
}

/**
 * Whether a text is a kit that this version knows: what is stored may be older than the page.
 * @param {string} kit @param {string[]} things @returns {boolean}
 */
export function isKit(kit, things) {
  return kit === "pad" || (kit !== "" && kit.split(", ").every((thing) => things.includes(thing)));
}
