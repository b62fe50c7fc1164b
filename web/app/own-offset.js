/**
 * How loud it is, and by how much the light waits for the sound: both belong to this device, so the browser remembers
 * them. Never in a link, never in a file, never undone.
 */

const VOLUME = "groundbeat.volume";
const OFFSET = "groundbeat.offset";

/** Until somebody says otherwise: a modest level (our choice), and no correction. */
export const MODEST = 0.6;
/** Seconds; the player takes no others. */
const EARLIEST = -0.1;
const LATEST = 0.5;

/** What was set last; what is stored may be anybody's. @returns {{ volume: number, offset: number }} */
export function storedHearing() {
  return { volume: read(VOLUME, 0, 1) ?? MODEST, offset: read(OFFSET, EARLIEST, LATEST) ?? 0 };
}

/** Remember what has changed; without storage it is kept until the page is left. @param {{ volume?: number, offset?: number }} change */
export function storeHearing({ volume, offset }) {
  try {
    if (volume !== undefined) localStorage.setItem(VOLUME, String(volume));
    if (offset !== undefined) localStorage.setItem(OFFSET, String(offset));
  } catch {
    // Then it is set anew at the next visit.
  }
}

/** @param {string} key @param {number} least @param {number} most @returns {number | null} */
function read(key, least, most) {
  try {
    const text = localStorage.getItem(key);
    const value = Number(text);
    return text !== null && text.trim() !== "" && value >= least && value <= most ? value : null;
  } catch {
    return null; // a private window or a frame may have no storage
  }
}
