"""Hands and lead, hand for hand as worked out on paper; and the double pedal in columns."""

from __future__ import annotations

from collections import Counter

import pytest
from hypothesis import given

from groundbeat.codec.groove_read import read_groove
from groundbeat.errors import GroundbeatError
from groundbeat.model.groove import Groove
from groundbeat.model.roles import KICKS
from groundbeat.variation.hands_and_lead import HOW
from groundbeat.variation.stack import add, grow, make, plain
from tests.strategies import beats, settings_of

CLUTCH = "the left foot leaves the hi-hat for the second kick: closed strokes ring unless a clutch holds it"


def groove(lines: str, meter: str = "4/4", columns: str = "sixteenths") -> Groove:
    return read_groove(f'groundbeat = 1\nmeter = "{meter}"\ncolumns = "{columns}"\n[base]\n{lines}\n')


def last(base: Groove, **settings: object):
    return grow(add(base, "hands-and-lead", {name.replace("_", "-"): value for name, value in settings.items()}))[-1]


def hands(stage, ticks: int = 2520) -> dict[str, str]:
    """The hands of every surface: column and hand, "-" where it is free; feet are left out."""
    rows: dict[str, list[str]] = {}
    for stroke in stage.beat.strokes:
        if stroke.surface not in (*KICKS, "hi-hat foot"):
            rows.setdefault(stroke.surface, []).append(f"{stroke.at // ticks}{stroke.hand or '-'}")
    return {name: " ".join(row) for name, row in rows.items()}


