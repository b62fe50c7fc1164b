/**
 * Who plays, remembered by the browser: never in a link, never in a file. As text, "" for the usual player.
 */

const KEY = "groundbeat.player";

/** Who played last, as text. @returns {string} */
export function storedPlayer() {
  try {
    return localStorage.getItem(KEY) ?? "";
  } catch {
    return ""; // a private window or a frame may have no storage
  }
}

/** Remember who plays; without storage it is kept until the page is left. @param {string} player */
export function storePlayer(player) {
  try {
    if (player) localStorage.setItem(KEY, player);
    else localStorage.removeItem(KEY);
  } catch {
    // Then it is said anew at the next visit.
  }
}
