"""How far apart do the columns stand, and where does a line end?

Every gap is a spring: it has a least length, at which nothing meets, and a natural one, which grows with time: a
sixteenth 1.9 spaces, each doubling half as much again. A line is stretched or squeezed by one factor, so that equal
notes stand equally far apart, and no gap goes below its least. Lines end with whole bars; a bar whose least length is
more than a line is broken between two beats where no note, beam or tuplet goes across, and only where it has no such
place is a line longer than it should be. Lines are chosen so that all are filled alike. Lengths are our choice.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from typing import NamedTuple

from .column import HEAD, Column
from .lettering import text_width

APART = 50  # between the ink of two columns
LETTER, SYLLABLE = 300, 270  # sizes of sticking letters and counts
_BETWEEN_WORDS = 60
_SIXTEENTH = 470  # natural gap
_BAR_START, _BAR_END = 260, 190  # from a bar line to the first head; behind the last ink
_AFTER_LINE = 160  # from a bar line to the first ink, where it reaches further left: half a bar number and more
_EMPTY = 1500  # a bar with one sign in its middle
STRETCH = 1700  # thousandths: a line is stretched to this at most, else it stays shorter; our choice
_IDEAL = 1150
_RAGGED = 2500  # what a line that is not filled costs


class Piece(NamedTuple):
    """A bar, or part of one that is too wide for a line."""

    bar: int  # index
    columns: tuple[Column, ...]
    gaps: tuple[tuple[int, int], ...]  # least and natural: before the first column, between, behind the last
    first: bool  # begins its bar
    last: bool  # ends it


@lru_cache(maxsize=512)
def natural(ticks: int) -> int:
    """How far apart notes stand that are so long, at factor 1."""
    return int(_SIXTEENTH * (ticks / 2520) ** 0.585)  # 2 ** 0.585 = 1.5


def piece(bar: int, columns: Sequence[Column], end: int, first: bool = True, last: bool = True) -> Piece:
    """Find the springs of a bar (or part) that ends at tick `end`."""
    if all(not column.marks and not column.syllable for column in columns):
        return Piece(bar, tuple(columns), ((_EMPTY // 2, 0), (_EMPTY // 2, _EMPTY // 2)), first, last)
    begin = columns[0]
    gaps = [(max(_BAR_START, begin.left + _AFTER_LINE) if first else begin.left + APART, 0)]
    before, last_wide = begin, text_width(begin.syllable, SYLLABLE)
    for column in columns[1:]:
        least = before.right + column.left + APART
        if column.syllable:
            wide = text_width(column.syllable, SYLLABLE)
            least = max(least, (wide + last_wide) // 2 + _BETWEEN_WORDS)
            last_wide = wide
        gaps.append((least, natural(column.at - before.at)))
        before = column
    least = max(before.right, HEAD // 2 + last_wide // 2) + (_BAR_END if last else APART)
    gaps.append((least, natural(end - before.at)))
    return Piece(bar, tuple(columns), tuple(gaps), first, last)


def factor(gaps: Sequence[tuple[int, int]], room: int) -> int:
    """Find by how many thousandths the natural lengths are multiplied so that the springs fill `room`.

    >>> factor([(100, 200), (100, 400)], 900), factor([(250, 200), (100, 400)], 450)
    (1500, 500)
    """
    fixed = sum(least for least, length in gaps if not length)
    free = [row for row in gaps if row[1]]
    while free:
        found = (room - fixed) * 1000 // sum(length for _, length in free)
        stiff = [row for row in free if row[1] * found < row[0] * 1000]
        if not stiff:
            return max(found, 0)
        fixed += sum(least for least, _ in stiff)
        free = [row for row in free if row[1] * found >= row[0] * 1000]
    return 0


def lines(pieces: Sequence[Piece], first_room: int, room: int) -> list[tuple[Piece, ...]]:
    """Choose where lines end; the first one has less room than the others."""
    least = [sum(gap[0] for gap in part.gaps) for part in pieces]
    wish = [sum(max(gap) for gap in part.gaps) for part in pieces]
    best: list[tuple[int, int]] = [(0, 0)]  # cost of the pieces up to here, and where their last line begins
    for end in range(1, len(pieces) + 1):
        choice: tuple[int, int] | None = None
        low = length = 0
        for begin in range(end - 1, -1, -1):
            low += least[begin]
            length += wish[begin]
            space = room if begin else first_room
            if low > space and begin < end - 1:
                break
            ratio = min(space * 1000 // length, STRETCH)
            cost = best[begin][0] + ((ratio - _IDEAL) // 10) ** 2 + (_RAGGED if ratio == STRETCH else 0)
            if choice is None or cost < choice[0]:
                choice = (cost, begin)
        assert choice is not None
        best.append(choice)
    found: list[tuple[Piece, ...]] = []
    end = len(pieces)
    while end:
        begin = best[end][1]
        found.append(tuple(pieces[begin:end]))
        end = begin
    return found[::-1]
