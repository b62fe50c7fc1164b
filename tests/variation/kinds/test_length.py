"""Length: bars repeated, cut, shortened and lengthened, with the meters worked out by hand."""

from __future__ import annotations

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from groundbeat.codec.groove_read import read_groove
from groundbeat.errors import GroundbeatError
from groundbeat.model.groove import Groove
from groundbeat.variation.stack import add, grow, make, plain
from tests.strategies import beats


def groove(lines: str, meter: str = "4/4", columns: str = "sixteenths", bars: int = 1, grouping: str = ""):
    more = f'grouping = "{grouping}"\n' if grouping else ""
    return read_groove(
        f'groundbeat = 1\nmeter = "{meter}"\n{more}bars = {bars}\ncolumns = "{columns}"\n[base]\n{lines}\n'
    )


ROCK = groove('hi-hat = "x-x-x-x-x-x-x-x-"\nsnare = "----O-------O---"\nkick = "o------oo-------"')
TWO = groove('snare = "----O-------O-------O-------O-gO"\nkick = "o-------o-------o-----o-o-------"', bars=2)


def last(base, **settings):
    return grow(add(base, "length", settings))[-1]


def line(stage, surface, column=2520):
    return [s.at // column for s in stage.beat.strokes if s.surface == surface]


def test_a_bar_is_repeated_with_copies_that_know_what_they_copy():
    stage = last(ROCK, bars=4)
    assert stage.beat.bars == 4
    assert line(stage, "snare") == [4, 12, 20, 28, 36, 44, 52, 60]
    assert line(stage, "kick") == [0, 7, 8, 16, 23, 24, 32, 39, 40, 48, 55, 56]
    assert len(stage.change.kept) == 13 and len(stage.change.added) == 39
    assert dict(stage.change.of)["1/snare@5/4"] == "0/snare@1/4"
    assert len(stage.backbeats) == 8
    assert stage.says == ()


def test_two_bars_are_repeated_in_their_order():
    stage = last(TWO, bars=4)
    assert line(stage, "kick") == [0, 8, 16, 22, 24, 32, 40, 48, 54, 56]
    assert stage.says == ()


def test_three_bars_of_a_beat_of_two_are_cut():
    stage = last(TWO, bars=3)
    assert line(stage, "kick") == [0, 8, 16, 22, 24, 32, 40]
    assert stage.says == ("the beat has 2 bars; the last time it is cut",)


def test_fewer_bars_leave_out_the_rest():
    stage = last(TWO, bars=1)
    assert line(stage, "snare") == [4, 12]
    assert len(stage.change.left_out) == 7
    assert stage.beat.bars == 1


@pytest.mark.parametrize(
    ("meter", "grouping", "bar", "expected", "groups"),
    [
        ("4/4", "", "a sixteenth shorter", "15/16", (4, 4, 4, 3)),
        ("4/4", "", "an eighth shorter", "7/8", (2, 2, 3)),
        ("4/4", "", "a beat shorter", "3/4", (1, 1, 1)),
        ("4/4", "", "an eighth longer", "9/8", (2, 2, 2, 3)),
        ("4/4", "", "a beat longer", "5/4", (1, 1, 1, 1, 1)),
        ("3/4", "", "a sixteenth longer", "13/16", (4, 4, 5)),
        ("3/4", "", "an eighth shorter", "5/8", (2, 3)),
        ("2/2", "", "an eighth shorter", "7/8", (4, 3)),
        ("2/2", "", "a beat longer", "3/2", (1, 1, 1)),
        ("2/2", "", "a beat shorter", "2/4", (1, 1)),
        ("6/8", "", "a sixteenth shorter", "11/16", (6, 5)),
        ("6/8", "", "an eighth shorter", "5/8", (3, 2)),
        ("6/8", "", "an eighth longer", "7/8", (3, 4)),
        ("6/8", "", "a beat shorter", "3/8", (3,)),
        ("6/8", "", "a beat longer", "9/8", (3, 3, 3)),
        ("12/8", "", "a beat shorter", "9/8", (3, 3, 3)),
        ("7/8", "", "an eighth shorter", "3/4", (1, 1, 1)),
        ("7/8", "", "an eighth longer", "4/4", (1, 1, 1, 1)),
        ("7/8", "", "a beat longer", "10/8", (2, 2, 3, 3)),
        ("7/8", "3+2+2", "a beat shorter", "5/8", (3, 2)),
        ("7/8", "", "a sixteenth shorter", "13/16", (4, 4, 5)),
        ("15/16", "4+4+4+3", "a sixteenth longer", "4/4", (1, 1, 1, 1)),
        ("5/16", "", "a sixteenth shorter", "2/8", (2,)),
    ],
)
def test_the_meter_of_a_changed_bar(meter, grouping, bar, expected, groups):
    stage = last(groove('kick = "o%s"' % ("-" * (_columns(meter) - 1)), meter, grouping=grouping), bar=bar)  # noqa: UP031
    assert (str(stage.beat.meter), stage.beat.meter.grouping) == (expected, groups)


def _columns(meter):
    count, unit = map(int, meter.split("/"))
    return count * 16 // unit


@pytest.mark.parametrize(
    ("meter", "bar", "said"),
    [
        ("4/4", "a sixteenth longer", "a sixteenth longer than 4/4 would be 17/16; over 16 the meters go from 5 to 15"),
        ("7/4", "a beat longer", "a beat longer than 7/4 would be 8/4; over 4 the meters go from 2 to 7"),
        ("2/8", "a beat shorter", "a beat shorter than 2/8 leaves nothing of the bar"),
    ],
)
def test_where_there_is_no_meter_nothing_is_changed(meter, bar, said):
    base = groove('kick = "o%s"' % ("-" * (_columns(meter) - 1)), meter)  # noqa: UP031
    stage = last(base, bar=bar, bars=4)
    assert stage.says == (f"{said}; nothing was changed",)
    assert stage.beat == base.base


def test_what_is_dropped_takes_its_strokes_along_and_later_bars_move():
    stage = last(TWO, bar="a sixteenth shorter")
    assert line(stage, "snare") == [4, 12, 19, 27, 29]
    assert stage.change.left_out == ("0/snare@31/16",)
    assert {(move.start // 2520, move.end // 2520) for move in stage.change.moved} == {
        (20, 19), (28, 27), (30, 29), (16, 15), (22, 21), (24, 23),
    }  # fmt: skip
    assert not stage.change.crossed


def test_what_is_added_is_empty():
    stage = last(TWO, bar="an eighth longer")
    assert line(stage, "kick") == [0, 8, 18, 24, 26]
    assert stage.says == ("what is added at the end of every bar is empty",)


def test_bars_and_their_length_in_one():
    stage = last(ROCK, bars=2, bar="an eighth shorter")
    assert (str(stage.beat.meter), stage.beat.bars) == ("7/8", 2)
    assert line(stage, "kick") == [0, 7, 8, 14, 21, 22]
    assert line(stage, "hi-hat") == [0, 2, 4, 6, 8, 10, 12, 14, 16, 18, 20, 22, 24, 26]


def test_columns_that_do_not_divide_the_bar_give_way_to_finer_ones():
    stage = last(groove('hi-hat = "xxxxxxxx"', columns="eighths"), bar="a sixteenth shorter")
    assert stage.beat.columns == "sixteenths"
    shuffle = groove('hi-hat = "x-xx-xx-xx-x"', columns="eighth triplets")
    assert last(shuffle, bar="an eighth shorter").beat.columns == "sixteenth triplets"
    stage = last(shuffle, bar="a sixteenth shorter")
    assert stage.says == ("a bar of 15/16 does not hold a whole number of eighth triplets; nothing was changed",)
    assert stage.beat == shuffle.base


def test_changes_in_chosen_bars_follow_by_later_variations():
    long = add(ROCK, "length", {"bars": 4})
    displaced = add(long, "displace", {"surface": "backbeat voice", "at": "4:all", "by": "1/16 later"})
    stage = grow(add(displaced, "touch-up", {"changes": ["+ crash 4:4& accent"]}))[-1]
    assert line(stage, "snare") == [4, 12, 20, 28, 36, 44, 53, 61]
    assert line(stage, "crash") == [62]


@pytest.mark.parametrize(
    ("settings", "said"),
    [
        ({}, "Leave the beat as long as it is."),
        ({"bars": 1}, "Make the beat 1 bar long."),
        ({"bars": 8}, "Make the beat 8 bars long."),
        ({"bar": "a beat longer"}, "Make every bar a beat longer."),
        ({"bars": 4, "bar": "an eighth shorter"}, "Make the beat 4 bars long, every bar an eighth shorter."),
    ],
)
def test_it_reads_as_a_teacher_says_it(settings, said):
    assert plain(make(1, "length", settings)) == said


@pytest.mark.parametrize(
    ("settings", "match"),
    [
        ({"bars": 17}, "bars: 17 is out of range; it goes from 0 to 16"),
        ({"bars": "four"}, "bars: .*four.* is not a whole number"),
        ({"bar": "a bit shorter"}, "bar: .*a bit shorter.* is not one of as it is, a sixteenth shorter"),
    ],
)
def test_what_is_out_of_range_names_the_setting(settings, match):
    with pytest.raises(GroundbeatError, match=match):
        make(1, "length", settings)


def test_with_nothing_asked_nothing_changes():
    stage = last(TWO)
    assert len(stage.change.kept) == len(TWO.base.strokes)
    assert stage.beat == TWO.base


def _sounds(beat):
    return [(s.at, s.surface, s.dynamic, s.grace, s.hand) for s in beat.strokes]


@given(beats(), st.integers(2, 4))
def test_repeating_and_cutting_back_restores_the_beat(beat, times):
    assume(beat.bars * times <= 16)
    long = add(Groove(base=beat), "length", {"bars": beat.bars * times})
    _, between, again = grow(add(long, "length", {"bars": beat.bars}))
    assert len(between.beat.strokes) == times * len(beat.strokes)
    for turn in range(times):
        start = turn * beat.cycle
        here = [s for s in _sounds(between.beat) if start <= s[0] < start + beat.cycle]
        assert [(at - start, *rest) for at, *rest in here] == _sounds(beat)
    assert again.beat == beat


@given(beats(), st.sampled_from(["a sixteenth", "an eighth", "a beat"]))
def test_longer_and_shorter_again_restores_every_place(beat, note):
    longer = add(Groove(base=beat), "length", {"bar": f"{note} longer"})
    _, between, again = grow(add(longer, "length", {"bar": f"{note} shorter"}))
    assume(not any("nothing was changed" in text for text in between.says + again.says))
    assert not between.change.left_out
    if note != "a beat":  # a beat that took in a rest is longer than what was added
        assert _sounds(again.beat) == _sounds(beat)
        assert again.beat.meter.bar == beat.meter.bar
