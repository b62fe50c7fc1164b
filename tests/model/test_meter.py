"""Meters, their groupings and what the tempo counts."""

from __future__ import annotations

import pytest
from hypothesis import given

from groundbeat.errors import MeterError
from groundbeat.model.meter import QUARTER, Meter
from tests.strategies import meters


@given(meters())
def test_groups_fill_the_bar(meter):
    assert sum(meter.grouping) == meter.count
    assert meter.bar == meter.count * meter.number


@pytest.mark.parametrize(
    ("text", "beats"),
    [("4/4", (1, 2, 3, 4)), ("6/8", (1, 4)), ("7/8", (1, 3, 5)), ("12/8", (1, 4, 7, 10)), ("5/4", (1, 2, 3, 4, 5))],
)
def test_beats_follow_the_grouping_over_eight_and_the_numbers_over_four(text, beats):
    assert Meter.of(text).beats == beats


def test_a_grouping_of_ones_own_moves_the_beats():
    assert Meter.of("7/8", "3+2+2").beats == (1, 4, 6)
    assert not Meter.of("7/8", "3+2+2").is_usual


@pytest.mark.parametrize(
    ("text", "unit", "ticks"),
    [
        ("4/4", "quarter", QUARTER),
        ("2/2", "half", 2 * QUARTER),
        ("6/8", "dotted quarter", 15120),
        ("9/8", "dotted quarter", 15120),
        ("12/8", "dotted quarter", 15120),
        ("7/8", "eighth", 5040),
        ("15/16", "eighth", 5040),
    ],
)
def test_the_tempo_counts_the_usual_note(text, unit, ticks):
    assert Meter.of(text).tempo_unit == (unit, ticks)


@pytest.mark.parametrize(
    ("text", "grouping", "said"),
    [
        ("8/4", "", "from 2 to 7"),
        ("16/8", "", "from 2 to 15"),
        ("4/16", "", "from 5 to 15"),
        ("4/3", "", "2, 4, 8, 16"),
        ("four", "", "not a meter"),
        ("4/", "", "not a meter"),
        ("-4/4", "", "not a meter"),
        ("7/8", "3+3", "adds up to 6"),
        ("7/8", "7+0", "not a grouping"),
        ("7/8", "x", "not a grouping"),
    ],
)
def test_a_meter_that_no_beat_has_is_refused_in_words(text, grouping, said):
    with pytest.raises(MeterError, match=said):
        Meter.of(text, grouping)
