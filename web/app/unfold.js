/**
 * A folded view made whole again.
 *
 * The engine tells each stage as what has become different of the stage that the page shows, or of the stage before it
 * where the page shows none of that key. Here the stages are put together: strokes in the order of time and line, and a
 * kept thread for every stroke that nothing else is said of. A stage that came out the same is the same object as
 * before, so that it is not drawn anew.
 */

/** @typedef {import("../draw/shapes.js").View} View */
/** @typedef {import("../draw/shapes.js").Stage} Stage */
/** @typedef {import("../draw/shapes.js").Stroke} Stroke */
/** @typedef {import("../draw/shapes.js").Thread} Thread */
/** @typedef {import("../protocol/messages.js").FoldedReply} FoldedReply */
/** @typedef {import("../protocol/messages.js").FoldedStage} FoldedStage */
/** @typedef {import("../protocol/messages.js").GlimpseReply} GlimpseReply */
/** @typedef {View["surfaces"]} Surfaces */

/**
 * Make a view whole; one that came whole is returned as it is.
 * @param {View | FoldedReply} reply @param {View | null} shown the view that it is told against, null for none
 * @param {Stage | null} [glimpsed] a stage that was told first: where it came out the same, it is that object
 * @returns {View}
 */
export function unfold(reply, shown, glimpsed = null) {
  if (!("folded" in reply)) return reply;
  const { folded: _folded, grid, frames, stages: told, ...head } = reply;
  /** @type {Stage[]} */
  const stages = [];
  for (const part of told) {
    const number = stages.length;
    const before = number ? stages[number - 1] : null;
    const like = part.like < 0 ? null : (shown?.stages[part.like] ?? null);
    const stage = build(part, before, like, shown?.stages[part.like - 1] ?? null, reply.surfaces);
    stages.push(glimpsed?.stage === number && same(stage, glimpsed) ? glimpsed : stage);
  }
  return { ...head, grid: grid ?? shown?.grid ?? [], frames: frames ?? shown?.frames ?? [], stages };
}

/**
 * Put the stage that a glimpse tells in its place in a view; the stages after it are still as they were.
 * @param {GlimpseReply} reply @param {View} shown @returns {View | null} null where it tells none
 */
export function unfoldGlimpse(reply, shown) {
  const { stage: number, told } = reply;
  if (!told) return null;
  const before = shown.stages[number - 1] ?? null;
  const surfaces = /** @type {Surfaces} */ ({ ...shown.surfaces });
  if (told.rows?.some((row) => !surfaces[row[2]])) return null; // a new line: the whole view will tell where it stands
  const stage = build(told, before, shown.stages[number], before, surfaces);
  // A line that falls silent stays until the whole view says what becomes of it.
  const silent = shown.stages[number].lanes.filter((lane) => !stage.lanes.includes(lane) && !shown.lines.includes(lane));
  const lines = silent.length ? [...shown.lines, ...silent] : shown.lines;
  return { ...shown, lines, stages: shown.stages.map((one) => (one.stage === number ? stage : one)) };
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
    events: events.map(([at, us, surface, dynamic, id, layer, flags, gain = 0, round = -1]) => ({
      at, us, surface, dynamic, id, layer, added: (flags & 1) > 0, grace: (flags & 2) > 0, stop: (flags & 4) > 0, gain, round,
    })),
    clicks: clicks.map(([at, flags]) => ({ at, us: 0, strong: (flags & 1) > 0, quiet: (flags & 2) > 0 })),
  };
}

/**
 * Put one stage together.
 * @param {FoldedStage} part @param {Stage | null} before the stage before it
 * @param {Stage | null} like the shown stage that it is told against @param {Stage | null} likeBefore the one before that
 * @param {Surfaces} surfaces @returns {Stage}
 */
function build(part, before, like, likeBefore, surfaces) {
  const { rows = [], gone = [] } = part;
  const basis = (like ?? before)?.strokes ?? [];
  const strokes = rows.length || gone.length ? changed(basis, rows, gone, surfaces) : basis;
  const known = like && strokes === like.strokes && before?.strokes === likeBefore?.strokes;
  if (known && !part.head && !part.threads) return like;
  const told = part.threads ?? like?.threads.filter((thread) => thread.fate !== "kept") ?? [];
  const threads = known && !part.threads ? like.threads : [...kept(before?.strokes ?? [], strokes, told), ...told];
  return /** @type {Stage} */ ({ ...like, ...part.head, strokes, threads });
}

/**
 * Strokes with some of them new, changed or gone, in the order of time and line.
 * @param {Stroke[]} basis @param {NonNullable<FoldedStage["rows"]>} rows @param {string[]} gone @param {Surfaces} surfaces
 * @returns {Stroke[]}
 */
function changed(basis, rows, gone, surfaces) {
  /** @type {Map<string, Stroke>} */
  const now = new Map(basis.map((stroke) => [stroke.id, stroke]));
  for (const id of gone) now.delete(id);
  for (const [id, at, surface, dynamic, grace, hand, origin, changed_by, label] of rows) {
    now.set(id, { id, at, surface, dynamic, grace, hand, origin, changed_by, label });
  }
  return [...now.values()].sort((a, b) => a.at - b.at || surfaces[a.surface].row - surfaces[b.surface].row);
}

/** A kept thread for every stroke of which nothing else is told. @param {Stroke[]} before @param {Stroke[]} strokes @param {Thread[]} told @returns {Thread[]} */
function kept(before, strokes, told) {
  const now = new Map(strokes.map((stroke) => [stroke.id, stroke]));
  const others = new Set(told.map((thread) => thread.id));
  /** @type {Thread[]} */
  const threads = [];
  for (const { id, at, surface } of before) {
    const after = now.get(id);
    if (!after || others.has(id)) continue;
    threads.push({ id, from: [at, surface], to: [after.at, after.surface], fate: "kept", crosses: false });
  }
  return threads;
}

/** @param {Stage} one @param {Stage} other @returns {boolean} */
function same(one, other) {
  return JSON.stringify(one) === JSON.stringify(other);
}
