/**
 * What a hand does on the places of the chosen stage, with mouse, finger or pen: taps, holds, or carries a stroke.
 *
 * A press that moves less than SLACK is a tap, told at the click that follows, so that a screen reader's click is one
 * too. A stroke is taken up by moving it: a mouse in any direction, a finger or pen sideways, for up and down belongs
 * to the scrolling page (touch-action: pan-y). Held still for HOLD it is taken up as well, and then goes any way;
 * let go where it was held, it asks for its menu. Escape, a lost window or a second finger puts it back.
 */

/** Pixels that a press may move and still be a tap. Our choice: a hand on glass trembles more. */
const SLACK = { mouse: 4, touch: 9, pen: 7 };
/** Milliseconds until a press that stands still takes the stroke up. Our choice, as long as systems wait. */
const HOLD = 450;

/**
 * @template T a place, as the listener finds it
 * @typedef {{
 *   find: (target: Element) => T | null, carries: (place: T) => boolean, tap: (place: T) => void, hold: (place: T) => void,
 *   lift: (place: T, point: Point) => void, move: (point: Point) => void, drop: () => void, cancel: () => void,
 * }} HandListener
 *   find what lies under an element; carries: whether there is something to take up.
 */
/** @typedef {{ x: number, y: number }} Point in CSS pixels of the window */

/**
 * Listen to the hand on an element.
 * @template T
 * @param {HTMLElement} target @param {HandListener<T>} hear
 * @returns {() => void} stop listening
 */
export function watchHand(target, hear) {
  /** @type {{ id: number, place: T, start: Point, slack: number, finger: boolean, state: "down" | "held" | "carried" | "spent" } | null} */
  let press = null;
  /** The place under the last press, for its click; and whether that click has been spent. */
  /** @type {T | null} */
  let pressed = null;
  let spent = false;
  /** @type {ReturnType<typeof setTimeout> | undefined} */
  let timer;

  const carrying = () => press !== null && (press.state === "held" || press.state === "carried");
  const release = () => {
    clearTimeout(timer);
    if (press && target.hasPointerCapture(press.id)) target.releasePointerCapture(press.id);
    press = null;
    removeEventListener("keydown", escape, true);
    removeEventListener("blur", giveUp);
  };
  const giveUp = () => {
    const lifted = carrying();
    if (press) spent = true;
    release();
    if (lifted) hear.cancel();
  };
  /** @param {KeyboardEvent} event */
  const escape = (event) => {
    if (event.key !== "Escape") return;
    event.preventDefault();
    event.stopPropagation();
    giveUp();
  };
  /** @param {"held" | "carried"} state */
  const take = (state) => {
    if (!press) return;
    clearTimeout(timer);
    press.state = state;
    spent = true;
    target.setPointerCapture(press.id);
    addEventListener("keydown", escape, true);
    addEventListener("blur", giveUp);
    hear.lift(press.place, press.start);
  };

  /** @param {PointerEvent} event */
  const down = (event) => {
    if (press) return giveUp();
    if (!event.isPrimary || event.button !== 0) return;
    const place = event.target instanceof Element ? hear.find(event.target) : null;
    pressed = place;
    spent = false;
    if (place === null) return;
    const kind = /** @type {keyof typeof SLACK} */ (event.pointerType in SLACK ? event.pointerType : "touch");
    const start = { x: event.clientX, y: event.clientY };
    press = { id: event.pointerId, place, start, slack: SLACK[kind], finger: kind !== "mouse", state: "down" };
    if (hear.carries(place)) timer = setTimeout(() => take("held"), HOLD);
  };
  /** @param {PointerEvent} event */
  const move = (event) => {
    if (!press || event.pointerId !== press.id) return;
    const dx = event.clientX - press.start.x;
    const dy = event.clientY - press.start.y;
    const far = Math.hypot(dx, dy) > press.slack;
    if (press.state === "down" && far) {
      clearTimeout(timer);
      spent = true;
      if (hear.carries(press.place) && !(press.finger && Math.abs(dy) > Math.abs(dx))) take("carried");
      else press.state = "spent";
    } else if (press.state === "held" && far) press.state = "carried";
    if (press.state === "carried") hear.move({ x: event.clientX, y: event.clientY });
  };
  /** @param {PointerEvent} event */
  const up = (event) => {
    if (!press || event.pointerId !== press.id) return;
    const { state, place } = press;
    release();
    if (state === "carried") hear.drop();
    else if (state === "held") {
      hear.cancel();
      // Not at once: the end of this very press would dismiss a menu that opened during it.
      setTimeout(() => hear.hold(place));
    }
  };
  /** @param {PointerEvent} event */
  const lost = (event) => {
    if (press && event.pointerId === press.id) giveUp();
  };
  /** @param {MouseEvent} event */
  const click = (event) => {
    const place = pressed ?? (event.target instanceof Element ? hear.find(event.target) : null);
    const done = spent;
    pressed = null;
    spent = false;
    if (!done && place !== null) hear.tap(place);
  };
  /** @param {MouseEvent} event */
  const menu = (event) => {
    const place = event.target instanceof Element ? hear.find(event.target) : null;
    if (place === null || !hear.carries(place)) return;
    event.preventDefault();
    // A finger's long press is told by the hold, as its stroke may yet be carried on.
    if (!press) hear.hold(place);
  };
  /** @param {TouchEvent} event the page must not scroll under a stroke that is carried up or down */
  const touch = (event) => {
    if (carrying() && event.cancelable) event.preventDefault();
  };

  /** @type {[string, any, AddEventListenerOptions?][]} */
  const listeners = [
    ["pointerdown", down], ["pointermove", move], ["pointerup", up], ["pointercancel", lost], ["click", click],
    ["contextmenu", menu], ["touchmove", touch, { passive: false }],
  ];
  for (const [name, listener, options] of listeners) target.addEventListener(name, listener, options);
  return () => {
    giveUp();
    for (const [name, listener] of listeners) target.removeEventListener(name, listener);
  };
}
