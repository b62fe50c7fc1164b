"""Hand to foot in columns worked out by hand: who goes, what a foot cannot play, what happens to the hi-hat."""

from __future__ import annotations

import pytest
from hypothesis import given

from groundbeat.codec.groove_read import read_groove
from groundbeat.errors import GroundbeatError
from groundbeat.model.groove import Groove
from groundbeat.model.kit import FEET_ONLY
from groundbeat.variation.stack import add, grow, make, plain
from tests.strategies import beats, settings_of

RINGS = "the foot opens the hi-hat before each of its strokes: closed strokes just before it ring"


def groove(lines: str, meter: str = "4/4", columns: str = "sixteenths") -> Groove:
    return read_groove(f'groundbeat = 1\nmeter = "{meter}"\ncolumns = "{columns}"\n[base]\n{lines}\n')


def last(base: Groove, **settings: object):
    return grow(add(base, "hand-to-foot", settings))[-1]


def columns(stage, ticks: int = 2520) -> dict[str, list[int]]:
    rows: dict[str, list[int]] = {}
    for stroke in stage.beat.strokes:
        rows.setdefault(stroke.surface, []).append(stroke.at // ticks)
    return rows


MILL = groove(
    'hi-hat = "x-x-x-x-x-x-x-x-"\nsnare = "o-gO--gsO-go--O-"\nsnare-graces = "---1----2-------"\n'
    'kick = "o-------o-------"'
)


def test_ghosts_of_the_snare_go_to_the_kick():
    stage = last(MILL, at="ghosts")
    assert columns(stage) == {
        "hi-hat": [0, 2, 4, 6, 8, 10, 12, 14],
        "snare": [0, 3, 7, 8, 11, 14],
        "kick": [0, 2, 6, 8, 10],
    }
    assert [s.dynamic for s in stage.beat.strokes if s.surface == "kick"] == [
        "normal", "ghost", "ghost", "normal", "ghost"
    ]  # fmt: skip
    assert stage.says == ()


def test_two_feet_take_the_places_in_turn():
    stage = last(MILL, at="ghosts soft", alternate="second kick")
    assert columns(stage)["kick"] == [0, 2, 7, 8]
    assert columns(stage)["second kick"] == [6, 10]


def test_strokes_at_one_place_go_to_one_foot_and_merge():
    base = groove('high-tom = "O-------o-------"\nsnare = "o---o-----------"')
    stage = last(base, surface="everything", alternate="second kick")
    assert columns(stage) == {"kick": [0, 8], "second kick": [4]}
    (merge,) = stage.change.merged
    assert (merge.id, set(merge.parents)) == ("0/high tom@0", {"0/high tom@0", "0/snare@0"})


def test_where_the_foot_plays_already_the_louder_stays_without_its_ornament():
    stage = last(MILL, at="1 3")
    kicks = [(s.id, s.dynamic, s.grace) for s in stage.beat.strokes if s.surface == "kick"]
    assert kicks == [("0/kick@0", "normal", ""), ("0/snare@1/2", "accent", "")]
    assert stage.says == ("a foot plays single strokes, without the drag",)


def test_several_ornaments_are_named_once_each():
    stage = last(MILL, at="all")
    assert "a foot plays single strokes, without the flam or drag" in stage.says
    assert all(not stroke.grace for stroke in stage.beat.strokes)


def test_a_pinned_hand_is_dropped():
    base = groove('snare = "o---------------"\nsnare-hands = "L---------------"')
    (stroke,) = last(base).beat.strokes
    assert (stroke.surface, stroke.hand) == ("kick", "")


def test_upbeats_of_the_riding_hand_go_to_the_hi_hat_foot():
    stage = last(MILL, surface="riding", at="upbeats", to="hi-hat foot")
    assert columns(stage)["hi-hat"] == [0, 4, 8, 12]
    assert columns(stage)["hi-hat foot"] == [2, 6, 10, 14]
    assert stage.says == (RINGS,)


def test_on_triplets_the_last_of_three_goes_to_the_foot():
    base = groove('ride = "x-xx-xx-xx-x"', columns="eighth triplets")
    stage = last(base, surface="ride", at="let", to="hi-hat foot")
    assert columns(stage, 3360) == {"ride": [0, 3, 6, 9], "hi-hat foot": [2, 5, 8, 11]}
    assert stage.says == (), "nobody plays the hi-hat with a stick"


def test_six_eight_and_two_bars():
    base = groove('snare = "gggOgg|gggOgg"\nkick = "o-----|o-----"', meter="6/8", columns="eighths")
    stage = last(base, at="3 6", to="second kick", alternate="kick")
    assert columns(stage, 5040) == {
        "snare": [0, 1, 3, 4, 6, 7, 9, 10],
        "kick": [0, 5, 6, 11],
        "second kick": [2, 8],
    }


@pytest.mark.parametrize(
    ("line", "to", "said"),
    [
        ("hi-hat", "hi-hat foot", RINGS),
        ("half-open-hi-hat", "hi-hat foot", RINGS),
        ("open-hi-hat", "hi-hat foot", "the foot closes the open hi-hat"),
        ("hi-hat", "foot splash",
         "a foot splash leaves the hi-hat open: the foot closes it again before the next closed stroke"),
    ],
)  # fmt: skip
def test_what_the_foot_does_to_the_hi_hat_is_said(line, to, said):
    base = groove(f'{line} = "x---------------"\nsnare = "----o-----------"')
    assert last(base, to=to).says == (said,)
    assert last(base, to="kick").says == ()


def test_what_a_foot_plays_stays():
    base = groove('snare = "--o-------------"\nhi-hat-foot = "----x-----------"\nkick = "o---------------"')
    stage = last(base, surface="everything")
    assert columns(stage) == {"kick": [0, 2], "hi-hat foot": [4]}
    assert last(base, surface="hi-hat foot").says == ("a foot plays that already",)


@pytest.mark.parametrize(
    ("settings", "said"),
    [
        ({"surface": "ride"}, "found no ride"),
        ({"at": "4e"}, "found no snare at 4e"),
        ({"alternate": "kick"}, "the kick has nothing to take turns with"),
    ],
)
def test_what_comes_to_nothing_is_said(settings, said):
    assert said in last(MILL, **settings).says


@pytest.mark.parametrize(
    ("settings", "field", "said"),
    [
        ({"to": "snare"}, "to", '"snare" is not one of kick, second kick, hi-hat foot, foot splash'),
        ({"alternate": "yes"}, "alternate", '"yes" is not one of no, kick, second kick'),
        ({"to": 2}, "to", "2 is not text"),
    ],
)
def test_a_setting_out_of_range_names_field_and_what_is_allowed(settings, field, said):
    with pytest.raises(GroundbeatError, match=said) as caught:
        make(1, "hand-to-foot", settings)
    assert caught.value.field == field


@pytest.mark.parametrize(
    ("settings", "said"),
    [
        ({}, "Give every stroke of the snare to the kick."),
        (
            {"surface": "riding", "at": "upbeats", "to": "hi-hat foot"},
            "Give the upbeats of the riding hand to the hi-hat foot.",
        ),
        ({"at": "e a", "alternate": "second kick"}, "Give every e and a of the snare to the kick and the second kick "
         "in turn."),
    ],
)  # fmt: skip
def test_it_reads_as_a_teacher_would_say_it(settings, said):
    assert plain(make(1, "hand-to-foot", settings)) == said


@given(beats(), settings_of("hand-to-foot"))
def test_no_place_falls_silent_and_what_feet_play_is_never_altered(beat, settings):
    stage = grow(add(Groove(base=beat), "hand-to-foot", settings))[-1]
    assert {stroke.at for stroke in stage.beat.strokes} == {stroke.at for stroke in beat.strokes}
    assert not (stage.change.added or stage.change.left_out or stage.change.moved)
    feet = {stroke.id for stroke in beat.strokes if stroke.surface in FEET_ONLY}
    assert feet.isdisjoint(stage.change.altered)
    for stroke in stage.beat.strokes:
        if stroke.id in stage.change.altered:
            assert stroke.surface in FEET_ONLY
            assert (stroke.grace, stroke.hand) == ("", "")


@given(beats(), settings_of("hand-to-foot"))
def test_the_whole_beat_leaves_the_hands_nothing_to_do(beat, settings):
    settings = {**settings, "surface": "everything", "at": "all"}
    stage = grow(add(Groove(base=beat), "hand-to-foot", settings))[-1]
    assert all(stroke.surface in FEET_ONLY for stroke in stage.beat.strokes)
