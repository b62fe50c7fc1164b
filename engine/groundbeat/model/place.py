"""Where in a bar is it, in the words that drummers count with?

A place is `[bar:]number[syllable]`: "2", "2e", "2:3a" (the a of 3 in bar 2). Without a bar: every bar. Without a
number: every number. Over 2 and 4 numbers are beats, with `e & a` (quarters of the number) or `trip let`
(thirds); over 8 and 16 they are eighths or sixteenths of the bar and `&` lies half way between. Any place may be
written as part of its number: "2[3/6]" is the third of six parts of 2. Reading needs no meter; finding the tick
does. Counting practice: McHose and Eastman tables as in general use, English syllables.
"""

from __future__ import annotations

import re
from functools import lru_cache
from math import gcd
from typing import NamedTuple

from ..errors import PlaceError
from .meter import WHOLE, Meter

COLUMNS = {
    "eighths": WHOLE // 8,
    "sixteenths": WHOLE // 16,
    "thirty-seconds": WHOLE // 32,
    "eighth triplets": WHOLE // 12,
    "sixteenth triplets": WHOLE // 24,
}  # ticks a column; append only: the order is the numbering in links
TRIPLET_COLUMNS = "eighth triplets"  # where & is read as let

SYLLABLES = {"": (0, 1), "e": (1, 4), "&": (1, 2), "a": (3, 4), "trip": (1, 3), "let": (2, 3)}
_NAMES = {part: name for name, part in SYLLABLES.items()}
MAX_BAR = 16
MAX_NUMBER = 15
MAX_PARTS = WHOLE // 2  # down to a single tick of the longest number, a half note

_PLACE = re.compile(r"(?:(\d{1,3}):)?(\d{1,3})?(e|&|a|trip|let)?(?:\[(\d{1,5})/(\d{1,5})\])?\Z", re.ASCII)
_TURNED = re.compile(r"(?:(\d{1,3}):)?(e|&|a|trip|let)(\d{1,3})\Z", re.ASCII)


class Place(NamedTuple):
    """A place by its count. `bar` 0 is every bar, `number` 0 every number, `part` a reduced fraction of the number."""

    bar: int
    number: int
    part: tuple[int, int]


@lru_cache(maxsize=512)
def read_place(text: str) -> Place:
    """Read a place such as "2e", "3:4a" or "2[3/6]".

    >>> read_place("2:3a")
    Place(bar=2, number=3, part=(3, 4))
    """
    found = _PLACE.match(text)
    if not found or not text or (found[3] and found[4]) or not (found[2] or found[3]):
        raise PlaceError(_misread(text), field="at")
    bar, number = int(found[1] or 0), int(found[2] or 0)
    if found[1] and not 1 <= bar <= MAX_BAR:
        raise PlaceError(f'"{text}": bars are numbered from 1 to {MAX_BAR}', field="at")
    if found[2] and not 1 <= number <= MAX_NUMBER:
        raise PlaceError(f'"{text}": the numbers of a bar go from 1 to {MAX_NUMBER}', field="at")
    if not found[4]:
        return Place(bar, number, SYLLABLES[found[3] or ""])
    nth, parts = int(found[4]), int(found[5])
    if not (1 <= parts <= MAX_PARTS and 1 <= nth <= parts):
        raise PlaceError(
            f'"{text}": a number has at most {MAX_PARTS} parts, counted from 1; "2[3/6]" is the third of six',
            field="at",
        )
    shared = gcd(nth - 1, parts)
    return Place(bar, number, ((nth - 1) // shared, parts // shared))


def _misread(text: str) -> str:
    turned = _TURNED.match(text)
    if turned:
        bar = f"{turned[1]}:" if turned[1] else ""
        syllable, number = turned[2], int(turned[3])
        before = f'"{bar}{number - 1}{syllable}" (the {syllable} of {number - 1}, just before {number})'
        return f'"{text}" can be read two ways: write "{bar}{number}{syllable}" (the {syllable} of {number})' + (
            f" or {before}" if number > 1 else ""
        )
    return f'"{text}" is not a place; write a number with its syllable, like "2", "2e", "4&", "2:3a" or "2[3/6]"'


def place_text(place: Place) -> str:
    """Write a place in the form that files and links keep.

    >>> place_text(read_place("2[2/4]"))
    '2e'
    >>> place_text(read_place("2[3/8]")), place_text(read_place("2[2/6]"))
    ('2e', '2[2/6]')
    """
    head = (f"{place.bar}:" if place.bar else "") + (str(place.number) if place.number else "")
    name = _NAMES.get(place.part)
    if name is None:
        name = f"[{place.part[0] + 1}/{place.part[1]}]"
    return head + name


def offset_in(place: Place, meter: Meter) -> int | None:
    """Find a place's tick from the bar line, for a place with a number; None where this meter has none.

    A place that the meter does not reach, or that falls on no whole tick, is none of its places.
    """
    num, den = place.part
    if place.number > meter.count or (meter.number * num) % den:
        return None
    return (place.number - 1) * meter.number + meter.number * num // den


@lru_cache(maxsize=8192)
def place_at(tick: int, meter: Meter) -> Place:
    """Name the place of a tick, counted from the start of the cycle; the bar is always given.

    >>> place_at(12600, Meter.of("4/4"))
    Place(bar=1, number=2, part=(1, 4))
    """
    bar, rest = divmod(tick, meter.bar)
    number, rest = divmod(rest, meter.number)
    shared = gcd(rest, meter.number)
    return Place(bar + 1, number + 1, (rest // shared, meter.number // shared))


def fraction(ticks: int) -> str:
    """Write ticks as a fraction of a whole note.

    >>> fraction(12600), fraction(0), fraction(40320)
    ('5/16', '0', '1')
    """
    shared = gcd(ticks, WHOLE)
    return str(ticks // WHOLE) if shared == WHOLE else f"{ticks // shared}/{WHOLE // shared}"
