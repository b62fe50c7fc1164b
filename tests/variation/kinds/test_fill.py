"""A figure round the kit at the end of a bar, what is left out for it, and the crash on the 1 after it."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from groundbeat.codec.groove_read import read_groove
from groundbeat.errors import GroundbeatError
from groundbeat.model.groove import Groove
from groundbeat.model.kit import FEET_ONLY
from groundbeat.variation.catalogue import kind as kind_of
from groundbeat.variation.notes import read_cell
from groundbeat.variation.setting import full
from groundbeat.variation.stack import add, grow, make, plain
from tests.strategies import beats, settings_of

ONE_BAR = "the beat is one bar long, so every bar has the fill"
AFTER = "the crash is on 1, after the fill"
_MARKS = {"normal": "", "accent": "A", "ghost": "g", "soft": "s"}


def groove(lines: str, meter: str = "4/4", columns: str = "sixteenths") -> Groove:
    return read_groove(f'groundbeat = 1\nmeter = "{meter}"\ncolumns = "{columns}"\n[base]\n{lines}\n')


HEADLAND = groove('hi-hat = "x-x-x-x-x-x-x-x-"\nsnare = "----O-------O---"\nkick = "o------oo-------"')
SHUFFLE = groove('hi-hat = "x-xx-xx-xx-x"\nsnare = "---O-----O--"\nkick = "o-----o-----"', columns="eighth triplets")
SIX = groove('hi-hat = "x-x-x-x-x-x-"\nsnare = "------O-----"\nkick = "o---------o-"', "6/8")
SEVEN = groove('hi-hat = "x-x-x-x-x-x-x-"\nsnare = "----O-----O---"\nkick = "--------o-----"', "7/8")
TWO_BARS = groove('ride = "x-x-x-x-x-x-x-x-|x-x-x-x-x-x-x-x-"\nkick = "o-------o-------|--o-----o-----o-"')


def last(base: Groove, **settings: object):
    return grow(add(base, "fill", settings))[-1]


def rows(stage, column: int = 2520) -> dict[str, str]:
    """The columns of every surface with a letter for what is not normal: "0 4A"."""
    found: dict[str, str] = {}
    for stroke in stage.beat.strokes:
        place = f"{stroke.at // column}{_MARKS[stroke.dynamic]}"
        found[stroke.surface] = f"{found[stroke.surface]} {place}" if stroke.surface in found else place
    return found


def test_the_last_half_goes_round_the_kit_two_and_two():
    """Columns 8 to 15: the backbeat on 12 and the riding hand leave, the kick on 8 stays, the crash is on 0."""
    stage = last(HEADLAND)
    assert rows(stage) == {
        "crash": "0A",
        "hi-hat": "2 4 6",
        "snare": "4A 8 9",
        "high tom": "10 11",
        "mid tom": "12 13",
        "floor tom": "14 15",
        "kick": "0 7 8",
    }
    assert stage.says == (AFTER, ONE_BAR)
    assert stage.change.altered == ("0/hi-hat@0",)
    assert stage.change.left_out == ("0/hi-hat@1/2", "0/hi-hat@5/8", "0/hi-hat@3/4", "0/snare@3/4", "0/hi-hat@7/8")
    assert len(stage.change.added) == 8
    assert stage.change.of == ()


def test_triplets_round_four_surfaces():
    """Six hits in four equal parts of the time: 6 7, 8, 9 10, 11."""
    assert rows(last(SHUFFLE, cell="eighth triplet"), 3360) == {
        "crash": "0A",
        "hi-hat": "2 3 5",
        "snare": "3A 6 7",
        "high tom": "8",
        "mid tom": "9 10",
        "floor tom": "11",
        "kick": "0 6",
    }


def test_a_stroke_that_the_fill_hits_is_kept():
    """In 6/8 the second beat is filled: the backbeat on 6 is the fill's first hit, and stays an accent."""
    stage = last(SIX, length="dotted quarter")
    assert rows(stage) == {
        "crash": "0A",
        "hi-hat": "2 4",
        "snare": "6A 7",
        "high tom": "8",
        "mid tom": "9 10",
        "floor tom": "11",
        "kick": "0 10",
    }
    assert "0/snare@3/8" in stage.change.kept


def test_the_last_quarter_of_seven_eight_and_a_kick_under_the_crash():
    """Columns 10 to 13, one each; no kick was on 1."""
    stage = last(SEVEN, length="quarter")
    assert rows(stage) == {
        "crash": "0A",
        "hi-hat": "2 4 6 8",
        "snare": "4A 10A",
        "high tom": "11",
        "mid tom": "12",
        "floor tom": "13",
        "kick": "0 8",
    }
    assert "1/kick@0" in stage.change.added


