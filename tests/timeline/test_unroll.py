"""When strokes sound: exact places, feel, graces, layers and clicks."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from groundbeat.codec.groove_read import read_groove
from groundbeat.errors import TimelineError
from groundbeat.model.feel import Feel
from groundbeat.timeline.unroll import unroll
from groundbeat.variation.stack import grow
from tests.strategies import grooves


def timeline(text: str, stage: int = -1):
    groove = read_groove("groundbeat = 1\n" + text)
    stages = grow(groove)
    return unroll(groove, stages, stage % len(stages))


@given(grooves(), st.data())
def test_every_stroke_sounds_once_within_the_loop(groove, data):
    stages = grow(groove)
    number = data.draw(st.integers(0, len(stages) - 1))
    found = unroll(groove, stages, number)
    assert found.loop == stages[number].beat.cycle * found.parts
    main = [event for event in found.events if not event.grace and not event.stop and event.layer != "base"]
    assert sorted(event.id for event in main) == sorted(stroke.id for stroke in stages[number].beat.strokes)
    assert all(0 <= event.at < found.loop for event in found.events)


@given(grooves())
def test_the_base_beat_sounds_whole_at_the_left_of_the_slider(groove):
    stages = grow(groove)
    found = unroll(groove, stages, len(stages) - 1)
    rounds, rest = divmod(stages[-1].beat.cycle, groove.base.cycle)
    expected = [
        (Fraction(*groove.feel.sounded(stroke.at + turn * groove.base.cycle)), stroke.surface, stroke.dynamic)
        for turn in range(0 if rest else rounds)  # where it does not come out even it is silent
        for stroke in groove.base.strokes
    ]
    base = [
        (Fraction(event.at, found.parts), event.surface, event.dynamic)
        for event in found.events
        if event.layer != "stage" and not event.grace and not event.stop
    ]
    assert sorted(base) == sorted(expected)


@given(st.integers(1, 9), st.integers(1, 9), st.sampled_from(["eighths", "sixteenths"]))
def test_swing_keeps_the_beats_and_the_order(long, short, swung):
    feel = Feel(swung, long, short)
    sounded = [Fraction(*feel.sounded(tick)) for tick in range(0, 20161, 105)]
    assert sounded == sorted(sounded)
    assert Fraction(*feel.sounded(10080)) == 10080
    half = 5040 if swung == "eighths" else 2520
    assert Fraction(*feel.sounded(half)) == Fraction(2 * half * long, long + short)


def test_swing_of_two_to_one_puts_eighths_on_the_triplet():
    found = timeline('columns = "eighths"\n[base]\nhi-hat = "xxxxxxxx"\n[feel]\nswing = "eighths 2:1"')
    assert [Fraction(event.at, found.parts) for event in found.events[:4]] == [0, 6720, 10080, 16800]


def test_a_push_is_a_fixed_time():
    found = timeline(
        '[base]\nsnare = "----O-------O---"\nkick = "o---------------"\n[feel]\npush = { snare = "10 ms late" }'
    )
    assert {(event.surface, event.us) for event in found.events} == {("snare", 10_000), ("kick", 0)}


@pytest.mark.parametrize(
    ("letter", "graces", "stops"), [("1", 1, 0), ("2", 2, 0), ("3", 3, 0), ("z", 10, 0), ("/", 1, 0), ("#", 0, 1)]
)
def test_graces_are_strokes_of_their_own(letter, graces, stops):
    found = timeline(f'[base]\nsnare = "----O-----------"\nsnare-graces = "----{letter}-----------"')
    assert sum(event.grace for event in found.events) == graces
    assert sum(event.stop for event in found.events) == stops


def test_a_flam_lies_before_its_stroke_and_is_quieter():
    found = timeline('[base]\nsnare = "----O-----------"\nsnare-graces = "----1-----------"')
    grace, main = found.events
    assert (grace.us, grace.dynamic, main.us, main.dynamic) == (-30_000, "soft", 0, "accent")


def test_layers_tell_what_is_only_in_one_of_the_two(slack_tide):
    found = unroll(slack_tide, grow(slack_tide), 1)
    rows = {(event.layer, event.at // 2520) for event in found.events if event.surface == "snare"}
    assert rows == {("base", 4), ("stage", 5), ("both", 12)}


def test_only_what_was_added_is_marked(slack_tide):
    found = unroll(slack_tide, grow(slack_tide), 2)
    assert sorted(event.at // 2520 for event in found.events if event.added) == [1, 3, 9, 11, 13]


def test_clicks_stand_on_the_beats_with_the_first_strong():
    found = timeline('meter = "7/8"\n[base]\nkick = "o-------------"')
    assert [(click.at, click.strong) for click in found.clicks] == [(0, True), (10080, False), (20160, False)]


def test_a_stage_that_is_not_there_is_refused(slack_tide):
    with pytest.raises(TimelineError, match="stages 0 to 4, not 9"):
        unroll(slack_tide, grow(slack_tide), 9)


def test_a_selection_of_counts_loops_by_itself(slack_tide):
    """From 2 to before 4: eight sixteenths, places counted from the 2."""
    found = unroll(slack_tide, grow(slack_tide), 0, 10080, 30240)
    assert (found.start, found.loop) == (10080, 20160)
    rows = sorted((event.surface, event.at // 2520) for event in found.events)
    assert rows == [("hi-hat", 0), ("hi-hat", 2), ("hi-hat", 4), ("hi-hat", 6), ("kick", 3), ("kick", 4), ("snare", 0)]
    assert [(click.at, click.strong) for click in found.clicks] == [(0, False), (10080, False)]


@given(grooves(max_variations=2), st.data())
def test_the_parts_of_a_beat_hold_all_of_it(groove, data):
    stages = grow(groove)
    cycle = stages[-1].beat.cycle
    cut = data.draw(st.integers(1, cycle - 1))
    whole = unroll(groove, stages, len(stages) - 1)
    parts = [unroll(groove, stages, len(stages) - 1, 0, cut), unroll(groove, stages, len(stages) - 1, cut, cycle)]
    assert sum(part.loop for part in parts) == whole.loop
    joined = [event._replace(at=event.at + part.start) for part in parts for event in part.events if not event.room]
    assert sorted(joined) == sorted(
        event for event in whole.events if not event.room
    )  # graces fit the loop they are in


@pytest.mark.parametrize(("start", "end"), [(5, 5), (10, 5), (0, 99999), (-1, 100)])
def test_a_part_that_is_none_is_refused(slack_tide, start, end):
    with pytest.raises(TimelineError, match="a part goes from"):
        unroll(slack_tide, grow(slack_tide), 0, start, end)
