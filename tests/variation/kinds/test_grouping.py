"""Grouping: columns read by hand, what is said, and what is never touched."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from groundbeat.codec.groove_read import read_groove
from groundbeat.errors import GroundbeatError
from groundbeat.model.groove import Groove
from groundbeat.variation.stack import add, grow, make, plain
from tests.strategies import beats

ROUND_3 = "cut at the loop; comes round after 3 bars"


def groove(lines: str, meter: str = "4/4", columns: str = "sixteenths", bars: int = 1):
    return read_groove(f'groundbeat = 1\nmeter = "{meter}"\nbars = {bars}\ncolumns = "{columns}"\n[base]\n{lines}\n')


ROCK = groove('hi-hat = "x-x-x-x-x-x-x-x-"\nsnare = "----O-------O---"\nkick = "o-------o-------"')
SHUFFLE = groove('hi-hat = "x-xx-xx-xx-x"\nsnare = "---O-----O--"', columns="eighth triplets")


def last(base, **settings):
    return grow(add(base, "grouping", settings))[-1]


def line(stage, surface, column=2520):
    """The columns of a surface, with A where it is accented."""
    return [
        f"{s.at // column}{'A' if s.dynamic == 'accent' else ''}" for s in stage.beat.strokes if s.surface == surface
    ]


def test_threes_run_through_the_bar_and_are_cut_at_the_loop():
    stage = last(ROCK)
    assert line(stage, "hi-hat") == ["0A", "2", "3A", "4", "6A", "8", "9A", "10", "12A", "14", "15A"]
    assert stage.says == (ROUND_3,)
    assert stage.change.added == tuple(f"1/hi-hat@{at}" for at in ("3/16", "9/16", "15/16"))
    assert line(stage, "snare") == ["4A", "12A"]


def test_three_three_two_comes_out_even():
    stage = last(ROCK, groups="3+3+2")
    assert line(stage, "hi-hat") == ["0A", "2", "3A", "4", "6A", "8A", "10", "11A", "12", "14A"]
    assert stage.says == ()


def test_accents_elsewhere_become_plain_so_that_the_groups_are_heard():
    stage = last(groove('hi-hat = "x-X-x-X-x-X-x-g-"'), groups="4")
    assert line(stage, "hi-hat") == ["0A", "2", "4A", "6", "8A", "10", "12A", "14"]
    assert [s.dynamic for s in stage.beat.strokes][-1] == "ghost", "what is quiet stays quiet"


def test_alone_leaves_only_the_firsts():
    stage = last(ROCK, groups="3+3+2", mark="alone")
    assert line(stage, "hi-hat") == ["0", "3", "6", "8", "11", "14"]
    assert len(stage.change.left_out) == 4
    assert len(stage.change.added) == 2


def test_elsewhere_plays_the_firsts_on_another_surface():
    stage = last(ROCK, groups="3+3+2", mark="elsewhere")
    assert line(stage, "ride bell") == ["0", "3", "6", "8", "11", "14"]
    assert line(stage, "hi-hat") == ["2", "4", "10", "12"]
    stage = last(ROCK, groups="3+3+2", mark="elsewhere", to="cowbell")
    assert line(stage, "cowbell") == ["0", "3", "6", "8", "11", "14"]


def test_groups_begin_anew_in_each_bar_only_when_asked():
    two = groove('hi-hat = "x-x-x-x-x-x-x-x-x-x-x-x-x-x-x-x-"', bars=2)
    on = last(two, groups="5", mark="alone")
    assert line(on, "hi-hat") == ["0", "5", "10", "15", "20", "25", "30"]
    assert on.says == ("cut at the loop; comes round after 5 bars",)
    anew = last(two, groups="5", mark="alone", restart="bar")
    assert line(anew, "hi-hat") == ["0", "5", "10", "15", "16", "21", "26", "31"]
    assert anew.says == ("cut at every bar line",)
    assert last(ROCK, groups="3", restart="bar").says == ("cut at every bar line",)


def test_after_lengthening_it_comes_out_even_as_promised():
    lengthened = add(ROCK, "length", {"bars": 3})
    assert grow(add(lengthened, "grouping", {}))[-1].says == ()


def test_what_never_fits_sixteen_bars_offers_no_lengthening():
    stage = last(groove('hi-hat = "x-x-x-x-x-x-x-"', "7/8"), groups="15+2")
    assert stage.says == ("cut at the loop; comes round after 17 bars",)


def test_groups_of_four_over_a_shuffle_in_triplets():
    stage = last(SHUFFLE, groups="4", step="eighth triplet")
    assert line(stage, "hi-hat", 3360) == ["0A", "2", "3", "4A", "5", "6", "8A", "9", "11"]
    assert stage.says == ()


def test_groups_off_the_columns_are_said():
    assert last(SHUFFLE).says[0] == "these groups do not lie on the eighth triplets of the beat"


def test_fours_over_six_eight():
    stage = last(groove('hi-hat = "x-x-x-x-x-x-"\nkick = "o-----------"', "6/8"), groups="4")
    assert line(stage, "hi-hat") == ["0A", "2", "4A", "6", "8A", "10"]
    assert stage.says == ()


def test_threes_over_seven_eight():
    stage = last(groove('ride = "x-x-x-x-x-x-x-"', "7/8"))
    assert line(stage, "ride") == ["0A", "2", "3A", "4", "6A", "8", "9A", "10", "12A"]
    assert stage.says == (ROUND_3,)


def test_the_whole_instrument_is_meant():
    stage = last(groove('hi-hat = "x---x---x---x---"\nopen-hi-hat = "---x---x--------"'), surface="hi-hat")
    assert line(stage, "open hi-hat") == ["3A", "7"]
    assert line(stage, "hi-hat") == ["0A", "4", "6A", "8", "9A", "12A", "15A"]


def test_another_line_can_be_grouped():
    stage = last(ROCK, surface="kick", groups="5", mark="alone")
    assert line(stage, "kick") == ["0", "5", "10", "15"]


def test_the_whole_beat_gets_no_strokes_where_nothing_sounds():
    stage = last(ROCK, surface="everything")
    assert line(stage, "kick") == ["0A", "8"]
    assert line(stage, "snare") == ["4", "12A"]
    assert line(stage, "hi-hat") == ["0A", "2", "4", "6A", "8", "10", "12A", "14"]
    assert "firsts where nothing sounds stay silent: the whole beat is no surface to add strokes on" in stage.says


def test_what_is_on_that_surface_already_is_said():
    stage = last(groove('ride-bell = "x-x-x-x-x-x-x-x-"'), mark="elsewhere", groups="4")
    assert stage.says == ("all of this is on the ride bell already; name another surface to hear the groups",)


def test_without_a_riding_hand_nothing_happens():
    stage = last(groove('snare = "----O-------O---"'))
    assert stage.says == ("found no riding hand",)
    assert len(stage.change.kept) == 2


@pytest.mark.parametrize(
    ("settings", "said"),
    [
        ({}, "Count the riding hand in threes of sixteenths and accent the first of each."),
        (
            {"groups": "3+3+2", "mark": "alone", "step": "eighth triplet"},
            "Count the riding hand in 3+3+2 of eighth triplets and leave only the first of each.",
        ),
        (
            {"groups": "11", "mark": "elsewhere", "restart": "bar"},
            "Count the riding hand in groups of 11 of sixteenths and play the first of each on the ride bell, "
            "beginning anew in each bar.",
        ),
        (
            {"to": "cowbell"},
            "Count the riding hand in threes of sixteenths and accent the first of each, with the cowbell left aside.",
        ),
    ],
)
def test_it_reads_as_a_teacher_says_it(settings, said):
    assert plain(make(1, "grouping", settings)) == said


@pytest.mark.parametrize(
    ("settings", "match"),
    [
        ({"groups": "16"}, 'groups: "16": a group has 1 to 15 notes'),
        ({"groups": "0"}, 'groups: "0" is not a grouping'),
        ({"step": "eighth sixteenth"}, "step: .* is not one note"),
        ({"mark": "loud"}, "mark: .*loud.* is not one of accent, alone, elsewhere"),
        ({"to": "gong"}, 'to: "gong" is not a surface'),
    ],
)
def test_what_is_out_of_range_names_the_setting(settings, match):
    with pytest.raises(GroundbeatError, match=match):
        make(1, "grouping", settings)


SURFACES = st.sampled_from(["hi-hat", "snare", "ride", "kick"])
GROUPS = st.sampled_from(["2", "3", "5", "7", "3+3+2", "1+4"])


@given(beats(), SURFACES, GROUPS, st.sampled_from(["accent", "alone"]), st.sampled_from(["never", "bar"]))
def test_grouping_again_changes_nothing(beat, surface, groups, mark, restart):
    settings = {"surface": surface, "groups": groups, "mark": mark, "restart": restart}
    once = add(Groove(base=beat), "grouping", settings)
    _, first, again = grow(add(once, "grouping", settings))
    assert again.beat == first.beat


@given(beats(), SURFACES, GROUPS)
def test_the_accents_of_the_line_are_the_firsts_and_other_instruments_are_kept(beat, surface, groups):
    base, stage = grow(add(Groove(base=beat), "grouping", {"surface": surface, "groups": groups}))
    sizes = [int(size) for size in groups.split("+")]
    firsts, at, turn = [], 0, 0
    while at < beat.cycle:
        firsts.append(at)
        at += sizes[turn % len(sizes)] * 2520
        turn += 1
    own = {"hi-hat": "hi-hat", "snare": "snare", "ride": "ride", "kick": "kick"}[surface]
    instruments = {own, "second kick"} if surface == "kick" and _sounds(beat, "second kick") else {own}
    loud = sorted({s.at for s in stage.beat.strokes if s.instrument in instruments and s.dynamic == "accent"})
    assert loud == firsts
    others = [s for s in base.beat.strokes if s.instrument not in instruments]
    assert [s for s in stage.beat.strokes if s.instrument not in instruments] == others


def _sounds(beat, name):
    return any(s.surface == name for s in beat.strokes)