def test_a_fill_of_two_bars_is_in_the_last_and_the_crash_comes_round():
    """Two surfaces: 24 to 27 and 28 to 31. The 1 of bar 1 has a kick and a ride, which becomes the crash."""
    stage = last(TWO_BARS, over=["snare", "floor tom"])
    assert rows(stage) == {
        "crash": "0A",
        "ride": "2 4 6 8 10 12 14 16 18 20 22",
        "snare": "24 25 26 27",
        "floor tom": "28 29 30 31",
        "kick": "0 8 18 24 30",
    }
    assert stage.says == ("the crash is on 1 in bar 1, after the fill",)


def test_a_fill_in_an_earlier_bar_has_its_crash_in_the_next():
    """The first bar's last quarter; bar 2 has no kick on its 1, and gets one."""
    stage = last(TWO_BARS, bar=1, length="quarter", over=["snare"], crash="second crash")
    assert rows(stage) == {
        "second crash": "16A",
        "ride": "0 2 4 6 8 10 18 20 22 24 26 28 30",
        "snare": "12 13 14 15",
        "kick": "0 8 16 18 24 30",
    }
    assert stage.says == ("the second crash is on 1 in bar 2, after the fill",)


def test_a_crash_is_added_where_nobody_rides_and_kept_where_it_is():
    bare = groove('hi-hat = "--x-x-x-x-x-x-x-"\nkick = "--------o-------"')
    stage = last(bare, length="quarter")
    assert {"1/crash@0", "1/kick@0"} <= set(stage.change.added)
    there = groove('crash = "s---------------"\nhi-hat = "x-x-x-x-x-x-x-x-"\nkick = "o-------o-------"')
    stage = last(there, length="quarter")
    assert (rows(stage)["crash"], rows(stage)["hi-hat"]) == ("0s", "0 2 4 6 8 10")
    assert not stage.change.altered


def test_without_a_crash_nothing_is_touched_after_the_fill():
    stage = last(HEADLAND, crash="none")
    assert rows(stage)["hi-hat"] == "0 2 4 6"
    assert stage.says == (ONE_BAR,)
    assert "china" in rows(last(HEADLAND, crash="china"))


def test_a_whole_bar_is_filled_and_the_crash_stands_above_its_first_hit():
    """Fifteen hits and the crash: the backbeat on 4 is no snare hit of the fill any more, since 4 is the high tom's."""
    stage = last(HEADLAND, length="whole", feet="out")
    assert rows(stage) == {
        "crash": "0A",
        "snare": "0 1 2 3",
        "high tom": "4 5 6 7",
        "mid tom": "8 9 10 11",
        "floor tom": "12 13 14 15",
        "kick": "0",
    }


def test_what_is_longer_than_the_bar_fills_the_bar():
    stage = last(SEVEN, length="whole", over=["snare"], cell="eighth", crash="none")
    assert rows(stage) == {"snare": "0 2 4A 6 8 10A 12", "kick": "8"}
    assert stage.says == ("a bar of 7/8 is shorter than a whole; the whole bar is filled", ONE_BAR)


def test_feet_stay_or_leave_the_fill_alone():
    assert rows(last(HEADLAND))["kick"] == "0 7 8"
    assert rows(last(HEADLAND, feet="out"))["kick"] == "0 7"


def test_a_foot_may_be_one_of_the_surfaces():
    """Snare 8 to 11, kick 12 to 15."""
    assert rows(last(HEADLAND, over=["snare", "kick"], feet="out"))["kick"] == "0 7 12 13 14 15"


def test_the_figure_has_rests_and_is_cut_at_the_bar_line():
    """Dotted eighths from 8: 8 11 14. With an eighth rest before an eighth: 10 and 14."""
    assert rows(last(HEADLAND, cell="dotted eighth", over=["floor tom"]))["floor tom"] == "8 11 14"
    assert rows(last(HEADLAND, cell="eighth rest eighth", over=["floor tom"]))["floor tom"] == "10 14"


def test_accents_and_dynamic_of_the_fill():
    """The beats 8 and 12 are accents, the rest soft. On the snare alone 12 is kept and was an accent."""
    stage = last(HEADLAND, dynamic="soft", accents="beats", over=["snare"])
    assert rows(stage)["snare"] == "4A 8A 9s 10s 11s 12A 13s 14s 15s"
    ghosted = groove('snare = "------------g---"\nkick = "o---------------"')
    stage = last(ghosted, accents="4", over=["snare"], crash="none")
    assert rows(stage)["snare"] == "8 9 10 11 12A 13 14 15"
    assert stage.change.altered == ("0/snare@3/4",)


def test_free_accents_are_clear_of_the_feet_that_stay():
    """A kick stands on 8: with the feet out it is free as well."""
    assert rows(last(HEADLAND, accents="beats free", over=["floor tom"]))["floor tom"].startswith("8 9 10 11 12A")
    stage = last(HEADLAND, accents="beats free", over=["floor tom"], feet="out")
    assert rows(stage)["floor tom"].startswith("8A 9 10 11 12A")


