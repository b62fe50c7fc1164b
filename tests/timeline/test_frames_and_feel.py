"""When stages sound whose length, meter or feel differs from the base beat: exact places, layer by layer."""

from __future__ import annotations

from fractions import Fraction

from groundbeat.codec.groove_read import read_groove
from groundbeat.timeline.unroll import unroll
from groundbeat.variation.stack import add, grow

ROCK = read_groove(
    'groundbeat = 1\n[base]\nhi-hat = "x-x-x-x-x-x-x-x-"\nsnare = "----O-------O---"\nkick = "o------oo-------"\n'
)


def timeline(groove, *rows):
    for kind, settings in rows:
        groove = add(groove, kind, settings)
    stages = grow(groove)
    return unroll(groove, stages, len(stages) - 1)


def places(found, surface, *layers):
    """Where a surface sounds in these layers, in ticks."""
    return [Fraction(e.at, found.parts) for e in found.events if e.surface == surface and e.layer in layers]


def test_a_swing_begins_at_its_stage_and_the_base_beat_stays_straight():
    """Eighths 2:1: an & lies 6720 behind its number, the a of 2 (2520 behind the &) 6720 + 1680."""
    found = timeline(ROCK, ("feel", {"swing": "eighths 2:1"}))
    assert found.parts == 3 and found.loop == 3 * 40320
    assert places(found, "kick", "base", "both") == [0, 17640, 20160]
    assert places(found, "kick", "stage", "both") == [0, 10080 + 6720 + 1680, 20160]
    assert places(found, "hi-hat", "base") == list(range(5040, 40320, 10080))
    assert places(found, "hi-hat", "stage") == [n * 10080 + 6720 for n in range(4)]
    assert places(found, "hi-hat", "both") == [n * 10080 for n in range(4)], "what sounds the same sounds once"


def test_a_stroke_that_is_pushed_at_one_stage_only_is_not_the_same():
    found = timeline(ROCK, ("feel", {"surface": "snare", "push": "12 ms late"}))
    assert {event.layer for event in found.events if event.surface == "snare"} == {"base", "stage"}
    assert {event.layer for event in found.events if event.surface != "snare"} == {"both"}


def test_two_swings_keep_exact_places_in_one_time_line():
    """Base sixteenths 3:2, stage eighths 2:1: both are whole numbers of a fifteenth of a tick."""
    lazy = read_groove('groundbeat = 1\n[base]\nhi-hat = "xxxxxxxxxxxxxxxx"\n[feel]\nswing = "sixteenths 3:2"\n')
    found = timeline(lazy, ("feel", {"swing": "eighths 2:1"}))
    assert found.parts == 15
    assert places(found, "hi-hat", "base", "both")[:5] == [0, 3024, 5040, 8064, 10080]
    assert places(found, "hi-hat", "stage", "both")[:5] == [0, 3360, 6720, 8400, 10080]


def test_a_swing_that_does_not_divide_gives_fractions_of_a_tick():
    found = timeline(ROCK, ("feel", {"swing": "sixteenths 6:5"}))
    assert found.parts == 11
    assert places(found, "kick", "stage", "both")[1] == 15120 + Fraction(5040 * 6, 11)


def test_swing_turned_off_at_a_stage_leaves_the_base_beat_swung():
    swung = read_groove('groundbeat = 1\n[base]\nhi-hat = "x-x-x-x-x-x-x-x-"\n[feel]\nswing = "eighths 2:1"\n')
    found = timeline(swung, ("feel", {"swing": "straight"}))
    assert places(found, "hi-hat", "base", "both")[:3] == [0, 6720, 10080]
    assert places(found, "hi-hat", "stage", "both")[:3] == [0, 5040, 10080]


def test_the_clicks_follow_the_feel_of_the_stage_and_stay_on_the_beats():
    found = timeline(ROCK, ("feel", {"swing": "eighths 3:1"}))
    assert [Fraction(click.at, found.parts) for click in found.clicks] == [0, 10080, 20160, 30240]


