"""How is a drawing of the engraver put on a page?

Points, y upwards, as PDF counts; a drawing counts in 250 units a staff space, y downwards. SPACE is what the staff
space of ordinary print measures: 2 mm, a staff 8 mm high as in music for beginners, so that the letters under it can
be read (our choice).
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from functools import cache
from typing import Any

from ..notation.glyphs import OUTLINES
from ..notation.glyphs import SPACE as UNITS
from ..notation.primitives import Block, Curve, Drawing, Mark, Polygon, Row, Sign, Words
from .letters import BOLD, REGULAR, printable

MM = 72 / 25.4
SPACE = 2 * MM
NON_ZERO = 1  # the rule of filling, as in SVG
FAINT = 0.4  # how grey what is not struck is, 0 black; as the SVG's 0.6 of black on white

_TOKEN = re.compile(r"[A-Za-z]|-?\d+")
_TAKES = {"m": 2, "l": 2, "h": 1, "v": 1, "c": 6, "s": 4, "z": 0}


def unit(drawing: Drawing) -> float:
    """How many points one unit of a drawing is."""
    return SPACE / UNITS * drawing.scale / 100


def row_edges(drawing: Drawing) -> list[tuple[int, int]]:
    """Top and bottom of every row in units, each with the white that belongs to it, so that together they are all."""
    tops = [row.y + min((mark.box[1] for mark in row.marks), default=0) for row in drawing.rows]
    edges = [0, *tops[1:], drawing.height]
    return list(zip(edges, edges[1:], strict=False))


def draw_row(canvas: Any, drawing: Drawing, number: int, x: float, top: float) -> None:
    """Draw a row of a drawing with its upper left corner at (x, top)."""
    row = drawing.rows[number]
    size = unit(drawing)
    begin = row_edges(drawing)[number][0]
    canvas.saveState()
    canvas.translate(x, top)
    canvas.scale(size, -size)
    canvas.translate(row.x, row.y - begin)
    _marks(canvas, row)
    canvas.restoreState()


def _marks(canvas: Any, row: Row) -> None:
    blocks = canvas.beginPath()
    for mark in row.marks:
        shape = mark.shape
        if isinstance(shape, Block):
            blocks.rect(shape.x, shape.y, shape.width, shape.height)
        elif isinstance(shape, Sign):
            draw_sign(canvas, shape)
        elif not isinstance(shape, Words):  # each for itself: where two ways round overlap, one path would leave a hole
            path = canvas.beginPath()
            _outline(path, shape)
            canvas.drawPath(path, stroke=0, fill=1, fillMode=NON_ZERO)
    canvas.drawPath(blocks, stroke=0, fill=1, fillMode=NON_ZERO)
    _words(canvas, row.marks)


def _outline(path: Any, shape: Polygon | Curve) -> None:
    if isinstance(shape, Polygon):
        path.moveTo(*shape.points[0])
        for point in shape.points[1:]:
            path.lineTo(*point)
    else:
        points = shape.edges()
        path.moveTo(*points[0])
        path.curveTo(*points[1], *points[2], *points[3])
        path.curveTo(*points[4], *points[5], *points[6])
    path.close()


def draw_sign(canvas: Any, shape: Sign) -> None:
    """Draw an outline, in the units and directions of a drawing."""
    path = canvas.beginPath()
    size = shape.size / 100
    for step, numbers in _steps(shape.name):
        row = [(shape.y if place % 2 else shape.x) + number * size for place, number in enumerate(numbers)]
        if step == "M":
            path.moveTo(*row)
        elif step == "L":
            path.lineTo(*row)
        elif step == "C":
            path.curveTo(*row)
        else:
            path.close()
    canvas.drawPath(path, stroke=0, fill=1, fillMode=NON_ZERO)


def _words(canvas: Any, marks: Iterable[Mark]) -> None:
    for mark in marks:
        shape = mark.shape
        if not isinstance(shape, Words):
            continue
        text, _ = printable(shape.text)
        canvas.saveState()
        canvas.translate(shape.x, shape.y)
        canvas.scale(1, -1)
        canvas.setFont(BOLD if shape.bold else REGULAR, shape.size)
        canvas.setFillGray(FAINT if shape.faint else 0)
        if shape.anchor == "middle":
            canvas.drawCentredString(0, 0, text)
        else:
            canvas.drawString(0, 0, text)
        canvas.restoreState()


@cache
def _steps(name: str) -> tuple[tuple[str, tuple[int, ...]], ...]:
    """An outline in absolute steps: M, L, C and Z."""
    return tuple(_absolute(OUTLINES[name].path))


def _absolute(text: str) -> Iterator[tuple[str, tuple[int, ...]]]:
    tokens = _TOKEN.findall(text)
    at, letter = 0, ""
    x = y = first_x = first_y = 0
    bend_x = bend_y = 0  # the second control of the last curve
    while at < len(tokens):
        if tokens[at].isalpha():
            letter = tokens[at]
            at += 1
        kind = letter.lower()
        many = _TAKES[kind]
        given = [int(token) for token in tokens[at : at + many]]
        at += many
        base_x, base_y = (x, y) if letter.islower() else (0, 0)
        if kind == "z":
            x, y = first_x, first_y
            yield "Z", ()
            continue
        if kind == "h":
            x = base_x + given[0]
        elif kind == "v":
            y = base_y + given[0]
        else:
            points = [(base_y if place % 2 else base_x) + number for place, number in enumerate(given)]
            if kind == "s":
                points = [2 * x - bend_x, 2 * y - bend_y, *points]
            x, y = points[-2:]
            if kind in "cs":
                bend_x, bend_y = points[2:4]
                yield "C", tuple(points)
                continue
            if kind == "m":
                first_x, first_y = x, y
                letter = "l" if letter == "m" else "L"  # more numbers behind it are lines
                bend_x, bend_y = x, y
                yield "M", (x, y)
                continue
        bend_x, bend_y = x, y
        yield "L", (x, y)
