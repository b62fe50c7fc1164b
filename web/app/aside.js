/**
 * What is to sound for a step of a practice plan: its strokes alone, its counts alone, two stages in turn, or the beat in turn with bars of one's own.
 */

/** @typedef {import("../draw/shapes.js").Timeline} Timeline @typedef {import("../audio/player.js").Item} Item */
/**
 * @typedef {{ stage: number, start?: number, end?: number }} What of a document is to be told
 * @typedef {{ document: string, stage: number, against: number | null, start: number | null, end: number | null,
 *   ids: string[] | null, own: number, tempo: number, turns: [number, number] }} Step as the engine tells it, with one of its tempos
 *   turns: how many passes of what it is played in turn with (a stage, or bars of one's own), and of the stage itself
 */

/**
 * Make the list for the player.
 * @param {Step} step @param {(what: What) => Promise<Timeline>} tell asks for a timeline @returns {Promise<Item[]>}
 */
export async function itemsOf({ stage, against, start, end, ids, own, turns }, tell) {
  const line = await tell({ stage, start: start ?? 0, end: end ?? 0 });
  const wanted = ids && new Set(ids);
  const timeline = wanted ? { ...line, events: line.events.filter(({ id }) => wanted.has(id)) } : line;
  // Bars of one's own: nothing sounds in them but the click, where it is on.
  if (own) return [{ timeline, passes: turns[1], stage }, { timeline: { ...line, events: [] }, passes: turns[0], stage }];
  if (against === null) return [{ timeline, passes: 1, stage }];
  const other = await tell({ stage: against });
  return [{ timeline: other, passes: turns[0], stage: against }, { timeline, passes: turns[1], stage }];
}
