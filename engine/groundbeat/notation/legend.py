"""Which note stands for which surface, and which sign for which way of playing?

One short staff an entry, with the head, its ledger lines and its sign, and the name behind it: surfaces in the order of
the kit from the top, then dynamics and graces, shown on a snare (a choke on a crash). As many columns as fit. Heads of
surfaces have no stems: those say which voice it is, not what.
"""

from __future__ import annotations

from collections.abc import Iterable

from ..model.beat import Stroke
from ..model.kit import BY_NAME, GRACE_WORDS, LOUDNESS
from .column import HEAD
from .columns import ABOVE, columns
from .engrave import LARGE, MARGIN, WIDTH, shifted
from .furniture import block, sign, words
from .glyphs import HEADS, OUTLINES, SPACE, STEP
from .graces import COUNT
from .lettering import ASCENT, text_width
from .primitives import Drawing, Mark, Row
from .score import Bar, Chord, Voice
from .staff import HALF_OPEN, OPEN, place
from .stems import finish

_STAFF, _HEAD_AT, _GRACE_ROOM = 800, 250, 500  # a short staff, where its head stands, room for small notes; our choice
_SIZE, _AFTER, _BETWEEN, _ROWS = 330, 120, 500, 450
_LINE, _LEDGER, _BEYOND, _OUTSIDE = 33, 40, 70, 45
_MIDDLE = -4 * STEP + ASCENT * _SIZE // 2000
_WAYS = {"ghost": "ghost", "accent": "accent", **GRACE_WORDS}
_SIGNS = {"open hi-hat": ABOVE[OPEN], "half-open hi-hat": ABOVE[HALF_OPEN], "foot splash": "open"}


def legend(surfaces: Iterable[str], ways: Iterable[str] = (), *, width: float = WIDTH, large: bool = False) -> Drawing:
    """Draw what the notes of these surfaces look like, on at most `width` staff spaces of ordinary print.

    `ways` are dynamics and graces that are to be explained too ("ghost", "accent", "flam", ...); those that have no
    sign ("soft", "normal", "") are passed over.

    >>> [mark.shape.text for mark in legend(["kick", "snare"]).marks() if mark.kind == "name"]
    ['snare', 'kick']
    """
    scale = LARGE if large else 100
    room = round(width * SPACE * 100 / scale) - 2 * MARGIN
    entries = [(name, True) for name in sorted(set(surfaces), key=lambda name: BY_NAME[name].row)]
    known = set(ways)
    entries += [(way, False) for way in _WAYS if way in known]
    names = [_WAYS.get(name, name) for name, _ in entries]
    staff = _STAFF + (_GRACE_ROOM if known & {*COUNT} else 0)
    wide = max((staff + _AFTER + text_width(name, _SIZE) for name in names), default=0)
    across = max(1, (room + _BETWEEN) // (wide + _BETWEEN)) if names else 1
    rows: list[Row] = []
    y = MARGIN
    for first in range(0, len(names), across):
        marks: list[Mark] = []
        for number, (name, surface) in enumerate(entries[first : first + across]):
            x = number * (wide + _BETWEEN)
            marks += _staff(x, staff) + (_surface(name, x) if surface else _way(name, x))
            marks.append(words("name", _WAYS.get(name, name), x + staff + _AFTER, _MIDDLE, _SIZE, "start"))
        top, bottom = min(mark.box[1] for mark in marks), max(mark.box[3] for mark in marks)
        rows.append(Row(MARGIN, y - top, tuple(marks)))
        y += bottom - top + _ROWS
    used = min(across, len(names))
    height = y - _ROWS + MARGIN if names else 2 * MARGIN
    return Drawing(
        used * (wide + _BETWEEN) - (_BETWEEN if used else 0) + 2 * MARGIN, height, tuple(rows), "Legend", scale
    )


def _staff(x: int, wide: int) -> list[Mark]:
    return [block("staff", x, -line * STEP - _LINE // 2, wide, _LINE) for line in range(0, 10, 2)]


def _way(name: str, x: int) -> list[Mark]:
    """A whole note with its stem, as it stands on the line."""
    dynamic, grace = (name, "") if name in LOUDNESS else ("normal", name)
    stroke = Stroke(0, "crash" if name == "choke" else "snare", dynamic, grace)
    voice = Voice("up", (Chord(0, 10080, 4, 0, (stroke,), (), (1, 1), ""),))
    (column,) = columns(Bar(1, 0, (voice,), False), {})
    column.x = x + _HEAD_AT + (_GRACE_ROOM if grace in COUNT else 0)
    return finish([column], True) + shifted(column)


def _surface(name: str, x: int) -> list[Mark]:
    where = place(name)
    outline = HEADS[where.head][0]
    y = -where.line * STEP
    head = sign("head", outline, x + _HEAD_AT, y)
    marks = [head]
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
    return marks
