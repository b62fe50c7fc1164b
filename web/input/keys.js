/**
 * What a key means for the whole page: Space plays and stops, unless something that uses Space has the keyboard.
 *
 * Only unmodified keys count. Letters are left alone: they belong to screen readers and to writing.
 */

/** Elements that use Space themselves. */
const TAKES_SPACE = "input, textarea, select, summary, a[href], [contenteditable], dialog, button";

/**
 * Say what a key asks for.
 * @param {KeyboardEvent} event
 * @returns {"toggle" | null}
 */
export function commandOf(event) {
  if (event.key !== " " || event.ctrlKey || event.altKey || event.metaKey || event.shiftKey) return null;
  if (event.defaultPrevented || event.repeat) return null;
  const target = event.composedPath()[0];
  if (!(target instanceof Element)) return "toggle";
  // The button of the chosen stage has nothing left to choose: there, Space plays.
  if (target.matches('h2 button[aria-pressed="true"]')) return "toggle";
  return target.closest(TAKES_SPACE) ? null : "toggle";
}
