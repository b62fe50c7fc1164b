"""Which syllable is said on a place of the bar when it is counted aloud?

Numbers are said as numbers, from 1 in every bar; between them e & a for sixteenths, & alone for eighths, trip let for
triplets. Over 8 and 16 only & is said between two numbers. Elsewhere nothing is said, "": a finer place has no word.
The words are those of the English count; every other count language has its own words for the same places.
"""

from __future__ import annotations

from ..model.count import syllable
from ..model.meter import Meter

NUMBERS = tuple(str(number) for number in range(1, 16))  # meters go to 15/8 and 15/16
BETWEEN = ("e", "&", "a", "trip", "let")
WORDS = (*NUMBERS, *BETWEEN)

_THIRDS = ("", "trip", "let")
# By the number of parts of a count that has been chosen: sixteenth triplets are two triplets with & between them.
PARTS = {1: (), 2: ("&",), 3: ("trip", "let"), 4: ("e", "&", "a"), 6: ("trip", "let", "&", "trip", "let")}


def said(tick: int, meter: Meter) -> str:
    """Say the syllable of a tick of the bar, "" where nothing is said: as the page shows it over the columns.

    >>> [said(tick, Meter.of("4/4")) for tick in (0, 2520, 15120, 7560, 3360, 1260)]
    ['1', 'e', '&', 'a', 'trip', '']
    >>> [said(tick, Meter.of("6/8")) for tick in (25200, 2520, 1260)]
    ['6', '&', '']
    """
    return syllable(tick, meter, "sixteenths")


def in_triplets(tick: int, place: int, meter: Meter) -> str:
    """Say the syllable of the place numbered `place` (from 0) of the triplets of a beat; numbers go first.

    >>> in_triplets(3360, 1, Meter.of("7/8")), in_triplets(5040, 1, Meter.of("6/8"))
    ('trip', '2')
    """
    return said(tick, meter) if tick % meter.number == 0 or place % 3 == 0 else _THIRDS[place % 3]
