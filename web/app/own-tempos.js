/**
 * The last clean tempo of a stage, remembered by the browser: never in a link, never in a file. Beats are known by their
 * title, so one without a title is not remembered.
 */

const KEY = "groundbeat.clean";
/** Stages that are remembered; the one longest not set goes first. Our choice. */
const MOST = 60;

/** @typedef {[title: string, stage: number, bpm: number]} Row */

/** The last clean tempo, 0 where none is known. @param {string} title @param {number} stage @returns {number} */
export function cleanTempo(title, stage) {
  return read().find((row) => row[0] === title && row[1] === stage)?.[2] ?? 0;
}

/** Remember a clean tempo; 0 forgets it. @param {string} title @param {number} stage @param {number} bpm */
export function keepCleanTempo(title, stage, bpm) {
  if (!title) return;
  const others = read().filter((row) => row[0] !== title || row[1] !== stage);
  /** @type {Row[]} */
  const rows = bpm ? [...others, [title, stage, bpm]] : others;
  try {
    localStorage.setItem(KEY, JSON.stringify(rows.slice(-MOST)));
  } catch {
    // A private window or a frame may have no storage: then it is said anew at the next visit.
  }
}

/** @returns {Row[]} */
function read() {
  try {
    const rows = JSON.parse(localStorage.getItem(KEY) ?? "[]");
    return Array.isArray(rows) ? rows.filter(isRow) : [];
  } catch {
    return [];
  }
}

/** What is stored may be older than the page, or somebody else's. @param {unknown} row @returns {row is Row} */
function isRow(row) {
  return Array.isArray(row) && typeof row[0] === "string" && Number.isInteger(row[1]) && row[2] >= 20 && row[2] <= 300;
}
