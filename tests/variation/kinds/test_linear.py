"""Linear: columns worked out by hand, and the law that no place is left with two strokes."""

from __future__ import annotations

from collections import Counter

import pytest
from hypothesis import given
from hypothesis import strategies as st

from groundbeat.codec.groove_read import read_groove
from groundbeat.errors import GroundbeatError
from groundbeat.model.groove import Groove
from groundbeat.model.roles import find_backbeats
from groundbeat.variation.catalogue import kind
from groundbeat.variation.stack import add, grow, make, plain
from tests.strategies import beats, settings_of


def groove(lines: str, meter: str = "4/4", columns: str = "sixteenths") -> Groove:
    return read_groove(f'groundbeat = 1\nmeter = "{meter}"\ncolumns = "{columns}"\n[base]\n{lines}\n')


ROCK = groove('hi-hat = "x-x-x-x-x-x-x-x-"\nsnare = "----O--g----O--g"\nkick = "o------oo-------"')
SHUFFLE = groove('ride = "x-xx-xx-xx-x"\nsnare = "---O-----O--"\nkick = "o-----o-----"', columns="eighth triplets")
COMPOUND = groove('hi-hat = "xxxxxx"\nsnare = "---O--"\nkick = "o----o"', "6/8", "eighths")
SEVEN = groove('hi-hat = "x-x-x-x-x-x-x-"\nsnare = "----O-----O---"\nkick = "o-------o---o-"', "7/8")


def stage_of(base: Groove, **settings: str):
    return grow(add(base, "linear", settings))[-1]


