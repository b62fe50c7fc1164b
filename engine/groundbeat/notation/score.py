"""What stands on the staff, bar by bar, before anybody draws or writes it?

`spelling.spell` makes a score from a beat; the engraver and MusicXML read it. Places and lengths are ticks (10080 a
quarter), places are *written* ones: a stroke that no written value reaches stands at the nearest, is named in
`moved`, and keeps its true place in `Stroke.at`. What a stroke is (surface, dynamic, grace, hand) is read from the
stroke itself.

A bar in which nobody plays has one chord without strokes in its first voice, of value 1 and as long as the bar: the
whole-bar rest of any meter, and the only chord whose value does not give its length. In every other chord
`ticks = (40320 / value) * (2 - 1 / 2**dots) * normal / actual`.
"""

from __future__ import annotations

from typing import NamedTuple

from ..model.beat import Stroke
from ..model.meter import Meter

BEGIN, CONTINUE, END = "begin", "continue", "end"
FORWARD, BACKWARD = "forward hook", "backward hook"
UP, DOWN = "up", "down"


class Chord(NamedTuple):
    """What one voice does at one place: strokes together, or a rest (no strokes)."""

    at: int  # written tick from the start of the cycle
    ticks: int  # written length
    value: int  # 1 whole, 2 half, 4 quarter, 8, 16, 32, 64
    dots: int  # 0 to 2
    strokes: tuple[Stroke, ...]  # from the highest place on the staff to the lowest; () is a rest
    beams: tuple[str, ...]  # one a level: "begin" "continue" "end" "forward hook" "backward hook"; () none
    tuplet: tuple[int, int]  # (actual, normal), (1, 1) none; e.g. (3, 2), (6, 4), (5, 4), (7, 4), (2, 3)
    edge: str  # "start", "stop", "start stop" or "" of its tuplet's bracket


class Voice(NamedTuple):
    """One line of chords and rests with stems to one side."""

    stem: str  # "up" hands, "down" feet
    chords: tuple[Chord, ...]  # fill the bar exactly; empty tuple: the voice is left out of this bar


class Bar(NamedTuple):
    """One bar and its voices."""

    number: int  # from 1
    start: int  # tick
    voices: tuple[Voice, ...]  # one or two
    repeats: bool  # the same as the bar before, so that a % may stand for it


class Count(NamedTuple):
    """What is said aloud at one column, and whether something is struck there."""

    at: int
    syllable: str  # "1", "e", "&", "a", "trip", "let"
    played: bool


class Score(NamedTuple):
    """A beat as it is written."""

    meter: Meter
    bars: tuple[Bar, ...]
    counts: tuple[Count, ...]  # only where something is said
    moved: tuple[str, ...]  # ids of strokes that no written value reaches: they stand at the nearest
    says: tuple[str, ...]  # about that, in words
