/**
 * What did a change do? Said for those who do not see it, from the engine's own words before and after.
 */

/** @typedef {import("../draw/shapes.js").View} View @typedef {import("../draw/shapes.js").Stage} Stage */

/** More strokes than this are counted, not named. Our choice. */
const NAMED = 2;

/**
 * Tell the change from one view to the next in a sentence; "" where there is nothing to be told.
 * @param {View} before @param {View} after @returns {string}
 */
export function tellChange(before, after) {
  const old = new Map(before.stages.map((stage) => [stage.key, stage]));
  const now = new Map(after.stages.map((stage) => [stage.key, stage]));
  const added = after.stages.filter(({ key }) => !old.has(key));
  const gone = before.stages.filter(({ key }) => !now.has(key));
  if (added.length + gone.length > 2) return `${after.title || "A beat"} is shown`;
  const told = [
    ...added.map((stage) => `${stage.heading} added: ${stage.plain}`),
    ...gone.map((stage) => `${stage.heading} taken away`),
  ];
  for (const stage of told.length ? [] : after.stages) {
    const was = old.get(stage.key);
    if (!was || was === stage) continue;
    if (was.on !== stage.on) told.push(`${stage.heading} is ${stage.on ? "on" : "off"}`);
    else if (was.plain !== stage.plain) told.push(`${stage.heading}: ${stage.plain}`);
    else if (stage.stage === 0) told.push(...tellStrokes(was, stage));
  }
  if (before.meter !== after.meter || before.bars !== after.bars || before.columns !== after.columns) {
    told.push(`${after.meter}, ${after.bars === 1 ? "1 bar" : `${after.bars} bars`}, ${after.columns}`);
  }
  if (before.feel !== after.feel) told.push(after.feel.replace(/\.$/, ""));
  for (const line of after.lines) if (!(line in before.surfaces)) told.push(`${line} line added`);
  for (const line of before.lines) if (!(line in after.surfaces)) told.push(`${line} line taken away`);
  return told.join(". ");
}

/**
 * Tell where a stroke is carried: what moves from which line and place to which.
 * @param {{ surface: string, at: number }} from @param {import("../draw/landing.js").Place} to
 * @param {string[]} here line and place in words @param {string[]} there @returns {string}
 */
export function tellWay(from, to, [line, place], [line2, bare]) {
  const place2 = to.over ? `${bare}, over the ${to.over > 0 ? "end" : "start"} of the loop` : bare;
  if (from.at === to.at && !to.over) return from.surface === to.surface ? `${line}, ${place}: back where it was` : `${place}: ${line} to ${line2}`;
  return from.surface === to.surface ? `${line}: ${place} to ${place2}` : `${line}, ${place} to ${line2}, ${place2}`;
}

/**
 * Say which limb plays a stroke, "" where it is not known. The label of a pinned one says its hand already.
 * @param {import("../draw/shapes.js").Limb | undefined} limb @param {import("../draw/shapes.js").Stroke} stroke @returns {string}
 */
export function sayLimb(limb, { hand }) {
  return hand ? "pinned" : (limb?.limb ?? "");
}

/** @param {Stage} before @param {Stage} after @returns {string[]} */
function tellStrokes(before, after) {
  const old = new Map(before.strokes.map((stroke) => [stroke.id, stroke]));
  const now = new Set(after.strokes.map(({ id }) => id));
  const told = [
    ...before.strokes.filter(({ id }) => !now.has(id)).map(({ label }) => `${label}, taken out`),
    ...after.strokes.filter(({ id }) => !old.has(id)).map(({ label }) => `${label}, added`),
    ...after.strokes.filter(({ id, label }) => old.has(id) && old.get(id)?.label !== label).map(({ label }) => `now ${label}`),
  ];
  return told.length > NAMED ? [`${told.length} strokes changed`] : told;
}
