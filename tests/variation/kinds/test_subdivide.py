"""Subdivide: columns read by hand in both ways, what comes round, and what can be undone."""

from __future__ import annotations

import pytest
from hypothesis import assume, given

from groundbeat.codec.groove_read import read_groove
from groundbeat.errors import GroundbeatError
from groundbeat.model.groove import Groove
from groundbeat.model.meter import Meter
from groundbeat.variation.stack import add, grow, make, plain
from groundbeat.variation.subdivide import beats_of
from tests.strategies import beats

TRIPLET, SIXTEENTH = 3360, 2520


def groove(lines: str, meter: str = "4/4", columns: str = "sixteenths", bars: int = 1):
    return read_groove(f'groundbeat = 1\nmeter = "{meter}"\nbars = {bars}\ncolumns = "{columns}"\n[base]\n{lines}\n')


ROCK = groove('hi-hat = "x-x-x-x-x-x-x-x-"\nsnare = "----O-------O---"\nkick = "o------oo-------"')
SHUFFLE = groove('hi-hat = "x-xx-xx-xx-x"\nsnare = "---O-----O--"\nkick = "o-----o-----"', columns="eighth triplets")


def last(base, **settings):
    return grow(add(base, "subdivide", settings))[-1]


def line(stage, surface, column):
    """The columns of a surface; every stroke must lie on one."""
    places = [divmod(s.at, column) for s in stage.beat.strokes if s.surface == surface]
    assert all(rest == 0 for _, rest in places)
    return [place for place, _ in places]


def test_sixteenths_become_triplets_within_each_beat():
    stage = last(ROCK)
    assert line(stage, "hi-hat", TRIPLET) == [0, 2, 3, 5, 6, 8, 9, 11]
    assert line(stage, "snare", TRIPLET) == [3, 9]
    assert line(stage, "kick", TRIPLET) == [0, 5, 6]
    assert (stage.beat.columns, str(stage.beat.meter), stage.beat.bars) == ("eighth triplets", "4/4", 1)
    assert stage.says == ()


def test_the_a_meets_the_and_on_the_let():
    stage = last(groove('hi-hat = "xxxxxxxxxxxxxxxx"'))
    assert line(stage, "hi-hat", TRIPLET) == list(range(12))
    assert len(stage.change.merged) == 4


def test_triplets_become_sixteenths():
    stage = last(SHUFFLE, into="sixteenths")
    assert line(stage, "hi-hat", SIXTEENTH) == [0, 3, 4, 7, 8, 11, 12, 15]
    assert line(stage, "snare", SIXTEENTH) == [4, 12]
    assert stage.beat.columns == "sixteenths"


def test_of_two_equally_near_places_the_later_in_the_same_beat_is_taken():
    stage = last(groove('hi-hat = "-x----------x--x"'), into="eighths")
    assert line(stage, "hi-hat", 5040) == [1, 6, 7], "e and a both go to their &, never into the next beat"
    six = last(groove('hi-hat = "-x---x------"', "6/8"), into="eighths")
    assert line(six, "hi-hat", 5040) == [1, 2]


def test_finer_columns_move_nothing_and_say_so():
    six = groove('hi-hat = "x-x-x-x-x-x-"', "6/8")
    stage = last(six, into="thirty-seconds")
    assert line(stage, "hi-hat", 5040) == [0, 1, 2, 3, 4, 5]
    assert stage.says == ("every stroke lies on thirty-seconds already",)
    assert stage.beat.columns == "thirty-seconds"


@pytest.mark.parametrize(("meter", "row"), [("6/8", "x-x-x-x-x-x-"), ("7/8", "x-x-x-x-x-x-x-")])
def test_a_beat_that_does_not_hold_the_division_is_left_as_it_is(meter, row):
    stage = last(groove(f'hi-hat = "{row}"', meter))
    assert stage.says == (f"a beat of {meter} does not hold a whole number of eighth triplets; nothing was changed",)
    assert stage.beat.columns == "sixteenths"
    assert not stage.change.moved


def test_seven_eight_goes_into_sixteenth_triplets():
    stage = last(groove('hi-hat = "xx------------"', "7/8"), into="sixteenth triplets")
    assert line(stage, "hi-hat", 1680) == [0, 2], "1.5 triplets: the later one"
    assert stage.beat.columns == "sixteenth triplets"


def test_only_some_of_the_beat_leaves_the_columns():
    stage = last(ROCK, surface="riding")
    assert line(stage, "hi-hat", TRIPLET) == [0, 2, 3, 5, 6, 8, 9, 11]
    assert line(stage, "kick", SIXTEENTH) == [0, 7, 8]
    assert stage.beat.columns == "sixteenths"


