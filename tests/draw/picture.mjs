/** A small view to draw, written by hand: two stages of one bar in sixteenths. */

const COUNTS = ["1", "e", "&", "a", "2", "e", "&", "a", "3", "e", "&", "a", "4", "e", "&", "a"];
export const SIXTEENTH = 2520;

export function stroke(surface, column, more = {}) {
  return {
    id: `0/${surface}@${column}/16`, at: column * SIXTEENTH, surface, dynamic: "normal", grace: "", hand: "",
    origin: 0, changed_by: [], label: surface, ...more,
  };
}

export function thread(fate, from, to, more = {}) {
  const place = (end) => end && [end[0] * SIXTEENTH, end[1]];
  const [column, surface] = from ?? to;
  return { id: `0/${surface}@${column}/16`, from: place(from), to: place(to), fate, crosses: false, ...more };
}

export function stage(number, strokes, threads = []) {
  const lanes = [...new Set(strokes.map((one) => one.surface))];
  return {
    stage: number, key: number, kind: number ? "displace" : "base", heading: "", name: "", on: true, sentence: [],
    plain: "", note: "", says: [], offers: [], summary: "", lanes, frame: 0, strokes, threads,
  };
}

export function view(stages, bars = 1) {
  const grid = Array.from({ length: 16 * bars }, (_, i) => ({
    at: i * SIXTEENTH, bar: 1 + Math.floor(i / 16), count: COUNTS[i % 16], weight: i % 4 === 0 ? 2 : i % 4 === 2 ? 1 : 0,
  }));
  const surfaces = { "hi-hat": { label: "hi-hat", row: 1 }, snare: { label: "snare", row: 2 }, kick: { label: "kick", row: 3 } };
  return {
    document: "", link: "", link_trouble: null, title: "", note: "", meter: "4/4", columns: "sixteenths", tempo: 92,
    tempo_unit: "quarter", tempo_unit_ticks: 10080, bars, bar_ticks: 40320, cycle: 40320 * bars, grid, surfaces, says: [],
    newer: null, frames: [], stages,
  };
}
