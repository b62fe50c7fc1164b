import assert from "node:assert/strict";
import { test } from "node:test";
import { loopAround } from "../../web/draw/around.js";
import { layAxis } from "../../web/draw/axis.js";
import { layLines } from "../../web/draw/band.js";
import { drawLimbs, drawSpots } from "../../web/draw/limbs.js";
import { SIXTEENTH, stage, stroke, view } from "./picture.mjs";

const LETTER = { width: 8.6, height: 9 }; // of an R at 11.5 pixels, no wider in any font of the page's list

function limb(id, words, more = {}) {
  return [id, { id, limb: words, letter: words[0].toUpperCase(), pinned: false, type: "", ...more }];
}

function laid(strokes, room, types = false) {
  const beat = stage(2, strokes);
  return { beat, lines: layLines(beat, true, types), axis: layAxis(view([beat]), room) };
}

test("on the narrowest phone letters under neighbouring strokes do not touch each other, nor the pillars below", () => {
  const strokes = ["hi-hat", "snare"].flatMap((surface) => Array.from({ length: 16 }, (_, i) => stroke(surface, i, { dynamic: "accent" })));
  const { beat, lines, axis } = laid(strokes, 240);
  const limbs = new Map(strokes.map(({ id }) => limb(id, "left hand")));
  const letters = drawLimbs(beat, limbs, lines, axis, false);
  assert.equal(letters.length, 32);
  for (const one of letters) {
    for (const other of letters) {
      if (one === other) continue;
      const apart = Math.abs(one.x - other.x) >= LETTER.width || Math.abs(one.y - other.y) >= LETTER.height;
      assert.ok(apart, `${one.stroke.id} and ${other.stroke.id}`);
    }
    assert.ok(one.y + LETTER.height / 2 < lines.feet.get(one.stroke.surface) + (lines.lane - lines.rise), "within its own line");
  }
});

test("where a hand points at one letter it does not point at another", () => {
  const strokes = Array.from({ length: 16 }, (_, i) => stroke("snare", i));
  const { beat, lines, axis } = laid(strokes, 240);
  const letters = drawLimbs(beat, new Map(strokes.map(({ id }) => limb(id, "left hand"))), lines, axis, false);
  for (let i = 1; i < letters.length; i += 1) {
    const before = letters[i - 1].box;
    assert.ok(before.x + before.width <= letters[i].box.x + 0.02);
  }
});

test("a foot is F, and R or L only on a line that both feet play", () => {
  const strokes = [stroke("kick", 0), stroke("kick", 2), stroke("hi-hat foot", 4)];
  const { beat, lines, axis } = laid(strokes, 800);
  const letters = (second) => drawLimbs(beat, new Map([
    limb(strokes[0].id, "right foot"), limb(strokes[1].id, second), limb(strokes[2].id, "left foot"),
  ]), lines, axis, true).map(({ letter, type }) => letter + type);
  assert.deepEqual(letters("right foot"), ["F", "F", "F"]);
  assert.deepEqual(letters("left foot"), ["R", "L", "F"]);
});

test("a hand that was pinned a moment ago is drawn so before the engine has answered", () => {
  const strokes = [stroke("snare", 0, { hand: "R" }), stroke("snare", 4)];
  const { beat, lines, axis } = laid(strokes, 800);
  const letters = drawLimbs(beat, new Map(strokes.map(({ id }) => limb(id, "left hand"))), lines, axis, false);
  assert.deepEqual(letters.map(({ letter, pinned }) => [letter, pinned]), [["R", true], ["L", false]]);
  assert.notEqual(letters[0].rule, "");
  assert.equal(letters[1].rule, "");
});

test("stroke types are written out where there is room, else by their first letter, and have room of their own", () => {
  const strokes = [stroke("snare", 0)];
  const limbs = new Map([limb(strokes[0].id, "left hand", { type: "down" })]);
  const wide = laid(strokes, 900, true);
  const narrow = laid(strokes, 240, true);
  assert.equal(drawLimbs(wide.beat, limbs, wide.lines, wide.axis, true)[0].type, "down");
  assert.equal(drawLimbs(narrow.beat, limbs, narrow.lines, narrow.axis, true)[0].type, "d");
  assert.equal(drawLimbs(wide.beat, limbs, wide.lines, wide.axis, false)[0].type, "");
  assert.ok(wide.lines.height > laid(strokes, 900, false).lines.height + 10);
});

test("a spot has a bead on each of its places, and what overlaps stands in two rows", () => {
  const strokes = [3, 4, 5].map((column) => stroke("snare", column)).concat(stroke("kick", 4));
  const { beat, lines, axis } = laid(strokes, 800);
  const [first, second] = drawSpots([
    { ids: strokes.slice(0, 3).map(({ id }) => id), at: 3 * SIXTEENTH },
    { ids: [strokes[1].id, strokes[3].id], at: 4 * SIXTEENTH },
  ], beat, lines, axis);
  assert.deepEqual(first.beads.map(([x]) => x), [3, 4, 5].map((column) => Math.round(axis.x(column * SIXTEENTH) * 100) / 100));
  assert.notEqual(first.thread, "");
  assert.equal(second.beads.length, 1, "two strokes of one moment are one place");
  assert.notEqual(first.beads[0][1], second.beads[0][1]);
  for (const { beads } of [first, second]) for (const [, y] of beads) assert.ok(y < lines.height && y > lines.height - lines.below);
});

test("a spot over the end of the loop is not joined across the whole beat", () => {
  const strokes = [stroke("snare", 15), stroke("snare", 0)];
  const { beat, lines, axis } = laid(strokes, 800);
  const [marked] = drawSpots([{ ids: strokes.map(({ id }) => id), at: 15 * SIXTEENTH }], beat, lines, axis);
  assert.equal(marked.thread, "");
  assert.equal(marked.beads.length, 2);
});

test("what is looped around a spot begins and ends on a number that is counted", () => {
  const { grid } = view([stage(0, [])], 2);
  const around = (...columns) => loopAround(columns.map((column) => column * SIXTEENTH), grid, 32 * SIXTEENTH);
  assert.deepEqual(around(11, 12, 13), { start: 8 * SIXTEENTH, end: 16 * SIXTEENTH });
  assert.deepEqual(around(5), { start: 4 * SIXTEENTH, end: 8 * SIXTEENTH });
  assert.deepEqual(around(4), { start: 0, end: 8 * SIXTEENTH }, "a number alone takes the beat before it along");
  assert.deepEqual(around(0), { start: 0, end: 4 * SIXTEENTH });
  assert.equal(around(31, 0), null, "over the end of the loop: all of it");
  assert.equal(around(), null);
});
