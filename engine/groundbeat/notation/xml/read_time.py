"""How long, how fast, in which meter: how are MusicXML's numbers read?

Lengths are fractions of a quarter note, tempos quarters a minute.
"""

from __future__ import annotations

import re
from fractions import Fraction
from typing import NamedTuple

from .read_tree import Node

_TYPES = {
    "maxima": Fraction(32), "long": Fraction(16), "breve": Fraction(8), "whole": Fraction(4), "half": Fraction(2),
    "quarter": Fraction(1), "eighth": Fraction(1, 2), "16th": Fraction(1, 4), "32nd": Fraction(1, 8),
    "64th": Fraction(1, 16), "128th": Fraction(1, 32), "256th": Fraction(1, 64), "512th": Fraction(1, 128),
    "1024th": Fraction(1, 256),
}  # fmt: skip
_NUMBER = re.compile(r"[+-]?\d{1,9}(?:\.\d{1,9})?\Z", re.ASCII)
_WHOLE = re.compile(r"\d{1,3}(?:\s*\+\s*\d{1,3})*\Z", re.ASCII)
_FOUND = re.compile(r"\d{1,4}(?:\.\d{1,4})?", re.ASCII)


class Time(NamedTuple):
    """A time signature; `grouping` "3+2" or "". `several`: of more than one fraction, added up."""

    beats: int
    unit: int
    grouping: str
    several: bool

    @property
    def quarters(self) -> Fraction:
        """Length of a bar."""
        return Fraction(4 * self.beats, self.unit)


class Tempo(NamedTuple):
    """A tempo and the place in its bar where it begins."""

    at: Fraction
    quarters: Fraction


def number_of(text: str) -> Fraction | None:
    """Read a number as programs write it; None for what is none.

    >>> number_of("69"), number_of("2.5"), number_of("1e9"), number_of("")
    (Fraction(69, 1), Fraction(5, 2), None, None)
    """
    text = text.strip()
    return Fraction(text) if _NUMBER.match(text) else None


def written(note: Node) -> Fraction | None:
    """The written length of a note: type, dots and tuplet; None where it has no type that is known."""
    value = _TYPES.get(note.said("type"))
    if value is None:
        return None
    length = value
    for _ in note.all("dot")[:4]:
        value /= 2
        length += value
    change = note.find("time-modification")
    if change is not None:
        actual, normal = number_of(change.said("actual-notes")), number_of(change.said("normal-notes"))
        if actual and normal and actual > 0 and normal > 0:
            length = length * normal / actual
    return length


def read_time(attributes: Node) -> Time | None:
    """Read a time signature; None where there is none, or it is without a meter (senza misura)."""
    time = attributes.find("time")
    if time is None:
        return None
    beats, units = [node.text.strip() for node in time.all("beats")], [n.text.strip() for n in time.all("beat-type")]
    if not beats or len(beats) != len(units):
        return None
    if not all(map(_WHOLE.match, beats)) or not all(unit.isascii() and unit.isdigit() for unit in units):
        return None
    counts, lower = [[int(n) for n in text.split("+")] for text in beats], [int(unit[:4]) for unit in units]
    if not all(unit > 0 and unit & (unit - 1) == 0 for unit in lower) or not all(map(sum, counts)):
        return None
    unit = max(lower)
    sizes = [n * unit // mine for row, mine in zip(counts, lower, strict=True) for n in row]
    grouping = "+".join(map(str, sizes)) if len(sizes) > 1 else ""
    return Time(sum(sizes), unit, grouping, len(beats) > 1)


def read_tempo(metronome: Node) -> Fraction | None:
    """Quarters a minute of a metronome mark; None for other uses of it."""
    value = _TYPES.get(metronome.said("beat-unit"))
    found = _FOUND.search(metronome.said("per-minute"))
    if value is None or found is None:
        return None
    length = value
    for _ in metronome.all("beat-unit-dot")[:4]:
        value /= 2
        length += value
    return Fraction(found[0]) * length
