"""How do strokes go to columns, and how far were they moved?

Each stroke goes to its nearest column, so one that is played a little early before a bar line belongs to the
bar that the line begins: a beat is a cycle and has no "just before the start". One stroke counts at a place
of an instrument: the louder stays. Two strokes of one hand surface within 25 ms, the first not louder than
the second, are a flam.

Places are exact whole numbers (units, see `bars`); only what is told in milliseconds is a float.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from ..model.kit import BY_NAME
from .bars import Bars, nearest
from .drums import Hit

FLAM_MS = 25  # closer than this are one flam; single strokes of a fast roll are 60 ms apart. Our choice


class Spread(NamedTuple):
    """How strokes lay beside their columns, in ms; early is negative.

    `mean` keeps the signs, `moved` (the mean) and `median` are of the distances without, `worst` is the
    largest of them. `surface` is "" for all strokes together.
    """

    surface: str
    strokes: int
    mean: float
    moved: float
    median: float
    worst: float


class Placed(NamedTuple):
    """A stroke on its column: the column's number, and how far away it was played, in units and in ms."""

    hit: Hit
    column: int
    off: int
    ms: float
    grace: str


def take_flams(hits: Sequence[Hit], lines: Bars) -> tuple[list[Hit], frozenset[int]]:
    """Take the grace strokes of flams out; return the others, and the indexes of those that carry a flam."""
    latest: dict[str, int] = {}  # index of the last stroke of each surface
    graces, flams = set(), set()
    for index, hit in enumerate(hits):
        before = latest.get(hit.surface)
        latest[hit.surface] = index
        if before is None or BY_NAME[hit.surface].limb != "hand":
            continue
        units = (hit.tick - hits[before].tick) * lines.file_tick
        if units and hits[before].velocity <= hit.velocity and lines.ms(units, lines.us_at(hit.tick)) <= FLAM_MS:
            graces.add(before)
            flams.add(index)
    stay = [index for index in range(len(hits)) if index not in graces]
    return [hits[index] for index in stay], frozenset(n for n, index in enumerate(stay) if index in flams)


def place(
    hits: Sequence[Hit], flams: frozenset[int], lines: Bars, bars: tuple[int, int], column: int
) -> tuple[list[Placed], list[Placed]]:
    """Lay the strokes of some bars on columns of `column` units.

    Returns those that stay, and those that met a louder one at their place.
    """
    start = lines.start_of(bars[0])
    columns = -(-(lines.end_of(bars[1]) - start) // column)
    taken: dict[tuple[int, str], Placed] = {}
    lost = []
    for index, hit in enumerate(hits):
        at = hit.tick * lines.file_tick - start
        number = nearest(at, column)
        if not 0 <= number < columns:
            continue
        off = at - number * column
        new = Placed(hit, number, off, lines.ms(off, lines.us_at(hit.tick)), "flam" if index in flams else "")
        key = number, BY_NAME[hit.surface].instrument
        old = taken.get(key)
        if old is None:
            taken[key] = new
            continue
        # The louder stays; of equal ones the one that was nearer to the place, then the first.
        stays, goes = sorted((old, new), key=lambda p: (-p.hit.velocity, abs(p.off)))
        taken[key] = stays
        lost.append(goes)
    return sorted(taken.values(), key=lambda p: (p.column, BY_NAME[p.hit.surface].row)), lost


def residue(placed: Sequence[Placed]) -> tuple[Spread, ...]:
    """Measure how far strokes were moved: first all of them, then by surface."""
    rows: dict[str, list[float]] = {"": [p.ms for p in placed]}
    for p in placed:
        rows.setdefault(p.hit.surface, []).append(p.ms)
    return tuple(_spread(surface, row) for surface, row in rows.items())


def _spread(surface: str, row: Sequence[float]) -> Spread:
    sizes = sorted(abs(ms) for ms in row)
    half = len(sizes) // 2
    median = sizes[half] if len(sizes) % 2 else (sizes[half - 1] + sizes[half]) / 2
    return Spread(surface, len(row), sum(row) / len(row), sum(sizes) / len(sizes), median, sizes[-1])
