"""Orchestrate on surfaces in turn and by dynamic, in columns worked out by hand; alone it does what it always did."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from groundbeat.codec.groove_read import read_groove
from groundbeat.errors import GroundbeatError
from groundbeat.model.groove import Groove
from groundbeat.variation.stack import add, grow, make, plain
from tests.strategies import beats, settings_of

AROUND = {"to": "high tom", "turn": ["mid tom", "floor tom"]}


def groove(lines: str, meter: str = "4/4", columns: str = "sixteenths") -> Groove:
    return read_groove(f'groundbeat = 1\nmeter = "{meter}"\ncolumns = "{columns}"\n[base]\n{lines}\n')


def last(base: Groove, **settings: object):
    return grow(add(base, "orchestrate", settings))[-1]


def columns(stage, ticks: int = 2520) -> dict[str, list[int]]:
    rows: dict[str, list[int]] = {}
    for stroke in stage.beat.strokes:
        rows.setdefault(stroke.surface, []).append(stroke.at // ticks)
    return rows


FILL = groove('snare = "O-g-o-oOg-o-O-os"\nkick = "o-----o---o-----"')


def test_strokes_go_in_turn_over_the_surfaces():
    """Snare on 0 2 4 6 7 8 10 12 14 15: high, mid, floor, high, mid, floor, high, mid, floor, high."""
    stage = last(FILL, surface="snare", **AROUND)
    assert columns(stage) == {
        "high tom": [0, 6, 10, 15],
        "mid tom": [2, 7, 12],
        "floor tom": [4, 8, 14],
        "kick": [0, 6, 10],
    }
    assert stage.says == ("the turn is cut at the loop; comes round after 3 times through",)
    assert len(stage.change.altered) == 10


def test_every_beat_has_a_surface_of_its_own():
    stage = last(FILL, surface="snare", change="every beat", **AROUND)
    assert columns(stage) == {
        "high tom": [0, 2, 12, 14, 15],
        "mid tom": [4, 6, 7],
        "floor tom": [8, 10],
        "kick": [0, 6, 10],
    }


def test_a_beat_without_strokes_has_its_surface_all_the_same():
    stage = last(groove('snare = "o-------o-------"'), surface="snare", change="every beat", **AROUND)
    assert columns(stage) == {"high tom": [0], "floor tom": [8]}


def test_every_bar_has_a_surface_of_its_own():
    base = groove('ride = "x-x-x-x-|x-x-x-x-"', meter="2/4")
    stage = last(base, surface="ride", to="hi-hat", turn=["ride bell"], change="every bar")
    assert columns(stage) == {"hi-hat": [0, 2, 4, 6], "ride bell": [8, 10, 12, 14]}
    assert stage.says == ()


def test_beats_are_those_of_the_grouping():
    """7/8 as 2+2+3: sixteenths 0-3, 4-7 and 8-13; three beats come round evenly."""
    base = groove('hi-hat = "x-x-x-x-x-x-x-"', meter="7/8")
    stage = last(base, surface="riding", change="every beat", **AROUND)
    assert columns(stage) == {"high tom": [0, 2], "mid tom": [4, 6], "floor tom": [8, 10, 12]}
    assert stage.says == ()


def test_two_beats_of_six_eight_reach_two_surfaces():
    base = groove('hi-hat = "x-x-x-x-x-x-"', meter="6/8")
    stage = last(base, surface="riding", change="every beat", **AROUND)
    assert columns(stage) == {"high tom": [0, 2, 4], "mid tom": [6, 8, 10]}
    assert stage.says == ("only the first 2 of the 3 surfaces are reached",)


def test_triplets_go_round_the_kit():
    base = groove('snare = "oooooooooooo"', columns="eighth triplets")
    stage = last(base, surface="snare", **AROUND)
    assert columns(stage, 3360) == {"high tom": [0, 3, 6, 9], "mid tom": [1, 4, 7, 10], "floor tom": [2, 5, 8, 11]}
    assert stage.says == ()


def test_two_strokes_at_one_place_take_a_surface_each():
    base = groove('hi-hat = "x---x-----------"\nsnare = "----o-----------"')
    stage = last(base, **AROUND)
    assert columns(stage) == {"high tom": [0], "mid tom": [4], "floor tom": [4]}
    assert stage.change.merged == ()


def test_loud_and_quiet_strokes_go_to_surfaces_of_their_own():
    stage = last(FILL, surface="snare", to="high tom", then={"at": "accents", "to": "crash"}, also={"to": "floor tom"})
    assert columns(stage) == {
        "crash": [0, 7, 12],
        "high tom": [4, 6, 10, 14],
        "floor tom": [2, 8, 15],
        "kick": [0, 6, 10],
    }
    assert stage.says == ()


def test_ghosts_without_soft_strokes_are_quiet_enough():
    stage = last(groove('snare = "o-g-------------"'), surface="snare", to="high tom", also={"to": "floor tom"})
    assert columns(stage) == {"high tom": [0], "floor tom": [2]}
    assert stage.says == ()
    loud = last(groove('snare = "o-O-------------"'), surface="snare", to="high tom", also={"to": "floor tom"})
    assert loud.says == ("found no ghost", "found no soft stroke", "found nothing to play on the floor tom")


def test_the_turn_goes_on_under_strokes_that_are_played_elsewhere():
    """0 and 7 are accents; the strokes between keep the surfaces that they have without the accents' crash."""
    stage = last(groove('snare = "O-g-o-oO--------"'), surface="snare", then={"at": "accents", "to": "crash"}, **AROUND)
    assert columns(stage) == {"crash": [0, 7], "mid tom": [2], "floor tom": [4], "high tom": [6]}


