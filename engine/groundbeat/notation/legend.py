"""Which note stands for which surface?

One short staff a surface, with its head, its ledger lines and the sign that says how it is struck, and the name behind
it, in the order of the kit from the top, in as many columns as fit. No stems: they say which voice it is, not what.
"""

from __future__ import annotations

from collections.abc import Iterable

from ..model.kit import BY_NAME
from .columns import ABOVE, HEAD
from .engrave import LARGE, MARGIN, WIDTH
from .furniture import block, sign, words
from .glyphs import HEADS, OUTLINES, SPACE, STEP
from .lettering import ASCENT, text_width
from .primitives import Drawing, Mark, Row
from .staff import HALF_OPEN, OPEN, place

_STAFF, _HEAD_AT = 800, 250  # length of the short staff, and where on it the head stands; our choice
_SIZE, _AFTER, _BETWEEN, _ROWS = 330, 120, 500, 450
_LINE, _LEDGER, _BEYOND, _OUTSIDE = 33, 40, 70, 45
_SIGNS = {"open hi-hat": ABOVE[OPEN], "half-open hi-hat": ABOVE[HALF_OPEN], "foot splash": "open"}


def legend(surfaces: Iterable[str], *, width: float = WIDTH, large: bool = False) -> Drawing:
    """Draw what the notes of these surfaces look like, on at most `width` staff spaces of ordinary print.

    >>> [mark.shape.text for mark in legend(["kick", "snare"]).marks() if mark.kind == "name"]
    ['snare', 'kick']
    """
    scale = LARGE if large else 100
    room = round(width * SPACE * 100 / scale) - 2 * MARGIN
    names = sorted(set(surfaces), key=lambda name: BY_NAME[name].row)
    wide = max((_STAFF + _AFTER + text_width(name, _SIZE) for name in names), default=0)
    across = max(1, (room + _BETWEEN) // (wide + _BETWEEN)) if names else 1
    rows: list[Row] = []
    y = MARGIN
    for first in range(0, len(names), across):
        marks: list[Mark] = []
        for number, name in enumerate(names[first : first + across]):
            marks += _entry(name, number * (wide + _BETWEEN))
        top, bottom = min(mark.box[1] for mark in marks), max(mark.box[3] for mark in marks)
        rows.append(Row(MARGIN, y - top, tuple(marks)))
        y += bottom - top + _ROWS
    used = min(across, len(names))
    height = y - _ROWS + MARGIN if names else 2 * MARGIN
    return Drawing(
        used * (wide + _BETWEEN) - (_BETWEEN if used else 0) + 2 * MARGIN, height, tuple(rows), "Legend", scale
    )


def _entry(name: str, x: int) -> list[Mark]:
    where = place(name)
    marks = [block("staff", x, -line * STEP - _LINE // 2, _STAFF, _LINE) for line in range(0, 10, 2)]
    outline = HEADS[where.head][0]
    y = -where.line * STEP
    head = sign("head", outline, x + _HEAD_AT, y)
    marks.append(head)
    left, top, right, bottom = head.box
    for line in (*range(10, where.line + 1, 2), *range(-2, where.line - 1, -2)):
        marks.append(block("ledger", left - _BEYOND, -line * STEP - _LEDGER // 2, right - left + 2 * _BEYOND, _LEDGER))
    extra = _SIGNS.get(name)
    if extra:
        a, b, c, d = OUTLINES[extra].box
        across = x + _HEAD_AT + HEAD // 2 - (a + c) // 2
        up = name != "foot splash"
        marks.append(
            sign("outside", extra, across, min(top, -8 * STEP) - _OUTSIDE - d if up else bottom + _OUTSIDE - b)
        )
    middle = -4 * STEP + ASCENT * _SIZE // 2000
    marks.append(words("name", name, x + _STAFF + _AFTER, middle, _SIZE, "start"))
    return marks
