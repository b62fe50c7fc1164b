"""The processor counts its own frames: under load a browser's `currentFrame` stands still and jumps."""

from __future__ import annotations

import json
import subprocess
from typing import Any

from groundbeat.site.tools import ROOT, node

from .timelines import QUARTER, event, timeline

PROGRAM = """
import { lineOf } from "%(folder)s/line.js";
import { readFileSync } from "node:fs";

const { timeline, seen } = JSON.parse(readFileSync(0, "utf8"));
globalThis.sampleRate = 44100;
const told = [];
globalThis.AudioWorkletProcessor = class { port = { postMessage: (note) => told.push(structuredClone(note)) }; };
let Processor = null;
globalThis.registerProcessor = (_, kind) => { Processor = kind; };
await import("%(folder)s/processor.js");

const pcm = Float32Array.from({ length: 3000 }, (_, k) => Math.sin(k / 9) * (1 - k / 3000));
const line = lineOf(0, timeline, timeline.tempo, 44100, () => 0, 1);
const programme = { entries: [{ line, passes: 0, tag: 0 }], then: "stay" };
const one = Float32Array.of(1, 1);
const commands = [
  { kind: "surfaces", surfaces: { left: one, right: one, choke: Int32Array.of(0, -1) } },
  { kind: "samples", samples: [{ slot: 2, alternate: 0, pcm }] },
  { kind: "play", programme },
];
const processor = new Processor({ processorOptions: { commands } });
const row = [];
for (const frame of seen) {
  globalThis.currentFrame = frame;
  const output = [new Float32Array(128), new Float32Array(128)];
  processor.process([], [output]);
  row.push(...output[0]);
}
const notes = told.map((note) => (note instanceof Float64Array ? Array.from(note) : note));
console.log(JSON.stringify({ row, notes }));
"""


def run(seen: list[int]) -> Any:
    """Ask for one block for each `currentFrame` that the processor sees."""
    line = timeline([event(k * QUARTER // 4, "snare") for k in range(16)], clicks=[], tempo=180)
    program = PROGRAM % {"folder": (ROOT / "web" / "audio").as_uri()}
    command = [node(), "--input-type=module", "-e", program]
    asked = json.dumps({"timeline": line, "seen": seen})
    done = subprocess.run(command, input=asked, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    return json.loads(done.stdout)


def test_no_stroke_moves_when_the_browsers_count_stands_still() -> None:
    steady = [51200 + 128 * k for k in range(1200)]
    stuck = [frame if k % 7 else steady[max(0, k - 1 - k % 5)] for k, frame in enumerate(steady)]
    stuck[:40] = [51200 - 18432] * 40  # the first blocks can be far behind
    assert stuck != steady
    true, seen = run(steady), run(stuck)
    assert max(true["row"]) > 0.5
    assert seen["row"] == true["row"]


def test_what_is_reported_is_put_right_once_the_true_count_is_seen() -> None:
    steady = [51200 + 128 * k for k in range(1200)]
    true, seen = run(steady), run([51200 - 18432] * 40 + steady[40:])
    starts = [[note[1] for note in answer["notes"] if isinstance(note, list)] for answer in (true, seen)]
    assert set(starts[0]) == {51200 + 1764 + k * 4 * 14700 for k in range(3)}
    assert starts[1][-1] == starts[0][-1]
    assert {note["frame"] for note in seen["notes"] if isinstance(note, dict)} == {51200 - 18432 + 1764}
