"""Where on the drum staff does a surface stand, and which mark says how it is struck?

Places and heads are the kit's (`model/kit.py`, after Weinberg, Guidelines for Drumset Notation, 1994), steps and
octaves as in treble clef. `line` counts diatonic steps above the bottom line: E4 0, F4 (first space) 1, the middle
line B4 4, F5 (top line) 8; below the staff it is negative.

Marks of the hi-hat: "open" (o) and "half-open" on every such stroke, "closed" (+) only where a reader may doubt it:
on the first closed stroke after one that leaves the plates open. A stroke of the hi-hat foot in between closes the
plates and says so by its own place, so no + follows it. "splash" (o below) is on every foot splash, which leaves the
plates open. A score is read from its first bar, so an open stroke at the end of the cycle asks for no + at its start;
our choice.
"""

from __future__ import annotations

from collections.abc import Iterable
from functools import cache
from typing import NamedTuple

from ..model.beat import Stroke
from ..model.kit import BY_NAME, SURFACES

OPEN, HALF_OPEN, CLOSED, SPLASH = "open", "half-open", "closed", "splash"
_STEPS = "CDEFGAB"
_MARKS = {"open hi-hat": OPEN, "half-open hi-hat": HALF_OPEN, "foot splash": SPLASH}


class Place(NamedTuple):
    """A place on the staff, and the notehead that stands there."""

    step: str  # "C" to "B"
    octave: int  # 4 begins with the C below the staff
    line: int  # diatonic steps above the bottom line E4
    head: str  # a notehead's name, as in model/kit.py


@cache
def place(surface: str) -> Place:
    """Find a surface's place and notehead.

    >>> place("snare")
    Place(step='C', octave=5, line=5, head='normal')
    >>> place("hi-hat foot").line
    -1
    """
    row = BY_NAME[surface]
    step, octave = row.staff[0], int(row.staff[1:])
    return Place(step, octave, 7 * (octave - 4) + _STEPS.index(step) - _STEPS.index("E"), row.head)


# From the highest place on the staff to the lowest; on one place the line of the kit that is higher goes first.
HEIGHT: dict[str, tuple[int, int]] = {row.name: (-place(row.name).line, row.row) for row in SURFACES}


def marks(strokes: Iterable[Stroke]) -> dict[str, str]:
    """Find the marks of a beat's strokes, given in the order of time: by id "open", "half-open", "closed" or "splash".

    >>> hits = [Stroke(0, "open hi-hat", id="a"), Stroke(5040, "hi-hat", id="b"), Stroke(10080, "hi-hat", id="c")]
    >>> marks(hits)
    {'a': 'open', 'b': 'closed'}
    """
    found: dict[str, str] = {}
    doubt = False
    for stroke in strokes:
        name = stroke.surface
        mark = _MARKS.get(name, "")
        if mark:
            found[stroke.id] = mark
            doubt = True
        elif name == "hi-hat":
            if doubt:
                found[stroke.id] = CLOSED
            doubt = False
        elif name == "hi-hat foot":
            doubt = False
    return found
