"""How is a bar divided, and how long is it?

Ticks are whole numbers, 10080 to a quarter note: exact for 32nds, triplets, quintuplets, septuplets and
nonuplets (10080 = 2^5 * 3^2 * 5 * 7), and still a legal MIDI division (at most 32767). No float decides a place.

A meter counts `count` notes of `unit` (a 4 is a quarter note). Over 2 and 4 every number of the count is a beat.
Over 8 and 16 the `grouping` says which numbers begin a beat: 6/8 is 3+3, 7/8 is 2+2+3 unless told otherwise.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from ..errors import MeterError

QUARTER = 10080  # ticks; see above
WHOLE = 4 * QUARTER

# The meters that product and teachers need: 2/2 to 7/4, 2/4 to 15/8, 5/16 to 15/16. The limits are our choice.
COUNTS = {2: (2, 7), 4: (2, 7), 8: (2, 15), 16: (5, 15)}

# The usual groupings of odd meters; which one is usual is our choice, a file may say otherwise.
_GROUPS = {
    2: (2,), 3: (3,), 4: (2, 2), 5: (3, 2), 6: (3, 3), 7: (2, 2, 3), 8: (3, 3, 2), 9: (3, 3, 3),
    10: (3, 3, 2, 2), 11: (3, 3, 3, 2), 12: (3, 3, 3, 3), 13: (3, 3, 3, 2, 2), 14: (3, 3, 3, 3, 2),
    15: (3, 3, 3, 3, 3),
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Meter:
    """Say how a bar is counted: `count` notes of 1/`unit`, in groups of `grouping` notes.

    >>> Meter.of("7/8").grouping
    (2, 2, 3)
    >>> Meter.of("6/8").bar == 3 * QUARTER
    True
    """

    count: int
    unit: int
    grouping: tuple[int, ...]

    @staticmethod
    def of(text: str, grouping: str = "") -> Meter:
        """Read "7/8" and perhaps a grouping such as "3+2+2"; MeterError when no beat can have it."""
        head, slash, tail = text.partition("/")
        if not slash or not _whole(head) or not _whole(tail):
            raise MeterError(f'"{text}" is not a meter; write it like "4/4" or "7/8"', field="meter")
        count, unit = int(head), int(tail)
        if unit not in COUNTS:
            raise MeterError(
                f'a meter over {unit} is not known; the lower number is one of 2, 4, 8, 16, as in "6/8"', field="meter"
            )
        low, high = COUNTS[unit]
        if not low <= count <= high:
            raise MeterError(
                f"{text}: over {unit} the upper number goes from {low} to {high}; "
                f"try {min(max(count, low), high)}/{unit}",
                field="meter",
            )
        return Meter(count, unit, _grouping(count, unit, grouping))

    @property
    def number(self) -> int:
        """Length of one counted number in ticks."""
        return WHOLE // self.unit

    @property
    def bar(self) -> int:
        """Length of a bar in ticks."""
        return self.count * self.number

    @property
    def beats(self) -> tuple[int, ...]:
        """Numbers (from 1) that begin a beat: all of them over 2 and 4, the groups' first over 8 and 16."""
        if self.unit <= 4:
            return tuple(range(1, self.count + 1))
        starts, n = [], 1
        for size in self.grouping:
            starts.append(n)
            n += size
        return tuple(starts)

    @property
    def tempo_unit(self) -> tuple[str, int]:
        """Name and ticks of the note that the tempo counts: halves in /2, quarters in /4, dotted quarters in
        6/8, 9/8 and 12/8, else eighths."""
        if self.unit == 2:
            return "half", 2 * QUARTER
        if self.unit == 4:
            return "quarter", QUARTER
        if self.unit == 8 and self.count in (6, 9, 12):
            return "dotted quarter", QUARTER * 3 // 2
        return "eighth", QUARTER // 2

    @property
    def is_usual(self) -> bool:
        """True where the grouping is the one that a reader would assume."""
        return self.grouping == _usual(self.count, self.unit)

    def __str__(self) -> str:
        return f"{self.count}/{self.unit}"


def _whole(text: str) -> bool:
    return text.isascii() and text.isdigit() and len(text) <= 3


@lru_cache(maxsize=64)
def _usual(count: int, unit: int) -> tuple[int, ...]:
    return (1,) * count if unit <= 4 else _GROUPS[count]


def _grouping(count: int, unit: int, text: str) -> tuple[int, ...]:
    if not text:
        return _usual(count, unit)
    parts = [part.strip() for part in text.split("+")]
    if not all(_whole(part) and int(part) > 0 for part in parts):
        raise MeterError(f'"{text}" is not a grouping; write it like "2+2+3"', field="grouping")
    sizes = tuple(int(part) for part in parts)
    if sum(sizes) != count:
        raise MeterError(
            f'the grouping "{text}" adds up to {sum(sizes)}, but {count}/{unit} has {count}', field="grouping"
        )
    return sizes
