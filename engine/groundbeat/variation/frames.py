"""What do kinds need that change the frame of a beat, or lay a row over it that does not come out even?

Columns that hold given places, and the words for a row that is cut at the loop.
"""

from __future__ import annotations

from collections.abc import Iterable
from math import gcd, lcm

from ..lineage.ledger import Ledger
from ..model.beat import MAX_BARS, Beat
from ..model.place import COLUMNS


def columns_for(columns: str, bar: int, places: Iterable[int] = ()) -> str:
    """Choose columns for a bar of `bar` ticks: the given ones, else the coarsest of the finer ones.

    Finer ones keep all places of the given. They divide the bar and hold all `places` (ticks); "" where none do.

    >>> columns_for("eighths", 15 * 2520), columns_for("eighths", 40320, [2520]), columns_for("eighth triplets", 37800)
    ('sixteenths', 'sixteenths', '')
    """
    old = COLUMNS[columns]
    wanted = list(places)
    for name in sorted(COLUMNS, key=lambda name: -COLUMNS[name]):
        ticks = COLUMNS[name]
        if old % ticks == 0 and bar % ticks == 0 and all(place % ticks == 0 for place in wanted):
            return name
    return ""


def say_round(length: int, beat: Beat, ledger: Ledger) -> None:
    """Say when a row of `length` ticks comes round over a beat, and offer what makes it even; nothing where it is."""
    if beat.cycle % length == 0:
        return
    rounds = length // gcd(length, beat.meter.bar)
    ledger.say(f"cut at the loop; comes round after {rounds} bar{'' if rounds == 1 else 's'}")
    bars = lcm(rounds, beat.bars)  # the beat is lengthened by repeating it as a whole
    if bars <= MAX_BARS:
        ledger.offer(f"Lengthen the beat to {bars} bars: it comes out even", {"bars": str(bars)}, "length")