def test_also_has_the_last_word():
    stage = last(
        groove('snare = "o---O-----------"'),
        surface="snare",
        to="high tom",
        then={"at": "2", "to": "crash"},
        also={"at": "accents", "to": "cowbell"},
    )
    assert columns(stage) == {"high tom": [0], "cowbell": [4]}


def test_a_hand_is_no_longer_pinned_where_the_turn_comes_to_a_foot():
    base = groove('snare = "o-o-------------"\nsnare-hands = "R-L-------------"')
    stage = last(base, surface="snare", to="floor tom", turn=["kick"])
    assert [(s.surface, s.hand) for s in stage.beat.strokes] == [("floor tom", "R"), ("kick", "")]


@pytest.mark.parametrize(
    ("settings", "said"),
    [
        ({"change": "every bar", **AROUND}, "it never comes to the second surface"),
        ({"to": "ride", "change": "every beat"}, "there is no second surface to go on to"),
        ({"at": "1", "surface": "snare", **AROUND}, "it never comes to the second surface"),
        ({"at": "1 2", "surface": "snare", **AROUND}, "only the first 2 of the 3 surfaces are reached"),
        ({"surface": "snare", "to": "ride", "turn": ["crash", "ride", "china"], "at": "4 4& 2 2& 2a 4a"},
         "the turn is cut at the loop; comes round after 2 times through"),
        ({"at": "2&", "to": "ride", "also": {"to": "cowbell"}}, "found nothing to play on the cowbell"),
    ],
)  # fmt: skip
def test_what_the_turn_does_not_reach_is_said(settings, said):
    assert said in last(FILL, **settings).says


@pytest.mark.parametrize(
    ("settings", "field", "said"),
    [
        ({"to": "ride", "turn": ["crash", "tuba"]}, "turn.#1", 'turn: "tuba" is not a surface'),
        ({"to": "ride", "turn": ["ride"] * 17}, "turn", "at most 16 surfaces can be listed, not 17"),
        ({"to": "ride", "change": "now and then"}, "change", "every stroke, every beat, every bar"),
        ({"to": "ride", "also": {"at": "e"}}, "also.to", 'needs "to"'),
    ],
)
def test_a_setting_out_of_range_names_field_and_what_is_allowed(settings, field, said):
    with pytest.raises(GroundbeatError, match=said) as caught:
        make(1, "orchestrate", settings)
    assert caught.value.field == field


@pytest.mark.parametrize(
    ("settings", "said"),
    [
        ({"turn": ["mid tom"]}, "Play every stroke of the whole beat on the high tom and the mid tom in turn."),
        (
            {"surface": "snare", "turn": ["mid tom", "floor tom"], "change": "every beat"},
            "Play every stroke of the snare on the high tom, the mid tom and the floor tom in turn, "
            "going on with every beat.",
        ),
        (
            {"surface": "snare", "then": {"at": "accents", "to": "crash"}, "also": {"to": "snare rim"}},
            "Play every stroke of the snare on the high tom, the accents on the crash, "
            "but the ghosts and the soft strokes on the snare rim.",
        ),
    ],
)
def test_a_turn_reads_as_a_teacher_would_say_it(settings, said):
    assert plain(make(1, "orchestrate", {"to": "high tom", **settings})) == said


def _sound(stroke):
    return stroke.at, stroke.dynamic, stroke.grace


@given(beats(), settings_of("orchestrate"))
def test_only_the_surface_changes_and_nothing_is_left_out_or_added(beat, settings):
    stage = grow(add(Groove(base=beat), "orchestrate", settings))[-1]
    was = {stroke.id: stroke for stroke in beat.strokes}
    assert not (stage.change.left_out or stage.change.added or stage.change.moved)
    for stroke in stage.beat.strokes:
        assert _sound(stroke) == _sound(was[stroke.id])


@given(beats(), settings_of("orchestrate"), st.sampled_from(["every stroke", "every beat", "every bar"]))
def test_a_turn_over_one_surface_is_no_turn(beat, settings, change):
    """Without further surfaces, or with the same one again and again, the result is that of the plain kind."""
    bare = {name: value for name, value in settings.items() if name not in ("turn", "change")}
    base = Groove(base=beat)
    plainly = grow(add(base, "orchestrate", bare))[-1]
    again = grow(add(base, "orchestrate", {**bare, "turn": [bare["to"]] * 2, "change": change}))[-1]
    assert again.beat == plainly.beat
    assert replace(again.change) == replace(plainly.change)
