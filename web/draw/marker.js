/**
 * Where the light stands while the music sounds, and which strokes it has just touched.
 *
 * The player tells time as it sounds; with swing or pushed strokes that is not where they are written. Between two
 * strokes the light runs evenly from one written place to the next. Ticks from the start of the cycle, fractions too.
 */

/** @typedef {import("./shapes.js").Timeline} Timeline @typedef {import("./shapes.js").Stage} Stage */

/**
 * Pair sounded with written places, in order, from the start to the end of what is looped.
 *
 * Sounded places count from the start of the loop, written ones from the start of the cycle.
 * @param {Timeline} timeline @param {Stage[]} stages @param {number} end @param {number} [start] in written ticks
 * @returns {[number, number][]}
 */
export function pairPlaces(timeline, stages, end, start = 0) {
  const span = timeline.loop / timeline.parts;
  const written = new Map();
  for (const stage of [stages[0], stages[timeline.stage]]) {
    for (const stroke of stage ? stage.strokes : []) written.set(stroke.id, stroke.at);
  }
  const heard = timeline.events.filter((event) => !event.grace && !event.stop && written.has(event.id));
  // The base beat may have another feel or go round several times meanwhile: the stage leads where it sounds at all.
  const own = heard.filter(({ layer }) => layer !== "base");
  const found = (own.length ? own : heard)
    .map((event) => /** @type {[number, number]} */ ([event.at / timeline.parts, written.get(event.id)]))
    .sort((a, b) => a[0] - b[0] || a[1] - b[1]);
  /** @type {[number, number][]} */
  const pairs = [[0, start]];
  for (const [sounded, at] of found) {
    const [s, w] = pairs[pairs.length - 1];
    // An order that is not the written one can't be drawn as a way; such a stroke is passed over.
    if (sounded > s && at > w && sounded < span && at < end) pairs.push([sounded, at]);
  }
  pairs.push([span, end]);
  return pairs;
}

/**
 * Give the written place of a sounded one.
 * @param {[number, number][]} pairs @param {number} ticks @returns {number}
 */
export function writtenAt(pairs, ticks) {
  let low = 0;
  let high = pairs.length - 1;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (pairs[middle][0] <= ticks) low = middle;
    else high = middle;
  }
  const [s0, w0] = pairs[low];
  const [s1, w1] = pairs[high];
  return s1 === s0 ? w0 : w0 + ((ticks - s0) / (s1 - s0)) * (w1 - w0);
}

/**
 * Name the strokes that have begun within the last `hold` ticks.
 * @param {Timeline} timeline @param {number} ticks @param {number} hold @param {number} cycle length of the loop
 * @returns {string[]} ids, in the order of the timeline
 */
export function touched(timeline, ticks, hold, cycle) {
  const ids = new Set();
  for (const event of timeline.events) {
    if (event.round > 0) continue; // a hand's rounds all have the same strokes
    const since = (((ticks - event.at / timeline.parts) % cycle) + cycle) % cycle;
    if (since < hold && !event.stop) ids.add(event.id);
  }
  return [...ids];
}
