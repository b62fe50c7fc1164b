/**
 * Where a place stands from left to right: one time axis for all stages.
 *
 * A beat fills the width it is given until its columns would come closer than MIN_COLUMN; then the picture grows wider
 * than its frame and scrolls inside it. Pixels are CSS pixels from the left edge of the picture.
 */

import { framesOf } from "./frame.js";

/** Narrowest column that a finger and a count still fit in. Our choice. */
export const MIN_COLUMN = 15;
/** Room at both ends, where threads leave and enter that cross the loop. Our choice. */
const EDGE = 10;
/** Furthest that a stroke stands right of the bar line that it belongs to. Our choice. */
const MAX_LEAD = 20;

/**
 * @typedef {{ width: number, column: number, perTick: number, cycle: number, left: number, right: number,
 *   x: (at: number) => number, bars: number[] }} Axis
 *   width of the picture; column width; left and right ends of the lines; x of a place; x of the bar lines.
 */

/**
 * Lay out the time axis of a view: one axis for all stages, told once for every frame that they have. All are alike but
 * for where the beat ends and where its bars and columns stand.
 * @param {import("./shapes.js").View} view
 * @param {number} room width in pixels that the page has for the lines
 * @param {import("./shapes.js").Column[][]} [finer] the places of lines with columns of their own: these too need room
 * @param {number} [closest] narrowest column, smaller where nobody points at it
 * @returns {[Axis, ...Axis[]]} by the numbers of the frames
 */
export function layAxes(view, room, finer = [], closest = MIN_COLUMN) {
  const frames = framesOf(view);
  const own = frames.map(({ grid, cycle }) => narrowest(grid, cycle));
  const longest = Math.max(...frames.map(({ cycle }) => cycle));
  const least = Math.min(...own, ...finer.map((grid) => narrowest(grid, view.cycle)));
  const perTick = Math.max(closest / least, (room - 2 * EDGE) / longest);
  const lead = Math.min((own[0] * perTick) / 2, MAX_LEAD);
  const left = EDGE;
  const x = (/** @type {number} */ at) => left + lead + at * perTick;
  const width = Math.ceil(left + longest * perTick + EDGE);
  const axes = frames.map(({ cycle, bars, bar_ticks }, i) => ({
    width, column: own[i] * perTick, perTick, cycle, left, right: left + cycle * perTick, x,
    bars: Array.from({ length: bars + 1 }, (_, bar) => left + bar * bar_ticks * perTick),
  }));
  return /** @type {[Axis, ...Axis[]]} */ (axes);
}

/**
 * The axis of the base beat alone.
 * @param {import("./shapes.js").View} view @param {number} room @param {import("./shapes.js").Column[][]} [finer]
 * @param {number} [closest] @returns {Axis}
 */
export function layAxis(view, room, finer, closest) {
  return layAxes(view, room, finer, closest)[0];
}

/**
 * Give the distance in ticks of the two columns that stand closest.
 * @param {import("./shapes.js").Column[]} grid @param {number} cycle @returns {number}
 */
function narrowest(grid, cycle) {
  let least = cycle;
  for (let i = 0; i < grid.length; i += 1) {
    const next = i + 1 < grid.length ? grid[i + 1].at : cycle;
    if (next > grid[i].at) least = Math.min(least, next - grid[i].at);
  }
  return least;
}
