import assert from "node:assert/strict";
import { test } from "node:test";
import { drawItem, namesOf } from "../../web/draw/sheet.js";
import { SIXTEENTH } from "./picture.mjs";

/** A beat of so many bars of sixteen columns with a stroke on every column; weight 2 on every fourth. */
function item(bars, { blanks = false, label = "snare", columns = 16, group = 4, step = SIXTEENTH } = {}) {
  const grid = Array.from({ length: bars * columns }, (_, i) => ({
    at: i * step, bar: Math.floor(i / columns) + 1, count: String(i % columns), place: "", weight: i % columns % group === 0 ? 2 : 0,
  }));
  const strokes = grid.map(({ at }, i) => ({ id: String(i), at, surface: "snare", dynamic: "normal", grace: "", hand: "", figure: i % 2 === 0 }));
  return {
    label: "A", sentence: "", begins: "", spoken: "", lanes: ["snare"], labels: [label], strokes,
    frame: { meter: "4/4", columns: "sixteenths", bars, bar_ticks: columns * step, cycle: bars * columns * step, grid },
    blanks: blanks ? grid.map(({ at }) => ({ at, answer: "1", words: "1" })) : [],
  };
}

test("every stroke is drawn once, inside its row", () => {
  for (const bars of [1, 2, 3, 7, 16]) {
    const one = item(bars);
    const rows = drawItem(one, 680, 60, true);
    const strokes = rows.flatMap((row) => row.strokes);
    assert.equal(strokes.length, one.strokes.length);
    for (const row of rows) for (const { middle } of row.strokes) assert.ok(middle > row.left && middle < row.right);
    assert.equal(strokes.filter(({ figure }) => figure).length, one.strokes.length / 2);
  }
});

test("a row fits the room, however long the beat is", () => {
  for (const bars of [1, 2, 3, 16]) {
    for (const room of [250, 326, 680]) {
      for (const row of drawItem(item(bars), room, 60, true)) assert.ok(row.right <= room - 60 + 1e-6, `${bars} bars in ${room}`);
    }
  }
});

test("time runs alike in all rows of a beat", () => {
  const rows = drawItem(item(5), 680, 60, true);
  assert.ok(rows.length > 1);
  const steps = rows.map(({ strokes }) => strokes[1].middle - strokes[0].middle);
  for (const step of steps) assert.ok(Math.abs(step - steps[0]) < 1e-6);
});

test("there is room to write on a blank, under its stroke", () => {
  for (const [bars, more] of [[1, {}], [4, {}], [1, { columns: 48, group: 12 }], [2, { columns: 32, group: 4 }]]) {
    const rows = drawItem(item(bars, { blanks: true, ...more }), 680, 60, false);
    for (const row of rows) {
      assert.deepEqual(row.blanks.map(({ x }) => x), row.strokes.map(({ middle }) => middle));
      for (const { width, y } of row.blanks) assert.ok(width >= 20 && y > row.bottom + 20 && y < row.height, `${width} of ${bars} bars`);
    }
  }
});

test("a bar that is too long to be written under goes on in the next row, where a group begins", () => {
  const rows = drawItem(item(1, { blanks: true, columns: 48, group: 12 }), 680, 60, false);
  assert.deepEqual(rows.map(({ strokes }) => strokes.length), [24, 24]);
  assert.deepEqual(rows.map(({ bars }) => bars.length), [1, 1]);
  const two = drawItem(item(2, { blanks: true, columns: 36, group: 12 }), 680, 60, false);
  assert.deepEqual(two.map(({ strokes }) => strokes.length), [24, 12, 24, 12]);
});

test("bars are numbered where they begin, and a single one is not", () => {
  const numbers = (bars) => drawItem(item(bars), 680, 60, true).flatMap((row) => row.bars.map(({ number }) => number).filter(Boolean));
  assert.deepEqual(numbers(1), []);
  assert.deepEqual(numbers(7), [1, 2, 3, 4, 5, 6, 7]);
});

test("without counts there are none, and a silent beat has no rows", () => {
  assert.deepEqual(drawItem(item(2), 680, 60, false).flatMap(({ counts }) => counts), []);
  assert.deepEqual(drawItem({ ...item(1), lanes: [], labels: [], strokes: [] }, 680, 60, true), []);
});

test("the longest name of a sheet decides for all its beats", () => {
  assert.equal(namesOf([item(1), item(1, { label: "floor tom rim" })]), namesOf([item(1, { label: "floor tom rim" })]));
  assert.ok(namesOf([item(1)]) < namesOf([item(1, { label: "floor tom rim" })]));
});
