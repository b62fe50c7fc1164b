"""Tricky spots: only what is new, unequal or near a limit, each with the least that removes it, tried by playing.

Above 300 lines: the examples worked by hand and the laws share their small helpers.
"""

from __future__ import annotations

from itertools import combinations

import pytest
from hypothesis import given, settings

from groundbeat.analysis.limbs import HAT_FOOT, play
from groundbeat.analysis.omission import QUICK, Case, Effort, without
from groundbeat.analysis.player import USUAL, read_player
from groundbeat.analysis.spots import Spot, keys_of, leave_out_text, spots
from groundbeat.analysis.tricky import KINDS, tricky
from groundbeat.analysis.words import verdict
from groundbeat.bridge.midi_file import groove_of_bytes
from groundbeat.codec.groove_read import read_groove
from groundbeat.midi.base_beat import BaseBeatError
from groundbeat.model.groove import Groove
from groundbeat.model.roles import find_roles
from groundbeat.variation.stack import Stage, add, grow, onto, switch
from tests.conftest import EXAMPLES
from tests.strategies import grooves

SIXTEENTH = 2520
FILES = sorted(EXAMPLES.glob("**/*.toml"))


def read(path) -> Groove:
    return read_groove(path.read_text(), path.name)


def groove(lines: str, tempo: int = 92, meter: str = "4/4") -> Groove:
    return read_groove(f'groundbeat = 1\nmeter = "{meter}"\ntempo = {tempo}\n[base]\n{lines}\n')


def told(document: Groove, number: int = -1, player=USUAL, tempo: int = 0) -> tuple[Spot, ...]:
    stages = grow(document)
    return spots(document, stages, number % len(stages), player, tempo)


def texts(document: Groove, number: int = -1, player=USUAL) -> list[str]:
    return [spot.text for spot in told(document, number, player)]


def case_of(document: Groove, stage: Stage, player=USUAL, tempo: int = 0) -> Case:
    playing = play(document, stage, player, tempo)
    riding = find_roles(stage.beat, stage.backbeats, document.roles).riding
    return Case(document, stage, player, playing, riding, keys_of(tricky(playing, riding)), Effort())


ROCK = 'hi-hat = "x-x-x-x-x-x-x-x-"\nsnare = "----O-------O---"\nkick = "o-------o-------"'


# The example.