def test_a_push_holds_in_the_stage_alone():
    found = timeline(ROCK, ("feel", {"surface": "snare", "push": "12 ms late"}))
    assert {(e.layer, e.us) for e in found.events if e.surface == "snare"} == {("base", 0), ("stage", 12_000)}
    assert {e.us for e in found.events if e.surface != "snare"} == {0}


def test_the_base_beat_is_repeated_four_times_under_four_bars():
    found = timeline(ROCK, ("length", {"bars": 4}))
    assert found.loop == 4 * 40320
    assert {event.layer for event in found.events} == {"both"}, "copies sound like the base beat, once"
    assert places(found, "snare", "both") == [bar * 40320 + at for bar in range(4) for at in (10080, 30240)]
    assert sum(event.added for event in found.events) == 3 * 13


def test_a_change_in_the_last_bar_leaves_the_base_beat_whole_under_it():
    found = timeline(
        ROCK, ("length", {"bars": 4}), ("displace", {"surface": "snare", "at": "4:all", "by": "1/16 later"})
    )
    assert places(found, "snare", "base", "both") == [bar * 40320 + at for bar in range(4) for at in (10080, 30240)]
    assert places(found, "snare", "stage") == [3 * 40320 + 12600, 3 * 40320 + 32760]


def test_where_the_lengths_do_not_come_out_even_the_base_beat_is_silent():
    seven = timeline(ROCK, ("length", {"bar": "an eighth shorter"}))
    assert seven.loop == 35280
    assert {event.layer for event in seven.events} == {"stage"}
    assert [(click.at, click.strong) for click in seven.clicks] == [(0, True), (10080, False), (20160, False)]
    three_of_two = timeline(add(ROCK, "length", {"bars": 2}), ("length", {"bars": 3}))
    assert places(three_of_two, "snare", "both")[-1] == 2 * 40320 + 30240, "the base beat has one bar, and fits three"


def test_under_fewer_bars_than_its_own_the_base_beat_is_silent():
    two = read_groove('groundbeat = 1\nbars = 2\n[base]\nsnare = "----O-------O-------O-------O---"\n')
    assert {event.layer for event in timeline(two, ("length", {"bars": 1})).events} == {"stage"}


def test_eight_bars_of_seven_eight_lie_over_fifty_six_eighths():
    seven = read_groove('groundbeat = 1\nmeter = "7/8"\n[base]\nkick = "o-------o-----"\n')
    found = timeline(seven, ("length", {"bars": 8}))
    assert places(found, "kick", "both") == [bar * 35280 + at for bar in range(8) for at in (0, 20160)]


def test_half_time_at_twice_the_length_has_two_rounds_of_the_base_beat_beside_it():
    found = timeline(ROCK, ("half-time", {"form": "twice the length"}))
    assert places(found, "snare", "base") == [10080, 30240, 50400, 70560]
    assert places(found, "snare", "stage") == [20160, 60480]
    assert places(found, "hi-hat", "both") == list(range(0, 80640, 10080))


def test_a_diddle_is_halved_by_the_columns_of_its_own_layer():
    """In sixteenths its second half lies 1260 later, after going to eighth triplets 1680."""
    rolled = read_groove('groundbeat = 1\n[base]\nsnare = "----o-----------"\nsnare-graces = "----/-----------"\n')
    found = timeline(rolled, ("subdivide", {}))
    halves = {event.layer: event.at for event in found.events if event.grace}
    assert halves == {"base": 10080 + 1260, "stage": 10080 + 1680}


def test_a_part_of_a_longer_stage_loops_by_itself():
    groove = add(ROCK, "length", {"bars": 2})
    found = unroll(groove, grow(groove), 1, 40320, 80640)
    assert (found.start, found.loop) == (40320, 40320)
    assert places(found, "snare", "both") == [10080, 30240]
