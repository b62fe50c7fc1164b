"""Graces are strokes: how far from theirs, how loud, and never across the stroke before, at any tempo."""

from __future__ import annotations

from fractions import Fraction

import pytest

from groundbeat.codec.groove_read import read_groove
from groundbeat.model.meter import QUARTER
from groundbeat.sound import stage
from groundbeat.timeline.unroll import Timeline, unroll
from groundbeat.variation.stack import grow

RATE = 44100


def laid(letter: str, snare: str = "----O-----------", tempo: int = 100) -> Timeline:
    graces = "".join(letter if at == 4 else "-" for at in range(16))
    text = f'groundbeat = 1\ntempo = {tempo}\n[base]\nsnare = "{snare}"\nsnare graces = "{graces}"\n'
    groove = read_groove(text)
    return unroll(groove, grow(groove), 0)


def around(line: Timeline, tempo: int) -> list[int]:
    """Frames of all strokes of a round, counted from the stroke that is on the second beat."""
    hits = stage.lay([stage.Part(line, 1)], 100 * tempo, QUARTER, stage.Heard())
    beat = hits.start + stage.nearest(Fraction(RATE * 60, tempo))
    return [hit.frame - beat for hit in hits.hits]


@pytest.mark.parametrize(
    ("letter", "tempo", "milliseconds"),
    [("1", 30, [-30, 0]), ("2", 30, [-70, -35, 0]), ("3", 100, [-105, -70, -35, 0]), ("3", 20, [-105, -70, -35, 0])],
)
def test_graces_keep_their_distance_whatever_the_tempo(letter, tempo, milliseconds):
    assert around(laid(letter), tempo) == [round(RATE * one / 1000 + 1e-6) for one in milliseconds]


@pytest.mark.parametrize("letter", ["1", "2", "3"])
@pytest.mark.parametrize("tempo", [90, 200, 300])
def test_graces_come_closer_rather_than_cross_the_stroke_before(letter, tempo):
    frames = around(laid(letter, "---oO-----------"), tempo)
    before, *graces, main = frames
    assert before == pytest.approx(-RATE * 15 / tempo, abs=1) and main == 0
    assert before < min(graces) and graces == sorted(graces) and max(graces) < 0
    gaps = [b - a for a, b in zip(frames, frames[1:], strict=False)]
    assert max(gaps[1:]) - min(gaps[1:]) <= 2, "evenly"


@pytest.mark.parametrize(("snare", "strokes"), [("----O-----------", 10), ("----Oo----------", 5)])
def test_a_buzz_is_dense_and_even_falls_and_fills_the_time_to_the_next_stroke(snare, strokes):
    line = laid("z", snare)
    bounces = [event for event in line.events if event.grace]
    assert len(bounces) == strokes
    assert [event.gain for event in bounces] == sorted((event.gain for event in bounces), reverse=True)
    for tempo in (20, 100, 300):
        frames = [frame for frame in around(line, tempo) if frame >= 0][: strokes + 1]
        gaps = {b - a for a, b in zip(frames, frames[1:], strict=False)}
        assert max(gaps) - min(gaps) <= 2 and max(gaps) <= 0.0281 * RATE
        if len(snare.strip("-")) == 2:
            assert frames[-1] < RATE * 15 / tempo, "not into the next stroke"


def test_notes_rise_towards_the_stroke_and_the_second_of_a_diddle_is_a_little_softer():
    assert [event.gain for event in laid("3").events] == [-400, -200, 0, 0]
    first, second = laid("/").events
    assert (first.gain, second.gain, second.at - first.at) == (0, -150, 1260)
    assert [event.gain for event in laid("1", "----g-----------").events] == [-300, 0]
