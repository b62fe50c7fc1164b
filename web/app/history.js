/**
 * Undo and redo without end: whole documents, one entry a gesture.
 *
 * What is chosen, silent or how fast it is practised is not in it.
 */

/** @typedef {import("../draw/shapes.js").View} View */

export class History {
  /** @type {string[]} */
  #past = [];
  /** @type {string[]} */
  #future = [];

  /** @returns {boolean} */
  get canUndo() {
    return this.#past.length > 0;
  }

  /** @returns {boolean} */
  get canRedo() {
    return this.#future.length > 0;
  }

  /** Remember the document as it was before a change. @param {string} before */
  push(before) {
    this.#past.push(before);
    this.#future = [];
  }

  /** Take a step back; the document to show, or null. @param {string} now */
  undo(now) {
    const before = this.#past.pop();
    if (before === undefined) return null;
    this.#future.push(now);
    return before;
  }

  /** Take a step forward again; the document to show, or null. @param {string} now */
  redo(now) {
    const after = this.#future.pop();
    if (after === undefined) return null;
    this.#past.push(now);
    return after;
  }
}

/**
 * The stage that an undo or redo is about: the first that is another one, or where one is gone, the stage before it.
 * Stages that came out the same are the same objects.
 * @param {View} before @param {View} after @returns {number | null} null where all stages are the same
 */
export function changedStage(before, after) {
  const { stages } = after;
  const first = before.stages.findIndex((stage, i) => stage !== stages[i]);
  if (first < 0) return stages.length > before.stages.length ? before.stages.length : null;
  const gone = !stages.some(({ key }) => key === before.stages[first].key);
  return gone ? Math.max(0, first - 1) : first;
}
