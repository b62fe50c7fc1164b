/**
 * Which frame does a stage have: meter, bars, columns and the places of its counts? Most stages have that of the base
 * beat; a variation may give a beat another length or meter from its stage on.
 */

/** @typedef {import("./shapes.js").View} View */
/** @typedef {Pick<View, "meter" | "columns" | "bars" | "bar_ticks" | "cycle" | "grid">} Frame */

/** @param {View} view @returns {Frame[]} all frames of a view by their numbers, the base beat's first */
export function framesOf(view) {
  return [view, ...view.frames];
}

/** @param {View} view @param {number} stage its number @returns {Frame} */
export function frameOf(view, stage) {
  return view.frames[(view.stages[stage]?.frame ?? 0) - 1] ?? view;
}
