"""Double-time: a backbeat on every &, copies that know what they copy, and half the length."""

from __future__ import annotations

import pytest
from hypothesis import given

from groundbeat.codec.groove_read import read_groove
from groundbeat.errors import GroundbeatError
from groundbeat.model.groove import Groove
from groundbeat.variation.stack import add, grow, make, plain
from tests.strategies import beats


def groove(lines: str, meter: str = "4/4", columns: str = "sixteenths", bars: int = 1):
    return read_groove(f'groundbeat = 1\nmeter = "{meter}"\nbars = {bars}\ncolumns = "{columns}"\n[base]\n{lines}\n')


ROCK = groove('hi-hat = "x-x-x-x-x-x-x-x-"\nsnare = "----O-------O---"\nkick = "o-------o-------"')


def last(base, **settings):
    return grow(add(base, "double-time", settings))[-1]


def line(stage, surface, column=2520):
    places = [divmod(s.at, column) for s in stage.beat.strokes if s.surface == surface]
    assert all(rest == 0 for _, rest in places)
    return [place for place, _ in places]


def test_the_backbeats_go_to_every_and():
    stage = last(ROCK)
    assert line(stage, "snare") == [2, 6, 10, 14]
    assert line(stage, "hi-hat") == [0, 2, 4, 6, 8, 10, 12, 14]
    assert {(move.start // 2520, move.end // 2520) for move in stage.change.moved} == {(4, 2), (12, 10)}
    assert dict(stage.change.of) == {"1/snare@3/8": "0/snare@1/4", "1/snare@7/8": "0/snare@3/4"}
    assert all(s.dynamic == "accent" for s in stage.beat.strokes if s.surface == "snare")
    assert len(stage.backbeats) == 4
    assert stage.says == ()


def test_from_half_time_all_others_are_copies_of_the_one():
    stage = last(groove('snare = "--------O-------"'))
    assert line(stage, "snare") == [2, 6, 10, 14]
    assert {of for _, of in stage.change.of} == {"0/snare@1/2"}
    assert [move.end // 2520 for move in stage.change.moved] == [6], "of two equally near the earlier"


def test_what_the_drum_plays_more_quietly_there_gives_way():
    stage = last(groove('snare = "----O-g-----O-o-"'))
    assert [(s.at // 2520, s.dynamic) for s in stage.beat.strokes] == [
        (2, "accent"), (6, "accent"), (10, "accent"), (14, "accent"),
    ]  # fmt: skip
    assert set(stage.change.left_out) == {"0/snare@3/8", "0/snare@7/8"}


def test_what_is_as_loud_there_stays():
    stage = last(groove('rimshot = "------O---------"\nsnare = "----O-------O---"'))
    assert line(stage, "rimshot") == [6]
    assert line(stage, "snare") == [2, 10, 14]


def test_a_copy_keeps_how_the_backbeat_is_played():
    stage = last(
        groove('snare = "----O-----------"\nsnare-graces = "----1-----------"\nsnare-hands = "----L-----------"')
    )
    assert {(s.dynamic, s.grace, s.hand) for s in stage.beat.strokes} == {("accent", "flam", "L")}
    assert len(stage.beat.strokes) == 4


def test_in_a_shuffle_the_and_is_the_let():
    stage = last(groove('snare = "---O-----O--"', columns="eighth triplets"))
    assert line(stage, "snare", 3360) == [2, 5, 8, 11]
    assert stage.says == ("& is read as let on this beat",)


def test_in_six_eight_the_middle_of_each_group():
    stage = last(groove('snare = "------O-----"', "6/8"))
    assert line(stage, "snare") == [3, 9]
    assert stage.says == ()


def test_in_seven_eight_the_middle_of_each_group():
    stage = last(groove('snare = "----O-----O---"', "7/8"))
    assert line(stage, "snare") == [2, 6, 11]


def test_columns_that_do_not_hold_it_give_way_to_finer_ones():
    stage = last(groove('hi-hat = "xxxxxx"\nsnare = "---O--"', "6/8", "eighths"))
    assert line(stage, "snare") == [3, 9]
    assert stage.beat.columns == "sixteenths"


def test_there_already_and_no_backbeat_are_said():
    twice = grow(add(add(ROCK, "double-time", {}), "double-time", {}))[-1]
    assert twice.says == ("the backbeat is on every & already",)
    assert len(twice.change.kept) == 14
    assert last(groove('kick = "o-------o-------"')).says == ("found no backbeat",)


def test_half_the_length_of_one_bar_is_played_twice_in_it():
    stage = last(ROCK, form="half the length")
    assert stage.beat.bars == 1 and stage.beat.columns == "sixteenths", "eighths become sixteenths, all on the columns"
    assert line(stage, "snare") == [2, 6, 10, 14]
    assert line(stage, "kick") == [0, 4, 8, 12]
    assert line(stage, "hi-hat") == list(range(16))
    assert dict(stage.change.of)["1/snare@5/8"] == "0/snare@1/4"
    assert len(stage.change.of) == 12


def test_sixteenths_at_half_the_length_are_thirty_seconds():
    stage = last(groove('kick = "o------oo-------"'), form="half the length")
    assert stage.beat.columns == "thirty-seconds"
    assert line(stage, "kick", 1260) == [0, 7, 8, 16, 23, 24]
    six = last(groove('kick = "o----o"', "6/8", "eighths"), form="half the length")
    assert (line(six, "kick"), six.beat.columns) == ([0, 5, 6, 11], "sixteenths")


def test_half_the_length_of_two_bars_is_one():
    stage = last(groove('snare = "----O-------O-----------O---O---"', bars=2), form="half the length")
    assert stage.beat.bars == 1
    assert line(stage, "snare") == [2, 6, 12, 14]
    assert stage.beat.columns == "sixteenths", "all places lie on them"
    assert not stage.change.of and not stage.change.left_out


def test_a_place_between_two_ticks_is_taken_to_the_earlier_one():
    odd = groove('kick = "o---------------"\n[[detail]]\nat = "2[2/10080]"\nsurface = "snare"\ndynamic = "normal"')
    stage = last(odd, form="half the length")
    assert [s.at for s in stage.beat.strokes if s.surface == "snare"] == [5040, 25200]
    assert stage.says == ("a place that falls between two ticks when it is halved was taken to the earlier one",)


def test_it_reads_as_a_teacher_says_it():
    assert plain(make(1, "double-time", {})) == "Play in double-time, the backbeat on every &."
    assert plain(make(1, "double-time", {"form": "half the length"})) == (
        "Play in double-time, everything at half the length."
    )


def test_an_unknown_form_names_the_setting():
    with pytest.raises(GroundbeatError, match="form: .*fast.* is not one of same length, half the length"):
        make(1, "double-time", {"form": "fast"})


@given(beats())
def test_every_beat_has_a_backbeat_instrument_in_its_middle(beat):
    base, stage = grow(add(Groove(base=beat), "double-time", {}))
    if not base.backbeats:
        return
    snares = {s.at for s in stage.beat.strokes if s.instrument == "snare"}
    starts = [(number - 1) * beat.meter.number for number in beat.meter.beats]
    for bar in range(beat.bars):
        for start, end in zip(starts, [*starts[1:], beat.meter.bar], strict=True):
            middle = (end - start) // 2
            let = (end - start) * 2 // 3
            assert {bar * beat.meter.bar + start + middle, bar * beat.meter.bar + start + let} & snares
    others = [s for s in base.beat.strokes if s.instrument != "snare"]
    assert [s for s in stage.beat.strokes if s.instrument != "snare"] == others


@given(beats())
def test_half_the_length_leaves_nothing_out(beat):
    _, stage = grow(add(Groove(base=beat), "double-time", {"form": "half the length"}))
    assert not stage.change.left_out
    assert stage.beat.bars == (beat.bars if beat.bars % 2 else beat.bars // 2)
