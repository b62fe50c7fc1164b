import assert from "node:assert/strict";
import { test } from "node:test";
import { Taps } from "../../web/view/taps.js";

/** The tempo after taps with these gaps between them, in milliseconds. */
function tapped(...gaps) {
  const taps = new Taps();
  let time = 1000;
  let tempo = taps.tap(time);
  for (const gap of gaps) tempo = taps.tap((time += gap));
  return tempo === null ? null : Math.round(tempo * 100) / 100;
}

test("one tap is no tempo, two are", () => {
  assert.equal(tapped(), null);
  assert.equal(tapped(500), 120);
});

test("the median counts, so one uneven tap changes nothing", () => {
  assert.equal(tapped(500, 500, 560, 500, 440), 120);
});

test("a pause is passed over, whether short or long", () => {
  assert.equal(tapped(500, 500, 1700, 500, 500), 120);
  assert.equal(tapped(500, 500, 20_000, 500), 120);
});

test("two gaps that agree make another tempo, slower or faster", () => {
  assert.equal(tapped(500, 500, 500, 1000), 120);
  assert.equal(tapped(500, 500, 500, 1000, 1000), 60);
  assert.equal(tapped(500, 500, 500, 250, 250), 240);
});

test("a finger that bounces is one tap", () => {
  assert.equal(tapped(40, 460, 40, 460), 120);
});

test("the last eight gaps count and no older ones", () => {
  assert.equal(tapped(500, 500, 500, ...Array(8).fill(600)), 100);
});

test("the slowest and the fastest tempo can be tapped", () => {
  assert.equal(tapped(3000, 3000), 20);
  assert.equal(tapped(200, 200, 200), 300);
});
