"""On which columns do strokes lie that stand at exact places?

The coarsest that all of them lie on; where none is, the one with the most of them: places of a score are exact, so
nothing is moved to a column. A beat counts in columns and may have strokes between them.
"""

from __future__ import annotations

from collections.abc import Sequence

from ...model.meter import Meter
from ...model.place import COLUMNS

_ORDER = ("eighths", "sixteenths", "eighth triplets", "sixteenth triplets", "thirty-seconds")  # usual ones first
USUAL = "sixteenths"


def columns_of(places: Sequence[int], meter: Meter) -> tuple[str, int]:
    """The columns, and how many strokes lie between them; places in ticks from a bar line.

    >>> columns_of([0, 5040, 7560], Meter.of("4/4")), columns_of([0, 3360], Meter.of("4/4"))
    (('sixteenths', 0), ('eighth triplets', 0))
    """
    best, least = USUAL, len(places) + 1
    for name in _ORDER:
        ticks = COLUMNS[name]
        if meter.bar % ticks or (meter.number % ticks and ticks % meter.number):
            continue
        between = sum(place % ticks != 0 for place in places)
        if between < least:
            best, least = name, between
    return best, min(least, len(places))
