"""What is a drawing made of?

Marks: each one shape, the box that it fills and, where it belongs to a stroke, that stroke's id. A drawing has rows,
one a line of the staff (title and legend lines are rows as well); a mark's coordinates count from its row's corner,
y downwards, 250 units to a staff space. Whole numbers all through, so that the same score gives the same bytes.

Five shapes: Block (an upright rectangle: stems, beams, lines), Polygon, Curve (a slur: out by one bend and back by
another), Sign (an outline of `glyphs`, at a size in hundredths), Words (a text; its box is an upper bound). Anyone may
draw them elsewhere, on a PDF's page for instance: `Drawing.marks()` gives all, moved to their rows.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

Box = tuple[int, int, int, int]  # left, top, right, bottom


class Block(NamedTuple):
    """A filled rectangle."""

    x: int
    y: int
    width: int
    height: int


class Polygon(NamedTuple):
    """A filled polygon."""

    points: tuple[tuple[int, int], ...]


class Curve(NamedTuple):
    """A slur: from (x, y) by a bend of `sag` to (end, y), and back by a bend that is `thick` shallower.

    `sag` is how far below the ends (above: negative) the middle of the outer edge lies.
    """

    x: int
    y: int
    end: int
    sag: int
    thick: int

    def edges(self) -> tuple[tuple[int, int], ...]:
        """Give the seven points of two cubic curves, out and back: start, two controls, end, two controls, start."""
        third = (self.end - self.x) // 4
        deep, flat = (
            self.y + self.sag * 4 // 3,
            self.y + (self.sag - (self.thick if self.sag > 0 else -self.thick)) * 4 // 3,
        )
        return (
            (self.x, self.y), (self.x + third, deep), (self.end - third, deep), (self.end, self.y),
            (self.end - third, flat), (self.x + third, flat), (self.x, self.y),
        )  # fmt: skip


class Sign(NamedTuple):
    """An outline of `glyphs.OUTLINES` with its origin at (x, y), `size` percent large."""

    name: str
    x: int
    y: int
    size: int


class Words(NamedTuple):
    """A text on the baseline y; `anchor` "start" or "middle" says what of it lies at x; `faint` is grey."""

    text: str
    x: int
    y: int
    size: int
    anchor: str
    bold: bool
    faint: bool


Shape = Block | Polygon | Curve | Sign | Words


class Mark(NamedTuple):
    """One thing on the paper."""

    kind: str  # "head", "stem", "beam", "flag", "rest", "accent", ... : see `KINDS` in engrave.py
    box: Box
    shape: Shape
    stroke: str  # the id of the stroke that it belongs to, "" for what belongs to none


class Row(NamedTuple):
    """A line of the staff, or of text."""

    x: int
    y: int
    marks: tuple[Mark, ...]


class Drawing(NamedTuple):
    """Rows of marks on a sheet of `width` by `height` units; `scale` is how large it is meant (150 is large print)."""

    width: int
    height: int
    rows: tuple[Row, ...]
    title: str  # what it shows, for those who do not see it
    scale: int  # percent

    def marks(self) -> Iterator[Mark]:
        """Give every mark where it stands on the sheet."""
        for row in self.rows:
            for mark in row.marks:
                left, top, right, bottom = mark.box
                box = (left + row.x, top + row.y, right + row.x, bottom + row.y)
                yield Mark(mark.kind, box, moved(mark.shape, row.x, row.y), mark.stroke)

    def boxes(self) -> list[tuple[str, Box, str]]:
        """Give kind, box and stroke of every mark."""
        return [(mark.kind, mark.box, mark.stroke) for mark in self.marks()]

    def svg(self, prefix: str = "gb", space: float = 8.0) -> str:
        """Write a stand-alone SVG; see `svg.write`."""
        from .svg import write

        return write(self, prefix, space)


def moved(shape: Shape, x: int, y: int) -> Shape:
    """Give a shape moved by (x, y)."""
    if isinstance(shape, Polygon):
        return Polygon(tuple((px + x, py + y) for px, py in shape.points))
    if isinstance(shape, Curve):
        return shape._replace(x=shape.x + x, y=shape.y + y, end=shape.end + x)
    return shape._replace(x=shape.x + x, y=shape.y + y)
