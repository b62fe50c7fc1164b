"""What is known of one place of a bar: its ink, how far that reaches, and the chords and rests that stand there?

`columns` fills both classes, `spacing` gives a column its x, `stems` gives a note its tip. Plain classes, because they
are filled step by step.
"""

from __future__ import annotations

from ..model.beat import Stroke
from .glyphs import OUTLINES
from .primitives import Box, Mark, Sign

HEAD = 295  # width of an ordinary head
STEM = 30  # thickness of a stem, 0.12 of a space as the font asks for
FAR = 100_000  # beyond every sheet


class Note:
    """A chord or rest of one voice, and what `stems` must know of it."""

    __slots__ = (
        "above", "beams", "below", "column", "dots", "edge", "high", "low", "on_stem", "start", "stem", "struck",
        "tip", "tuplet", "up", "value",
    )  # fmt: skip

    def __init__(self, column: Column, up: bool, value: int, dots: int, struck: bool) -> None:
        self.column, self.up, self.value, self.dots, self.struck = column, up, value, dots, struck
        self.beams: tuple[str, ...] = ()
        self.tuplet, self.edge = (1, 1), ""
        self.stem = HEAD - STEM if up else 0  # left edge of the stem
        self.high = self.low = self.start = self.tip = 0
        self.above: list[tuple[str, int]] = []  # outline and number of its stroke, from the stem outwards
        self.below: list[tuple[str, int]] = []
        self.on_stem: list[tuple[str, int]] = []


class Column:
    """Everything at one written tick."""

    __slots__ = (
        "at", "bottom", "changed", "core", "heads", "left", "letter", "marks", "notes", "played", "right", "strokes",
        "syllable", "top", "x",
    )  # fmt: skip

    def __init__(self, at: int) -> None:
        self.at = at
        self.x = 0
        self.left, self.right = 0, HEAD  # how far it reaches: to the left (positive) and to the right of x
        self.top, self.bottom = FAR, -FAR  # of its ink, FAR where there is none
        self.marks: list[Mark] = []
        self.notes: list[Note] = []
        self.heads: list[tuple[Stroke, Box]] = []  # of a form
        self.strokes: list[Stroke] = []  # of a column at its place: their numbers name them in marks and notes
        self.letter = self.syllable = ""
        self.changed = self.played = False
        self.core = (FAR, -FAR)  # top and bottom of heads, parentheses and dots

    def put(self, kind: str, name: str, x: int, y: int, stroke: str = "", size: int = 100) -> Box:
        """Put an outline into the column."""
        left, top, right, bottom = OUTLINES[name].box
        if size != 100:
            left, top, right, bottom = (
                left * size // 100,
                top * size // 100,
                -(-right * size // 100),
                -(-bottom * size // 100),
            )
        box = (x + left, y + top, x + right, y + bottom)
        self.marks.append(Mark(kind, box, Sign(name, x, y, size), stroke))
        self.reach(box)
        return box

    def reach(self, box: Box) -> None:
        """Widen the column to hold a box."""
        left, top, right, bottom = box
        if -left > self.left:
            self.left = -left
        if right > self.right:
            self.right = right
        if top < self.top:
            self.top = top
        if bottom > self.bottom:
            self.bottom = bottom
