"""The page's frame arithmetic against exact fractions."""

from __future__ import annotations

import json
import math
import random
import subprocess
from fractions import Fraction
from typing import Any

import pytest

from groundbeat.site.tools import ROOT, node

HALF = Fraction(1, 2)

PROGRAM = """
import { advance, align, copyOrigin, frameAt, framesOf, originAt } from "%s";
import { readFileSync } from "node:fs";

const cases = JSON.parse(readFileSync(0, "utf8"));
console.log(JSON.stringify(cases.map(({ lines, start, rate, passes }) => {
  const origin = originAt(start);
  const heard = [];
  for (const { span, events, bpm } of lines) {
    const frames = framesOf(span, events, bpm, rate);
    align(origin, frames);
    const from = originAt(0);
    copyOrigin(from, origin);
    for (let pass = 0; pass <= passes.at(-1); pass++) {
      if (passes.includes(pass)) {
        const row = [];
        frames.source.forEach((source, index) => { row[source] = frameAt(origin, frames, index); });
        const inOrder = Array.from(frames.source, (_, index) => frameAt(origin, frames, index));
        const sorted = inOrder.every((frame, k) => k === 0 || frame >= inOrder[k - 1]);
        heard.push({ row, sorted, early: frames.early });
      }
      advance(origin, frames);
    }
    const back = originAt(0);
    copyOrigin(back, origin);
    for (let pass = 0; pass <= passes.at(-1); pass++) advance(back, frames, -1);
    if (back.whole !== from.whole || back.num !== from.num) throw new Error("the way back differs");
  }
  return heard;
})));
"""


def run(cases: list[dict[str, Any]]) -> list[list[dict[str, Any]]]:
    program = PROGRAM % (ROOT / "web" / "audio" / "frames.js").as_uri()
    command = [node(), "--input-type=module", "-e", program]
    done = subprocess.run(command, input=json.dumps(cases), capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    return json.loads(done.stdout)


def case(chance: random.Random) -> dict[str, Any]:
    """Two timelines of one tempo after each other, which differ in parts and length."""
    unit = chance.choice([5040, 10080, 15120, 20160])
    bpm = chance.choice([20, 300, 104, 137, 92.5, chance.randint(2000, 30000) / 100])
    lines = []
    for _ in range(2):
        parts = chance.choice([1, 1, 2, 3, 7, 50, 100])
        loop = chance.randint(1, 16) * chance.choice([40320, 35280, 30240, 25200]) * parts
        at = [chance.randrange(loop) for _ in range(12)] + [0, loop - 1]
        events = [{"at": a, "us": chance.choice([0, 0, -28000, 12000, chance.randint(-60000, 60000)])} for a in at]
        span = {"loop": loop, "parts": parts, "tempo_unit_ticks": unit}
        lines.append({"span": span, "events": events, "bpm": bpm})
    rate = chance.choice([44100, 48000, 96000, 22050, 44056])
    return {"lines": lines, "start": chance.randrange(10**7), "rate": rate, "passes": [0, 1, 2, 99, 1000, 4999]}


def half_up(x: Fraction) -> int:
    return math.floor(x + HALF)


def expected(case: dict[str, Any]) -> list[list[int]]:
    rows, start = [], Fraction(case["start"])
    for line in case["lines"]:
        span = line["span"]
        beat = Fraction(str(line["bpm"])) * span["tempo_unit_ticks"] * span["parts"]
        pace = Fraction(case["rate"] * 60) / beat
        for p in case["passes"]:
            rows.append(
                [
                    half_up(start + (p * span["loop"] + e["at"]) * pace)
                    + half_up(Fraction(e["us"] * case["rate"], 10**6))
                    for e in line["events"]
                ]
            )
        start += (case["passes"][-1] + 1) * span["loop"] * pace
    return rows


def test_every_event_falls_on_its_exact_frame_after_thousands_of_passes() -> None:
    chance = random.Random(20251125)
    cases = [case(chance) for _ in range(200)]
    for asked, heard in zip(cases, run(cases), strict=True):
        for row, got in zip(expected(asked), heard, strict=True):
            assert got["row"] == row
            assert got["sorted"]
    assert sum(len(case["lines"]) for case in cases) == 400


def test_a_tie_rounds_up() -> None:
    # 300 beats a minute at 44100 are 8820 frames a beat; half a beat of 5 ticks is 4410, a tick of 8 is 1102.5.
    line = {"span": {"loop": 8, "parts": 1, "tempo_unit_ticks": 8}, "events": [{"at": 1, "us": 0}], "bpm": 300}
    (heard,) = run([{"lines": [line], "start": 0, "rate": 44100, "passes": [0, 1]}])
    assert [got["row"] for got in heard] == [[1103], [9923]]


def test_a_grace_at_the_start_of_the_loop_says_how_early_it_is() -> None:
    line = {"span": {"loop": 40320, "parts": 1, "tempo_unit_ticks": 10080}, "bpm": 104}
    line["events"] = [{"at": 0, "us": 0}, {"at": 0, "us": -28000}]
    (heard,) = run([{"lines": [line], "start": 5000, "rate": 44100, "passes": [0]}])
    assert heard[0] == {"row": [5000, 3765], "sorted": True, "early": 1235}


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"bpm": 19.99}, "cannot play at tempo 19.99: it goes from 20 to 300"),
        ({"bpm": None}, "cannot play at tempo"),
        ({"span": {"loop": 0, "parts": 1, "tempo_unit_ticks": 10080}}, "cannot play with loop 0"),
        ({"span": {"loop": 40320, "parts": 10**13, "tempo_unit_ticks": 10080}}, "too long or too short"),
    ],
)
def test_what_cannot_be_timed_exactly_is_refused(change: dict[str, Any], words: str) -> None:
    line = {"span": {"loop": 40320, "parts": 1, "tempo_unit_ticks": 10080}, "events": [], "bpm": 104} | change
    with pytest.raises(AssertionError, match=words):
        run([{"lines": [line], "start": 0, "rate": 44100, "passes": [0]}])