def cols(stage, surface: str, ticks: int = 2520) -> list[int]:
    return [stroke.at // ticks for stroke in stage.beat.strokes if stroke.surface == surface]


def test_the_riding_hand_yields_first_then_the_kick():
    stage = stage_of(ROCK)
    assert cols(stage, "hi-hat") == [2, 6, 10, 14]
    assert cols(stage, "kick") == [0, 8]
    assert cols(stage, "snare") == [4, 7, 12, 15]
    assert stage.says == ()


def test_it_may_be_another_that_yields():
    stage = stage_of(ROCK, first="snare", second="kick")
    assert (cols(stage, "hi-hat"), cols(stage, "snare"), cols(stage, "kick")) == (
        [0, 2, 6, 8, 10, 14],
        [4, 12, 15],
        [7],
    )


def test_the_second_says_who_yields_where_the_first_is_silent():
    assert cols(stage_of(ROCK, second="snare"), "snare") == [4, 12, 15]
    assert cols(stage_of(ROCK, second="snare"), "kick") == [0, 7, 8]


def test_what_yields_moves_on_to_the_next_free_place_of_its_beat():
    """Hats from 0 4 8 12 to 1 5 9 13; the kick under the ghost on 7 has no place left before beat 3."""
    stage = stage_of(ROCK, how="moves on")
    assert cols(stage, "hi-hat") == [1, 2, 5, 6, 9, 10, 13, 14]
    assert cols(stage, "kick") == [0, 8]
    assert stage.says == ("a stroke found no free place in its beat and was left out",)
    assert len(stage.change.moved) == 4


def test_moving_on_in_triplets():
    stage = stage_of(SHUFFLE, how="moves on")
    assert cols(stage, "ride", 3360) == [1, 2, 4, 5, 7, 8, 10, 11]


def test_a_full_line_has_no_room_to_move_on():
    stage = stage_of(COMPOUND, how="moves on")
    assert cols(stage, "hi-hat", 5040) == [1, 2, 4]
    assert stage.says == ("3 strokes found no free place in their beat and were left out",)


def test_the_beats_of_the_meter_bound_the_way():
    """7/8 as 2+2+3: from 0 to 1, from 4 to 5, from 8 to 9, from 10 to 11 and from 12 to 13."""
    stage = stage_of(SEVEN, how="moves on")
    assert cols(stage, "hi-hat") == [1, 2, 5, 6, 9, 11, 13]


def test_of_several_the_order_is_kept_and_each_takes_the_next_place():
    base = groove('hi-hat = "x---------------"\nkick = "o---------------"\nsnare = "O---------------"')
    stage = stage_of(base, how="moves on")
    assert (cols(stage, "hi-hat"), cols(stage, "kick"), cols(stage, "snare")) == ([1], [2], [0])


def test_a_foot_on_the_hi_hat_is_a_limb():
    base = groove('snare = "s---------------"\nhi-hat-foot = "x---------------"')
    assert cols(stage_of(base), "hi-hat foot") == [0]
    assert cols(stage_of(base, second="hi-hat foot"), "hi-hat foot") == []


def test_among_the_others_the_quieter_yields_and_of_equal_ones_metal():
    base = groove('crash = "x-x-s-----------"\nfloor-tom = "o-s-g-----------"\nhigh-tom = "o---------------"')
    stage = stage_of(base, first="snare", second="kick")
    assert (cols(stage, "crash"), cols(stage, "floor tom"), cols(stage, "high tom")) == ([2, 4], [0], [])


def test_an_accent_yields_late_unless_it_is_named_first():
    base = groove('ride = "X-----x---------"\nkick = "O-----O---------"\nsnare = "g-----o---------"')
    stage = stage_of(base)
    assert (cols(stage, "ride"), cols(stage, "kick"), cols(stage, "snare")) == ([], [0, 6], [])
    stage = stage_of(base, first="snare", second="kick")
    assert (cols(stage, "ride"), cols(stage, "kick"), cols(stage, "snare")) == ([0], [6], [])


def test_a_backbeat_yields_to_nothing():
    stage = stage_of(ROCK, first="snare", second="riding")
    assert cols(stage, "snare") == [4, 12, 15]
    assert cols(stage, "hi-hat") == [2, 6, 10, 14]


def test_only_the_places_that_are_named():
    stage = stage_of(ROCK, at="beats")
    assert cols(stage, "hi-hat") == [2, 6, 10, 14]
    assert cols(stage, "kick") == [0, 7, 8]
    stage = stage_of(ROCK, at="backbeats")
    assert cols(stage, "hi-hat") == [0, 2, 6, 8, 10, 14]


def test_ornaments_that_take_both_hands_are_told():
    base = groove('snare = "o---o---o---o---"\nsnare-graces = "1---1---z---2---"\nkick = "o---------------"\n')
    assert stage_of(base, first="hi-hat").says == (
        "found no hi-hat",
        "2 flams need both hands",
        "a drag needs both hands",
    )


@pytest.mark.parametrize(
    ("settings", "said"),
    [
        ({"at": "e"}, "found nothing at e"),
        ({"at": "3:all"}, "found nothing at 3:all"),
        ({"at": "upbeats"}, "no two strokes fall together here"),
    ],
)
def test_what_is_not_there_is_said_and_nothing_changes(settings: dict[str, str], said: str):
    stage = stage_of(ROCK, **settings)
    assert said in stage.says
    assert stage.beat == ROCK.base


@pytest.mark.parametrize(
    ("settings", "field", "said"),
    [
        ({"how": "waits"}, "how", 'how: "waits" is not one of left out, moves on'),
        ({"first": "tuba"}, "first", 'first: "tuba" is neither a surface nor a role'),
        ({"second": 3}, "second", "second: 3 is not text"),
        ({"at": "backbeet"}, "at", "not a place"),
    ],
)
def test_what_is_out_of_range_names_field_and_what_is_allowed(settings, field: str, said: str):
    with pytest.raises(GroundbeatError, match=said) as caught:
        make(1, "linear", settings)
    assert caught.value.field == field


@pytest.mark.parametrize(
    ("settings", "said"),
    [
        (
            {},
            "Let no two limbs sound together anywhere: the riding hand yields first, then the kick, accents later, a "
            "backbeat never; what yields is left out.",
        ),
        (
            {"first": "kick", "second": "hi-hat foot", "at": "2 4", "how": "moves on"},
            "Let no two limbs sound together at 2 and 4: the kick yields first, then the hi-hat foot, accents "
            "later, a backbeat never; what yields moves on to the next free place of its beat.",
        ),
    ],
)
def test_a_sentence_reads_as_a_teacher_would_say_it(settings: dict[str, str], said: str):
    assert plain(make(1, "linear", settings)) == said


def test_a_new_one_keeps_kick_and_backbeats_and_lets_ghosts_go_round_them():
    """On 7 ghost and kick: the ghost yields, and finds no place before beat 3."""
    stage = grow(add(ROCK, "linear", dict(kind("linear").start)))[-1]
    assert cols(stage, "kick") == [0, 7, 8]
    assert cols(stage, "snare") == [4, 12, 15]
    assert cols(stage, "hi-hat") == [1, 2, 5, 6, 9, 10, 13, 14]


@given(beats(), st.data())
def test_no_place_is_left_with_two_and_none_falls_silent(beat, data):
    asked = data.draw(settings_of("linear"))
    stage = grow(add(Groove(base=beat), "linear", asked))[-1]
    before, after = (Counter(s.at for s in one.strokes) for one in (beat, stage.beat))
    assert set(before) <= set(after)
    assert all(after[at] <= max(before[at], 1) for at in after)
    everywhere = grow(add(Groove(base=beat), "linear", asked | {"at": "all"}))[-1].beat
    assert all(count == 1 for count in Counter(s.at for s in everywhere.strokes).values())


@given(beats(), st.data())
def test_backbeats_stay_where_they_are_and_nothing_is_struck_otherwise(beat, data):
    stage = grow(add(Groove(base=beat), "linear", data.draw(settings_of("linear"))))[-1]
    spots = {(s.id, s.at) for s in stage.beat.strokes}
    assert all((s.id, s.at) in spots for s in beat.strokes if s.id in find_backbeats(beat))
    was = {s.id: (s.surface, s.dynamic, s.grace, s.hand) for s in beat.strokes}
    assert all(was[s.id] == (s.surface, s.dynamic, s.grace, s.hand) for s in stage.beat.strokes)
    assert not (stage.change.added or stage.change.merged or stage.change.crossed)


@given(beats(), st.data())
def test_a_linear_beat_stays_as_it_is(beat, data):
    asked = data.draw(settings_of("linear"))
    once = add(Groove(base=beat), "linear", asked | {"at": "all"})
    stages = grow(add(once, "linear", asked | {"at": "all"}))
    assert stages[2].beat == stages[1].beat


@given(beats())
def test_moving_on_keeps_at_least_what_leaving_out_keeps(beat):
    out, on = (grow(add(Groove(base=beat), "linear", {"how": how}))[-1].beat for how in ("left out", "moves on"))
    assert {s.id for s in out.strokes} <= {s.id for s in on.strokes}
