/**
 * Which of the kits sounds, remembered by the browser: never in a link, never in a file. By name, "" for the usual one.
 */

const KEY = "groundbeat.sound";

/** @typedef {{ name: string, label: string, about: string, address: string }} Sound a kit to choose; the usual one comes first */

/** The kits there are, written in by the build. */
export const SOUNDS = GROUNDBEAT_KITS;

/** Which kit was chosen last; what is stored may be older than the page. @returns {string} */
export function storedSound() {
  try {
    const name = localStorage.getItem(KEY) ?? "";
    return SOUNDS.some((sound) => sound.name === name) ? name : "";
  } catch {
    return ""; // a private window or a frame may have no storage
  }
}

/** Remember a kit; without storage it is kept until the page is left. @param {string} name */
export function storeSound(name) {
  try {
    localStorage.setItem(KEY, name);
  } catch {
    // Then it is chosen anew at the next visit.
  }
}