@pytest.mark.parametrize(
    ("settings", "says"),
    [
        ({"bar": 3}, ("found no bar 3; this beat has 1 bar",)),
        ({"over": []}, ("a fill needs a surface to go over; name one, such as the snare",)),
        ({"accents": "1e", "crash": "none"}, ("the fill has no stroke at 1e", ONE_BAR)),
        ({"accents": "stage 4", "crash": "none"}, ("found no stroke that stage 4 brought", ONE_BAR)),
    ],
)
def test_what_is_not_there_is_said(settings, says):
    assert last(HEADLAND, **settings).says == says


ROUND = "the snare, the high tom, the mid tom and the floor tom"


@pytest.mark.parametrize(
    ("settings", "said"),
    [
        ({}, f"In the last bar, fill the last half note by repeating a sixteenth round {ROUND}, with the crash on the "
             "1 after it."),
        ({"bar": 4, "length": "quarter triplet", "cell": "eighth triplet", "over": ["snare", "kick"], "crash": "none"},
         "In bar 4, fill the last quarter triplet by repeating an eighth triplet round the snare and the kick, with no "
         "crash after it."),
        ({"dynamic": "ghost", "accents": "beats", "feet": "out", "crash": "second crash", "over": ["floor tom"]},
         "In the last bar, fill the last half note by repeating a sixteenth round the floor tom, in ghost notes, "
         "accented at the beats, without the feet, with the second crash on the 1 after it."),
    ],
)  # fmt: skip
def test_the_sentence_says_every_setting(settings, said):
    assert plain(make(1, "fill", settings)) == said


@pytest.mark.parametrize(
    ("settings", "field", "message"),
    [
        ({"bar": 17}, "bar", "17 is out of range; it goes from 0 to 16"),
        ({"over": ["snare", "bucket"]}, "over.#1", '"bucket" is not a surface of the kit'),
        ({"over": ["snare"] * 17}, "over", "at most 16 surfaces can be listed, not 17"),
        ({"crash": "splash"}, "crash", "is not one of crash, second crash, china, none"),
        ({"feet": "away"}, "feet", "is not one of stay, out"),
        ({"length": "half half"}, "length", "is not one note"),
    ],
)
def test_what_is_out_of_range_is_named(settings, field, message):
    with pytest.raises(GroundbeatError, match=message) as caught:
        make(1, "fill", settings)
    assert caught.value.field == field


def _span(beat, settings):
    bar = int(settings["bar"]) or beat.bars
    end = bar * beat.meter.bar
    return max(end - read_cell(settings["length"])[0].ticks, end - beat.meter.bar), end


@given(beats(), st.data())
def test_only_the_fill_and_the_1_after_it_are_touched(beat, data):
    groove_filled = add(Groove(base=beat), "fill", data.draw(settings_of("fill")))
    settings = full(kind_of("fill").settings, groove_filled.variations[0].settings)
    base, stage = grow(groove_filled)
    start, end = _span(beat, settings)
    one = end % beat.cycle if settings["crash"] != "none" else -1
    before = {stroke.id: stroke for stroke in base.beat.strokes}
    kept = set(stage.change.kept)
    for name, stroke in before.items():
        if not start <= stroke.at < end and stroke.at != one:
            assert name in kept
        if stroke.surface in FEET_ONLY and settings["feet"] == "stay" and stroke.surface not in settings["over"]:
            assert name in kept
    for stroke in stage.beat.strokes:
        if stroke.id in stage.change.added:
            assert start <= stroke.at < end or stroke.at == one
    assert stage.change.of == () and not stage.change.moved


@given(beats(), st.data())
def test_a_fill_laid_twice_is_laid_once(beat, data):
    raw = data.draw(settings_of("fill")) | {"accents": "beats"}
    once, twice = grow(add(add(Groove(base=beat), "fill", raw), "fill", raw))[1:]
    assert once.beat == twice.beat


@given(beats(), st.data())
def test_in_a_fill_the_hands_strike_what_it_says_and_nothing_else(beat, data):
    raw = data.draw(settings_of("fill")) | {"bar": 0, "crash": "none", "over": ["snare", "floor tom"]}
    groove_filled = add(Groove(base=beat), "fill", raw)
    start, end = _span(beat, full(kind_of("fill").settings, groove_filled.variations[0].settings))
    hands = [s for s in grow(groove_filled)[-1].beat.strokes if start <= s.at < end and s.surface not in FEET_ONLY]
    half = start + (end - start) / 2
    assert all(stroke.surface == ("snare" if stroke.at < half else "floor tom") for stroke in hands)
    assert len({stroke.at for stroke in hands}) == len(hands)
