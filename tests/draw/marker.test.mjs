import assert from "node:assert/strict";
import { test } from "node:test";
import { pairPlaces, touched, writtenAt } from "../../web/draw/marker.js";
import { SIXTEENTH, stage, stroke } from "./picture.mjs";

const CYCLE = 40320;

function timeline(strokes, late, parts = 1) {
  const events = strokes.map((one, i) => ({
    at: (one.at + late[i]) * parts, us: 0, surface: one.surface, dynamic: "normal", id: one.id, layer: "both", added: false,
    grace: false, stop: false,
  }));
  return { stage: 0, loop: CYCLE * parts, parts, tempo_unit_ticks: 10080, tempo: 92, events, clicks: [] };
}

const strokes = [stroke("hi-hat", 0), stroke("hi-hat", 2), stroke("hi-hat", 4)];

test("without feel the light stands where the music is", () => {
  const pairs = pairPlaces(timeline(strokes, [0, 0, 0]), [stage(0, strokes)], CYCLE);
  for (const ticks of [0, 1, 5039.5, 20160, 40319]) assert.ok(Math.abs(writtenAt(pairs, ticks) - ticks) < 1e-6);
});

test("with swing the light reaches a stroke just when it sounds", () => {
  const pairs = pairPlaces(timeline(strokes, [0, 1680, 0], 3), [stage(0, strokes)], CYCLE);
  assert.equal(writtenAt(pairs, 2 * SIXTEENTH + 1680), 2 * SIXTEENTH);
  assert.equal(writtenAt(pairs, 4 * SIXTEENTH), 4 * SIXTEENTH);
  assert.ok(writtenAt(pairs, 2 * SIXTEENTH) < 2 * SIXTEENTH);
});

test("a stroke glows from when it sounds until the hold is over, across the loop too", () => {
  const line = timeline([strokes[0], stroke("kick", 15)], [0, 0]);
  assert.deepEqual(touched(line, 15 * SIXTEENTH - 1, 3000, CYCLE), []);
  assert.deepEqual(touched(line, 15 * SIXTEENTH, 3000, CYCLE), ["0/kick@15/16"]);
  assert.deepEqual(touched(line, 200, 3000, CYCLE), ["0/hi-hat@0/16", "0/kick@15/16"]);
});

test("of a looped part the light begins and ends where the part does", () => {
  const start = 4 * SIXTEENTH;
  const end = 8 * SIXTEENTH;
  const inside = [stroke("snare", 4), stroke("hi-hat", 6)];
  const line = { ...timeline(inside, [-start, 840 - start], 3), loop: (end - start) * 3 };
  const pairs = pairPlaces(line, [stage(0, inside)], end, start);
  assert.equal(writtenAt(pairs, 0), start);
  assert.equal(writtenAt(pairs, 2 * SIXTEENTH + 840), 6 * SIXTEENTH);
  assert.equal(writtenAt(pairs, end - start), end);
});
