"""Tempo follows clean passes, in small steps, and never runs away in a day."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from groundbeat.analysis.passes import (
    Pass,
    back,
    first,
    ladder,
    last_clean,
    next_tempo,
    rounds,
    seconds,
    up,
)
from groundbeat.errors import RequestError

tempos = st.integers(2000, 40000)
yesterdays = st.one_of(st.just(0), tempos)


def played(goal: int, yesterday: int, cleans: list[bool], reducible: bool = False) -> list[Pass]:
    """The passes of a student who always plays what is told."""
    row: list[Pass] = []
    for clean in cleans:
        told = next_tempo(row, goal, yesterday, reducible=reducible)
        row.append(Pass(told.tempo, clean, told.reduced))
    return row


def test_a_day_begins_at_sixty_per_cent_or_at_the_last_clean_tempo():
    assert next_tempo([], 9200).tempo == 5500, "55.2, down to a mark of the metronome"
    assert next_tempo([], 9200, 7400).tempo == 7400
    assert next_tempo([], 9200, 12000).tempo == 9200, "never beyond the goal"
    assert next_tempo([], 3000).tempo == 2000, "the slowest that a groove has"


def test_three_clean_passes_in_a_row_go_up_and_two_do_not():
    row = [Pass(6000, True), Pass(6000, True)]
    assert next_tempo(row, 10000).tempo == 6000
    assert next_tempo([*row, Pass(6000, True)], 10000).work == 6400, "6.67 %; 63 and 64 lie within 5 to 7"
    broken = [Pass(6000, True), Pass(6000, False), Pass(6000, True), Pass(6000, True)]
    assert next_tempo(broken, 10000).work == 6000, "in a row"


def test_two_bad_passes_go_back_by_ten_per_cent():
    assert next_tempo([Pass(6000, False)], 10000).tempo == 6000
    assert next_tempo([Pass(6000, False)] * 2, 10000).tempo == 5400
    assert next_tempo([Pass(6000, False), Pass(6000, True), Pass(6000, False)], 10000).work == 6000


def test_below_85_per_cent_the_goal_comes_only_without_ghosts():
    row = [Pass(6000, True), Pass(6000, False), Pass(6000, True)]
    assert next_tempo(row, 10000) == (6000, False, 6000, "60 % of the goal"), "nothing to leave out"
    told = next_tempo(row, 10000, reducible=True)
    assert (told.tempo, told.reduced, told.work) == (10000, True, 6000)


def test_from_85_per_cent_every_fourth_pass_is_at_the_goal():
    row = played(10000, 8500, [True, False, True, False, True, False, True])
    assert [each.tempo for each in row] == [8500, 8500, 8500, 10000, 8500, 8500, 8500]
    assert next_tempo(row, 10000, 8500).tempo == 10000
    assert not any(each.reduced for each in row)
    below = played(10000, 8400, [True, False] * 4)
    assert all(each.tempo == 8400 for each in below)


def test_a_day_adds_seven_per_cent_at_most():
    row = played(10000, 7000, [True] * 30)
    assert {each.tempo for each in row} == {7000, 7400}, "74.9 is the limit"
    assert next_tempo(row, 10000, 7000).because == "no more than 7 % above yesterday's tempo in a day"


def test_what_was_reduced_counts_neither_way():
    row = [Pass(6000, True)] * 2 + [Pass(10000, False, True)] * 5 + [Pass(6000, True)]
    assert next_tempo(row, 10000).work == 6400


def test_slower_than_told_is_not_counted_as_clean_and_a_bad_try_at_the_goal_not_as_bad():
    assert next_tempo([Pass(5000, True)] * 5, 10000).work == 6000
    assert next_tempo([Pass(9000, False)] * 5, 9000, 8000).work == 8000


def test_the_ladder_goes_from_the_start_to_the_goal():
    assert ladder(9200) == (5500, 5800, 6100, 6500, 6900, 7300, 7700, 8200, 8700, 9200)
    assert ladder(9250)[-1] == 9250, "a goal between two marks is reached"
    assert ladder(9200, 7000) == (7000, 7400)
    assert ladder(9200, 9200) == (9200,)


def test_a_pass_is_four_bars_and_fifteen_seconds():
    assert rounds(40320, 1, 10080, 6000) == 4, "four bars of four seconds"
    assert rounds(40320, 1, 10080, 9200) == 6, "five bars would be 13 seconds"
    assert rounds(80640, 2, 10080, 9200) == 3
    assert rounds(16 * 40320, 16, 10080, 12000) == 1
    assert seconds(40320, 1, 10080, 6000) == 16


def test_tomorrow_begins_with_the_fastest_tempo_that_was_clean_three_times():
    row = [Pass(6000, True)] * 3 + [Pass(6400, True)] * 2 + [Pass(6400, False)] + [Pass(9000, True, True)] * 3
    assert last_clean(row) == 6000
    assert last_clean([], 5500) == 5500


@pytest.mark.parametrize(("goal", "yesterday", "field"), [(1999, 0, "goal"), (9000, 40001, "yesterday")])
def test_a_tempo_that_no_groove_has_is_refused(goal: int, yesterday: int, field: str):
    with pytest.raises(RequestError, match=f"{field} is .*20 to 400"):
        next_tempo([], goal, yesterday)


@given(tempos)
def test_up_is_five_to_seven_per_cent_and_back_at_least_ten(tempo: int):
    assert Fraction(105, 100) <= Fraction(up(tempo), tempo) <= Fraction(107, 100)
    lower = back(tempo)
    assert lower == 2000 or tempo * 9 // 10 - 100 < lower <= tempo * 9 // 10
    assert lower <= tempo


@given(tempos, yesterdays, st.lists(st.booleans(), max_size=60), st.booleans())
def test_no_day_runs_away(goal: int, yesterday: int, cleans: list[bool], reducible: bool):
    row: list[Pass] = []
    work = first(goal, yesterday)
    for clean in cleans:
        told = next_tempo(row, goal, yesterday, reducible=reducible)
        assert 2000 <= told.work <= goal and told.tempo <= goal
        if yesterday:
            assert told.work <= max(yesterday, yesterday * 107 // 100)
        assert told.work <= work * 107 // 100, "no step is larger than 7 %"
        if told.tempo != told.work:
            assert told.tempo == goal and (len(row) + 1) % 4 == 0
            assert told.reduced == (told.work * 100 < goal * 85)
        assert reducible or not told.reduced
        work = told.work
        row.append(Pass(told.tempo, clean, told.reduced))
        assert next_tempo(row, goal, yesterday, reducible=reducible) == next_tempo(
            tuple(row), goal, yesterday, reducible=reducible
        )


@given(tempos, yesterdays)
def test_who_always_plays_clean_climbs_the_ladder(goal: int, yesterday: int):
    rungs = ladder(goal, yesterday)
    row = played(goal, yesterday, [True] * (4 * len(rungs) + 8))
    works = [next_tempo(row[:count], goal, yesterday).work for count in range(len(row) + 1)]
    assert list(dict.fromkeys(works)) == list(rungs)
    assert list(rungs) == sorted(rungs)
    if not yesterday:
        assert rungs[-1] == goal


@given(tempos, st.integers(1, 16), st.sampled_from([10080, 5040, 15120, 20160]), st.integers(2, 15))
def test_a_pass_is_never_shorter_and_never_a_round_longer(tempo: int, bars: int, unit: int, count: int):
    cycle = bars * count * 5040
    many = rounds(cycle, bars, unit, tempo)
    one = Fraction(cycle * 6000, unit * tempo)
    assert many * bars >= 4 and many * one >= 15
    assert (many - 1) * bars < 4 or (many - 1) * one < 15
