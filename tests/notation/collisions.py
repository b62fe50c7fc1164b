"""Which marks of a drawing lie on each other that should not?

Boxes are compared as rectangles; those that only touch do not overlap. What may overlap is named here, pair by pair:
everything else is a fault.
"""

from __future__ import annotations

from groundbeat.notation.glyphs import ANCHORS, HEADS
from groundbeat.notation.primitives import Mark, Sign

BEHIND = {"staff"}  # the five lines go behind everything
MAY = {
    frozenset(pair)
    for pair in (
        ("ledger", "head"),  # a ledger line goes through its head, and on to both sides,
        ("ledger", "ledger"),  # is the same for two heads of a chord,
        ("ledger", "stem"),  # is crossed by the stem,
        ("ledger", "parenthesis"),  # and by a ghost's parentheses
        ("stem", "beam"),
        ("stem", "flag"),
        ("stem", "on stem"),
        ("grace stem", "grace"),
        ("grace stem", "grace beam"),
        ("grace stem", "grace flag"),
        ("slash", "grace stem"),
        ("slash", "grace flag"),
        ("bracket", "bracket"),  # its hook and its line are one
    )
}
WIDTHS = {name: ANCHORS[head][0] for head, both in HEADS.items() for name in both}


def overlaps(found: list[Mark]) -> list[tuple[Mark, Mark]]:
    """Find every pair of marks that lie on each other and may not."""
    marks = sorted((mark for mark in found if mark.kind not in BEHIND), key=lambda mark: mark.box[0])
    pairs = []
    open_marks: list[Mark] = []
    for mark in marks:
        left, top, _, bottom = mark.box
        open_marks = [other for other in open_marks if other.box[2] > left]
        for other in open_marks:
            if other.box[1] < bottom and top < other.box[3] and not may(mark, other):
                pairs.append((other, mark))
        open_marks.append(mark)
    return pairs


def may(one: Mark, other: Mark) -> bool:
    """True for pairs that belong together."""
    if {one.kind, other.kind} == {"stem", "head"}:
        stem, head = (one, other) if one.kind == "stem" else (other, one)
        assert isinstance(head.shape, Sign)
        left, right = head.shape.x, head.shape.x + WIDTHS[head.shape.name]
        return stem.box[0] == left or stem.box[2] == right  # a stem on the head's edge, not through its middle
    return frozenset((one.kind, other.kind)) in MAY


def outside(found: list[Mark], width: int, height: int) -> list[Mark]:
    """Find marks that are not wholly on the sheet."""
    return [mark for mark in found if mark.box[0] < 0 or mark.box[1] < 0 or mark.box[2] > width or mark.box[3] > height]
