"""What embellish adds beside strokes, how many in a bar, and who gives way where a third hand would be needed."""

from __future__ import annotations

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from groundbeat.codec.groove_read import read_groove
from groundbeat.errors import GroundbeatError
from groundbeat.model.groove import Groove
from groundbeat.model.kit import FEET_ONLY
from groundbeat.variation.stack import add, grow, make, plain
from tests.strategies import beats, settings_of

SIXTEENTH = 2520


def groove(lines: str, meter: str = "4/4", columns: str = "sixteenths") -> Groove:
    return read_groove(f'groundbeat = 1\nmeter = "{meter}"\ncolumns = "{columns}"\n[base]\n{lines}\n')


HEADLAND = groove('hi-hat = "x-x-x-x-x-x-x-x-"\nsnare = "----O-------O---"\nkick = "o------oo-------"')
SHUFFLE = groove('hi-hat = "x-xx-xx-xx-x"\nsnare = "---O-----O--"\nkick = "o-----o-----"', columns="eighth triplets")
SEVEN = groove('hi-hat = "x-x-x-x-x-x-x-"\nsnare = "----O-----O---"\nkick = "o-------o-----"', "7/8")
TWO_BARS = groove('snare = "----O-------O---|----O-------O---"\nkick = "o-------o-------|o------oo-------"')


def last(base: Groove, **settings: object):
    return grow(add(base, "embellish", {name.replace("_", "-"): value for name, value in settings.items()}))[-1]


def added(stage, column: int = SIXTEENTH) -> list[float]:
    return [s.at / column for s in stage.beat.strokes if s.id in stage.change.added]


def test_before_a_stroke_is_one_step_earlier():
    assert added(last(HEADLAND, at="all", beside="before")) == [3, 11]


def test_after_a_stroke_is_one_step_later():
    assert added(last(HEADLAND, at="all", beside="after")) == [5, 13]


def test_the_selection_says_beside_which_strokes():
    assert added(last(HEADLAND, at="first backbeat", beside="before")) == [3]
    assert added(last(HEADLAND, at="upbeats", of="hi-hat", beside="after")) == [3, 7, 11, 15]


def test_beside_the_strokes_of_another_line():
    """Kicks on 0 7 8: a sixteenth before them 15 6 7, round the loop."""
    assert added(last(HEADLAND, at="all", beside="before", of="kick")) == [6, 7, 15]


def test_a_step_may_leave_the_columns():
    assert added(last(HEADLAND, at="all", beside="before", step="thirty-second")) == [3.5, 11.5]
    assert added(last(HEADLAND, at="all", beside="after", step="eighth triplet")) == [4 + 4 / 3, 12 + 4 / 3]


def test_half_way_between_a_stroke_and_the_next():
    """Between the eighths of the hi-hat lie 1 3 5 ...: 15 lies between the last and the first."""
    stage = last(HEADLAND, at="all", of="riding", beside="between")
    assert added(stage) == [1, 3, 5, 7, 9, 11, 13, 15]


def test_half_way_counts_only_in_whole_steps():
    """Kicks on 0 7 8: half way 3.5, 7.5 and 12; of these 12 is a whole number of sixteenths from both."""
    assert added(last(HEADLAND, at="all", of="kick", beside="between", surface="floor tom")) == [12]
    stage = last(HEADLAND, at="all", of="kick", beside="between", surface="floor tom", step="thirty-second")
    assert added(stage) == [3.5, 7.5, 12]
    stage = last(HEADLAND, at="all", of="riding", beside="between", step="eighth triplet")
    assert added(stage) == []
    assert stage.says == ("no place half way between them lies in steps of an eighth triplet",)


def test_shuffled_ghosts_before_the_backbeat():
    """In eighth triplets the backbeats stand on 3 and 9; a triplet before them 2 and 8."""
    stage = last(SHUFFLE, at="all", beside="before", step="eighth triplet")
    assert added(stage, 3360) == [2, 8]


def test_seven_eight_after_the_kick():
    """Kicks on 0 and 8; an eighth after them 2 and 10, and 10 is the snare's already."""
    assert added(last(SEVEN, at="all", of="kick", beside="after", step="eighth")) == [2]


