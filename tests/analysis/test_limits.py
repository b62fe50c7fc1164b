"""How fast limbs go: usual limits, and those of a player's own test."""

from __future__ import annotations

import pytest

from groundbeat.analysis import limits
from groundbeat.analysis.limits import Limits, by_run, own_limits, scale, travel_comfort
from groundbeat.errors import RequestError


def test_a_floor_lies_below_its_comfort():
    pairs = [
        (limits.HAND_FLOOR, limits.HAND_COMFORT), (limits.DOUBLE_FLOOR, limits.DOUBLE_COMFORT),
        (limits.TRAVEL_FLOOR, limits.TRAVEL_COMFORT), (limits.PEDAL_FLOOR, limits.PEDAL_COMFORT),
        (limits.HALF_FLOOR, limits.HALF_COMFORT),
        *((by_run(limits.FOOT_FLOOR, n), by_run(limits.FOOT_COMFORT, n)) for n in range(2, 20)),
    ]  # fmt: skip
    assert all(0 < floor < comfort for floor, comfort in pairs)


def test_a_longer_run_of_a_foot_is_slower():
    for table in (limits.FOOT_FLOOR, limits.FOOT_COMFORT):
        assert [by_run(table, n) for n in range(2, 30)] == sorted(by_run(table, n) for n in range(2, 30))
    assert [by_run(limits.FOOT_COMFORT, n) for n in (2, 3, 4, 7, 8, 15, 16, 99)] == [
        150,
        150,
        158,
        158,
        186,
        186,
        231,
        231,
    ]


def test_a_farther_reach_takes_longer_from_40_cm_on():
    assert [travel_comfort(cm) for cm in (5.0, 40.0)] == [176.0, 176.0]
    assert travel_comfort(80.0) == pytest.approx(176 + 94.7)


def test_the_fastest_hand_of_the_sources_has_the_usual_numbers():
    assert scale(0, 101) == pytest.approx(1.0)
    assert scale(2, 51) == pytest.approx(200 / 160)


def test_a_limb_that_was_not_tested_keeps_the_usual_numbers():
    assert own_limits({}) == Limits() == Limits(1.0, 1.0, 1.0, 1.0)
    own = own_limits({1: 61})
    assert (own.lead, own.kick, own.pedal) == (1.0, 1.0, 1.0) and own.other == pytest.approx(10000 / 60 / 100)


@pytest.mark.parametrize("limb", range(4))
def test_fewer_strokes_mean_slower_limits(limb):
    found = [scale(limb, count) for count in range(limits.FEWEST, limits.MOST + 1)]
    assert found == sorted(found, reverse=True)


@pytest.mark.parametrize("count", [-1, 0, 9, 161, 10000])
def test_a_count_that_nobody_can_have_made_is_refused(count):
    with pytest.raises(RequestError, match="between 10 and 160"):
        own_limits({0: count})
