/**
 * What does a key mean, for the whole page and on a place of the chosen stage?
 *
 * The page: Space plays and stops, unless something that uses Space has the keyboard; with Shift, two stages that take
 * turns change over. Ctrl or Cmd with Z takes back, with
 * Shift and Z or with Y does again, except while writing. Letters alone are left to screen readers and to writing.
 *
 * A place: arrows walk; **Shift with arrows carries the stroke, letting Shift go drops it, Escape puts it back**. Shift,
 * because Alt with arrows is "back" and "forward" in browsers, Ctrl with arrows belongs to window managers and screen
 * readers, and Shift with arrows has no other meaning outside text.
 */

/** Elements that use Space themselves. */
const TAKES_SPACE = 'input, textarea, select, summary, a[href], [contenteditable], dialog, button, [role="gridcell"]';
/** Elements that take back what was written themselves. */
const WRITING = 'textarea, [contenteditable], input:not([type="checkbox"], [type="radio"], [type="range"], [type="file"])';

const DYNAMICS = ["ghost", "soft", "normal", "accent"];
/** @type {Record<string, [number, number]>} */
const ARROWS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };

/**
 * Say what a key asks of the page.
 * @param {KeyboardEvent} event
 * @returns {"toggle" | "undo" | "redo" | "changeOver" | null}
 */
export function commandOf(event) {
  if (event.defaultPrevented) return null;
  const target = event.composedPath()[0];
  const element = target instanceof Element ? target : null;
  if ((event.ctrlKey || event.metaKey) && !event.altKey) {
    if (element?.closest(WRITING)) return null;
    const key = event.key.toLowerCase();
    if (key === "z") return event.shiftKey ? "redo" : "undo";
    return key === "y" && event.ctrlKey && !event.shiftKey ? "redo" : null;
  }
  if (event.key !== " " || event.altKey || event.repeat) return null;
  if (event.shiftKey) return element?.closest(WRITING) ? null : "changeOver";
  if (!element) return "toggle";
  // The button of the chosen stage has nothing left to choose: there, Space plays.
  if (element.matches('h2 button[aria-pressed="true"]')) return "toggle";
  return element.closest(TAKES_SPACE) ? null : "toggle";
}

/**
 * @typedef {{ do: "step" | "carry", along: number, across: number } | { do: "tap" | "out" | "menu" | "hand" | "back" }
 *   | { do: "dynamic", dynamic: string } | { do: "stage", by: number }} PlaceCommand
 *   along: columns to the right (Infinity: to the end), across: lines down; hand: another hand; back: put back what is carried.
 */

/**
 * Say what a key asks on a place of the chosen stage.
 * @param {KeyboardEvent} event @returns {PlaceCommand | null}
 */
export function placeCommandOf(event) {
  const { key } = event;
  if (key === "ContextMenu" || (key === "F10" && event.shiftKey)) return { do: "menu" };
  if (event.altKey || event.metaKey) return null;
  if (key === "Escape") return { do: "back" };
  if (key === "Home" || key === "End") {
    const far = key === "Home" ? -Infinity : Infinity;
    return { do: "step", along: far, across: event.ctrlKey ? far : 0 };
  }
  if (event.ctrlKey) return null;
  const arrow = ARROWS[key];
  if (arrow) return { do: event.shiftKey ? "carry" : "step", along: arrow[0], across: arrow[1] };
  if (event.shiftKey) return null;
  if (key === "Enter" || key === " ") return { do: "tap" };
  if (key === "Delete" || key === "Backspace") return { do: "out" };
  if (key === "PageUp" || key === "PageDown") return { do: "stage", by: key === "PageUp" ? -1 : 1 };
  if (key === "5") return { do: "hand" };
  const dynamic = DYNAMICS[Number(key) - 1];
  return dynamic && key !== " " ? { do: "dynamic", dynamic } : null;
}
