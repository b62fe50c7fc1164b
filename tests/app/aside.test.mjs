/** What sounds for a step of a practice plan. */

import assert from "node:assert/strict";
import { test } from "node:test";
import { itemsOf } from "../../web/app/aside.js";

const EVENTS = [{ id: "a" }, { id: "b" }];
const WHOLE = { document: "", stage: 2, against: null, start: null, end: null, ids: null, own: 0, tempo: 60, turns: [1, 1] };
const told = [];

/** @param {{ stage: number }} what */
async function tell(what) {
  told.push(what);
  return { stage: what.stage, events: EVENTS, clicks: [{ at: 0, strong: true }] };
}

/** Stage, passes and strokes of every item. */
const heard = async (step) =>
  (await itemsOf({ ...WHOLE, ...step }, tell)).map(({ stage, passes, timeline }) => [stage, passes, timeline.events.map(({ id }) => id)]);

test("the whole stage sounds round and round", async () => {
  assert.deepEqual(await heard({}), [[2, 1, ["a", "b"]]]);
});

test("of a step with strokes of its own these alone sound, at its counts", async () => {
  assert.deepEqual(await heard({ ids: ["b"], start: 100, end: 200 }), [[2, 1, ["b"]]]);
  assert.deepEqual(told.at(-1), { stage: 2, start: 100, end: 200 });
});

test("two stages sound in turn", async () => {
  assert.deepEqual(await heard({ against: 1, turns: [2, 1] }), [[1, 2, ["a", "b"]], [2, 1, ["a", "b"]]]);
});

test("bars of one's own are silent but for the click", async () => {
  const items = await itemsOf({ ...WHOLE, own: 4, turns: [4, 4] }, tell);
  assert.deepEqual(items.map(({ passes, timeline }) => [passes, timeline.events.length, timeline.clicks.length]), [[4, 2, 1], [4, 0, 1]]);
});
