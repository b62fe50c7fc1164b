/**
 * Which limb plays each stroke of the chosen stage, as letters under its lines, and where the places to warn about are.
 *
 * R and L are hands. A foot is F, and R or L only on a line that both feet play. A pinned hand is underlined. Below the
 * letter stands, where it is asked for, the stroke type: in full where there is room, else its first letter. A spot is a
 * string of beads under the lines: a bead on each of its places, joined unless it goes round the end of the loop.
 */

import { LIMBS, TYPES } from "./band.js";

/** Middle of the letters under their line; of the stroke types under that; the beads under the last line's letters. */
const LETTER = 9;
const TYPE = LETTER + TYPES - 1;
const BEADS = 5;
/** From row of beads to row of beads; more rows than this there is no room for: the last one takes the rest. Our choice. */
const ROW = 6;
const ROWS = 2;
/** Narrowest column in which a stroke type is written out, in pixels. */
const WRITTEN = 27;
/** Widest mark that a hand points at, in pixels; at least the column. Our choice. */
const WIDE = 34;

/** @typedef {import("./band.js").Lines} Lines @typedef {import("./axis.js").Axis} Axis */
/** @typedef {import("./shapes.js").Limb} Limb @typedef {import("./shapes.js").Stroke} Stroke */
/**
 * @typedef {{ stroke: Stroke, limb: Limb, letter: string, pinned: boolean, hand: boolean, x: number, y: number, rule: string,
 *   type: string, typeY: number, box: { x: number, y: number, width: number, height: number } }} Letter
 *   rule: the underline of a pinned hand, "" else; box: where a hand points at it
 * @typedef {{ beads: [number, number][], thread: string }} Marked the beads' middles, and the thread that joins them
 */

/**
 * Draw the letters.
 * @param {{ strokes: Stroke[] }} beat @param {Map<string, Limb>} limbs by stroke id @param {Lines} lines @param {Axis} axis
 * @param {boolean} types whether the stroke types stand below
 * @returns {Letter[]}
 */
export function drawLimbs(beat, limbs, lines, axis, types) {
  const both = linesOfBothFeet(beat, limbs);
  /** @type {Letter[]} */
  const letters = [];
  const width = Math.min(WIDE, axis.column);
  for (const stroke of beat.strokes) {
    const limb = limbs.get(stroke.id);
    const foot = lines.feet.get(stroke.surface);
    if (!limb || foot === undefined) continue;
    const hand = limb.limb.endsWith("hand");
    const x = round(axis.x(stroke.at));
    const y = foot + LETTER;
    // What was pinned or let free a moment ago is known before the engine has thought about it.
    const pinned = stroke.hand !== "";
    letters.push({
      stroke, limb, hand, pinned, x, y,
      letter: hand ? stroke.hand || limb.letter : both.has(stroke.surface) ? limb.letter : "F",
      rule: pinned ? `M${round(x - 4.5)} ${y + 5.5}h9` : "",
      type: types && hand ? (axis.column >= WRITTEN ? limb.type : limb.type.slice(0, 1)) : "",
      typeY: foot + TYPE,
      box: { x: round(x - width / 2), y: foot + 2, width: round(width), height: LIMBS - 1 },
    });
  }
  return letters;
}

/**
 * Draw the spots.
 * @param {{ ids: string[], at: number }[]} spots @param {{ strokes: Stroke[] }} beat @param {Lines} lines @param {Axis} axis
 * @returns {Marked[]} in the order of the spots
 */
export function drawSpots(spots, beat, lines, axis) {
  const places = new Map(beat.strokes.map(({ id, at }) => [id, at]));
  /** @type {[number, number][][]} what each row holds already, from and to in pixels */
  const rows = Array.from({ length: ROWS }, () => []);
  return spots.map(({ ids, at }) => {
    const found = ids.flatMap((id) => places.get(id) ?? []);
    const ats = [...new Set(found.length ? found : [at])].sort((a, b) => a - b);
    const xs = ats.map((one) => round(axis.x(one)));
    const first = xs[0];
    const last = xs[xs.length - 1];
    const free = rows.findIndex((row) => row.every(([from, to]) => last + 5 < from || first - 5 > to));
    const row = free < 0 ? ROWS - 1 : free;
    rows[row].push([first, last]);
    const y = lines.height - lines.below + BEADS + row * ROW;
    const joined = xs.length > 1 && ats[ats.length - 1] - ats[0] <= axis.cycle / 2;
    return { beads: xs.map((x) => /** @type {[number, number]} */ ([x, y])), thread: joined ? `M${first} ${y}H${last}` : "" };
  });
}

/** @param {{ strokes: Stroke[] }} beat @param {Map<string, Limb>} limbs @returns {Set<string>} surfaces */
function linesOfBothFeet(beat, limbs) {
  /** @type {Map<string, string>} */
  const feet = new Map();
  /** @type {Set<string>} */
  const both = new Set();
  for (const { id, surface } of beat.strokes) {
    const limb = limbs.get(id)?.limb;
    if (!limb?.endsWith("foot")) continue;
    const other = feet.get(surface);
    if (other !== undefined && other !== limb) both.add(surface);
    feet.set(surface, limb);
  }
  return both;
}

/** @param {number} value @returns {number} */
function round(value) {
  return Math.round(value * 100) / 100;
}
