/**
 * A folded view made whole again.
 *
 * The engine tells each stage as what it changes of the one before, and a stage that the page has by its mark alone.
 * Here the stages are put together: strokes in the order of time and line, and a kept thread for every stroke that
 * nothing else is said of. A stage that came out the same is the same object as before, so that it is not drawn anew.
 */

/** @typedef {import("../draw/shapes.js").View} View */
/** @typedef {import("../draw/shapes.js").Stage} Stage */
/** @typedef {import("../draw/shapes.js").Stroke} Stroke */
/** @typedef {import("../protocol/messages.js").FoldedReply} FoldedReply */
/** @typedef {import("../protocol/messages.js").FoldedStage} FoldedStage */
/** @typedef {{ before: Stroke[], stage: Stage }} Whole a whole stage, and the strokes of the one before it */

export class Unfolder {
  /** @type {Map<string, FoldedStage>} parts by mark */
  #parts = new Map();
  /** @type {Map<string, Whole>} by number and mark */
  #stages = new Map();
  /** @type {{ mark: string, grid: import("../draw/shapes.js").Column[] }} */
  #frame = { mark: "", grid: [] };

  /** The marks of all that is kept, for the next question. @returns {string} */
  get have() {
    return [this.#frame.mark, ...this.#parts.keys()].join(" ").trim();
  }

  /**
   * Make a view whole; one that came whole is returned as it is.
   * @param {View | FoldedReply} reply @returns {View | null} null where a part is told that is not here any more
   */
  unfold(reply) {
    if (!("folded" in reply)) return reply;
    if (reply.frame.grid) this.#frame = { mark: reply.frame.mark, grid: reply.frame.grid };
    /** @type {Map<string, FoldedStage>} */
    const parts = new Map();
    /** @type {Map<string, Whole>} */
    const whole = new Map();
    /** @type {Stage[]} */
    const stages = [];
    for (const told of reply.stages) {
      const part = told.rows ? told : this.#parts.get(told.mark);
      if (!part) return null;
      parts.set(told.mark, part);
      const before = stages.length ? stages[stages.length - 1].strokes : [];
      const name = `${told.stage} ${told.mark}`;
      const kept = this.#stages.get(name);
      const stage = kept && kept.before === before ? kept.stage : build(part, told.stage, before, reply.surfaces);
      whole.set(name, { before, stage });
      stages.push(stage);
    }
    this.#parts = parts;
    this.#stages = whole;
    const { frame: _frame, folded: _folded, ...head } = reply;
    return { ...head, grid: this.#frame.grid, stages };
  }
}

/**
 * A timeline told in rows, made whole.
 * @param {import("../draw/shapes.js").Timeline | import("../protocol/messages.js").FoldedTimeline} reply
 * @returns {import("../draw/shapes.js").Timeline}
 */
export function unfoldTimeline(reply) {
  if (!("folded" in reply)) return reply;
  const { folded: _folded, events, clicks, ...head } = reply;
  return {
    ...head,
    events: events.map(([at, us, surface, dynamic, id, layer, flags]) => ({
      at, us, surface, dynamic, id, layer, added: (flags & 1) > 0, grace: (flags & 2) > 0, stop: (flags & 4) > 0,
    })),
    clicks: clicks.map(([at, strong]) => ({ at, us: 0, strong: strong === 1 })),
  };
}

/**
 * Put one stage together.
 * @param {FoldedStage} part @param {number} number @param {Stroke[]} before
 * @param {FoldedReply["surfaces"]} surfaces @returns {Stage}
 */
function build(part, number, before, surfaces) {
  const { rows = [], gone = [], threads = [], mark: _mark, ...head } = part;
  /** @type {Map<string, Stroke>} */
  const now = new Map(before.map((stroke) => [stroke.id, stroke]));
  for (const id of gone) now.delete(id);
  for (const [id, at, surface, dynamic, grace, hand, origin, changed_by, label] of rows) {
    now.set(id, { id, at, surface, dynamic, grace, hand, origin, changed_by, label });
  }
  const changed = rows.length > 0 || gone.length > 0;
  const strokes = changed
    ? [...now.values()].sort((a, b) => a.at - b.at || surfaces[a.surface].row - surfaces[b.surface].row)
    : before;
  const told = new Set(threads.map((thread) => thread.id));
  /** @type {Stage["threads"]} */
  const kept = [];
  for (const stroke of before) {
    const after = now.get(stroke.id);
    if (!after || told.has(stroke.id)) continue;
    kept.push({ id: stroke.id, from: [stroke.at, stroke.surface], to: [after.at, after.surface], fate: "kept", crosses: false });
  }
  return /** @type {Stage} */ ({ ...head, stage: number, strokes, threads: [...kept, ...threads] });
}
