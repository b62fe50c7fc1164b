"""However loud the mix becomes, what leaves the audio thread stays under its ceiling; what is quiet goes through as it is."""

from __future__ import annotations

import json
import subprocess

import numpy as np
import pytest

from groundbeat.site.tools import ROOT, node

from .reference import RATE, Kit
from .test_processor import BLOCK, LEAD, Render, gains, play, render  # noqa: F401
from .timelines import QUARTER, Timeline, event, timeline

CEILING = float(np.float32(10 ** (-1 / 20)))
RELEASE = 0.08  # seconds


def bar() -> Timeline:
    """A second with kick, snare and crash at once, then a bar's rest in which quiet hi-hats follow."""
    names = ("kick", "snare", "crash")
    loud = [event(k * QUARTER // 4, name, "accent") for k in range(8) for name in names]
    quiet = [event(6 * QUARTER + k * QUARTER // 2, "hi-hat", "ghost") for k in range(4)]
    return timeline([*loud, *quiet], loop=8 * QUARTER, clicks=[], tempo=120)


def test_a_mix_far_too_loud_stays_at_the_ceiling_and_has_no_step(render: Render, kit: Kit) -> None:  # noqa: F811
    line, frames, louder = bar(), 4 * RATE, 8.0
    plain, _ = render([line], [play((0, 1), then="stop")], frames)
    loud, _ = render([line], [gains(base=1, both=louder), play((0, 1), then="stop")], frames)
    assert np.abs(plain).max() < CEILING, "as usual nothing is limited"
    assert np.abs(louder * plain).max() > 2 * CEILING
    assert CEILING * 0.999 < np.abs(loud).max() <= CEILING
    over = np.flatnonzero(np.abs(louder * plain).max(axis=0) > CEILING)
    before = over[0]
    assert before > LEAD and (loud[:, :before] == louder * plain[:, :before]).all(), "untouched up to there, bit by bit"
    # both channels by the same factor, which comes back slowly
    sound = np.abs(plain).min(axis=0) > 1e-3
    left, right = (loud[side, sound] / (louder * plain[side, sound]) for side in (0, 1))
    assert np.abs(left - right).max() < 1e-5
    whole = np.interp(np.arange(frames), np.flatnonzero(sound), left)
    rise = np.diff(whole)
    assert rise.max() < 1.1 / (RELEASE * RATE), "no faster than it is told"
    assert np.abs(np.diff(loud)).max() <= np.abs(np.diff(louder * plain)).max(), "no step that the music has not"
    calm = over[-1] + int(10 * RELEASE * RATE)
    assert np.abs(plain[:, calm:]).max() > 1e-4
    assert (loud[:, calm:] == louder * plain[:, calm:]).all(), "and then untouched again"


PROGRAM = """
import { readFileSync } from "node:fs";
const { Limiter } = await import("%s");
const limiter = new Limiter(44100);
const given = JSON.parse(readFileSync(0, "utf8"), (_, v) => (v === "nan" ? NaN : v === "inf" ? -Infinity : v));
const told = given.map(([left, right]) => {
  const sides = [Float32Array.from(left), Float32Array.from(right)];
  limiter.limit(...sides);
  return sides.map((side) => Array.from(side));
});
console.log(JSON.stringify(told));
"""


def limited(blocks: list[list[list[object]]]) -> np.ndarray:
    program = PROGRAM % (ROOT / "web/audio/limiter.js").as_uri()
    command = [node(), "--input-type=module", "-e", program]
    done = subprocess.run(command, input=json.dumps(blocks), capture_output=True, text=True, check=True)
    return np.array(json.loads(done.stdout))


def test_what_is_at_the_ceiling_or_below_is_the_same_bit_by_bit() -> None:
    given = np.random.default_rng(4).uniform(-CEILING, CEILING, (20, 2, BLOCK)).astype(np.float32)
    given[3, 0, 7] = np.float32(CEILING)
    given[9, 1, 0] = -np.float32(CEILING)
    assert (limited(given.tolist()) == given).all()


@pytest.mark.parametrize("odd", ["nan", "inf"])
def test_what_is_no_number_becomes_silence_and_nothing_after_it_is_hurt(odd: str) -> None:
    given: list[list[list[object]]] = [[[0.25] * 8, [0.5] * 8], [[0.25] * 8, [0.5] * 8]]
    given[0][1][3] = odd
    wanted = np.array([[[0.25] * 8, [0.5] * 8]] * 2)
    wanted[0, 1, 3] = 0
    assert (limited(given) == wanted).all()
