import { strict as assert } from "node:assert";
import { test } from "node:test";
import { layAxis } from "../../web/draw/axis.js";
import { layLines } from "../../web/draw/band.js";
import { carryFrom, drawLanding, landOn, stepFrom } from "../../web/draw/landing.js";
import { SIXTEENTH, stage, stroke, view } from "./picture.mjs";

const base = stage(0, [stroke("hi-hat", 0), stroke("snare", 4), stroke("kick", 8)]);
const axis = layAxis(view([base]), 820);
const lines = layLines(base, true);
const grid = view([base]).grid;
const from = { surface: "snare", at: 4 * SIXTEENTH };
const land = (dx, dy) => landOn(from, dx, dy, lines, axis, () => grid);

test("a stroke goes in whole columns, and stays where it is for less than half of one", () => {
  assert.deepEqual(land(axis.column * 0.45, 0), from);
  assert.deepEqual(land(axis.column * 0.55, 0), { surface: "snare", at: 5 * SIXTEENTH });
  assert.deepEqual(land(axis.column * -3.4, 0), { surface: "snare", at: 1 * SIXTEENTH });
});

test("a stroke goes in whole lines, and both ways at once", () => {
  assert.deepEqual(land(0, lines.lane * 0.45), from);
  assert.deepEqual(land(0, lines.lane * -0.8), { surface: "hi-hat", at: from.at });
  assert.deepEqual(land(axis.column * 2, lines.lane), { surface: "kick", at: 6 * SIXTEENTH });
});

test("the slighter direction is trembling, however narrow the columns", () => {
  const narrow = layAxis(view([base], 4), 300);
  const long = view([base], 4).grid;
  const dx = narrow.column * 0.8;
  assert.equal(landOn(from, dx, 52, lines, narrow, () => long).at, from.at);
  assert.equal(landOn(from, dx, 20, lines, narrow, () => long).at, 5 * SIXTEENTH);
  assert.deepEqual(land(axis.column * 4, lines.lane * 0.6), { surface: "snare", at: 8 * SIXTEENTH });
});

test("outside the lines nothing lands, a little outside the nearest place does", () => {
  assert.equal(land(0, lines.lane * 2.5), null);
  assert.equal(land(0, lines.lane * -2.5), null);
  assert.equal(land(axis.column * 14, 0), null);
  assert.deepEqual(land(axis.column * 11.4, 0), { surface: "snare", at: 15 * SIXTEENTH });
  assert.deepEqual(land(0, lines.lane * 1.7), { surface: "kick", at: from.at });
});

test("arrow keys step from place to place and stop at the ends", () => {
  const ats = grid.map(({ at }) => at);
  const step = (along, across, at = from.at) => stepFrom({ surface: "snare", at }, along, across, base.lanes, ats);
  assert.deepEqual(step(1, 0), { surface: "snare", at: 5 * SIXTEENTH });
  assert.deepEqual(step(-9, 0), { surface: "snare", at: 0 });
  assert.deepEqual(step(Infinity, 0), { surface: "snare", at: 15 * SIXTEENTH });
  assert.deepEqual(step(0, -5), { surface: "hi-hat", at: from.at });
  assert.deepEqual(step(-Infinity, Infinity), { surface: "kick", at: 0 });
});

test("from between two columns a step leads to the neighbour on that side", () => {
  const ats = grid.map(({ at }) => at);
  const between = 4 * SIXTEENTH + 100;
  assert.equal(stepFrom({ surface: "snare", at: between }, 1, 0, base.lanes, ats).at, 5 * SIXTEENTH);
  assert.equal(stepFrom({ surface: "snare", at: between }, -1, 0, base.lanes, ats).at, 4 * SIXTEENTH);
  assert.equal(stepFrom({ surface: "snare", at: between }, 0, 1, base.lanes, ats).at, between);
});

test("the way leads from the stroke's foot to the foot where it would land", () => {
  const to = { surface: "kick", at: 6 * SIXTEENTH };
  const drawn = drawLanding(base.strokes[1], to, lines, axis);
  const [x0, y0] = [axis.x(from.at), lines.feet.get("snare")];
  assert.ok(drawn.way.startsWith(`M${Math.round(x0 * 100) / 100} ${y0}`));
  assert.ok(drawn.way.endsWith(`${Math.round(axis.x(to.at) * 100) / 100} ${lines.feet.get("kick")}`));
  assert.equal(drawLanding(base.strokes[1], from, lines, axis).way, "");
});

test("past the end of the loop a stroke comes in at the other", () => {
  assert.deepEqual(land(axis.column * 11.9, 0), { surface: "snare", at: 0, over: 1 });
  assert.deepEqual(land(axis.column * -4.9, 0), { surface: "snare", at: 15 * SIXTEENTH, over: -1 });
  const { way } = drawLanding(base.strokes[1], { surface: "snare", at: 0, over: 1 }, lines, axis);
  assert.match(way, /^M[\d.]+ [\d.]+H[\d.]+M[\d.]+ [\d.]+H[\d.]+$/);
});

test("arrow keys carry over the end of the loop once, and back", () => {
  const ats = grid.map(({ at }) => at);
  const carry = (place, along) => carryFrom(place, along, 0, base.lanes, ats);
  const last = { surface: "snare", at: 15 * SIXTEENTH };
  const first = { surface: "snare", at: 0, over: 1 };
  assert.deepEqual(carry(last, 1), first);
  assert.deepEqual(carry(first, -1), last);
  assert.deepEqual(carry({ ...last, over: 1 }, 1), { ...last, over: 1 });
  assert.deepEqual(carry(from, 1), { surface: "snare", at: 5 * SIXTEENTH });
});

test("on a line with columns of its own a stroke lands on those", () => {
  const triplets = Array.from({ length: 12 }, (_, i) => ({ at: i * 3360, bar: 1, count: "", place: "", weight: 0 }));
  const gridOf = (surface) => (surface === "kick" ? triplets : grid);
  const fine = landOn(from, axis.column * 1.2, lines.lane, lines, axis, gridOf);
  assert.deepEqual(fine, { surface: "kick", at: 4 * 3360 });
});

test("lines with finer columns have room for them", () => {
  const fine = Array.from({ length: 32 }, (_, i) => ({ at: i * 1260, bar: 1, count: "", place: "", weight: 0 }));
  const narrow = layAxis(view([base]), 300, [fine]);
  assert.ok(narrow.perTick * 1260 >= 15);
  assert.equal(layAxis(view([base]), 820, [grid]).column, axis.column);
});