def feet(stage, ticks: int = 2520) -> dict[str, list[int]]:
    return {name: [s.at // ticks for s in stage.beat.strokes if s.surface == name] for name in KICKS}


QUAY = groove('hi-hat = "x---x---x---x---"\nsnare = "----O--g----O---"\nkick = "o-o---o-oo------"')
RIDE = groove('ride = "x---x---"\nsnare = "----O--g"\nkick = "o-------"', meter="2/4")


def test_open_handed_the_left_hand_rides_on_the_hi_hat():
    stage = last(QUAY, how="open-handed")
    assert hands(stage) == {"hi-hat": "0L 4L 8L 12L", "snare": "4R 7R 12R"}
    assert stage.says == ()
    assert len(stage.change.altered) == 7


def test_open_handed_a_ride_on_the_right_is_ridden_by_the_right():
    assert hands(last(RIDE, how="open-handed")) == {"ride": "0R 4R", "snare": "4L 7L"}


def test_open_handed_what_stands_left_of_the_hi_hat_is_for_the_left():
    """Stack cymbal 55 cm left, hi-hat 45, crash 35: the right hand takes the crash, not the stack."""
    base = groove('crash = "x---------------"\nstack-cymbal = "----x-----------"\nhi-hat = "--x-x---x-x-x---"')
    stage = last(base, how="open-handed")
    assert hands(stage) == {"crash": "0R", "stack cymbal": "4-", "hi-hat": "2L 4L 8L 10L 12L"}
    assert stage.says == ("one hand cannot play two strokes at 2: one of them stays free",)


def test_open_handed_the_arms_do_not_cross_where_two_others_meet():
    """Floor tom and snare both want the right: it has the one further right."""
    base = groove('hi-hat = "x-x---x-x-x-x---"\nfloor-tom = "----o-----------"\nsnare = "----o-----------"')
    stage = last(base, how="open-handed")
    assert (hands(stage)["floor tom"], hands(stage)["snare"]) == ("4R", "4-")
    assert stage.says == ("one hand cannot play two strokes at 2: one of them stays free",)


def test_left_handed_is_the_mirror():
    stage = last(RIDE, how="left-handed")
    assert hands(stage) == {"ride": "0L 4L", "snare": "4R 7R"}
    assert stage.says == ("the feet change sides too, and the kit stands mirrored",)


def test_left_handed_the_drum_goes_before_the_cymbal():
    base = groove('crash = "x-------"\nhi-hat = "--x-x-x-"\nsnare = "o---o---"', meter="2/4")
    assert hands(last(base, how="left-handed")) == {"crash": "0-", "hi-hat": "2L 4L 6L", "snare": "0R 4R"}


def test_leading_with_the_left_pins_the_riding_hand_alone():
    assert hands(last(QUAY, how="lead with the left")) == {"hi-hat": "0L 4L 8L 12L", "snare": "4- 7- 12-"}


def test_leading_with_the_left_leaves_the_place_of_a_pinned_left_hand_free():
    base = groove('hi-hat = "x-x-x-x-"\nsnare = "----O---"\nsnare-hands = "----L---"', meter="2/4")
    stage = last(base, how="lead with the left")
    assert hands(stage) == {"hi-hat": "0L 2L 4- 6L", "snare": "4L"}
    assert stage.says == ("one hand cannot play two strokes at 2: one of them stays free",)


def test_swapping_turns_pinned_hands_and_lets_the_others_trade_roles():
    base = groove('hi-hat = "x-x-x-x-"\nsnare = "-ogoO-o-"\nsnare-hands = "-LRLR---"', meter="2/4")
    stage = last(base)
    assert hands(stage) == {"hi-hat": "0L 2- 4- 6L", "snare": "1R 2L 3R 4L 6R"}
    assert stage.says == ("one hand cannot play two strokes at the & of 1 and at 2: one of them stays free",)


def test_swapping_without_a_riding_hand_turns_only_what_is_pinned():
    base = groove('snare = "oooo----"\nsnare-hands = "RLR-----"', meter="2/4")
    stage = last(base)
    assert hands(stage) == {"snare": "0L 1R 2L 3-"}
    assert stage.says == ("found no riding hand; strokes without a pinned hand stay free",)


def test_alternating_begins_with_the_right_and_gives_every_stroke_the_other_hand():
    base = groove('snare = "ooooo-o-"', meter="2/4")
    assert hands(last(base, how="alternate")) == {"snare": "0R 1L 2R 3L 4R 6L"}
    assert hands(last(base, how="alternate from the left")) == {"snare": "0L 1R 2L 3R 4L 6R"}
    assert last(base, how="alternate").says == ()


def test_two_strokes_at_one_place_get_different_hands():
    """Ride R on 1; on 2 the ride L and the snare R; the snare L on the a of 2."""
    assert hands(last(RIDE, how="alternate")) == {"ride": "0R 4L", "snare": "4R 7L"}


def test_an_odd_number_of_strokes_comes_round_on_the_same_hand():
    base = groove('snare = "o-o-o---"', meter="2/4")
    stage = last(base, how="alternate")
    assert hands(stage) == {"snare": "0R 2L 4R"}
    assert stage.says == ("the last and the first stroke of the loop fall to the same hand",)


def test_a_third_stroke_at_a_place_stays_free():
    base = groove('crash = "x-------"\nhigh-tom = "o-------"\nsnare = "o-o-----"', meter="2/4")
    stage = last(base, how="alternate")
    assert hands(stage) == {"crash": "0R", "high tom": "0L", "snare": "0- 2R"}
    assert stage.says[0] == "one hand cannot play two strokes at 1: one of them stays free"


def test_alternating_goes_round_what_is_pinned_elsewhere():
    base = groove('hi-hat = "x-x-x-x-"\nsnare = "oo--o---"\nsnare-hands = "R-------"', meter="2/4")
    stage = last(base, how="alternate", at="first hi-hat")  # hi-hat and snare on 1 are both asked
    assert hands(stage) == {"hi-hat": "0R 2- 4- 6-", "snare": "0L 1- 4-"}
    pinned = groove('ride-bell = "x-x-----"\nsnare = "O-------"\nsnare-hands = "R-------"', meter="2/4")
    assert hands(last(pinned, how="alternate", at="normal")) == {"ride bell": "0L 2R", "snare": "0R"}


def test_triplets_alternate():
    base = groove('snare = "oooooo"\nkick = "o--o--"', meter="2/4", columns="eighth triplets")
    assert hands(last(base, how="alternate"), 3360) == {"snare": "0R 1L 2R 3L 4R 5L"}


def test_only_the_chosen_places_change():
    stage = last(QUAY, how="open-handed", at="2")
    assert hands(stage) == {"hi-hat": "0- 4L 8- 12-", "snare": "4R 7- 12-"}


def test_kicks_closer_than_a_quarter_go_to_two_feet():
    """0 and 2 are an eighth apart, 2 and 6 a quarter, 6 8 9 close again."""
    stage = last(QUAY, how="double pedal")
    assert feet(stage) == {"kick": [0, 6, 9], "second kick": [2, 8]}
    assert stage.says == (CLUTCH,)
    assert hands(stage) == {"hi-hat": "0- 4- 8- 12-", "snare": "4- 7- 12-"}


def test_closer_than_sets_how_close():
    assert feet(last(QUAY, how="double pedal", closer_than="eighth")) == {"kick": [0, 2, 6, 8], "second kick": [9]}
    base = groove('kick = "o-----o-oo------"')
    assert feet(last(base, how="double pedal")) == {"kick": [0, 6, 9], "second kick": [8]}
    assert feet(last(base, how="double pedal", closer_than="half")) == {"kick": [0, 8], "second kick": [6, 9]}


def test_a_run_goes_on_over_the_loop():
    """In 6/8 the kick on 10 leads into the 1: the 1 is the second of that run."""
    stage = last(groove('kick = "o---------o-"\nride = "x-x-x-x-x-x-"', meter="6/8"), how="double pedal")
    assert feet(stage) == {"kick": [10], "second kick": [0]}
    assert stage.says == ()


def test_a_run_without_an_end_begins_at_the_first_place():
    stage = last(groove('kick = "oo-oo-oo-oo-oo"', meter="7/8"), how="double pedal")
    assert feet(stage) == {"kick": [0, 3, 6, 9, 12], "second kick": [1, 4, 7, 10, 13]}
    assert stage.says == ()
    odd = last(groove('kick = "o-o-o-"', meter="3/8"), how="double pedal")
    assert feet(odd) == {"kick": [0, 4], "second kick": [2]}
    assert odd.says == ("the last and the first kick of the loop fall to the same foot",)


def test_a_run_that_begins_with_the_second_kick_stays_there():
    base = groove('second-kick = "o---------------"\nkick = "-oo-------------"')
    assert feet(last(base, how="double pedal")) == {"kick": [1], "second kick": [0, 2]}


def test_where_both_feet_play_a_run_ends():
    base = groove('kick = "ooooo-----------"\nsecond-kick = "--o-------------"')
    assert feet(last(base, how="double pedal")) == {"kick": [0, 2, 3], "second kick": [1, 2, 4]}


def test_a_left_foot_that_is_wanted_twice_is_said():
    base = groove('kick = "o-oo------------"\nhi-hat-foot = "--x-------------"')
    stage = last(base, how="double pedal")
    assert stage.says == ("the left foot has the second kick and the hi-hat at once at the & of 1",)


@pytest.mark.parametrize(
    ("lines", "settings", "said"),
    [
        ('kick = "o-------o-------"', {"how": "double pedal"}, "found no kicks closer together than a quarter"),
        ('snare = "o---------------"', {"how": "double pedal"}, "found no kick"),
        ('kick = "o---------------"', {"how": "double pedal", "at": "e"}, "found no kick at e"),
        ('kick = "o---------------"', {}, "found no stroke of a hand"),
        ('snare = "o---------------"', {"at": "2"}, "found no stroke of a hand at 2"),
        ('snare = "o---------------"', {"how": "open-handed"}, "found no riding hand"),
        ('snare = "o---------------"', {"how": "alternate", "at": "accents"}, "found no accent"),
    ],
)
def test_what_is_not_there_is_said_and_nothing_changes(lines, settings, said):
    stage = last(groove(lines), **{name.replace("-", "_"): value for name, value in settings.items()})
    assert stage.says == (said,)
    assert stage.change.altered == ()


@pytest.mark.parametrize(
    ("settings", "field", "said"),
    [
        ({"how": "backwards"}, "how", '"backwards" is not one of swap hands, open-handed'),
        ({"closer-than": "eighth sixteenth"}, "closer-than", "is not one note"),
        ({"closer-than": "short"}, "closer-than", "is not a note value"),
    ],
)
def test_a_setting_out_of_range_names_field_and_what_is_allowed(settings, field, said):
    with pytest.raises(GroundbeatError, match=said) as caught:
        make(1, "hands-and-lead", settings)
    assert caught.value.field == field


@pytest.mark.parametrize(
    ("settings", "said"),
    [
        ({}, "Swap the hands for every stroke."),
        ({"how": "open-handed"}, "Play every stroke open-handed."),
        ({"how": "left-handed", "at": "first beat"}, "Play the first beat left-handed."),
        ({"how": "lead with the left", "at": "backbeats"}, "Lead with the left hand for the backbeats."),
        ({"how": "alternate from the left"}, "Alternate the hands from the left for every stroke."),
        (
            {"how": "double pedal", "closer-than": "eighth"},
            "Alternate the feet for every stroke, where kicks come closer together than an eighth.",
        ),
        (
            {"closer-than": "eighth triplet"},
            "Swap the hands for every stroke, leaving kicks closer together than an eighth triplet alone.",
        ),
    ],
)
def test_it_reads_as_a_teacher_would_say_it(settings, said):
    assert plain(make(1, "hands-and-lead", settings)) == said


@given(beats(), settings_of("hands-and-lead"))
def test_nothing_but_hands_changes_and_with_the_double_pedal_nothing_but_kicks(beat, settings):
    stage = grow(add(Groove(base=beat), "hands-and-lead", settings))[-1]
    assert not (stage.change.moved or stage.change.added or stage.change.left_out or stage.change.merged)
    was = {stroke.id: stroke for stroke in beat.strokes}
    for stroke in stage.beat.strokes:
        old = was[stroke.id]
        assert (stroke.at, stroke.dynamic, stroke.grace) == (old.at, old.dynamic, old.grace)
        if settings.get("how") == "double pedal":
            assert stroke.hand == old.hand
            assert stroke.surface == old.surface or {stroke.surface, old.surface} == set(KICKS)
        else:
            assert stroke.surface == old.surface


@given(beats(), settings_of("hands-and-lead"))
def test_a_hand_is_pinned_twice_at_a_place_only_where_nobody_asked(beat, settings):
    """The kind never brings two strokes of one hand together; what the beat had outside the selection it leaves."""
    stage = grow(add(Groove(base=beat), "hands-and-lead", settings))[-1]
    changed = set(stage.change.altered)
    pinned = Counter((stroke.at, stroke.hand) for stroke in stage.beat.strokes if stroke.hand)
    for stroke in stage.beat.strokes:
        if stroke.id in changed and stroke.hand:
            assert pinned[stroke.at, stroke.hand] == 1


@given(beats())
def test_swapping_pinned_hands_twice_restores_them(beat):
    """As long as no place asks one hand for two strokes."""
    base = Groove(base=beat)
    pinned = add(base, "hands-and-lead", {"how": "alternate"})
    one, two, three = grow(add(add(pinned, "hands-and-lead", {}), "hands-and-lead", {}))[1:]
    free = [s for s in one.beat.strokes if not s.hand and s.surface not in (*KICKS, "hi-hat foot", "foot splash")]
    if free:
        return
    assert [(s.id, s.hand) for s in three.beat.strokes] == [(s.id, s.hand) for s in one.beat.strokes]
    turned = {"R": "L", "L": "R", "": ""}
    assert [s.hand for s in two.beat.strokes] == [turned[s.hand] for s in one.beat.strokes]


@pytest.mark.parametrize("how", HOW)
@given(beats(), settings_of("hands-and-lead"))
def test_doing_it_again_changes_nothing_more_unless_hands_are_swapped(how, beat, settings):
    settings = {**settings, "how": how}
    once = add(Groove(base=beat), "hands-and-lead", settings)
    one, two = grow(add(once, "hands-and-lead", settings))[1:]
    if how not in ("swap hands", "double pedal"):
        assert [s.hand for s in two.beat.strokes] == [s.hand for s in one.beat.strokes]
    if how == "double pedal":
        assert [s.surface for s in two.beat.strokes] == [s.surface for s in one.beat.strokes]
