/**
 * What one stage looks like: its lines, its pillars, and over the chosen one the counts.
 *
 * The picture's own coordinates: x from layAxis, y from the top of the lines' part of the band. Threads come in
 * through the top and leave through the bottom; threads.js draws them from the same line heights.
 */

import { drawPillar } from "./pillar.js";

/** Line heights in pixels. Our choice: three lines of a chosen stage fill a hand's breadth of a phone. */
const TALL = 52;
const TALL_MANY = 44;
const SLIM = 22;
/** From how many lines on a chosen stage draws them closer. Our choice. */
const MANY = 5;
/** Room over the first line of the chosen stage for the counts, and under the last for the marks of spots and the bars' numbers. */
const COUNTS = 26;
const BELOW_TALL = 24;
/** Room under each line of the chosen stage for the letters of the limbs, and below these for the stroke types. Our choice. */
export const LIMBS = 15;
export const TYPES = 12;
const ABOVE_SLIM = 4;
const BELOW_SLIM = 9;

/**
 * @typedef {{ tall: boolean, height: number, lane: number, rise?: number, above: number, below: number,
 *   feet: Map<string, number>, countY: number }} Lines
 *   lane: from line to line; rise: of it the part over a line, where pillars stand (all of it where it is not said);
 *   above and below: room over and under the lines; feet: y of each surface's line; countY: baseline of the counts (tall only).
 * @typedef {import("./pillar.js").Pillar & { stroke: import("./shapes.js").Stroke, middle: number, foot: number }} Placed
 */

/**
 * Lay out the lines of a stage.
 * @param {{ lanes: string[] }} stage or the names of its lines alone @param {boolean} tall
 * @param {boolean} [types] with room for the stroke types under the letters
 * @returns {Lines}
 */
export function layLines({ lanes }, tall, types = false) {
  const rise = tall ? (lanes.length >= MANY ? TALL_MANY : TALL) : SLIM;
  const lane = tall ? rise + LIMBS + (types ? TYPES : 0) : rise;
  const above = tall ? COUNTS : ABOVE_SLIM;
  const feet = new Map();
  lanes.forEach((surface, i) => feet.set(surface, above + i * lane + rise));
  const below = tall ? BELOW_TALL : BELOW_SLIM;
  const height = above + Math.max(1, lanes.length) * lane + below;
  return { tall, height, lane, rise, above, below, feet, countY: COUNTS - 6 };
}

/**
 * Draw the strokes of a stage, from left to right and from the top line down.
 * @param {import("./shapes.js").Stage} stage @param {Lines} lines @param {import("./axis.js").Axis} axis
 * @param {Map<string, Placed>} [before] what was drawn on the same lines and axis: what looks the same is taken over, and
 *   is the same object
 * @returns {Placed[]}
 */
export function drawStrokes(stage, lines, axis, before) {
  const placed = [];
  for (const stroke of stage.strokes) {
    const foot = lines.feet.get(stroke.surface);
    if (foot === undefined) continue;
    const kept = before?.get(stroke.id);
    if (kept && (kept.stroke === stroke || looksTheSame(kept.stroke, stroke))) {
      placed.push(kept);
      continue;
    }
    const middle = axis.x(stroke.at);
    placed.push({ ...drawPillar(stroke, middle, foot, lines.rise ?? lines.lane, axis.column), stroke, middle, foot });
  }
  return placed.sort((a, b) => a.middle - b.middle || a.foot - b.foot);
}

/**
 * @param {import("./shapes.js").Stroke} one @param {import("./shapes.js").Stroke} other
 * @returns {boolean}
 */
function looksTheSame(one, other) {
  return (
    one.at === other.at && one.surface === other.surface && one.dynamic === other.dynamic && one.grace === other.grace &&
    one.origin === other.origin && one.label === other.label && one.changed_by.length === other.changed_by.length &&
    one.changed_by.every((stage, i) => stage === other.changed_by[i])
  );
}

/**
 * Draw the marks on the lines where the numbers are counted: short strokes, never a grid; on the chosen stage only.
 * @param {{ grid: import("./shapes.js").Column[], grids?: Map<string, import("./shapes.js").Column[]> }} view grids: of lines
 *   with columns of their own
 * @param {Lines} lines @param {import("./axis.js").Axis} axis
 * @returns {{ beats: string, between: string }} paths: at the numbers, and at the places between them
 */
export function drawPlaces(view, lines, axis) {
  const half = 4;
  let beats = "";
  let between = "";
  if (!lines.tall) return { beats, between };
  for (const [surface, foot] of lines.feet) {
    for (const column of view.grids?.get(surface) ?? view.grid) {
      const x = round(axis.x(column.at));
      if (column.weight === 2) beats += `M${x} ${foot - half}v${2 * half}`;
      else if (axis.column >= 12) between += `M${x} ${foot}h0`;
    }
  }
  return { beats, between };
}

/**
 * Say the counts that have room: numbers always, "&" and its like from a certain width on.
 * @param {{ grid: import("./shapes.js").Column[] }} view @param {import("./axis.js").Axis} axis
 * @returns {{ x: number, text: string, at: number, bar: number, strong: boolean }[]}
 */
export function drawCounts(view, axis) {
  const least = axis.column >= 13 ? 0 : axis.column >= 8 ? 1 : 2;
  return view.grid
    .filter((column) => column.count && column.weight >= least)
    .map(({ at, bar, count, weight }) => ({ x: round(axis.x(at)), text: count, at, bar, strong: weight === 2 }));
}

/** @param {number} value @returns {number} */
function round(value) {
  return Math.round(value * 100) / 100;
}
