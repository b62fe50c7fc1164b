"""What is heard of graces: where they begin in the rendered sound, and how loud they are beside their stroke."""

from __future__ import annotations

import numpy as np
import pytest

from groundbeat.codec.groove_read import read_groove
from groundbeat.model.meter import QUARTER
from groundbeat.sound import mix, render, stage
from groundbeat.timeline.unroll import unroll
from groundbeat.variation.stack import grow

RATE = 44100
BEAT = 26460  # frames until the second beat at 100


def heard(letter: str) -> np.ndarray:
    """A snare's accent on the second beat of 100 a minute; frame 0 is the start of the bar."""
    text = f'groundbeat = 1\n[base]\nsnare = "----O-----------"\nsnare graces = "----{letter}-----------"\n'
    groove = read_groove(text)
    laid = stage.lay([stage.Part(unroll(groove, grow(groove), 0), 1)], 10000, QUARTER, stage.Heard())
    assert laid.start == 0
    return mix.render(laid.hits, stage.voices_for(laid.hits), RATE)[:, 0].astype(np.float64)


@pytest.fixture(autouse=True)
def remembered(monkeypatch: pytest.MonkeyPatch, voice) -> None:
    monkeypatch.setattr(render, "voice", voice)


@pytest.mark.parametrize(("letter", "wanted"), [("1", [-30]), ("2", [-70, -35]), ("3", [-105, -70, -35])])
def test_graces_are_heard_before_their_stroke_and_rise_towards_it(letter, wanted):
    plain, sound = heard("-"), heard(letter)
    assert not plain[:BEAT].any() and (np.abs(plain[BEAT:]).max() > 0.05)
    starts = [BEAT + round(RATE * at / 1000) for at in wanted]
    loud = np.flatnonzero(np.abs(sound) > 0.002)[0]
    assert not sound[: starts[0]].any() and loud - starts[0] < 0.002 * RATE
    steps = [np.abs(np.diff(sound[at : at + 220])).max() for at in starts]  # the stick, not what rings on
    before = [np.abs(np.diff(sound[at - 220 : at])).max() for at in starts]
    assert all(step > 1.2 * was for step, was in zip(steps, before, strict=True)), "each begins anew"
    heights = [20 * np.log10(np.abs(sound[at : at + 441]).max()) for at in [*starts, BEAT]]
    assert heights == sorted(heights)
    assert 6 < heights[-1] - heights[-2] < 20, "softer than the stroke, and heard beside it"


def test_a_buzz_is_heard_as_one_sound_that_falls_and_has_no_gap():
    rest = (heard("z") - np.pad(heard("-"), (0, 20000))[: len(heard("z"))])[BEAT:]
    window = round(0.028 * RATE)
    powers = [np.sqrt((rest[at : at + window] ** 2).mean()) for at in range(window, 11 * window, window)]
    decibels = 20 * np.log10(powers)
    assert np.abs(np.diff(decibels)).max() < 3, "no gap"
    assert 4 < decibels[0] - decibels[-1] < 12, "it falls"
    after = rest[16 * window : 17 * window]
    assert np.sqrt((after**2).mean()) < 0.3 * powers[-1], "and is over"
