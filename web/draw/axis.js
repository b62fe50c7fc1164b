/**
 * Where a place stands from left to right: one time axis for all stages.
 *
 * A beat fills the width it is given until its columns would come closer than MIN_COLUMN; then the picture grows wider
 * than its frame and scrolls inside it. Pixels are CSS pixels from the left edge of the picture.
 */

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
 * Lay out the time axis of a view.
 * @param {import("./shapes.js").View} view
 * @param {number} room width in pixels that the page has for the lines
 * @param {import("./shapes.js").Column[][]} [finer] the places of lines with columns of their own: these too need room
 * @returns {Axis}
 */
export function layAxis(view, room, finer = []) {
  const columns = Math.max(1, view.cycle / narrowest(view.grid, view.cycle));
  const most = Math.max(columns, ...finer.map((grid) => view.cycle / narrowest(grid, view.cycle)));
  const column = Math.max((MIN_COLUMN * most) / columns, (room - 2 * EDGE) / columns);
  const perTick = (column * columns) / view.cycle;
  const lead = Math.min(column / 2, MAX_LEAD);
  const left = EDGE;
  const right = EDGE + column * columns;
  const bars = [];
  for (let bar = 0; bar <= view.bars; bar += 1) bars.push(left + bar * view.bar_ticks * perTick);
  return {
    width: Math.ceil(right + EDGE),
    column,
    perTick,
    cycle: view.cycle,
    left,
    right,
    x: (at) => left + lead + at * perTick,
    bars,
  };
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
