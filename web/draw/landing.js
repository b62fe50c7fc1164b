/**
 * Where does a stroke land that a hand carries, and what is shown of it on the way?
 *
 * A stroke goes in whole steps: sideways from column to column, up and down from line to line. The hand says how far it
 * has come, in pixels; the slighter of its two directions is taken for trembling until it is a clear part of the whole.
 * The beat loops: carried past its end a stroke comes in at the other, one round later or earlier.
 */

import { drawPillar } from "./pillar.js";

/** Below this part of the main direction the other one is trembling. Our choice: about 17 degrees. */
const SLIGHT = 0.3;
/** How far outside the lines a stroke may be let go and still land on the nearest, in lines. Our choice. */
const BEYOND = 0.9;
/** How far past the ends of the loop a stroke may be carried, in pixels, at least a column. Our choice. */
const PAST = 40;

/**
 * @typedef {{ surface: string, at: number, over?: number }} Place over: rounds that it went on (1) or back (-1) over the
 *   end of the loop
 * @typedef {import("./band.js").Lines} Lines @typedef {import("./axis.js").Axis} Axis
 */

/**
 * Say where a carried stroke would land; null outside the lines, where letting go changes nothing.
 * @param {Place} from where it was taken up
 * @param {number} dx @param {number} dy how far the hand has come
 * @param {Lines} lines @param {Axis} axis @param {(surface: string) => import("./shapes.js").Column[]} gridOf
 * @returns {Place | null}
 */
export function landOn(from, dx, dy, lines, axis, gridOf) {
  const along = Math.abs(dx) < Math.abs(dy) * SLIGHT ? 0 : dx;
  const across = Math.abs(dy) < Math.abs(dx) * SLIGHT ? 0 : dy;
  const surface = nearestLine(from.surface, across, lines);
  if (surface === null) return null;
  const grid = gridOf(surface);
  const column = ((grid[1]?.at ?? axis.cycle) - grid[0].at) * axis.perTick;
  if (Math.abs(along) < column / 2) return { surface, at: from.at };
  const x = axis.x(from.at) + along;
  // Whole columns from the first; before it and after the last lie those of the rounds before and after.
  const reached = Math.round((x - axis.x(0)) / column);
  const past = Math.max(1, Math.floor(PAST / column));
  if (reached < -past || reached > grid.length - 1 + past) return null;
  const over = reached < 0 ? -1 : reached >= grid.length ? 1 : 0;
  const { at } = grid[(reached + grid.length) % grid.length];
  return over ? { surface, at, over } : { surface, at };
}

/**
 * Step from a place by whole columns and lines, as the arrow keys do; stays within the lines.
 * @param {Place} from @param {number} along columns to the right @param {number} across lines down
 * @param {string[]} lanes @param {number[]} ats all places of the line, in order
 * @returns {Place}
 */
export function stepFrom(from, along, across, lanes, ats) {
  const row = lanes.indexOf(from.surface) + across;
  const surface = lanes[Math.max(0, Math.min(lanes.length - 1, row))] ?? from.surface;
  if (!along || !ats.length) return { surface, at: from.at };
  // From between two columns the first step goes to the neighbour on that side.
  let here = ats.findIndex((at) => at >= from.at);
  if (here < 0) here = ats.length;
  if (ats[here] !== from.at && along > 0) here -= 1;
  const to = Math.max(0, Math.min(ats.length - 1, here + along));
  return { surface, at: ats[to] };
}

/**
 * Step a carried stroke on: as stepFrom, but past the end of the loop it comes in at the other, once.
 * @param {Place} from @param {number} along @param {number} across @param {string[]} lanes @param {number[]} ats
 * @returns {Place}
 */
export function carryFrom(from, along, across, lanes, ats) {
  const to = stepFrom(from, along, across, lanes, ats);
  const before = from.over ?? 0;
  const turns = along !== 0 && ats.length > 1 && to.at === from.at;
  const over = before + (turns ? Math.sign(along) : 0);
  if (Math.abs(over) > 1) return from;
  const at = turns ? ats[along > 0 ? 0 : ats.length - 1] : to.at;
  return over ? { surface: to.surface, at, over } : { surface: to.surface, at };
}

/**
 * Draw a carried stroke where it would land, and the way that leads there.
 * @param {import("./shapes.js").Stroke} stroke @param {Place} to @param {Lines} lines @param {Axis} axis
 * @returns {{ pillar: import("./pillar.js").Pillar, way: string, x: number, foot: number }}
 */
export function drawLanding(stroke, to, lines, axis) {
  const x = axis.x(to.at);
  const foot = lines.feet.get(to.surface) ?? 0;
  const start = axis.x(stroke.at);
  const from = lines.feet.get(stroke.surface) ?? foot;
  // On one line the way bows below it; between lines it leans.
  const bow = from === foot ? Math.min(14, Math.abs(x - start) * 0.4 + 4) : 0;
  const bend = (from + foot) / 2 + bow;
  if (to.over) {
    // Out at one end and in at the other.
    const [out, back] = to.over > 0 ? [axis.right, axis.left] : [axis.left, axis.right];
    const way = `M${round(start)} ${from}H${round(out)}M${round(back)} ${foot}H${round(x)}`;
    return { pillar: drawPillar(stroke, x, foot, lines.rise ?? lines.lane, axis.column), way, x, foot };
  }
  const way = `M${round(start)} ${from}C${round(start)} ${round(bend)} ${round(x)} ${round(bend)} ${round(x)} ${foot}`;
  return { pillar: drawPillar(stroke, x, foot, lines.rise ?? lines.lane, axis.column), way: start === x && from === foot ? "" : way, x, foot };
}

/** @param {string} surface @param {number} dy @param {Lines} lines @returns {string | null} */
function nearestLine(surface, dy, lines) {
  const y = (lines.feet.get(surface) ?? 0) + dy;
  let found = null;
  let least = Infinity;
  for (const [name, foot] of lines.feet) {
    const distance = Math.abs(foot - y);
    if (distance < least) [least, found] = [distance, name];
  }
  return least <= lines.lane * BEYOND ? found : null;
}

/** @param {number} value @returns {number} */
function round(value) {
  return Math.round(value * 100) / 100;
}
