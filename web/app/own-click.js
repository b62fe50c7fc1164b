/**
 * The click and the count-in, remembered by the browser: never in a link, never in a file, never undone.
 *
 * Kinds are named as the engine names them (timeline/clicks.py); what is stored may be older than the page.
 */

const KEY = "groundbeat.click";

/** The kinds of click, in the order they are offered. */
export const KINDS = ["beats", "eighths", "sixteenths", "triplets", "off-beats", "ones", "every other bar", "shrinking"];
/** Bars of the longest count-in; the engine has the same. */
const MOST_BARS = 2;

/** How the click and the count-in sound: the Player's names. */
const COUNTED = ["click", "pitched", "spoken"];
/** The loudest, 6 dB over the usual. Our choice; the Player allows no more. */
const LOUDEST = 2;

/** @typedef {{ kind: string, countIn: number, loud: number, pan: number, counted: string }} Clicking  loud 0..2, pan -1 left to 1 right */

/** How it is until somebody says otherwise: the engine's own answers are these. @type {Clicking} */
export const USUAL = { kind: "beats", countIn: 0, loud: 1, pan: 0, counted: "click" };

/**
 * The gain of a loudness as it is set: half way to the usual sounds about half as loud, as with the volume; above the
 * usual, twice is 6 dB. @param {number} loud
 */
export function gainOf(loud) {
  return loud < 1 ? loud ** 2 : loud;
}


/** What was set last. @returns {{ click: boolean, clicking: Clicking }} */
export function storedClick() {
  try {
    const { on, ...rest } = JSON.parse(localStorage.getItem(KEY) ?? "{}");
    const clicking = { ...USUAL, ...rest };
    if (isClicking(clicking)) return { click: on === true, clicking };
  } catch {
    // A private window or a frame may have no storage; what is there may be somebody else's.
  }
  return { click: false, clicking: USUAL };
}

/** Remember it; without storage it is kept until the page is left. @param {boolean} on @param {Clicking} clicking */
export function storeClick(on, clicking) {
  try {
    localStorage.setItem(KEY, JSON.stringify({ on, ...clicking }));
  } catch {
    // Then it is set anew at the next visit.
  }
}

/** @param {Clicking} clicking @returns {boolean} */
function isClicking({ kind, countIn, loud, pan, counted, ...others }) {
  const known = KINDS.includes(kind) && Number.isInteger(countIn) && countIn >= 0 && countIn <= MOST_BARS;
  return known && COUNTED.includes(counted) && loud >= 0 && loud <= LOUDEST && pan >= -1 && pan <= 1 && Object.keys(others).length === 0;
}
