/**
 * Which of the kits sounds, remembered by the browser: never in a link, never in a file. By name, "" for the usual one.
 */

const KEY = "groundbeat.sound";

/** @typedef {{ name: string, label: string, about: string, address: string }} Sound a kit to choose; the usual one comes first */

/** The kits that the build has listed on the page. @param {string} told JSON @returns {Sound[]} */
export function soundsOf(told) {
  return told ? JSON.parse(told) : [];
}

/** Which kit was chosen last. @param {Sound[]} sounds what there is: what is stored may be older than the page @returns {string} */
export function storedSound(sounds) {
  try {
    const name = localStorage.getItem(KEY) ?? "";
    return sounds.some((sound) => sound.name === name) ? name : "";
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
