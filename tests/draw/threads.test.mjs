import assert from "node:assert/strict";
import { test } from "node:test";
import { layAxis } from "../../web/draw/axis.js";
import { layLines } from "../../web/draw/band.js";
import { drawGap, drawThrough } from "../../web/draw/threads.js";
import { SIXTEENTH, stage, stroke, thread, view } from "./picture.mjs";

const axis = layAxis(view([stage(0, [])]), 800);
const x = (column) => Math.round(axis.x(column * SIXTEENTH) * 100) / 100;
const gap = (...threads) => drawGap(stage(1, [], threads), 30, axis);

/** First and last point of each piece of a path. */
function ends(d) {
  return d.split("M").slice(1).map((piece) => {
    const numbers = piece.match(/-?[\d.]+/g).map(Number);
    return [numbers.slice(0, 2), numbers.slice(-2)];
  });
}

test("a kept stroke's thread runs straight down", () => {
  assert.equal(gap(thread("kept", [4, "snare"], [4, "snare"]))[0].d, `M${x(4)} 0V30`);
});

test("a moved stroke's thread leads from where it was to where it is", () => {
  const [strand] = gap(thread("moved", [4, "snare"], [5, "snare"]));
  assert.deepEqual(ends(strand.d), [[[x(4), 0], [x(5), 30]]]);
});

test("what crosses the loop later goes out at the right and comes in at the left", () => {
  const [strand] = gap(thread("moved", [15, "snare"], [0, "snare"], { crosses: true }));
  const [out, back] = ends(strand.d);
  assert.deepEqual([out[0], out[1][0]], [[x(15), 0], axis.width]);
  assert.deepEqual([back[0][0], back[1]], [0, [x(0), 30]]);
});

test("what crosses the loop earlier goes out at the left and comes in at the right", () => {
  const [strand] = gap(thread("moved", [0, "kick"], [14, "kick"], { crosses: true }));
  const [out, back] = ends(strand.d);
  assert.deepEqual([out[1][0], back[0][0]], [0, axis.width]);
});

test("a left-out stroke ends in a stub and an added one begins with a dot", () => {
  const [left, added] = gap(thread("left out", [2, "hi-hat"], null), thread("added", null, [9, "snare"]));
  assert.ok(left.stub && !left.dot);
  assert.ok(ends(left.d)[0][1].at(-1) < 30, "it stops within the gap");
  assert.equal(added.dot[0], x(9));
  assert.ok(added.dot[1] > 0 && added.d.endsWith("V30"));
});

test("a stub stands beside the thread of another stroke of the same place", () => {
  const [left] = gap(thread("left out", [2, "hi-hat"], null), thread("kept", [2, "kick"], [2, "kick"]));
  assert.notEqual(Number(left.stub.match(/M([\d.]+)/)[1]) + 4, x(2));
});

test("a strand inside a band goes on only if the next stage has the stroke", () => {
  const strokes = [stroke("snare", 4), stroke("kick", 0)];
  const here = stage(1, strokes);
  const next = stage(2, [], [thread("kept", [4, "snare"], [4, "snare"]), thread("added", null, [0, "kick"])]);
  const through = drawThrough(here, next, layLines(here, false), axis);
  assert.ok(through.get(strokes[0].id).leaves);
  assert.equal(through.get(strokes[1].id).leaves, "");
  assert.equal(drawThrough(stage(0, strokes), here, layLines(here, false), axis).get(strokes[0].id).enters, "");
});

test("a thread follows a stroke that is carried, with the end that the hand has", () => {
  const here = stage(1, [stroke("snare", 5)], [thread("kept", [5, "snare"], [5, "snare"])]);
  const axis = layAxis(view([here]), 400);
  const id = here.threads[0].id;
  const x = (column) => Math.round(axis.x(column * SIXTEENTH) * 100) / 100;
  const draw = (pull) => drawGap(here, 30, axis, pull)[0].d;
  assert.equal(draw(null), `M${x(5)} 0V30`);
  assert.ok(draw({ id, at: 7 * SIXTEENTH, end: "from" }).startsWith(`M${x(7)} 0C`));
  assert.ok(draw({ id, at: 7 * SIXTEENTH, end: "to" }).endsWith(`${x(7)} 30`));
  assert.equal(draw({ id: "another", at: 0, end: "to" }), draw(null));
});

test("in its band a carried stroke's strand leaves where it would land, and enters there where the stage itself moves it", () => {
  const one = stroke("snare", 5);
  const here = stage(1, [one, stroke("kick", 0)], []);
  const next = stage(2, [one], [thread("kept", [5, "snare"], [5, "snare"])]);
  const axis = layAxis(view([here]), 400);
  const lines = layLines(here, true);
  const x = (column) => Math.round(axis.x(column * SIXTEENTH) * 100) / 100;
  const carried = { id: one.id, at: 7 * SIXTEENTH, surface: "kick" };
  const apart = drawThrough(here, next, lines, axis, { ...carried, both: false }).get(one.id);
  assert.ok(apart.enters.startsWith(`M${x(5)} `));
  assert.ok(apart.leaves.startsWith(`M${x(7)} ${lines.feet.get("kick")}V`));
  assert.ok(drawThrough(here, next, lines, axis, { ...carried, both: true }).get(one.id).enters.startsWith(`M${x(7)} `));
});
