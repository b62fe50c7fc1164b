"""The series of three weeks is one beat that goes on: each week begins where the last one ended."""

from __future__ import annotations

from pathlib import Path

import pytest

from groundbeat.codec.groove_read import read_groove
from groundbeat.codec.link import read_link, write_link
from groundbeat.variation.stack import grow

WEEKS = sorted((Path(__file__).resolve().parents[2] / "examples" / "series").glob("week-*.toml"))
GROOVES = [read_groove(path.read_text(encoding="utf-8")) for path in WEEKS]


def test_every_week_goes_on_where_the_last_one_ended():
    assert len(GROOVES) == 3
    for before, after in zip(GROOVES, GROOVES[1:], strict=False):
        assert after.base == before.base
        assert after.variations[: len(before.variations)] == before.variations
        assert len(after.variations) > len(before.variations)
        assert after.tempo > before.tempo


@pytest.mark.parametrize("groove", GROOVES, ids=lambda groove: groove.title)
def test_every_stage_of_the_series_changes_something_and_the_kick_of_the_base_stays(groove):
    stages = grow(groove)
    for before, after in zip(stages, stages[1:], strict=False):
        assert after.beat != before.beat or after.feel != before.feel
        assert not [text for text in after.says if text.startswith("found no")]
    kicks = {stroke.id for stroke in stages[0].beat.strokes if stroke.surface == "kick"}
    assert kicks <= {stroke.id for stroke in stages[-1].beat.strokes}
    assert read_link(write_link(groove)).groove == groove
