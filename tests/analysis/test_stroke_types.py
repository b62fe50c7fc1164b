"""Full, down, tap and up follow from a stroke's own height and that of the same hand's next one."""

from __future__ import annotations

from hypothesis import given

from groundbeat.analysis.limbs import play
from groundbeat.analysis.player import read_player
from groundbeat.analysis.stroke_types import stroke_types
from groundbeat.codec.groove_read import read_groove
from groundbeat.variation.stack import base_stage, grow
from tests.strategies import grooves


def types(lines: str) -> list[tuple[str, str]]:
    """Surface and type of every stroke that has one, in the order of the beat."""
    document = read_groove(f'groundbeat = 1\nmeter = "4/4"\ntempo = 80\n[base]\n{lines}\n')
    stage = base_stage(document)
    found = stroke_types(play(document, stage))
    return [(stroke.surface, found[stroke.id]) for stroke in stage.beat.strokes if stroke.id in found]


def hand(snare: str, hands: str = "RRRR", graces: str = "") -> list[str]:
    """Types of four snare strokes in quarters, each pinned to a hand; "-" is none."""
    hands = "".join("-" if stroke == "-" else letter for stroke, letter in zip(snare, hands, strict=True))
    lines = f'snare = "{_spread(snare)}"\nsnare hands = "{_spread(hands)}"'
    if graces:
        lines += f'\nsnare graces = "{_spread(graces)}"'
    return [kind for _, kind in types(lines)]


def _spread(row: str) -> str:
    return "".join(f"{letter}---" for letter in row)


def test_the_four_strokes_of_one_hand():
    # accent to accent: full; accent to ghost: down; ghost to ghost: tap; ghost to accent around the loop: up
    assert hand("OOgg") == ["full", "down", "tap", "up"]


def test_normal_strokes_are_low_beside_accents_and_high_without():
    assert hand("Oooo") == ["down", "tap", "tap", "up"]
    assert hand("oooo") == ["full"] * 4
    assert hand("oggo") == ["down", "tap", "up", "full"]


def test_a_stroke_alone_ends_where_it_starts():
    assert hand("O---") == ["full"]
    assert hand("g---") == ["tap"]


def test_each_hand_counts_for_itself():
    # right: accent, accent; left: ghost, ghost
    assert hand("OgOg", "RLRL") == ["full", "tap", "full", "tap"]


def test_the_grace_note_of_the_other_hand_is_low():
    # the right hand plays the grace of the flam on 2 between its accent on 1 and itself
    assert hand("OO--", "RL--") == ["full", "full"]
    assert hand("OO--", "RL--", "-1--") == ["down", "full"]


def test_the_left_hand_of_the_example(slack_tide):
    stage = grow(slack_tide)[2]
    found = stroke_types(play(slack_tide, stage))
    snare = {s.at // 2520: found[s.id] for s in stage.beat.strokes if s.surface == "snare"}
    assert snare == {1: "tap", 3: "up", 5: "down", 9: "tap", 11: "up", 12: "down", 13: "tap"}
    assert {found[s.id] for s in stage.beat.strokes if s.surface == "hi-hat"} == {"full"}
    assert not [s for s in stage.beat.strokes if s.surface == "kick" and s.id in found]


def test_a_left_handed_player_has_the_same_strokes(slack_tide):
    stage = grow(slack_tide)[2]
    assert stroke_types(play(slack_tide, stage, read_player("left-handed"))) == stroke_types(play(slack_tide, stage))


@given(grooves(max_variations=2))
def test_every_hand_stroke_has_a_type_and_ends_where_the_next_one_starts(document):
    playing = play(document, grow(document)[-1])
    found = stroke_types(playing)
    assert set(found) == {name for name, limb in playing.limbs.items() if limb < 2}
    for limb in (0, 1):
        if limb in playing.graces.values():
            continue
        row = [found[s.id] for s in playing.beat.strokes if playing.limbs.get(s.id) == limb]
        for kind, after in zip(row, row[1:] + row[:1], strict=True):
            assert (kind in ("full", "up")) == (after in ("full", "down"))
