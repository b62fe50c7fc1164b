"""The same figure on every place in turn: round inside its beat, half bar, bar or the loop, and back again."""

from __future__ import annotations

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from groundbeat.codec.groove_read import read_groove
from groundbeat.errors import GroundbeatError
from groundbeat.model.beat import Beat
from groundbeat.model.groove import Groove
from groundbeat.model.meter import Meter
from groundbeat.variation.permute import span_at, turns
from groundbeat.variation.permute_sheet import siblings
from groundbeat.variation.stack import add, grow, make, plain, switch
from tests.strategies import beats, settings_of


def groove(lines: str, meter: str = "4/4", columns: str = "sixteenths") -> Groove:
    return read_groove(f'groundbeat = 1\nmeter = "{meter}"\ncolumns = "{columns}"\n[base]\n{lines}\n')


HEADLAND = groove('hi-hat = "x-x-x-x-x-x-x-x-"\nsnare = "----O--g----O--g"\nkick = "o------oo-------"')
SHUFFLE = groove('hi-hat = "x-xx-xx-xx-x"\nsnare = "---O-----O--"\nkick = "o----oo-----"', columns="eighth triplets")
SIX = groove('hi-hat = "x-x-x-x-x-x-"\nsnare = "------O-----"\nkick = "o---------o-"', "6/8")
SEVEN = groove('hi-hat = "x-x-x-x-x-x-x-"\nsnare = "----O-----O---"\nkick = "o-----o-o---o-"', "7/8")
TWO_BARS = groove('kick = "o------oo-------|o-------o------o"')


def last(base: Groove, **settings: object):
    return grow(add(base, "permute", settings))[-1]


