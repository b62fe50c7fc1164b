import assert from "node:assert/strict";
import { test } from "node:test";
import { MIN_COLUMN, layAxis } from "../../web/draw/axis.js";
import { SIXTEENTH, stage, view } from "./picture.mjs";

const one = view([stage(0, [])]);

test("a beat fills the room that it is given", () => {
  for (const room of [276, 640, 1103]) {
    const axis = layAxis(one, room);
    assert.ok(Math.abs(axis.width - room) <= 1, `${axis.width} in ${room}`);
    assert.ok(axis.x(0) > axis.left && axis.x(15 * SIXTEENTH) < axis.right);
  }
});

test("a beat too long for the room grows and keeps its columns wide enough", () => {
  const axis = layAxis(view([stage(0, [])], 16), 276);
  assert.equal(axis.column, MIN_COLUMN);
  assert.ok(axis.width > 256 * MIN_COLUMN);
});

test("equal times are equal distances", () => {
  const axis = layAxis(one, 900);
  const step = axis.x(SIXTEENTH) - axis.x(0);
  for (let i = 1; i < 16; i += 1) assert.ok(Math.abs(axis.x(i * SIXTEENTH) - axis.x(0) - i * step) < 1e-9);
});

test("every bar has its line, and one closes the last", () => {
  const axis = layAxis(view([stage(0, [])], 4), 2000);
  assert.equal(axis.bars.length, 5);
  assert.equal(axis.bars[0], axis.left);
  assert.ok(Math.abs(axis.bars[4] - axis.right) < 1e-6);
});