def test_the_hard_place_of_the_example_comes_first(slack_tide):
    first, *rest = told(slack_tide, 2)
    assert first.text == "The left hand plays three in a row: a of 3, 4, e of 4: ghost, accent, ghost, 163 ms apart."
    assert (first.kind, first.at) == ("in a row", 11 * SIXTEENTH)
    places = {stroke.id: (stroke.surface, stroke.at // SIXTEENTH) for stroke in grow(slack_tide)[2].beat.strokes}
    assert [places[name] for name in first.ids] == [("snare", 11), ("snare", 12), ("snare", 13)]
    assert not rest


def test_what_is_left_out_there_keeps_the_backbeat_and_frees_a_hand(slack_tide):
    (spot,) = told(slack_tide, 2)
    assert spot.leave_out == ("0/hi-hat@3/4",)
    assert spot.leave_out_text == "Leave out the hi-hat on 4; then the right hand can take the snare on 4"
    stage = grow(slack_tide)[2]
    after = without(case_of(slack_tide, stage), spot.leave_out).playing
    hands = {s.at // SIXTEENTH: after.limb_names()[s.id] for s in stage.beat.strokes if s.surface == "snare"}
    assert (hands[11], hands[12], hands[13]) == ("left hand", "right hand", "left hand")


def test_a_left_handed_player_has_it_in_the_right_hand(slack_tide):
    (spot,) = told(slack_tide, 2, read_player("left-handed"))
    assert spot.text.startswith("The right hand plays three in a row: a of 3, 4, e of 4: ")
    assert spot.leave_out_text.endswith("; then the left hand can take the snare on 4")


def test_hands_that_meet_anew_are_told_where_their_dynamics_differ(slack_tide):
    assert {spot.at // SIXTEENTH: spot.text for spot in told(slack_tide, 3)} == {
        1: "The hands meet with different dynamics on the e of 1: hi-hat normal and snare ghost.",
        5: "The hands meet with different dynamics on the e of 2: hi-hat normal and snare accent.",
        9: "The hands meet with different dynamics on the e of 3: hi-hat normal and snare ghost.",
        13: "The hands meet with different dynamics on the e of 4: hi-hat normal and snare ghost.",
    }
    assert told(slack_tide, 3)[0].at == SIXTEENTH
    outs = {spot.at // SIXTEENTH: spot.leave_out_text for spot in told(slack_tide, 3)}
    assert outs == {
        1: "Leave out the snare on the e of 1",
        5: "Leave out the hi-hat on the e of 2",  # the snare there is a backbeat
        9: "Leave out the snare on the e of 3",
        13: "Leave out the snare on the e of 4",
    }


def test_the_same_rhythm_on_other_surfaces_is_nothing_new(slack_tide):
    assert told(slack_tide, 4) == ()
    assert told(slack_tide, 0) == () == told(slack_tide, 1)


# What is a spot.


@pytest.mark.parametrize("path", [p for p in FILES if p.parent.name == "beats"], ids=lambda path: path.stem)
def test_a_plain_beat_has_none_at_its_tempo(path):
    assert told(read(path), 0) == ()


@pytest.mark.parametrize("player", ["", "left-handed", "open-handed", "double pedal", "drop clutch"])
def test_a_plain_rock_beat_has_none_for_anybody(player):
    assert told(groove(ROCK), player=read_player(player)) == ()


def test_a_ghost_under_the_kick():
    (spot,) = told(groove('snare = "---g----O-------"\nkick = "---o------------"'))
    assert spot.kind == "ghost under the kick"
    assert spot.text == "A ghost on the snare under the kick on the a of 1: the hand low while the foot is loud."
    assert spot.leave_out == ("0/snare@3/16",)
    assert spot.leave_out_text == "Leave out the snare on the a of 1"


def test_a_normal_stroke_with_the_kick_is_none():
    assert told(groove('snare = "---o----O-------"\nkick = "---o------------"')) == ()


def test_a_foot_below_its_comfort():
    # 60000 / 120 / 4 = 125 ms; two kicks are comfortable from 150 ms on
    (spot,) = told(groove('hi-hat = "x-x-x-x-x-x-x-x-"\nkick = "o------oo-------"', 120))
    assert spot.kind == "one foot"
    assert spot.text == "The right foot plays two in a row: a of 2, 3, 125 ms apart, where 150 are comfortable."
    assert spot.leave_out_text == "Leave out the a of 2"


def test_a_run_of_kicks_is_told_with_its_length():
    # sixteen sixteenths of 60000 / 70 / 4 = 214 ms: 8 strokes are comfortable from 186, 16 only from 231
    (spot,) = told(groove('kick = "oooooooooooooooo"', 70))
    assert spot.text == (
        "The right foot plays 16 in a row all the way around, 214 ms apart, where 231 are comfortable."
    )
    # 60000 / 98 / 4 = 153 ms: two and three kicks are comfortable from 150, the fourth from 158
    (spot,) = told(groove('kick = "oooo------------"', 98))
    assert (
        spot.text
        == "The right foot plays four in a row: 1, e of 1, & of 1, a of 1, 153 ms apart, where 158 are comfortable."
    )
    assert spot.leave_out == ("0/kick@3/16",)


def test_a_pedal_that_has_to_lift_too_soon():
    # the hi-hat on the & needs the foot down, the chick on the a a new step: 163 ms, comfortable from 200
    (spot,) = told(groove('hi-hat = "--x-------------"\nhi-hat-foot = "---x------------"'))
    assert spot.kind == "hi-hat pedal"
    assert "163 ms on the hi-hat pedal from the & of 1 to the a of 1, where 200 are comfortable" in spot.text


def test_a_way_that_is_too_far():
    document = groove(
        'snare = "-o--------------"\nsnare hands = "-L--------------"\n'
        'floor-tom = "--o-------------"\nfloor-tom hands = "--L-------------"'
    )
    (spot,) = told(document)
    assert spot.kind == "reach"
    # 55 cm to the right and 5 cm nearer: 176 + 94.7 * log2(55.2 / 40) = 220 ms
    assert spot.text == (
        "The left hand goes from the snare on the e of 1 to the floor tom on the & of 1, 163 ms for the way, "
        "where 220 are comfortable."
    )


def test_one_hand_below_its_comfort():
    # 60000 / 110 / 4 = 136 ms in one pinned hand, three in a row: no rebound
    document = groove('snare = "ooo-------------"\nsnare hands = "LLL-------------"', 110)
    (spot,) = told(document)
    assert spot.text.startswith("The left hand plays ")
    assert "136 ms apart" in spot.text
    assert len(spot.leave_out) == 1


def test_a_hand_that_goes_all_the_way_around_loses_every_second_stroke():
    document = groove('hi-hat = "xxxxxxxxxxxxxxxx"\nhi-hat hands = "RRRRRRRRRRRRRRRR"', 110)
    (spot,) = told(document)
    assert spot.text == (
        "The right hand plays 16 in a row all the way around, 136 ms apart, where 150 are comfortable."
    )
    assert len(spot.leave_out) == 8
    assert {stroke.at // SIXTEENTH % 2 for stroke in document.base.strokes if stroke.id in spot.leave_out} == {1}


def test_arms_that_cross_otherwise_than_usual():
    document = groove('hi-hat = "x---------------"\nhi-hat hands = "R---------------"\nfloor-tom = "o---------------"')
    (spot,) = told(document)
    assert (spot.kind, spot.text) == ("in the way", "The arms cross on 1: hi-hat and floor tom.")


def test_hands_in_turn_on_one_drum_below_sixty_milliseconds():
    # thirty-seconds at 150: 50 ms
    document = read_groove(
        'groundbeat = 1\nmeter = "4/4"\ncolumns = "thirty-seconds"\ntempo = 150\n[base]\n'
        f'snare = "oo{"-" * 30}"\nsnare hands = "RL{"-" * 30}"\n'
    )
    (spot,) = told(document)
    assert spot.kind == "in the way"
    assert spot.text.startswith("Both hands get in each other's way over the snare from 1 to ")
    assert len(spot.leave_out) == 1


def test_what_is_impossible_comes_before_all_else():
    document = groove(
        'hi-hat = "x-x-x-x-x-x-x-x-"\nsnare = "----O--g-----O--"\nfloor-tom = "------------o---"\n'
        'crash = "------------x---"\nkick = "o------o--------"'
    )
    kinds = [spot.kind for spot in told(document)]
    assert kinds[0] == "impossible"
    assert "ghost under the kick" in kinds
    first = told(document)[0]
    assert first.text == "Three things for two hands on 4: crash, hi-hat and floor tom."
    assert len(first.leave_out) == 1


def test_what_is_beyond_a_floor_names_the_tempo():
    document = groove('snare = "-----------gO---"\nsnare hands = "-----------LL---"', 170)
    (spot,) = told(document)
    assert spot.kind == "beyond"
    assert spot.text == (
        "The left hand plays two in a row: a of 3, 4: ghost, accent, 88 ms apart, no faster than 100; possible up to 150."
    )
    assert spot.leave_out == ("0/snare@11/16",)


def test_the_same_in_several_bars_is_one_spot():
    document = groove('snare = "---g----O-------|---g----O-------"\nkick = "---o------------|---o------------"')
    (spot,) = told(document)
    assert spot.text.endswith("on the a of 1 in bar 1: the hand low while the foot is loud, and again in bar 2.")
    assert spot.leave_out_text == "Leave out the snare on the a of 1 in bars 1 and 2"
    assert len(spot.leave_out) == 2


def test_a_spot_and_the_verdict_name_the_same_tempo(slack_tide):
    stages = grow(slack_tide)
    for number in range(len(stages)):
        troubles = [t for t in verdict(play(slack_tide, stages[number], tempo=18400)).troubles if t.kind == "beyond"]
        found = [spot for spot in spots(slack_tide, stages, number, tempo=18400) if spot.kind == "beyond"]
        assert {t.possible_at for t in troubles} == {int(s.text.rsplit(" ", 1)[1].rstrip(".")) for s in found}
        assert {name for t in troubles for name in t.ids} == {name for spot in found for name in spot.ids}


# What is new.


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_a_stage_that_is_off_has_nothing_new(path):
    document = read(path)
    for variation in document.variations:
        document = switch(document, variation.key, False)
    stages = grow(document)
    always = {"impossible", "beyond"}
    for number in range(1, len(stages)):
        assert {spot.kind for spot in spots(document, stages, number)} <= always


def test_a_beat_repeated_has_nothing_new(slack_tide):
    document = add(slack_tide, "length", {"bars": "4"})
    stages = grow(document)
    assert stages[-1].beat.bars > 1
    assert spots(document, stages, len(stages) - 1) == ()


def test_a_stroke_that_was_there_is_told_when_its_partner_comes():
    document = add(
        groove('snare = "---g----O-------"\nhi-hat = "x---x---x---x---"'),
        "embellish",
        {"surface": "kick", "at": "1a", "dynamic": "normal"},
    )
    assert [spot.kind for spot in told(document)] == ["ghost under the kick"]
    assert told(document)[0].leave_out == ("0/snare@3/16",), "the kick is kept where another set is as small"


# Laws.


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
@pytest.mark.parametrize("player", ["", "left-handed; double pedal"])
def test_what_is_left_out_removes_the_spot_and_no_smaller_set_does(path, player):
    document, who = read(path), read_player(player)
    stages = grow(document)
    for stage in stages:
        case = case_of(document, stage, who)
        kicks_and_backbeats = {s.id for s in stage.beat.strokes if s.surface in ("kick", "second kick")} | set(
            stage.backbeats
        )
        for spot in spots(document, stages, stage.number, who):
            assert set(spot.leave_out) <= {stroke.id for stroke in stage.beat.strokes}
            assert spot.leave_out, spot
            assert gone(case, spot, spot.leave_out), spot
            free = [name for name in spot.ids if name not in kicks_and_backbeats]
            if not set(spot.leave_out) & kicks_and_backbeats and len(spot.leave_out) <= 3:
                smaller = (c for size in range(1, len(spot.leave_out)) for c in combinations(free, size))
                assert not any(gone(case, spot, names) for names in smaller), spot


def gone(case: Case, spot: Spot, names) -> bool:
    """Whether nothing of a spot's kind is left at its strokes that was told of it, when the beat is played anew."""
    trial = without(case, names)
    left = set(spot.ids) - set(names)
    same = [find for find in trial.found if find.kind == spot.kind and set(find.ids) <= left]
    if "diddle" not in spot.text:  # what is inside a diddle is a spot of its own
        same = [find for find in same if not (find.steps and find.steps[0].about == "inside")]
    worse = [f for f in trial.found if f.kind in ("impossible", "beyond") and not f.keys <= case.keys]
    return not same and not worse


@given(grooves(max_variations=2))
def test_nothing_past_a_floor_appears_at_a_slower_tempo(document):
    stage = grow(document)[-1]
    was = True
    for tempo in (40000, 20000, 12000, 7000, 2000):
        now = any(find.kind == "beyond" for find in case_tricky(document, stage, tempo))
        assert was or not now, tempo
        was = now


def case_tricky(document: Groove, stage: Stage, tempo: int):
    riding = find_roles(stage.beat, stage.backbeats, document.roles).riding
    return tricky(play(document, stage, tempo=tempo), riding)


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_nothing_near_a_limit_appears_at_a_slower_tempo(path):
    document = read(path)
    for stage in grow(document):
        playing = play(document, stage)
        if all(step.comfortable for step in playing.steps):
            for share in (90, 75, 60, 40):
                slower = play(document, stage, tempo=max(2000, document.tempo * share // 100))
                # but the hi-hat foot, once it has time to hold the hi-hat closed, has more to do
                assert all(step.comfortable for step in slower.steps if step.limb != HAT_FOOT), (stage.number, share)


def test_very_many_spots_are_told_in_time():
    rows = {"hi-hat": "xX-x", "snare": "-gOo", "kick": "oO-", "floor-tom": "---o-"}
    lines = "\n".join(
        f'{name} = "{"|".join([(row * 16)[shift : shift + 16] for shift in range(16)])}"' for name, row in rows.items()
    )
    document = groove(lines, 230)
    stages = grow(document)
    found = spots(document, stages, 0, effort=QUICK)
    assert len(found) > 20
    assert found[0].leave_out, "those that are told first are tried first"
    assert [spot[:4] for spot in found] == [spot[:4] for spot in spots(document, stages, 0, effort=0)]


@given(grooves(max_variations=3))
@settings(max_examples=20)
def test_spots_of_any_groove_are_sound(document):
    stages = grow(document)
    number = len(stages) - 1
    stage = stages[number]
    found = spots(document, stages, number)
    assert found == spots(document, grow(document), number), "the same again"
    ids = {stroke.id for stroke in stage.beat.strokes}
    case = case_of(document, stage)
    for spot in found:
        assert spot.kind in KINDS
        assert spot.text[0].isupper() and spot.text.endswith(".")
        assert set(spot.ids) <= ids and set(spot.leave_out) <= ids
        assert bool(spot.leave_out) == bool(spot.leave_out_text)
        assert 0 <= spot.at < stage.beat.cycle
        if spot.leave_out:
            assert gone(case, spot, spot.leave_out)
            assert (
                spot.leave_out_text == leave_out_text(spot.leave_out, stage.beat)
                or "; then the " in spot.leave_out_text
            )


def test_beats_that_people_played_have_spots_without_error(real_inputs, slack_tide):
    told_of = 0
    for file in sorted((real_inputs / "drum_midi").glob("*.mid"))[::8]:
        try:
            base, _ = groove_of_bytes(file.name, file.read_bytes(), "3-4")
        except BaseBeatError:
            base, _ = groove_of_bytes(file.name, file.read_bytes())
        document = onto(base, slack_tide)
        stages = grow(document)
        for stage in stages:
            for spot in spots(document, stages, stage.number):
                told_of += 1
                if spot.leave_out:
                    assert gone(case_of(document, stage), spot, spot.leave_out), (file.name, stage.number, spot)
    assert told_of > 8
