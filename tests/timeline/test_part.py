"""What is heard of a stage where only hands, feet, one limb, or its own additions are: by hand, and as laws."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from groundbeat.analysis.limbs import play
from groundbeat.analysis.player import read_player
from groundbeat.codec.groove_read import read_groove
from groundbeat.errors import TimelineError
from groundbeat.model.kit import FEET_ONLY
from groundbeat.timeline.part import ADDED_HERE, LIMBS, PARTS, part_named
from groundbeat.timeline.unroll import unroll
from groundbeat.variation.stack import grow
from tests.strategies import grooves

SIXTEENTH = 2520
SLACK_TIDE = read_groove(
    """groundbeat = 1
tempo = 92
[base]
hi-hat = "x-x-x-x-x-x-x-x-"
snare  = "----O-------O---"
kick   = "o------oo-------"
[[variation]]
kind = "displace"
surface = "backbeat voice"
at = "first backbeat"
by = "1/16 later"
[[variation]]
kind = "embellish"
surface = "snare"
at = "e a"
except = "4a"
dynamic = "ghost"
clear-of = ["kick"]
"""
)


def heard(text_or_groove, stage: int, part: str, *layers: str, player: str = "") -> list[tuple[int, str]]:
    groove = read_groove("groundbeat = 1\n" + text_or_groove) if isinstance(text_or_groove, str) else text_or_groove
    stages = grow(groove)
    who = read_player(player)
    found = unroll(groove, stages, stage, part=part, play=lambda one: play(groove, one, who))
    return [
        (event.at // found.parts // SIXTEENTH, event.surface)
        for event in found.events
        if not layers or event.layer in layers
    ]


def columns(rows: list[tuple[int, str]]) -> list[int]:
    return sorted(column for column, _ in rows)


def test_the_hands_of_slack_tide_are_all_but_the_kick_and_the_feet_the_kick():
    assert columns(heard(SLACK_TIDE, 2, "feet")) == [0, 7, 8]
    assert {surface for _, surface in heard(SLACK_TIDE, 2, "hands")} == {"hi-hat", "snare"}
    # The backbeat that was moved stands in both layers, so that the slider still goes to the base beat.
    assert (4, "snare") in heard(SLACK_TIDE, 2, "hands", "base")
    assert (5, "snare") in heard(SLACK_TIDE, 2, "hands", "stage")


def test_the_left_hand_is_heard_alone_as_it_is_told_and_a_left_handed_player_has_another():
    assert columns(heard(SLACK_TIDE, 2, "left hand", "stage", "both")) == [1, 3, 5, 9, 11, 12, 13]
    assert columns(heard(SLACK_TIDE, 2, "right hand", "stage", "both")) == [0, 2, 4, 6, 8, 10, 12, 14]
    assert heard(SLACK_TIDE, 2, "left hand", player="left-handed") == heard(SLACK_TIDE, 2, "right hand")
    assert columns(heard(SLACK_TIDE, 2, "left foot")) == []


def test_what_this_stage_adds_is_heard_alone_wherever_the_slider_stands():
    assert columns(heard(SLACK_TIDE, 2, ADDED_HERE, "both")) == [1, 3, 9, 11, 13]
    assert heard(SLACK_TIDE, 2, ADDED_HERE, "base", "stage") == []
    assert heard(SLACK_TIDE, 1, ADDED_HERE) == []  # it only moved a stroke
    assert len(heard(SLACK_TIDE, 0, ADDED_HERE)) == 13


def test_the_grace_notes_of_a_flam_are_the_other_hands():
    flams = '[base]\nsnare = "o---o---o---o---"\nsnare graces = "1---1---1---1---"\nsnare hands = "R---R---R---R---"\n'
    groove = read_groove("groundbeat = 1\n" + flams)
    stages = grow(groove)
    right, left = (unroll(groove, stages, 0, part=f"{side} hand").events for side in ("right", "left"))
    assert [(event.us, event.grace) for event in right] == [(0, False)] * 4
    assert [(event.us, event.grace) for event in left] == [(-30_000, True)] * 4


def test_of_a_ruff_the_main_hand_plays_the_second_grace_note():
    rows = {"snare": "o", "snare graces": "3", "snare hands": "L"}
    lines = "".join(f'{name} = "{letter}{15 * "-"}"\n' for name, letter in rows.items())
    ruff = read_groove("groundbeat = 1\n[base]\n" + lines)
    left, right = (unroll(ruff, grow(ruff), 0, part=f"{side} hand").events for side in ("left", "right"))
    assert [event.us for event in left] == [-70_000, 0]
    assert [event.us for event in right] == [-105_000, -35_000]


def test_a_choke_goes_with_its_stroke():
    choked = 'meter = "4/4"\n[base]\ncrash = "x---------------"\ncrash graces = "#---------------"\nkick = "o-------o-------"\n'
    groove = read_groove("groundbeat = 1\n" + choked)
    assert [event.stop for event in unroll(groove, grow(groove), 0, part="hands").events] == [False, True]
    assert not any(event.stop for event in unroll(groove, grow(groove), 0, part="feet").events)


def test_what_both_beats_have_is_in_the_layer_of_the_one_in_which_the_limb_plays_it():
    """Pinned to the other hand at a stage: the same sound, another hand."""
    groove = read_groove(
        'groundbeat = 1\n[base]\nsnare = "o---------------"\nsnare hands = "R---------------"\n'
        '[[variation]]\nkind = "touch-up"\nchanges = ["= snare 1 normal L"]\n'
    )
    assert heard(groove, 1, "hands", "both") == [(0, "snare")]
    assert heard(groove, 1, "right hand", "base") == heard(groove, 1, "left hand", "stage") == [(0, "snare")]
    assert len(heard(groove, 1, "right hand")) == len(heard(groove, 1, "left hand")) == 1


@settings(max_examples=30, deadline=None)
@given(grooves(), st.data())
def test_hands_and_feet_together_are_everything_and_no_limb_is_heard_twice(groove, data):
    stages = grow(groove)
    number = data.draw(st.integers(0, len(stages) - 1))

    def told(part: str) -> list[tuple]:
        return sorted(unroll(groove, stages, number, part=part).events)

    whole = told("")
    assert sorted(told("hands") + told("feet")) == whole
    assert all((event.surface in FEET_ONLY) == (part == "feet") for part in ("hands", "feet") for event in told(part))
    for layers in (("stage", "both"), ("base", "both")):
        ours = [(e.at, e.us, e.surface) for e in whole if e.layer in layers]
        limbs = [(e.at, e.us, e.surface) for limb in LIMBS for e in told(limb) if e.layer in layers]
        for sound in set(limbs):
            assert limbs.count(sound) <= ours.count(sound)


@pytest.mark.parametrize("part", ["Hands", "both hands", "snare"])
def test_a_part_that_there_is_not_is_refused_with_those_there_are(part: str):
    with pytest.raises(TimelineError, match=f'there is no part "{part}"; there are hands, feet, right hand'):
        unroll(SLACK_TIDE, grow(SLACK_TIDE), 0, part=part)


def test_a_person_may_write_a_part_otherwise():
    assert part_named("  Right-Hand ") == "right hand"
    assert [part_named(part) for part in PARTS] == list(PARTS)
    with pytest.raises(TimelineError, match='no "elbow" to hear alone'):
        part_named("elbow")