def test_across_the_bar_sixteenths_played_as_triplets_are_cut():
    stage = last(ROCK, how="across the bar")
    assert line(stage, "hi-hat", TRIPLET) == [0, 2, 4, 6, 8, 10]
    assert line(stage, "snare", TRIPLET) == [4]
    assert line(stage, "kick", TRIPLET) == [0, 7, 8]
    assert set(stage.change.left_out) == {"0/hi-hat@3/4", "0/hi-hat@7/8", "0/snare@3/4"}
    assert stage.says == ("cut at the loop; comes round after 4 bars",)
    assert not stage.change.crossed


def test_across_four_bars_it_comes_out_even():
    stage = grow(add(add(ROCK, "length", {"bars": 4}), "subdivide", {"how": "across the bar"}))[-1]
    assert stage.says == ()
    assert line(stage, "snare", TRIPLET) == [4, 12, 20, 28, 36, 44]


def test_across_the_bar_triplets_played_as_sixteenths_begin_again():
    stage = last(SHUFFLE, into="sixteenths", how="across the bar")
    assert line(stage, "hi-hat", SIXTEENTH) == [0, 2, 3, 5, 6, 8, 9, 11, 12, 14, 15]
    assert line(stage, "snare", SIXTEENTH) == [3, 9, 15]
    assert line(stage, "kick", SIXTEENTH) == [0, 6, 12]
    assert dict(stage.change.of)["1/snare@15/16"] == "0/snare@1/4"
    assert len(stage.backbeats) == 3, "the copy of a backbeat is one"
    assert stage.says == ("cut at the loop; comes round after 3 bars",)


def test_across_the_bar_of_seven_eight_the_counts_stay():
    stage = last(groove('hi-hat = "x-x-x-x-x-x-x-"', "7/8"), how="across the bar")
    assert [s.at for s in stage.beat.strokes] == [0, 6720, 13440, 20160, 26880, 33600]
    assert stage.beat.columns == "sixteenths"
    assert stage.says == (
        "a bar of 7/8 does not hold a whole number of eighth triplets; it is still counted in sixteenths",
        "cut at the loop; comes round after 4 bars",
    )


def test_what_is_in_that_division_is_left_as_it_is():
    stage = last(ROCK, into="sixteenths", how="across the bar")
    assert stage.says == ("the beat is in sixteenths already",)
    assert not stage.change.moved


def test_without_strokes_it_says_so():
    assert last(ROCK, surface="ride").says == ("found no ride",)


def test_beats_are_numbers_or_groups():
    assert beats_of(Meter.of("3/4")) == [(0, 10080), (10080, 10080), (20160, 10080)]
    assert beats_of(Meter.of("7/8", "3+4")) == [(0, 15120), (15120, 20160)]


@pytest.mark.parametrize(
    ("settings", "said"),
    [
        ({}, "Play the whole beat in eighth triplets, each stroke at the nearest place in its beat."),
        (
            {"into": "sixteenths", "how": "across the bar", "surface": "riding"},
            "Play the riding hand in sixteenths, column by column across the bar.",
        ),
    ],
)
def test_it_reads_as_a_teacher_says_it(settings, said):
    assert plain(make(1, "subdivide", settings)) == said


@pytest.mark.parametrize(
    ("settings", "match"),
    [
        ({"into": "fives"}, "into: .*fives.* is not one of eighth triplets, sixteenths"),
        ({"how": "anyhow"}, "how: .*anyhow.* is not one of within the beat, across the bar"),
    ],
)
def test_what_is_out_of_range_names_the_setting(settings, match):
    with pytest.raises(GroundbeatError, match=match):
        make(1, "subdivide", settings)


@given(beats(off_columns=False))
def test_eighths_in_triplets_and_back_restore_the_beat(beat):
    """So do triplets in sixteenths; sixteenths do not come back from triplets, where & and a meet."""
    pair = {"eighths": "eighth triplets", "eighth triplets": "sixteenths"}
    assume(beat.columns in pair)
    there = add(Groove(base=beat), "subdivide", {"into": pair[beat.columns]})
    base, between, again = grow(add(there, "subdivide", {"into": beat.columns}))
    # Over 8 and 16 a beat may not hold the triplets that it was written in; then the way back is refused in words.
    assume(not any("nothing was changed" in text for text in (*between.says, *again.says)))
    assert not between.change.merged
    assert [(s.id, s.at) for s in again.beat.strokes] == [(s.id, s.at) for s in base.beat.strokes]
    assert again.beat.columns == beat.columns


@given(beats())
def test_within_the_beat_no_stroke_leaves_its_beat_and_none_is_left_out(beat):
    base, stage = grow(add(Groove(base=beat), "subdivide", {"into": "sixteenths"}))
    assert not stage.change.left_out and not stage.change.added and not stage.change.crossed
    starts = [start for start, _ in beats_of(beat.meter)]

    def beat_of(at):
        bar, rest = divmod(at, beat.meter.bar)
        return bar, sum(start <= rest for start in starts)

    for move in stage.change.moved:
        assert beat_of(move.start) == beat_of(move.end)
