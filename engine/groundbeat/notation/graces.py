"""How are small notes drawn before the note that they lead to?

One with a slash (flam), two (drag) or three (ruff), 60 % large, with stems up and a slur below them to the note. Where
several strokes of a column have graces, their small notes stand together on the same stems, the last ones aligned.
Sizes and distances are our choice.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from ..model.beat import Stroke
from .glyphs import ANCHORS, HEADS, OUTLINES
from .primitives import Block, Curve, Mark, Polygon
from .staff import place

if TYPE_CHECKING:
    from .column import Column

COUNT = {"flam": 1, "drag": 2, "ruff": 3}
SIZE = 60  # percent
_STEM, _LENGTH, _FLAGGED = 20, 490, 590  # above the highest head; a flag is 487 long at this size
_BEAM, _BEAMS_APART = 70, 110
_GAP, _BEFORE = 60, 50  # between small notes; between them and the note
_SAG, _THICK = 90, 32
_HEAD = 295 * SIZE // 100


def put_graces(column: Column, graced: list[tuple[Stroke, int]]) -> None:
    """Put small notes before a column; `graced` are its strokes that have some, with the height of their heads."""
    number = max(COUNT[stroke.grace] for stroke, _ in graced)
    end = -column.left - 15
    edge = -column.left - _BEFORE
    high = min(y for _, y in graced)
    tip = high - (_FLAGGED if number == 1 else _LENGTH)
    first = graced[0][0].id
    stems: list[int] = []
    low, starts = high, edge
    for back in range(1, number + 1):
        here = sorted(((y, stroke) for stroke, y in graced if COUNT[stroke.grace] >= back), key=lambda row: -row[0])
        flag = OUTLINES["flag 8 up"].box[2] * SIZE // 100 if number == 1 else 0
        placed = _beside([(y, place(stroke.surface).head) for y, stroke in here])
        right = edge - max(flag, *(x + wide for x, wide, _ in placed))
        stem = right - _STEM
        for (y, stroke), (x, _, name) in zip(here, placed, strict=True):
            box = column.put("grace", name, right + x, y, stroke.id, SIZE)
            starts = min(starts, box[0])
            low = max(low, box[3])
        lowest = here[0][0]
        _block(column, "grace stem", stem, tip, _STEM, lowest - 20 - tip)
        stems.append(stem)
        edge = starts - _GAP
    if number == 1:
        column.put("grace flag", "flag 8 up", stems[0], tip, first, SIZE)
        x, y = stems[0] - 110, tip + 330
        points = ((x, y), (x + 290, y - 230), (x + 304, y - 212), (x + 14, y + 18))
        box = (x, y - 230, x + 304, y + 18)
        column.marks.append(Mark("slash", box, Polygon(points), first))
        column.reach(box)
    else:
        for level in range(2):
            _block(column, "grace beam", stems[-1], tip + level * _BEAMS_APART, stems[0] + _STEM - stems[-1], _BEAM)
    y = low + 25
    slur = Curve(starts + _HEAD // 3, y, end, _SAG, _THICK)
    box = (slur.x, y, end, y + _SAG)
    column.marks.append(Mark("slur", box, slur, first))
    column.reach(box)


def _beside(heads: list[tuple[int, str]]) -> list[tuple[int, int, str]]:
    """Place small heads on a stem whose right edge is 0, from the lowest on: x, width and outline of each."""
    placed: list[tuple[int, int, int]] = []  # y, left, right
    found = []
    for y, head in heads:
        wide = -(-ANCHORS[head][0] * SIZE // 100)
        near = [row for row in placed if row[0] - y < 250 * SIZE // 100]
        x = max(0, *(row[2] for row in near)) if any(row[1] < 0 for row in near) else -wide
        placed.append((y, x, x + wide))
        found.append((x, wide, HEADS[head][0] if head != "slashed" else "filled head"))
    return found


def _block(column: Column, kind: str, x: int, y: int, width: int, height: int) -> None:
    box = (x, y, x + width, y + height)
    column.marks.append(Mark(kind, box, Block(x, y, width, height), ""))
    column.reach(box)
