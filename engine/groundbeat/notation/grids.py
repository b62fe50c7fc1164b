"""On which grid is a beat written: plain, triplets, other tuplets, or halves of different kinds?

The simplest that holds all strokes of a voice in a beat. A beat that divides by two (quarter, half, a group of two
or four eighths): plain down to 64ths; 3, 5, 7 in the time of 2, 4, 4; else each half by itself, and two halves of the
same tuplet joined to 6:4, 10:8, 12:8 where the beat is at most a quarter; 9 in the time of 8. A beat of three units
(dotted quarter, dotted eighth): plain; 2, 4, 8 in the time of 3, 6, 6; 5 and 7 in the time of 6; else each unit by
itself. A duplet is written only where the other voice has nothing against it (both lie on quarters of the beat): beside
eighths or sixteenths the same place is plain and reads as a dotted value.

How short a tuplet may be is our choice: a triplet of 64ths, fives and sevens of 32nds, nines of 32nds. So every place
on a 64th or its triplet can be written, and the twelfths, fifths, sevenths, ninths and tenths of a quarter.
"""

from __future__ import annotations

from functools import lru_cache
from typing import NamedTuple

from ..model.meter import QUARTER, WHOLE, Meter
from .values import FINEST, Piece, fill

PLAIN = (1, 1)
TRIPLET_FINEST = FINEST * 2 // 3
_LEAST = {3: FINEST * 2, 5: FINEST * 8, 7: FINEST * 8, 9: QUARTER}  # shortest span of a tuplet
_MOST = 12  # the largest number over a bracket: two halves of six, five


class Run(NamedTuple):
    """A stretch of a beat in one kind of division: `parts` times `units` units of one written value."""

    at: int  # ticks from the start of the beat
    ticks: int
    units: int
    unit: int  # written ticks
    parts: int  # 1, 2 or 4: how often the tuplet was doubled
    tuplet: tuple[int, int]


@lru_cache(maxsize=128)
def layout(meter: Meter) -> tuple[tuple[int, int], ...]:
    """Cut a bar into beats for writing: (start, ticks) of each, from the bar line.

    Over 2 and 4 each number, over 8 and 16 each group; a group of more than four is read in twos and threes, as
    the usual grouping of that many; our choice.

    >>> layout(Meter.of("7/8"))
    ((0, 10080), (10080, 10080), (20160, 15120))
    """
    sizes: list[int] = []
    if meter.unit <= 4:
        sizes = [1] * meter.count
    else:
        for size in meter.grouping:
            sizes += [size] if size <= 4 else Meter.of(f"{size}/8").grouping
    beats, at = [], 0
    for size in sizes:
        beats.append((at, size * meter.number))
        at += size * meter.number
    return tuple(beats)


def is_compound(ticks: int) -> bool:
    """True for a length of three plain units, such as a dotted quarter."""
    return ticks % 3 == 0 and ticks // 3 in _PLAIN_LENGTHS


