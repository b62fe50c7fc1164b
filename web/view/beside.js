/**
 * Where does a small menu open? Beside what it belongs to, inside the window.
 */

/** Pixels between a menu and its object, and between a menu and the window's edge. Our choice. */
const APART = 8;

/**
 * Open a popover under a box of the window, or above it where there is more room.
 * @param {HTMLElement} menu @param {DOMRect} box
 */
export function openBeside(menu, box) {
  if (!menu.matches(":popover-open")) menu.showPopover();
  const { width, height } = menu.getBoundingClientRect();
  const wide = document.documentElement.clientWidth;
  const high = window.innerHeight;
  const left = Math.max(APART, Math.min(wide - width - APART, box.left + box.width / 2 - width / 2));
  const under = box.bottom + APART;
  const over = box.top - APART - height;
  const top = under + height <= high - APART || over < APART ? Math.min(under, high - height - APART) : over;
  menu.style.setProperty("left", `${left}px`);
  menu.style.setProperty("top", `${Math.max(APART, top)}px`);
}