def columns(stage, surface: str = "kick", column: int = 2520) -> list[int]:
    return [stroke.at // column for stroke in stage.beat.strokes if stroke.surface == surface]


def test_round_inside_the_bar():
    """0 7 8, five on: 5 12 13; nine on: 9, 16 is 0, 17 is 1."""
    assert columns(last(HEADLAND)) == [1, 8, 9]
    assert columns(last(HEADLAND, turn=5)) == [5, 12, 13]
    assert columns(last(HEADLAND, turn="9")) == [0, 1, 9]


def test_round_inside_the_beat():
    """The kick on the a of 2 comes in on 2; those on 1 and 3 go to the e."""
    assert columns(last(HEADLAND, within="beat")) == [1, 4, 9]
    assert columns(last(HEADLAND, within="beat", turn=3)) == [3, 6, 11]


def test_round_inside_the_half_bar():
    """Of 0 7 | 8, three on: 3, 10 is 2 | 11."""
    assert columns(last(HEADLAND, within="half bar", turn=3)) == [2, 3, 11]


def test_each_bar_for_itself_or_the_loop_as_a_whole():
    """Bar 1 has 0 7 8, bar 2 16 24 31. A sixteenth on, 31 comes in on 16 of its own bar, or on 0 of the loop."""
    bar, loop = last(TWO_BARS), last(TWO_BARS, within="loop")
    assert columns(bar) == [1, 8, 9, 16, 17, 25]
    assert columns(loop) == [0, 1, 8, 9, 17, 25]
    assert (bar.change.crossed, loop.change.crossed) == ((), ("0/kick@31/16",))


def test_a_bar_that_is_the_loop_is_crossed():
    assert last(HEADLAND, turn=9).change.crossed == ("0/kick@7/16", "0/kick@1/2")


def test_triplets_turn_inside_their_beat():
    """Kicks on 0, 5 (let of 2) and 6: a triplet on 1, 5 comes in on 3, and 7."""
    assert columns(last(SHUFFLE, step="eighth triplet", within="beat"), column=3360) == [1, 3, 7]


def test_beats_of_odd_meters_are_their_groups():
    """7/8 is 2+2+3 eighths: sixteenths 0-3, 4-7, 8-13. Kicks 0 6 8 12, an eighth on: 2; 8 is 4; 10; 14 is 8."""
    assert columns(last(SEVEN, step="eighth", within="beat")) == [2, 4, 8, 10]


def test_half_a_bar_of_six_eight_is_a_beat():
    """Kicks on 0 and 10: an eighth on 2, and 12 is 6 again."""
    assert columns(last(SIX, step="eighth", within="half bar")) == [2, 6]


def test_where_a_bar_has_no_half_it_goes_round_the_bar():
    """Kicks 0 6 8 12 of fourteen, a sixteenth on."""
    stage = last(SEVEN, within="half bar")
    assert columns(stage) == [1, 7, 9, 13]
    assert stage.says == ("a bar of 7/8 has no half; turned inside the bar",)


def test_only_chosen_strokes_turn():
    assert columns(last(HEADLAND, surface="snare", at="a"), "snare") == [0, 4, 8, 12]
    assert columns(last(HEADLAND, surface="backbeat voice", at="first backbeat", turn=2), "snare") == [6, 7, 12, 15]


def test_turned_strokes_meet_what_stands_there():
    """The backbeat on 4, three on, meets the ghost on 7: the louder stays."""
    stage = last(HEADLAND, surface="snare", at="2", turn=3)
    assert columns(stage, "snare") == [7, 12, 15]
    assert stage.change.merged[0].parents == ("0/snare@1/4", "0/snare@7/16")


@pytest.mark.parametrize(
    ("settings", "says"),
    [
        ({"turn": 16}, ("16 steps of a sixteenth: all the way round, so nothing moves",)),
        ({"step": "quarter", "within": "beat"}, ("one step of a quarter: all the way round, so nothing moves",)),
        ({"surface": "ride"}, ("found no ride",)),
        ({"at": "2"}, ("found no kick at 2",)),
        ({"turn": 17}, ()),
    ],
)
def test_what_turns_nothing_is_said(settings, says):
    stage = last(HEADLAND, **settings)
    assert stage.says == says
    assert bool(stage.change.moved) == (not says)


def test_turns_are_counted_until_a_stroke_is_back():
    settings = {"step": "sixteenth", "within": "bar"}
    assert turns([0], settings, Beat(Meter.of("4/4"))) == 16
    assert turns([0], settings | {"step": "dotted eighth"}, Beat(Meter.of("4/4"))) == 16
    assert turns([0], settings | {"step": "half"}, Beat(Meter.of("4/4"))) == 2
    seven = Beat(Meter.of("7/8"))
    assert turns([0], settings | {"within": "beat"}, seven) == 4
    assert turns([0, 20160], settings | {"within": "beat"}, seven) == 12
    assert turns([], settings, seven) == 1


def test_a_sheet_has_the_document_once_for_every_turn():
    base = add(add(HEADLAND, "displace", {"by": "1/16 later", "surface": "snare"}), "permute", {"within": "beat"})
    sheet = siblings(base, 2)
    assert [columns(grow(each)[-1]) for each in sheet] == [[0, 7, 8], [1, 4, 9], [2, 5, 10], [3, 6, 11]]
    assert sheet[0] == switch(base, 2, False)
    assert sheet[1] == base
    assert siblings(switch(base, 2, False), 2) == sheet
    assert siblings(sheet[3], 2)[1:] == sheet[1:]


def test_a_sheet_of_what_is_not_there_is_the_beat_itself():
    assert len(siblings(add(HEADLAND, "permute", {"surface": "ride"}), 1)) == 1


def test_a_sheet_stops_where_turns_can_no_longer_be_written():
    long = add(groove('kick = "' + "o" + "-" * 27 + '"', "7/4"), "permute", {"step": "thirty-second"})
    sheet = siblings(long, 1)
    assert len(sheet) == 32
    assert dict(sheet[-1].variations[0].settings)["turn"] == "31"


def test_a_sheet_needs_a_variation_that_permutes():
    base = add(HEADLAND, "displace", {"by": "1/16 later"})
    with pytest.raises(GroundbeatError, match="with key 1 it is displace; add permute first"):
        siblings(base, 1)
    with pytest.raises(GroundbeatError, match="with key 9 there is none"):
        siblings(base, 9)


@pytest.mark.parametrize(
    ("settings", "said"),
    [
        ({}, "Turn every stroke of the kick on by one step of a sixteenth, round inside the bar."),
        (
            {"turn": 3, "within": "beat", "surface": "backbeat voice", "at": "first backbeat"},
            "Turn the first backbeat of the backbeat voice on by 3 steps of a sixteenth, round inside the beat.",
        ),
        (
            {"turn": 2, "step": "eighth triplet", "within": "loop", "surface": "snare", "at": "ghosts"},
            "Turn the ghosts of the snare on by 2 steps of an eighth triplet, round the loop.",
        ),
        (
            {"within": "half bar"},
            "Turn every stroke of the kick on by one step of a sixteenth, round inside the half bar.",
        ),
    ],
)
def test_the_sentence_says_every_setting(settings, said):
    assert plain(make(1, "permute", settings)) == said


@pytest.mark.parametrize(
    ("settings", "field", "message"),
    [
        ({"turn": 0}, "turn", "0 is out of range; it goes from 1 to 31"),
        ({"turn": "32"}, "turn", "32 is out of range; it goes from 1 to 31"),
        ({"within": "phrase"}, "within", "is not one of beat, half bar, bar, loop"),
        ({"step": "eighth eighth"}, "step", "is not one note"),
    ],
)
def test_what_is_out_of_range_is_named(settings, field, message):
    with pytest.raises(GroundbeatError, match=message) as caught:
        make(1, "permute", settings)
    assert caught.value.field == field


def _sound(stage):
    return [(s.id, s.at, s.surface, s.dynamic, s.grace, s.hand) for s in stage.beat.strokes]


@given(beats(), st.data())
def test_the_remaining_turns_bring_the_beat_back(beat, data):
    raw = data.draw(settings_of("permute")) | {"at": "all"}
    settings = {"step": "sixteenth", "within": "bar", "surface": "kick"} | raw
    base = Groove(base=beat)
    moved = grow(add(base, "permute", settings | {"turn": 1}))[-1]
    own = [stroke.at for stroke in beat.strokes if any(move.id == stroke.id for move in moved.change.moved)]
    count = turns(own, settings, beat)
    assume(2 <= count <= 31)
    turn = data.draw(st.integers(1, count - 1))
    there = add(base, "permute", settings | {"turn": turn})
    back = add(there, "permute", settings | {"turn": count - turn})
    stages = grow(back)
    if stages[1].change.merged or stages[2].change.merged:
        return
    assert {m.id for m in stages[1].change.moved} == {m.id for m in stages[2].change.moved}
    assert _sound(stages[2]) == _sound(stages[0])


@given(beats(), st.data())
def test_every_stroke_stays_inside_its_span_and_keeps_everything_else(beat, data):
    raw = data.draw(settings_of("permute"))
    within = raw.get("within", "bar")
    base, stage = grow(add(Groove(base=beat), "permute", raw))
    assert not (stage.change.altered or stage.change.added or stage.change.left_out)
    for move in stage.change.moved:
        assert span_at(move.start, within, beat) == span_at(move.end, within, beat)
    assert len(stage.beat.strokes) == len(base.beat.strokes) - len(stage.change.absorbed())


@given(beats())
def test_spans_cover_the_loop_without_overlap(beat):
    for within in ("beat", "half bar", "bar", "loop"):
        at = 0
        while at < beat.cycle:
            start, length = span_at(at, within, beat)
            assert start == at and length > 0
            assert span_at(at + length - 1, within, beat) == (start, length)
            at += length
        assert at == beat.cycle
