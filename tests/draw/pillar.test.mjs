import assert from "node:assert/strict";
import { test } from "node:test";
import { drawStrokes, layLines } from "../../web/draw/band.js";
import { layAxis } from "../../web/draw/axis.js";
import { drawPillar } from "../../web/draw/pillar.js";
import { stage, stroke, view } from "./picture.mjs";

const DYNAMICS = ["ghost", "soft", "normal", "accent"];

test("a louder stroke is a higher pillar, tall and slim alike", () => {
  for (const lane of [22, 44, 52]) {
    const tops = DYNAMICS.map((dynamic) => drawPillar(stroke("snare", 0, { dynamic }), 50, 100, lane, 40).top);
    for (let i = 1; i < tops.length; i += 1) assert.ok(tops[i] < tops[i - 1] - 1, `${DYNAMICS[i]} at ${lane}`);
  }
});

test("only a ghost is hollow and only an accent has the mark", () => {
  const drawn = DYNAMICS.map((dynamic) => drawPillar(stroke("snare", 0, { dynamic }), 50, 100, 52, 40));
  assert.deepEqual(drawn.map((pillar) => pillar.hollow), [true, false, false, false]);
  assert.deepEqual(drawn.map((pillar) => pillar.accent !== ""), [false, false, false, true]);
});

test("a pillar and its accent mark stay within their own line", () => {
  for (const lane of [22, 44, 52]) {
    const changed = stroke("snare", 0, { dynamic: "accent", changed_by: [1] });
    const ys = [...drawPillar(changed, 50, 100, lane, 40).accent.matchAll(/[ML][\d.]+ ([\d.]+)/g)].map((m) => Number(m[1]));
    assert.ok(Math.min(...ys) > 100 - lane, `${Math.min(...ys)} on a line of ${lane}`);
  }
});

test("every grace has a mark and no two look the same", () => {
  const marks = ["", "flam", "drag", "ruff", "buzz", "diddle", "choke"].map(
    (grace) => drawPillar(stroke("snare", 0, { grace }), 50, 100, 52, 40).grace,
  );
  assert.equal(marks[0], "");
  assert.equal(new Set(marks).size, marks.length);
  assert.equal(marks[3].split("M").length - 1, 3, "a four-stroke ruff has three grace notes");
});

test("a stroke stands on the line of its surface at its place", () => {
  const base = stage(0, [stroke("hi-hat", 4), stroke("kick", 0)]);
  const axis = layAxis(view([base]), 800);
  const lines = layLines(base, true);
  const drawn = drawStrokes(base, lines, axis);
  assert.deepEqual(drawn.map((one) => one.stroke.surface), ["kick", "hi-hat"]);
  for (const one of drawn) {
    assert.equal(one.middle, axis.x(one.stroke.at));
    assert.equal(one.foot, lines.feet.get(one.stroke.surface));
  }
});

test("what looks the same is the same object when drawn again, and what changed is not", () => {
  const strokes = [stroke("hi-hat", 0), stroke("hi-hat", 2), stroke("hi-hat", 4)];
  const base = stage(0, strokes);
  const axis = layAxis(view([base]), 400);
  const lines = layLines(base, true);
  const before = drawStrokes(base, lines, axis);
  const kept = new Map(before.map((one) => [one.stroke.id, one]));
  const later = stage(0, [{ ...strokes[0] }, { ...strokes[1], dynamic: "ghost" }, { ...strokes[2], changed_by: [1] }]);
  const after = drawStrokes(later, lines, axis, kept);
  assert.equal(after[0], before[0]);
  assert.notEqual(after[1], before[1]);
  assert.notEqual(after[2], before[2]);
  assert.equal(after[1].hollow, true);
});
