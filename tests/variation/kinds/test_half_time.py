"""Half-time and double-time: where the backbeat goes in every meter, and that the long forms undo each other."""

from __future__ import annotations

import pytest
from hypothesis import assume, given

from groundbeat.codec.groove_read import read_groove
from groundbeat.errors import GroundbeatError
from groundbeat.model.groove import Groove
from groundbeat.model.meter import Meter
from groundbeat.variation.half_time import middle_of
from groundbeat.variation.stack import add, grow, make, plain
from tests.strategies import beats


def groove(lines: str, meter: str = "4/4", columns: str = "sixteenths", bars: int = 1, grouping: str = ""):
    more = f'grouping = "{grouping}"\n' if grouping else ""
    return read_groove(
        f'groundbeat = 1\nmeter = "{meter}"\n{more}bars = {bars}\ncolumns = "{columns}"\n[base]\n{lines}\n'
    )


ROCK = groove('hi-hat = "x-x-x-x-x-x-x-x-"\nsnare = "----O-------O---"\nkick = "o-------o-------"')


def last(base, **settings):
    return grow(add(base, "half-time", settings))[-1]


def line(stage, surface, column=2520):
    return [s.at // column for s in stage.beat.strokes if s.surface == surface]


def test_the_backbeat_goes_to_three_and_the_rest_stays():
    stage = last(ROCK)
    assert line(stage, "snare") == [8]
    assert line(stage, "hi-hat") == [0, 2, 4, 6, 8, 10, 12, 14]
    assert line(stage, "kick") == [0, 8]
    assert [move.id for move in stage.change.moved] == ["0/snare@1/4"]
    assert stage.change.left_out == ("0/snare@3/4",)
    assert stage.says == ()


def test_every_bar_has_its_own():
    stage = last(groove('snare = "----O-------O-------O-------O---"', bars=2))
    assert line(stage, "snare") == [8, 24]


def test_a_ghost_on_three_is_taken_in():
    stage = last(groove('snare = "----O---g---O---"'))
    (merge,) = stage.change.merged
    assert merge.id == "0/snare@1/4"
    assert set(merge.parents) == {"0/snare@1/4", "0/snare@1/2"}


@pytest.mark.parametrize(
    ("meter", "row", "grouping", "expected"),
    [
        ("3/4", "----O-------", "", [8]),
        ("3/4", "----O---O---", "", [8]),  # the one that stands on 3 stays
        ("5/4", "----O-------O-------", "", [12]),
        ("7/8", "----O-----O---", "", [8]),
        ("7/8", "----O-----O---", "3+2+2", [6]),
        ("9/8", "------O-----------", "", [12]),
        ("12/8", "------O-----------O-----", "", [12]),
        ("5/8", "-O--------" * 2, "", [10]),
    ],
)
def test_the_middle_of_every_meter(meter, row, grouping, expected):
    bars = 2 if meter == "5/8" else 1
    assert line(last(groove(f'snare = "{row}"', meter, bars=bars, grouping=grouping)), "snare") == expected


def test_shuffle_in_triplets():
    stage = last(groove('snare = "---O-----O--"', columns="eighth triplets"))
    assert line(stage, "snare", 3360) == [6]


def test_two_beats_a_bar_take_two_bars_at_a_time():
    one = last(groove('snare = "------O-----"', "6/8"))
    assert one.says == ("half-time in 6/8 takes two bars at a time; lengthen the beat to 2 bars",)
    assert line(one, "snare") == [6]
    two = last(groove('snare = "------O-----------O-----"', "6/8", bars=2))
    assert line(two, "snare") == [12]
    assert two.says == ()


def test_a_bar_of_one_beat_has_no_middle():
    stage = last(groove('snare = "--O---"', "3/8"))
    assert stage.says == ("a bar of 3/8 is a single beat and has no middle; play it at twice the length",)


def test_half_time_already_and_no_backbeat_are_said():
    assert last(groove('snare = "--------O-------"')).says == ("the backbeat is in the middle already",)
    assert last(groove('kick = "o-------o-------"')).says == ("found no backbeat",)


def test_twice_the_length_doubles_every_place_and_the_bars():
    stage = last(ROCK, form="twice the length")
    assert stage.beat.bars == 2
    assert line(stage, "snare") == [8, 24]
    assert line(stage, "hi-hat") == [0, 4, 8, 12, 16, 20, 24, 28]
    assert line(stage, "kick") == [0, 16]
    assert not stage.change.crossed and not stage.change.left_out


def test_twice_the_length_of_nine_bars_is_too_long():
    nine = grow(add(add(ROCK, "length", {"bars": 9}), "half-time", {"form": "twice the length"}))[-1]
    assert nine.says == ("that makes 18 bars; a beat has at most 16; nothing was changed",)
    assert nine.beat.bars == 9 and not nine.change.moved


def test_the_middle_is_the_nearest_beat_and_of_two_the_later():
    named = {"4/4": 3, "3/4": 3, "5/4": 4, "6/4": 4, "7/4": 5, "3/2": 3, "7/8": 5, "9/8": 7, "12/8": 7, "15/16": 10}
    for name, number in named.items():
        meter = Meter.of(name)
        assert middle_of(meter) == (number - 1) * meter.number, name


def test_it_reads_as_a_teacher_says_it():
    assert plain(make(1, "half-time", {})) == "Play in half-time, the backbeat in the middle of the bar."
    assert plain(make(1, "half-time", {"form": "twice the length"})) == (
        "Play in half-time, everything at twice the length."
    )


def test_an_unknown_form_names_the_setting():
    with pytest.raises(GroundbeatError, match="form: .*slow.* is not one of same length, twice the length"):
        make(1, "half-time", {"form": "slow"})


@given(beats())
def test_twice_the_length_and_half_the_length_restore_the_beat(beat):
    long = add(Groove(base=beat), "half-time", {"form": "twice the length"})
    base, between, again = grow(add(long, "double-time", {"form": "half the length"}))
    assert between.beat.bars == 2 * beat.bars
    assert again.beat.bars == beat.bars and again.beat.meter == beat.meter
    assert [(s.id, s.at, s.dynamic) for s in again.beat.strokes] == [(s.id, s.at, s.dynamic) for s in base.beat.strokes]
    assert again.says == ()
    if all(s.at % beat.column == 0 for s in beat.strokes):
        assert again.beat.columns == beat.columns


@given(beats())
def test_at_the_same_length_only_backbeats_change_and_one_a_bar_is_left(beat):
    base, stage = grow(add(Groove(base=beat), "half-time", {}))
    backbeats = set(base.backbeats)
    changed = {move.id for move in stage.change.moved} | set(stage.change.left_out)
    assert changed <= backbeats
    assert not stage.change.added and not stage.change.altered
    assume(len(beat.meter.beats) > 2)
    bars = [s.at // beat.meter.bar for s in stage.beat.strokes if s.id in stage.backbeats]
    assert len(bars) == len(set(bars))
