"""Scores of other programs and of the standard's own pages read with their strokes, or say why not.

What is expected was counted by hand in the files.
"""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import pytest

from groundbeat.notation.xml.read import base_beat

TUTORIAL = {"crash": 1, "hi-hat": 15, "snare": 4, "kick": 8, "cowbell": 8}
# file: meter, bars, strokes by surface, what must be told
EXPECTED = {
    "w3c/tutorial-percussion.xml": ("4/4", 2, TUTORIAL, "Drums, Cowbell"),
    "music21/drum_sample.xml": ("4/4", 2, TUTORIAL, "Drums, Cowbell"),
    "w3c/unpitched-element.xml": (
        "4/4", 1, {"kick": 1, "floor tom": 1, "mid tom": 1, "high tom": 1}, "its place on the staff decided",
    ),
    "w3c/except-voice-element.xml": ("4/4", 1, {"hi-hat": 1}, "does not say how long a division is"),
    "mx/testDrumset1.xml": (
        "4/4", 2, {"kick": 1, "floor tom": 1, "snare": 1, "low tom": 1, "open hi-hat": 1, "high tom": 1},
        "open high conga (key 63) was left out",
    ),
    "mx/testDrumset2.xml": (
        "4/4", 1, {"kick": 1, "ride bell": 1, "second crash": 1, "snare": 4},
        '"Ride (Bell)" has the key of a second crash',
    ),
    "lilypond/73a-Percussion.xml": ("4/4", 2, {"crash": 3}, 'the part is called "Triangle"'),
    "lilypond/41c-StaffGroups.xml": ("4/4", 1, {"high tom": 1}, "24 other parts were left out"),
    "lilypond/34b-Colors.xml": ("15/8", 4, {"snare": 1}, "notes with a pitch were left out"),
    "lilypond/34c-Font-Size.xml": ("15/8", 4, {"snare": 1}, "notes with a pitch were left out"),
}  # fmt: skip


@pytest.fixture
def folder(real_inputs: Path) -> Path:
    """Where the scores are."""
    return real_inputs / "musicxml"


@pytest.mark.parametrize("name", EXPECTED)
def test_a_score_of_another_program_reads_with_its_strokes(folder: Path, name: str):
    meter, bars, strokes, says = EXPECTED[name]
    found = base_beat((folder / name).read_bytes())
    assert (str(found.beat.meter), found.beat.bars) == (meter, bars)
    assert Counter(stroke.surface for stroke in found.beat.strokes) == strokes
    assert any(says in line for line in found.says)


def test_no_score_that_is_at_hand_is_left_out(folder: Path):
    assert {path.relative_to(folder).as_posix() for path in folder.rglob("*.xml")} == set(EXPECTED)


def test_places_of_the_tutorial_are_those_of_its_picture(folder: Path):
    found = base_beat((folder / "w3c/tutorial-percussion.xml").read_bytes(), (1, 1))
    places = {
        name: [stroke.at // 5040 for stroke in found.beat.strokes if stroke.surface == name]
        for name in ("crash", "hi-hat", "snare", "kick", "cowbell")
    }
    assert places == {
        "crash": [0], "hi-hat": [1, 2, 3, 4, 5, 6, 7], "snare": [2, 6], "kick": [0, 4, 5, 7], "cowbell": [0, 2, 4, 6],
    }  # fmt: skip
    assert found.tempo == 12000