_PLAIN_LENGTHS = frozenset(WHOLE // value for value in (1, 2, 4, 8, 16, 32, 64))


@lru_cache(maxsize=4096)
def runs(ticks: int, places: tuple[int, ...], even: bool = False) -> tuple[Run, ...] | None:
    """Find the grid of a beat of some ticks with strokes at `places`; None where none of them reaches.

    `even`: all voices of a compound beat lie on its quarters, so that a duplet may be written.

    >>> [(run.ticks, run.tuplet) for run in runs(10080, (0, 1680, 3360, 5040))]
    [(5040, (3, 2)), (5040, (1, 1))]
    """
    return _of_three(ticks, places, even) if is_compound(ticks) else _of_two(ticks, places)


def _of_two(ticks: int, places: tuple[int, ...]) -> tuple[Run, ...] | None:
    if all(place % FINEST == 0 for place in places):
        return (Run(0, ticks, 1, ticks, 1, PLAIN),)
    for actual, normal in ((3, 2), (5, 4), (7, 4)):
        if ticks >= _LEAST[actual] and _lie(places, ticks, actual):
            return (Run(0, ticks, actual, ticks // normal, 1, (actual, normal)),)
    half = ticks // 2
    if half >= _LEAST[3]:
        first = _of_two(half, tuple(place for place in places if place < half))
        second = _of_two(half, tuple(place - half for place in places if place >= half))
        if first and second:
            one, other = first[0], second[0]
            actual, normal = one.tuplet
            if (len(first) == len(second) == 1 and one == other and one.tuplet != PLAIN
                    and ticks <= QUARTER and 2 * actual <= _MOST):  # fmt: skip
                return (Run(0, ticks, one.units, one.unit, 2 * one.parts, (2 * actual, 2 * normal)),)
            return first + tuple(run._replace(at=run.at + half) for run in second)
    if ticks >= _LEAST[9] and _lie(places, ticks, 9):
        return (Run(0, ticks, 9, ticks // 8, 1, (9, 8)),)
    return None


def _of_three(ticks: int, places: tuple[int, ...], even: bool) -> tuple[Run, ...] | None:
    third = ticks // 3
    fourths = _lie(places, ticks, 4)
    if (even and fourths and any(place % third for place in places)) or (fourths and len(places) == 4):
        actual, normal = (2, 3) if _lie(places, ticks, 2) else (4, 6)
        return (Run(0, ticks, 1, 2 * third, 1, (actual, normal)),)
    if len(places) > 4 and _lie(places, ticks, 8):
        return (Run(0, ticks, 1, 4 * third, 1, (8, 6)),)
    if all(place % FINEST == 0 for place in places):
        return (Run(0, ticks, 3, third, 1, PLAIN),)
    for actual in (5, 7):
        if ticks >= _LEAST[actual] and _lie(places, ticks, actual):
            return (Run(0, ticks, actual, third // 2, 1, (actual, 6)),)
    found: list[Run] = []
    for at in range(0, ticks, third):
        inner = _of_two(third, tuple(place - at for place in places if at <= place < at + third))
        if inner is None:
            return None
        last = found[-1] if found else None
        if last and last.tuplet == PLAIN and len(inner) == 1 and inner[0].tuplet == PLAIN and last.unit == third:
            found[-1] = last._replace(ticks=last.ticks + third, units=last.units + 1)
        else:
            found += [run._replace(at=run.at + at) for run in inner]
    return tuple(found)


def _lie(places: tuple[int, ...], ticks: int, parts: int) -> bool:
    return ticks % parts == 0 and all(place % (ticks // parts) == 0 for place in places)


def pieces_of(run: Run, places: tuple[int, ...]) -> tuple[list[Piece], int]:
    """Fill a run with notes and rests, in written ticks from its start; `places` are real ticks from its start.

    The second answer is the written length of the parts that the run is read in.

    A doubled tuplet is read in as many parts as leave the fewest signs: a sextuplet as three pairs or, where that
    is no longer, as two triplets.
    """
    actual, normal = run.tuplet
    written = tuple(place * actual // normal for place in places)
    best: list[Piece] = []
    best_length = 0
    parts = run.parts
    while parts:
        unit, count = run.unit * (run.parts // parts), run.units
        length = unit * count
        tried: list[Piece] = []
        for start in range(0, length * parts, length):
            inside = tuple(place - start for place in written if start <= place < start + length)
            before = sum(place < start for place in written)
            tried += [
                Piece(piece.at + start, piece.ticks, piece.struck + before if piece.struck >= 0 else piece.struck)
                for piece in fill(count, unit, inside)
            ]
        if not best or len(tried) < len(best):
            best, best_length = tried, length
        parts //= 2
    return best, best_length


@lru_cache(maxsize=4096)
def reached(ticks: int, place: int) -> bool:
    """Tell whether a stroke alone in a beat can be written where it stands."""
    return runs(ticks, (place,)) is not None


def nearest(tick: int, end: int) -> int:
    """Find the written place nearest to a tick: a 64th or its triplet, the 64th where both are as near.

    Nothing goes over `end`: what lies behind the last 64th stands on it.
    """
    best = min((_round(tick, step) for step in (FINEST, TRIPLET_FINEST)), key=lambda place: abs(place - tick))
    return best if best < end else end - FINEST


def regrid(ticks: int, places: tuple[int, ...]) -> tuple[int, ...]:
    """Put strokes that no grid holds together on the one that moves the fewest, and those the least.

    None goes further than a 64th. Each place gives one place; two may fall together.
    """
    tried = []
    for step in (FINEST, TRIPLET_FINEST, ticks // 5, ticks // 7, ticks // 9, ticks // 10):
        moved = tuple(min(_round(place, step), _last(ticks, step)) for place in places)
        if runs(ticks, tuple(sorted(set(moved)))) is not None:
            away = [abs(place - other) for place, other in zip(places, moved, strict=True)]
            if max(away) <= FINEST:
                tried.append((sum(map(bool, away)), sum(away), moved))
    return min(tried)[2]


def _round(tick: int, step: int) -> int:
    return (2 * tick + step) // (2 * step) * step


def _last(ticks: int, step: int) -> int:
    return (ticks - 1) // step * step