def test_taken_places_and_those_to_keep_clear_of_stay_as_they_are_beside_strokes_too():
    stage = last(HEADLAND, at="all", of="hi-hat", beside="after", step="eighth", clear_of=["kick"])
    assert added(stage) == [2, 6, 10, 14]


def test_exceptions_reach_places_off_the_columns():
    """A thirty-second before 2 and 4 is the last eighth part of 1 and of 3."""
    stage = last(HEADLAND, at="all", beside="before", step="thirty-second", **{"except": "1[8/8]"})
    assert added(stage) == [11.5]
    stage = last(HEADLAND, at="all", of="riding", beside="between", **{"except": "e last a"})
    assert added(stage) == [3, 7, 11]


def test_nothing_beside_what_is_not_there():
    assert last(HEADLAND, at="all", beside="before", of="ride").says == ("found no ride",)
    assert last(HEADLAND, at="3", beside="before").says == ("found no backbeat at 3",)
    assert last(HEADLAND, at="all", of="snare", beside="after", step="half").says == ("found no free place there",)


def test_at_most_so_many_in_a_bar_spread_over_what_is_free():
    """Every e and a but the kick's: 1 3 5 9 11 13 15. Three of seven are numbers 0, 2 and 4; one is the first."""
    assert added(last(HEADLAND, clear_of=["kick"], most="3")) == [1, 5, 11]
    assert added(last(HEADLAND, clear_of=["kick"], most=1)) == [1]
    assert added(last(HEADLAND, clear_of=["kick"], most=7)) == [1, 3, 5, 9, 11, 13, 15]
    assert added(last(HEADLAND, clear_of=["kick"], most=32)) == [1, 3, 5, 9, 11, 13, 15]


def test_every_bar_has_its_own_most():
    """Bar 1 has eight free places, bar 2 seven, since a kick is on the a of 2: numbers 0 and 4, 0 and 3."""
    assert added(last(TWO_BARS, clear_of=["kick"], most=2)) == [1, 9, 17, 25]


def test_a_flam_under_the_riding_hand_needs_a_third_hand():
    stage = last(HEADLAND, at="2& 3a", grace="flam")
    assert stage.says == ("a flam at the & of 2 needs a third hand",)
    assert [offer.text for offer in stage.offers] == ["Let the riding hand leave out its stroke there"]
    assert dict(stage.offers[0].settings) == {"yields": "riding"}
    assert not stage.change.left_out
    stage = last(HEADLAND, at="2& 3 4&", grace="drag")
    assert stage.says == ("drags at the & of 2, 3 and the & of 4 need a third hand",)
    assert [offer.text for offer in stage.offers] == ["Let the riding hand leave out its strokes there"]


def test_the_riding_hand_gives_way_where_it_must_and_only_there():
    stage = last(HEADLAND, at="2& 3a", grace="ruff", yields="riding")
    assert (stage.says, stage.offers) == ((), ())
    assert stage.change.left_out == ("0/hi-hat@3/8",)
    assert added(stage) == [6, 11]
    assert last(HEADLAND, at="2& 3a", grace="buzz", yields="riding").change.left_out == ()
    assert last(HEADLAND, at="2& 3a", yields="riding").change.left_out == ()


def test_where_another_hand_is_busy_giving_way_would_not_help():
    base = groove('hi-hat = "x-x-x-x-x-x-x-x-"\nfloor-tom = "--o---------o---"')
    stage = last(base, at="1& 2&", grace="flam", yields="riding")
    assert stage.says == ("a flam at the & of 1 needs a third hand; the hands are busy there",)
    assert stage.change.left_out == ("0/hi-hat@3/8",)


def test_feet_need_no_hand():
    assert last(HEADLAND, surface="kick", at="2&", grace="flam").says == ()


def test_many_places_are_counted_not_listed():
    stage = last(HEADLAND, surface="floor tom", at="upbeats beats", grace="flam", clear_of=["snare"])
    assert stage.says == ("flams at 1, the & of 1, the & of 2, 3 and 2 more places need a third hand",)


