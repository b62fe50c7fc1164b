/**
 * Which strokes of the other stages belong to one stroke: its way up to the base beat and down to the last stage.
 *
 * A stroke keeps its id from stage to stage. Where strokes merge, the survivor's way has both parents above it, and a
 * parent's way goes on below as the survivor's.
 */

/** @typedef {import("./shapes.js").Stage} Stage */

/**
 * Follow a stroke through all stages.
 * @param {Stage[]} stages @param {number} stage where the stroke is seen @param {string} id
 * @returns {Set<string>[]} for each stage the ids that belong to it (empty where it is not there)
 */
export function followWay(stages, stage, id) {
  /** @type {Set<string>[]} */
  const way = stages.map(() => new Set());
  if (!stages[stage]) return way;
  way[stage].add(id);
  for (let s = stage; s > 0; s -= 1) {
    for (const thread of stages[s].threads) if (thread.from && leadsTo(thread, stages[s], way[s])) way[s - 1].add(thread.id);
  }
  for (let s = stage + 1; s < stages.length; s += 1) {
    for (const thread of stages[s].threads) {
      if (!thread.from || !thread.to || !way[s - 1].has(thread.id)) continue;
      way[s].add(thread.fate === "merged" ? survivor(thread, stages[s]) : thread.id);
    }
  }
  return way;
}

/** @param {import("./shapes.js").Thread} thread @param {Stage} stage @param {Set<string>} ids @returns {boolean} */
function leadsTo(thread, stage, ids) {
  if (!thread.to) return false;
  return ids.has(thread.fate === "merged" ? survivor(thread, stage) : thread.id);
}

/** @param {import("./shapes.js").Thread} thread @param {Stage} stage @returns {string} */
function survivor(thread, stage) {
  const to = thread.to;
  const found = to && stage.strokes.find((stroke) => stroke.at === to[0] && stroke.surface === to[1]);
  return found ? found.id : thread.id;
}
