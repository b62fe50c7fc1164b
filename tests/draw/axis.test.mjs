import assert from "node:assert/strict";
import { test } from "node:test";
import { MIN_COLUMN, layAxes, layAxis } from "../../web/draw/axis.js";
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

test("stages of another length stand on the same axis, each to its own end", () => {
  const short = view([stage(0, [])]);
  const long = view([stage(0, [])], 4);
  const both = { ...short, frames: [{ ...long, grid: long.grid }] };
  const [one, four] = layAxes(both, 300);
  assert.equal(one.x(0), four.x(0));
  assert.equal(one.x(40319), four.x(40319));
  assert.equal(one.width, four.width);
  assert.ok(Math.abs((four.right - four.left) / 4 - (one.right - one.left)) < 1e-6);
  assert.deepEqual([one.bars.length, four.bars.length], [2, 5]);
  assert.ok(one.column >= MIN_COLUMN);
});

test("the finest columns of any stage have room", () => {
  const base = view([stage(0, [])]);
  const fine = { ...base, grid: base.grid.flatMap((column) => [column, { ...column, at: column.at + 1260 }]) };
  const [one, two] = layAxes({ ...base, frames: [fine] }, 100);
  assert.ok(Math.abs(two.column - MIN_COLUMN) < 1e-6);
  assert.ok(Math.abs(one.column - 2 * MIN_COLUMN) < 1e-6);
});
