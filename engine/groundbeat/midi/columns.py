"""On which columns do the strokes of a file lie?

For every kind of columns that fits the meter two things are measured over the whole file. The misfit: the mean
square of the strokes' distances from their nearest column, as a share of what chance would give (a column's square
over 12: 0 is exact, 1 means that the columns explain nothing). Squares, because one stroke half way between columns is
a worse fault than many that are a little late. And the strokes that would meet another of the same instrument and
be lost: each counts as one half a column away, 3 in the same measure. As a share of chance, finer columns win
nothing by being finer. On top of that each kind has a weight: what is rarer in drum parts has to fit better.

The least `weight * misfit + 3 * lost share` is chosen among those that beat chance by a tenth; equal ones go to the
coarser. Where none does, the player did not follow the file's tempo: sixteenths then. Weights and limits are our
choice, tried on 48 performances on electronic kits.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from ..model.meter import QUARTER, Meter
from ..model.place import COLUMNS
from .bars import nearest

WEIGHTS = {
    "eighths": 100, "eighth triplets": 105, "sixteenths": 100, "sixteenth triplets": 110,
    "thirty-seconds": 125,
}  # per cent, from coarse to fine # fmt: skip
USUAL = "sixteenths"
_LOST = 3
_ENOUGH = 20_000  # strokes; two hours of playing say no more than one. Our choice
_CHANCE = 90  # per cent of the misfit by chance


class Choice(NamedTuple):
    """Columns, and whether the strokes lie on them better than by chance."""

    columns: str
    fits: bool


def choose(places: Sequence[tuple[int, str]], meter: Meter, model_tick: int) -> Choice:
    """Choose the columns that these strokes lie on.

    `places` are (units from a bar line, instrument) without the grace strokes of flams; `model_tick` is in
    units.
    """
    places = places[:_ENOUGH]
    best, least = Choice(USUAL, False), 0
    for name, weight in WEIGHTS.items():
        if not fits(meter, name):
            continue
        column = COLUMNS[name] * model_tick
        squares, lost = _measure(places, column)
        # Both sums have the number of strokes below the line, so only what is above is compared, in whole numbers:
        # every column divides a quarter note, whose square is the common denominator.
        finer = QUARTER // COLUMNS[name]
        total = weight * 12 * squares * finer**2 + 100 * _LOST * lost * (QUARTER * model_tick) ** 2
        by_chance = 100 * 12 * squares >= _CHANCE * column**2 * max(len(places), 1)
        if not by_chance and (not best.fits or total < least):
            best, least = Choice(name, True), total
    return best


def fits(meter: Meter, columns: str) -> bool:
    """Tell whether columns fill a bar, and each is a part of a counted number or whole ones of them."""
    ticks = COLUMNS[columns]
    return meter.bar % ticks == 0 and (meter.number % ticks == 0 or ticks % meter.number == 0)


def _measure(places: Sequence[tuple[int, str]], column: int) -> tuple[int, int]:
    """Sum the squares of the distances from the nearest columns, and count the strokes that would be lost."""
    squares, taken = 0, set()
    for place, instrument in places:
        number = nearest(place, column)
        squares += (place - number * column) ** 2
        taken.add((number, instrument))
    return squares, len(places) - len(taken)