@pytest.mark.parametrize(
    ("settings", "said"),
    [
        ({}, "Add ghost notes on the snare at every e and a."),
        (
            {"clear-of": ["kick"], "except": "4a"},
            "Add ghost notes on the snare at every e and a, clear of the kick, except the a of 4.",
        ),
        ({"dynamic": "accent", "grace": "flam"}, "Add accents with a flam on the snare at every e and a."),
        (
            {"surface": "crash", "dynamic": "accent", "grace": "choke", "at": "4"},
            "Add accents, choked, on the crash at 4.",
        ),
        (
            {"beside": "before", "at": "all"},
            "Add ghost notes on the snare a sixteenth before every stroke of the backbeat voice.",
        ),
        (
            {"beside": "after", "at": "first backbeat", "step": "eighth triplet"},
            "Add ghost notes on the snare an eighth triplet after the first backbeat of the backbeat voice.",
        ),
        (
            {"beside": "between", "at": "all", "of": "riding", "most": "2"},
            "Add ghost notes on the snare half way between every stroke of the riding hand, in steps of a sixteenth, "
            "at most 2 in a bar.",
        ),
        ({"of": "kick"}, "Add ghost notes on the snare at every e and a, not a sixteenth beside the kick."),
        ({"step": "eighth"}, "Add ghost notes on the snare at every e and a, not an eighth beside the backbeat voice."),
        (
            {"grace": "drag", "yields": "riding"},
            "Add ghost notes with a drag on the snare at every e and a, and the riding hand gives way where a third "
            "hand would be needed.",
        ),
    ],
)
def test_the_sentence_says_every_setting(settings, said):
    assert plain(make(1, "embellish", settings)) == said


@pytest.mark.parametrize(
    ("settings", "field", "message"),
    [
        ({"most": "33"}, "most", "33 is out of range; it goes from 0 to 32"),
        ({"most": "-1"}, "most", "-1 is out of range; it goes from 0 to 32"),
        ({"beside": "under"}, "beside", "is not one of at, before, after, between"),
        ({"yields": "kick"}, "yields", "is not one of nothing, riding"),
        ({"step": "eighth eighth"}, "step", "is not one note"),
    ],
)
def test_what_is_out_of_range_is_named(settings, field, message):
    with pytest.raises(GroundbeatError, match=message) as caught:
        make(1, "embellish", settings)
    assert caught.value.field == field


@given(beats(), st.data())
def test_nothing_is_touched_but_riding_strokes_that_give_way(beat, data):
    raw = data.draw(settings_of("embellish"))
    base, stage = grow(add(Groove(base=beat), "embellish", raw))
    assert not (stage.change.moved or stage.change.altered or stage.change.merged)
    before = {stroke.id: stroke for stroke in base.beat.strokes}
    flams = {stroke.at for stroke in stage.beat.strokes if stroke.id in stage.change.added}
    for name in stage.change.left_out:
        assert raw["yields"] == "riding"
        assert before[name].at in flams
        assert before[name].surface not in FEET_ONLY


@given(beats(), st.data())
def test_never_more_than_the_most_and_all_of_them_where_there_are_fewer(beat, data):
    raw = data.draw(settings_of("embellish")) | {"most": 0}
    most = data.draw(st.integers(1, 6))
    free = grow(add(Groove(base=beat), "embellish", raw))[-1]
    few = grow(add(Groove(base=beat), "embellish", raw | {"most": most}))[-1]
    for bar in range(1, beat.bars + 1):
        able, kept = (
            [s.at for s in stage.beat.strokes if s.id in stage.change.added and beat.bar_of(s.at) == bar]
            for stage in (free, few)
        )
        assert len(kept) == min(most, len(able))
        assert set(kept) <= set(able)
        assert kept[:1] == able[:1]


@given(beats(), st.data())
def test_before_and_after_mirror_each_other(beat, data):
    """What comes a step before a stroke has that stroke a step after it, and the other way round."""
    raw = data.draw(settings_of("embellish")) | {"surface": "wood block", "most": 0, "except": "16:1", "clear-of": []}
    assume(all(stroke.surface != "wood block" for stroke in beat.strokes))
    ahead, behind = (
        {s.at for s in stage.beat.strokes if s.id in stage.change.added}
        for stage in (
            grow(add(Groove(base=beat), "embellish", raw | {"beside": beside}))[-1] for beside in ("before", "after")
        )
    )
    assert len(ahead) == len(behind)
