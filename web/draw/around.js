/**
 * Which counts does somebody loop who wants to hear a spot? The beats that it lies in, so that it can be counted.
 */

/** @typedef {import("./shapes.js").Column} Column */

/**
 * Give the part of the cycle around some places: from the number before the first to the number after the last. Where
 * they go round the end of the loop, or fill it, all of it: null.
 * @param {number[]} ats places in ticks @param {Column[]} grid @param {number} cycle
 * @returns {{ start: number, end: number } | null}
 */
export function loopAround(ats, grid, cycle) {
  if (!ats.length) return null;
  const first = Math.min(...ats);
  const last = Math.max(...ats);
  if (last - first > cycle / 2) return null;
  const numbers = grid.filter(({ weight, count }) => weight === 2 && count).map(({ at }) => at);
  const start = numbers.filter((at) => at <= first).pop() ?? 0;
  let end = numbers.find((at) => at > last) ?? cycle;
  // A single stroke wants the way that leads to it too.
  if (first === last && start === first && numbers.includes(first)) {
    const before = numbers.filter((at) => at < start).pop();
    if (before !== undefined) return before === 0 && end === cycle ? null : { start: before, end };
  }
  if (end <= start) end = cycle;
  return start === 0 && end === cycle ? null : { start, end };
}
