import assert from "node:assert/strict";
import { test } from "node:test";
import { followWay } from "../../web/draw/ways.js";
import { stage, stroke, thread } from "./picture.mjs";

// The snare on 4 moves onto the ghost on 9 and stays there; the ghost merges into it.
const loud = stroke("snare", 4);
const ghost = stroke("snare", 9, { dynamic: "ghost" });
const stages = [
  stage(0, [loud, ghost]),
  stage(1, [{ ...loud, at: 9 * 2520 }], [
    { ...thread("moved", [4, "snare"], [9, "snare"]), id: loud.id },
    { ...thread("merged", [9, "snare"], [9, "snare"]), id: ghost.id },
  ]),
  stage(2, [{ ...loud, at: 9 * 2520 }], [{ ...thread("kept", [9, "snare"], [9, "snare"]), id: loud.id }]),
];

test("a survivor's way has both parents above it", () => {
  assert.deepEqual(followWay(stages, 2, loud.id), [new Set([loud.id, ghost.id]), new Set([loud.id]), new Set([loud.id])]);
});

test("a merged parent's way goes on as the survivor's", () => {
  assert.deepEqual(followWay(stages, 0, ghost.id), [new Set([ghost.id]), new Set([loud.id]), new Set([loud.id])]);
});

test("an added stroke has no way above the stage that brought it", () => {
  const added = stroke("kick", 2);
  const grown = [stage(0, []), stage(1, [added], [{ ...thread("added", null, [2, "kick"]), id: added.id }])];
  assert.deepEqual(followWay(grown, 1, added.id), [new Set(), new Set([added.id])]);
});
