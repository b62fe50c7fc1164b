"""Which meter and which columns has a bar of tablature?

A meter that the text says holds. Else the counts say it, else the number of columns. Where several meters have such a
bar the commonest is taken, and told; which is commonest is our choice.
"""

from __future__ import annotations

from typing import NamedTuple

from ..model.meter import COUNTS, Meter
from ..model.place import COLUMNS

_FINEST = min(COLUMNS.values())
# Columns of a bar without counts: what they are read as, and what else they may be.
_BY_LENGTH = {
    3: ("3/8", "3/4 in quarters"), 4: ("4/4", ""), 5: ("5/8", "5/4 in quarters"), 6: ("6/8", "3/4 in eighths"),
    7: ("7/8", "7/4 in quarters"), 8: ("4/4", ""), 9: ("9/8", "3/4 in eighth triplets"),
    10: ("5/4", "5/8 in sixteenths"), 12: ("4/4", "3/4, 6/8 or 12/8"), 14: ("7/8", "7/4 in eighths"),
    15: ("5/4", "15/8"), 16: ("4/4", ""), 18: ("9/8", "3/4 in sixteenth triplets"), 20: ("5/4", ""),
    24: ("4/4", "3/4 in thirty-seconds, or 12/8 in sixteenths"), 28: ("7/4", "7/8 in thirty-seconds"), 32: ("4/4", ""),
}  # fmt: skip
_EVERYDAY = (16, 8, 32, 4)  # lengths that say 4/4 for the other bars too


class Metered(NamedTuple):
    """The meter of a bar, and what else it may be ("" nothing)."""

    meter: Meter
    doubt: str


def column_ticks(meter: Meter, columns: int) -> int:
    """Ticks of a column where a bar has so many; 0 where these are no columns that a beat has.

    >>> column_ticks(Meter.of("4/4"), 16), column_ticks(Meter.of("4/4"), 13)
    (2520, 0)
    """
    ticks, rest = divmod(meter.bar, columns) if columns else (0, 1)
    known = not rest and any(ticks % own == 0 for own in COLUMNS.values())
    return ticks if known else 0


def by_counts(counts: str) -> Metered | None:
    """Find the meter of a bar from the counts over its columns; None where they tell none.

    >>> str(by_counts("1e&a2e&a3e&a").meter), str(by_counts("1+2+3+4+5+6+").meter), str(by_counts("1&a2&a").meter)
    ('3/4', '6/8', '6/8')
    """
    if counts[:1] != "1" or "2" not in counts:
        return None
    each = counts.index("2")
    many, rest = divmod(len(counts), each)
    if rest or any(counts[each * n] != str((n + 1) % 10) for n in range(many)):
        return None
    doubt = ""
    if each == 1:
        unit, doubt = (4, "") if many <= 4 else (8, f"{many}/4 in quarters" if many <= 7 else "")
    elif each == 2 and many >= 6:
        unit, doubt = 8, f"{many}/4 in eighths" if many <= 7 else ""
    elif each == 3 and many == 2:
        return Metered(Meter.of("6/8"), "2/4 in eighth triplets")
    elif each in (2, 3, 4, 6, 8):
        unit = 4 if many <= COUNTS[4][1] else 8
        if each == 3 and many == 4:
            doubt = "12/8"
        elif each == 3 and many == 3:
            doubt = "9/8"
    else:
        return None
    low, high = COUNTS[unit]
    return Metered(Meter.of(f"{many}/{unit}"), doubt) if low <= many <= high else None


def by_length(columns: int, others: frozenset[int]) -> Metered | None:
    """Find the meter of a bar from its columns alone, and from those of the other bars of the text.

    >>> by_length(12, frozenset({12})).doubt, by_length(12, frozenset({12, 16})).doubt
    ('3/4, 6/8 or 12/8', '')
    """
    everyday = any(length in _EVERYDAY for length in others)
    if everyday and column_ticks(Meter.of("4/4"), columns):
        return Metered(Meter.of("4/4"), "")
    found = _BY_LENGTH.get(columns)
    return Metered(Meter.of(found[0]), found[1]) if found else None


def lengths(meter: Meter) -> list[int]:
    """How many columns a bar of a meter may have, the everyday ones.

    >>> lengths(Meter.of("4/4"))
    [8, 12, 16, 24, 32]
    """
    return sorted(meter.bar // ticks for ticks in COLUMNS.values() if meter.bar % ticks == 0)


def columns_named(ticks: dict[int, int], places: set[int], meter: Meter) -> str:
    """Name the columns of a beat: those of most of its bars, or coarser or finer ones that hold every stroke.

    `ticks` are the ticks of a column and in how many bars they are so.
    """
    most = max(ticks, key=lambda size: (ticks[size], -size)) if ticks else COLUMNS["sixteenths"]
    fits = [name for name, own in COLUMNS.items() if meter.bar % own == 0]
    near = [name for name in fits if most % COLUMNS[name] == 0]
    first = max(near, key=lambda name: COLUMNS[name]) if near else "sixteenths"
    for name in [first, *sorted(fits, key=lambda name: -COLUMNS[name])]:
        if all(place % COLUMNS[name] == 0 for place in places) and COLUMNS[first] % COLUMNS[name] == 0:
            return name
    return first
