"""Which signs does a note carry, and which note says it?

Every note carries its own: in a chord the accent stands at the note of the stroke that is accented, the letter of a
hand at that hand's note, so that a reader knows which of them is meant. A tuplet and a beam belong to the chord and
stand at its first note.

Hi-hat: `open`, `half-muted` and `stopped` of MusicXML 4.0 as `staff.marks` says; `open-string` instead of `open` where
the older mark is asked for: files before 4.0 had it, and some programs still draw nothing else.
Ornaments: a diddle is one stroke through the stem, a buzz an unmeasured tremolo of no strokes, which is the z.
"""

from __future__ import annotations

from collections.abc import Sequence

from ...model.beat import Stroke
from ...model.meter import WHOLE
from ..score import BEGIN, END, Chord
from ..staff import CLOSED, HALF_OPEN, OPEN, SPLASH
from .element import Lines, leaf, node
from .wish import FINGERING

TYPES = {1: "whole", 2: "half", 4: "quarter", 8: "eighth", 16: "16th", 32: "32nd", 64: "64th"}
CHOKE = "pictChokeCymbal"  # SMuFL, pictograms: choke (Weinberg)
SLURS = 16  # numbers that slurs may have (schema: number-level)


class Bracket:
    """A tuplet: of which notes, how many in the time of how many, and whether a beam makes its bracket needless."""

    __slots__ = ("beamed", "ratio", "value")

    def __init__(self, chords: Sequence[Chord]):
        self.ratio = chords[0].tuplet
        ticks = sum(chord.ticks for chord in chords)
        self.value = WHOLE * self.ratio[1] // ticks
        words = [chord.beams[:1] for chord in chords]
        inner = words[1:-1]
        self.beamed = (
            words[0] == (BEGIN,) and words[-1] == (END,) and all(w and w[0] not in (BEGIN, END) for w in inner)
        )


def brackets(chords: Sequence[Chord]) -> list[Bracket | None]:
    """Find the tuplet that each chord of a voice belongs to."""
    found: list[Bracket | None] = [None] * len(chords)
    start = 0
    for index, chord in enumerate(chords):
        if "start" in chord.edge:
            start = index
        if "stop" in chord.edge:
            bracket = Bracket(chords[start : index + 1])
            found[start : index + 1] = [bracket] * (index + 1 - start)
    return found


def modification(chord: Chord, bracket: Bracket | None) -> Lines:
    """Write by how much a tuplet shortens a note; its own note value where that is another one."""
    if bracket is None:
        return []
    other = bracket.value != chord.value or chord.dots
    return node(
        "time-modification",
        leaf("actual-notes", bracket.ratio[0]),
        leaf("normal-notes", bracket.ratio[1]),
        leaf("normal-type", TYPES[bracket.value]) if other else [],
    )


def tuplet(chord: Chord, bracket: Bracket | None, placement: str) -> Lines:
    """Write the beginning or the end of a tuplet."""
    if bracket is None or not chord.edge:
        return []
    lines: Lines = []
    for edge in chord.edge.split():
        if edge == "stop":
            lines += leaf("tuplet", type="stop", number=1)
            continue
        portions = [
            node(f"tuplet-{name}", leaf("tuplet-number", count), leaf("tuplet-type", TYPES[bracket.value]))
            for name, count in zip(("actual", "normal"), bracket.ratio, strict=True)
        ]
        bracketed = "no" if bracket.beamed else "yes"
        shown = {"bracket": bracketed, "show_number": "actual", "placement": placement}
        lines += node("tuplet", *portions, type="start", number=1, **shown)
    return lines


def of_stroke(stroke: Stroke, mark: str, letter: str, how: tuple[str, bool], up: bool) -> list[Lines]:
    """Write the ornaments, technical marks and accents of a note."""
    sticking, older = how
    ornament = {
        "diddle": leaf("tremolo", 1, type="single"),
        "buzz": leaf("tremolo", 0, type="unmeasured"),
    }.get(stroke.grace, [])
    technical: Lines = []
    if mark in (OPEN, SPLASH):
        technical += leaf("open-string" if older else "open", placement="above" if mark == OPEN else "below")
    elif mark == HALF_OPEN:
        technical += leaf("half-muted", placement="above")
    elif mark == CLOSED:
        technical += leaf("stopped", placement="above")
    if letter and sticking == FINGERING:
        technical += leaf("fingering", letter, placement="below")
    if stroke.grace == "choke":
        technical += leaf("other-technical", "choke", smufl=CHOKE)
    accent = leaf("accent", placement="above" if up else "below") if stroke.dynamic == "accent" else []
    return [
        node("ornaments", ornament) if ornament else [],
        node("technical", technical) if technical else [],
        node("articulations", accent) if accent else [],
    ]
