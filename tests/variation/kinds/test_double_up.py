"""Double up in columns worked out by hand: what is copied, what is taken, which ornaments a second surface can have."""

from __future__ import annotations

import pytest
from hypothesis import given

from groundbeat.codec.groove_read import read_groove
from groundbeat.errors import GroundbeatError
from groundbeat.model.groove import Groove
from groundbeat.model.kit import INSTRUMENTS
from groundbeat.variation.double_up import KIND
from groundbeat.variation.stack import add, grow, make, plain, settle
from tests.strategies import beats, settings_of


def groove(lines: str, meter: str = "4/4", columns: str = "sixteenths") -> Groove:
    return read_groove(f'groundbeat = 1\nmeter = "{meter}"\ncolumns = "{columns}"\n[base]\n{lines}\n')


def last(base: Groove, **settings: object):
    return grow(add(base, "double-up", settings))[-1]


def row(stage, surface: str, ticks: int = 2520) -> list[tuple[int, str]]:
    return [(s.at // ticks, s.dynamic) for s in stage.beat.strokes if s.surface == surface]


ROCK = groove(
    'hi-hat = "x-x-x-x-x-x-x-x-"\nfloor-tom = "------------o---"\nsnare = "----O--g-g--O---"\nkick = "o-----o---o-----"'
)


def test_the_backbeats_sound_on_the_floor_tom_as_well():
    stage = last(ROCK, at="backbeats", **{"with": "floor tom"})
    assert row(stage, "floor tom") == [(4, "accent"), (12, "normal")]
    assert row(stage, "snare") == [(4, "accent"), (7, "ghost"), (9, "ghost"), (12, "accent")]
    assert stage.says == ("1 stroke found the floor tom taken",)
    assert stage.change.of == (("1/floor tom@1/4", "0/snare@1/4"),)
    assert len(stage.change.kept) == len(ROCK.base.strokes)


def test_without_a_choice_of_strokes_the_whole_voice_is_doubled():
    stage = last(ROCK, **{"with": "stack cymbal"})
    assert row(stage, "stack cymbal") == [(4, "accent"), (7, "ghost"), (9, "ghost"), (12, "accent")]


def test_the_doubles_are_as_loud_as_the_setting_says():
    stage = last(ROCK, surface="kick", dynamic="soft", **{"with": "hi-hat foot"})
    assert row(stage, "hi-hat foot") == [(0, "soft"), (6, "soft"), (10, "soft")]
    assert stage.says == ()


def test_triplets_are_doubled_where_they_stand():
    base = groove('ride = "x-xx-xx-xx-x"', columns="eighth triplets")
    stage = last(base, surface="ride", at="let", **{"with": "cowbell"})
    assert row(stage, "cowbell", 3360) == [(2, "normal"), (5, "normal"), (8, "normal"), (11, "normal")]


def test_seven_eight_doubles_the_first_of_each_group():
    base = groove('hi-hat = "x-x-x-x-x-x-x-"\nkick = "o---o---o-----"', meter="7/8")
    stage = last(base, surface="riding", at="beats", **{"with": "crash"})
    assert row(stage, "crash") == [(0, "normal"), (4, "normal"), (8, "normal")]


def test_of_several_strokes_at_a_place_the_loudest_is_copied_once():
    base = groove('hi-hat = "x---------------"\nsnare = "O---g-----------"\nkick = "o---o-----------"')
    stage = last(base, surface="everything", **{"with": "floor tom"})
    assert row(stage, "floor tom") == [(0, "accent"), (4, "normal")]
    assert [of for _, of in stage.change.of] == ["0/snare@0", "0/kick@1/4"]
    assert stage.says == ()


def test_rimshot_and_snare_are_one_instrument():
    stage = last(ROCK, **{"with": "rimshot"})
    assert stage.beat.strokes == ROCK.base.strokes
    assert stage.says == ("these strokes are on the snare already, which sounds once at a place",)


def test_several_taken_places_are_counted():
    base = groove('snare = "o---o---o-------"\nfloor-tom = "o---o-----------"')
    assert last(base, surface="snare", **{"with": "floor tom"}).says == ("2 strokes found the floor tom taken",)


@pytest.mark.parametrize(
    ("mark", "target", "grace", "says"),
    [
        ("1", "floor tom", "", ("the floor tom plays single strokes there, without the flam",)),
        ("2", "floor tom", "", ("the floor tom plays single strokes there, without the drag",)),
        ("/", "floor tom", "diddle", ()),
        ("z", "floor tom", "buzz", ()),
        ("z", "kick", "", ("the kick plays single strokes there, without the buzz",)),
        ("#", "crash", "choke", ()),
        ("#", "floor tom", "", ("the floor tom plays single strokes there, without the choke",)),
    ],
)
def test_a_copy_keeps_the_ornament_that_one_hand_can_play_there(mark, target, grace, says):
    base = groove(f'china = "x---------------"\nchina-graces = "{mark}---------------"')
    stage = last(base, surface="china", **{"with": target})
    (copy,) = [stroke for stroke in stage.beat.strokes if stroke.surface == target]
    assert (copy.grace, stage.says) == (grace, says)


def test_a_copy_has_no_pinned_hand():
    base = groove('snare = "o---------------"\nsnare-hands = "R---------------"')
    stage = last(base, surface="snare", **{"with": "floor tom"})
    assert [(s.surface, s.hand) for s in stage.beat.strokes] == [("floor tom", ""), ("snare", "R")]


def test_a_beat_without_a_backbeat_says_so():
    stage = last(groove('kick = "o---------------"'), **{"with": "floor tom"})
    assert stage.says == ("found no backbeat",)


@pytest.mark.parametrize(
    ("settings", "field", "said"),
    [
        ({}, "with", 'double-up needs "with"'),
        ({"with": "riding"}, "with", 'with: "riding" is not a surface'),
        ({"with": "ride", "dynamic": "louder"}, "dynamic", "as they are, ghost, soft, normal, accent"),
    ],
)
def test_a_setting_out_of_range_names_field_and_what_is_allowed(settings, field, said):
    with pytest.raises(GroundbeatError, match=said) as caught:
        make(1, "double-up", settings)
    assert caught.value.field == field


@pytest.mark.parametrize(
    ("settings", "said"),
    [
        ({}, "Double every stroke of the backbeat voice on the floor tom."),
        ({"at": "first backbeat"}, "Double the first backbeat of the backbeat voice on the floor tom."),
        (
            {"surface": "kick", "at": "1 3", "dynamic": "soft"},
            "Double the 1 and the 3 of the kick on the floor tom, as soft strokes.",
        ),
    ],
)
def test_it_reads_as_a_teacher_would_say_it(settings, said):
    assert plain(make(1, "double-up", {"with": "floor tom", **settings})) == said


@given(beats(), settings_of("double-up"))
def test_what_is_there_is_never_touched_and_every_copy_stands_by_its_stroke(beat, settings):
    stage = grow(add(Groove(base=beat), "double-up", settings))[-1]
    assert stage.change.kept == tuple(stroke.id for stroke in beat.strokes)
    was = {stroke.id: stroke for stroke in beat.strokes}
    now = {stroke.id: stroke for stroke in stage.beat.strokes}
    assert len(stage.change.of) == len(stage.change.added)
    dynamic = settings.get("dynamic", "as they are")
    target = dict(settle(KIND.settings, settings, "double-up"))["with"]
    for copy, of in stage.change.of:
        assert now[copy].at == was[of].at
        assert now[copy].surface == target
        assert now[copy].dynamic == (was[of].dynamic if dynamic == "as they are" else dynamic)


@given(beats(), settings_of("double-up"))
def test_doubling_again_adds_nothing(beat, settings):
    settings = {**settings, "surface": "snare", "at": "all"}
    once = add(Groove(base=beat), "double-up", settings)
    one, two = grow(add(once, "double-up", settings))[1:]
    assert two.beat == one.beat
    snares = {s.at for s in beat.strokes if s.surface == "snare"}
    if INSTRUMENTS[settings["with"]] != "snare":
        assert snares <= {s.at for s in two.beat.strokes if s.instrument == INSTRUMENTS[settings["with"]]}
