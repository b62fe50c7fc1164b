/**
 * What a beat on a sheet looks like: broken into rows of whole bars (of whole groups where a bar is too long to be read
 * or written under), each row with its lines, counts and blanks.
 *
 * One drawing serves the preview and the print; its unit is a CSS pixel, and the same sheet is as wide as it is given.
 * Names of lines stand left of the axis. Time runs alike in all rows.
 */

import { layAxes } from "./axis.js";
import { drawCounts, drawPlaces, drawStrokes } from "./band.js";

/** @typedef {import("../protocol/messages.js").SheetItem} Item @typedef {import("../protocol/messages.js").SheetStroke} SheetStroke */
/** @typedef {import("../protocol/messages.js").FrameInfo} Frame */

/** Narrowest column that can be read on paper, and the narrowest that can be written under, in pixels. Our choice. */
const READ = 12;
const WRITTEN = 24;
/** Pillars are no slimmer than this column gives, however little room there is. */
const LEAST = 3;
/** Height of a line, and of one that is written under; room over the lines for counts, under them for blanks, and for a
 * bar's number. Our choice. */
const LANE = 24;
const WIDE_LANE = 30;
const OVER = 17;
const UNDER = 5;
const BLANKS = 36;
const NUMBER = 13;
/** Width of the names: of a letter at 12 pixels, at least and at most. */
const LETTER = 6.3;
const NAMES = [38, 104];

/**
 * @typedef {import("./band.js").Placed & { figure: boolean }} Drawn
 * @typedef {{ bars: { x: number, number: number }[], height: number, left: number, right: number, top: number, bottom: number, feet: [string, number][],
 *   marks: { beats: string, between: string }, counts: ReturnType<typeof drawCounts>, countY: number, strokes: Drawn[],
 *   blanks: { x: number, y: number, width: number, answer: string }[] }} Row
 *   bars: x of the bar lines, with the number of the bar that begins there, 0 for none; feet: name and y of each line
 * @typedef {{ start: number, end: number }} Part in ticks
 */

/**
 * How much room the names of all lines of a sheet need, so that its beats stand under each other.
 * @param {Item[]} items @returns {number} pixels
 */
export function namesOf(items) {
  const longest = Math.max(0, ...items.flatMap(({ labels }) => labels.map((label) => label.length)));
  return Math.min(NAMES[1], Math.max(NAMES[0], Math.ceil(longest * LETTER) + 8));
}

/**
 * Draw a beat of a sheet.
 * @param {Item} item @param {number} room width in pixels @param {number} names of which the names take so much
 * @param {boolean} counted with the counts over the lines
 * @returns {Row[]} none where nothing sounds
 */
export function drawItem(item, room, names, counted) {
  if (!item.lanes.length) return [];
  const most = Math.max(1, Math.floor((room - names) / (item.blanks.length ? WRITTEN : READ)));
  const parts = breakUp(item.frame, most);
  const longest = Math.max(...parts.map(({ start, end }) => end - start));
  return parts.map((part) => drawRow(item, part, longest, room - names, counted));
}

/**
 * Break a beat into rows of at most so many columns: at bar lines, else where a group of counts begins.
 * @param {Frame} frame @param {number} most @returns {Part[]}
 */
function breakUp({ grid, bar_ticks: bar, cycle }, most) {
  const perBar = grid.filter(({ at }) => at < bar).length;
  const inside = perBar > most ? grid.filter(({ weight }) => weight === 2) : grid.filter(({ at }) => at % bar === 0);
  const cuts = [...new Set([0, ...inside.map(({ at }) => at), cycle])];
  const columns = (/** @type {Part} */ { start, end }) => grid.filter(({ at }) => at >= start && at < end).length;
  /** @type {Part[]} */
  const parts = [];
  for (let i = 0; i + 1 < cuts.length; i += 1) {
    const last = parts[parts.length - 1];
    const wider = last && { start: last.start, end: cuts[i + 1] };
    // A row that was broken inside a bar ends with the bar: what follows is counted anew.
    const ended = perBar > most && cuts[i] % bar === 0;
    if (wider && !ended && columns(wider) <= most) last.end = wider.end;
    else parts.push({ start: cuts[i], end: cuts[i + 1] });
  }
  return parts;
}

/**
 * @param {Item} item @param {Part} part @param {number} longest ticks of the longest row
 * @param {number} room @param {boolean} counted
 * @returns {Row}
 */
function drawRow({ frame, lanes, strokes, blanks }, { start, end }, longest, room, counted) {
  const inside = (/** @type {{ at: number }} */ { at }) => at >= start && at < end;
  const moved = (/** @type {any} */ one) => ({ ...one, at: one.at - start });
  const own = { ...frame, bars: 1, bar_ticks: end - start, cycle: end - start, grid: frame.grid.filter(inside).map(moved) };
  const full = { ...own, cycle: longest };
  const axis = /** @type {import("./axis.js").Axis} */ (layAxes(/** @type {any} */ ({ ...full, frames: [own] }), room, [], LEAST)[1]);
  const above = counted ? OVER : UNDER;
  const lane = blanks.length ? WIDE_LANE : LANE;
  const feet = new Map(lanes.map((surface, i) => [surface, above + (i + 1) * lane]));
  const bottom = above + lanes.length * lane;
  const below = blanks.length ? BLANKS : UNDER + 2;
  const lines = { tall: true, height: bottom + below + (frame.bars > 1 ? NUMBER : 0), lane, above, below, feet, countY: OVER - 4 };
  const here = strokes.filter(inside).map((stroke) => ({ ...moved(stroke), origin: 0, changed_by: stroke.figure ? [1] : [], label: "" }));
  const figure = new Map(here.map((stroke) => [stroke.id, stroke.figure]));
  const width = Math.min(30, axis.column - 3);
  return {
    bars: barsOf(frame, { start, end }).map(({ at, number }) => ({ x: axis.left + (at - start) * axis.perTick, number })),
    height: lines.height, left: axis.left, right: axis.right, top: above + lane * 0.4, bottom, feet: [...feet],
    marks: drawPlaces(own, lines, axis), counts: counted ? drawCounts(own, axis) : [], countY: lines.countY,
    strokes: drawStrokes(/** @type {any} */ ({ strokes: here }), lines, axis).map((one) => ({ ...one, figure: figure.get(one.stroke.id) ?? false })),
    blanks: blanks.filter(inside).map(({ at, answer }) => ({ x: axis.x(at - start), y: bottom + BLANKS - 8, width, answer })),
  };
}

/**
 * The bar lines of a row, with the numbers of the bars that begin there; the only bar of a beat has none.
 * @param {Frame} frame @param {Part} part @returns {{ at: number, number: number }[]}
 */
function barsOf({ bars, bar_ticks: bar }, { start, end }) {
  const found = [];
  for (let i = 0; i <= bars; i += 1) {
    const at = i * bar;
    if (at >= start && at <= end) found.push({ at, number: bars > 1 && at < end ? i + 1 : 0 });
  }
  return found;
}
