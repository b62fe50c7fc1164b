"""What drummers really played is not called impossible.

The whole of the 48 performances takes half a minute: `python3 engine bench real_playing`. Here every sixth of them by
name is read whole, one of each drummer where there is one; and of all of them the strokes as they were played.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from groundbeat.analysis.tempo import fastest
from tests.bench.real_playing import Found, bars, crowded, judge


@pytest.fixture(scope="module")
def files(real_inputs) -> list[Path]:
    found = sorted((real_inputs / "drum_midi").glob("*.mid"))
    assert len(found) == 48
    return found


@pytest.fixture(scope="module")
def judged(files) -> list[Found]:
    return [judge(bar) for path in files[4::6] for bar in bars(path)]


def test_less_than_one_moment_in_a_thousand_is_impossible(judged):
    moments = sum(found.moments for found in judged)
    assert moments > 2500
    assert sum(found.impossible for found in judged) < moments / 1000


def test_of_the_strokes_as_played_hardly_any_ask_for_a_third_hand_or_foot(files):
    counts = [crowded(path) for path in files]
    moments, too_many = (sum(row) for row in zip(*counts, strict=True))
    assert moments > 20000
    assert too_many < moments / 1000


def test_what_lies_beyond_a_floor_becomes_possible_at_a_slower_tempo(judged):
    beyond = [found for found in judged if found.beyond and found.playing.possible]
    assert beyond
    for found in beyond:
        limit = fastest(found.playing)
        assert limit.bpm is not None and limit.bpm * 100 < found.bar.tempo
        assert limit.playing.playable and limit.steps


def test_most_bars_that_people_played_are_within_the_floors(judged):
    # Not a goal to tune floors by: they come from other measurements. The whole share is told by the bench.
    assert sum(bool(found.beyond) for found in judged) < len(judged) / 5


def test_the_double_triggers_of_a_kick_are_left_out(files):
    from tests.bench.real_playing import performance

    path = next(file for file in files if file.name.startswith("drummer5__7_pop"))
    from groundbeat.midi.reader import read

    assert len(performance(path).notes) < len(read(path.read_bytes()).notes)
