"""How are lengths of notes written and said: amounts ("1/16 later") and cells ("sixteenth sixteenth eighth")?

Amounts are fractions of a whole note with a direction; cells are rows of note values. Both must fall on whole ticks.
"""

from __future__ import annotations

import re
from functools import lru_cache
from math import gcd
from typing import NamedTuple

from ..errors import VariationError
from ..model.meter import WHOLE

MAX_AMOUNT = 16 * WHOLE  # sixteen whole notes: the longest beat; our choice
MAX_CELL = 64  # notes in a cell; a cell longer than a sixteen-bar phrase of eighths is a beat of its own. Our choice
_AMOUNT = re.compile(r"(\d{1,6})(?:/(\d{1,5}))?\s+(later|earlier)\Z", re.ASCII)

VALUES = {
    "whole": WHOLE, "half": WHOLE // 2, "quarter": WHOLE // 4, "eighth": WHOLE // 8, "sixteenth": WHOLE // 16,
    "thirty-second": WHOLE // 32,
}  # fmt: skip
SHAPES = ("", "dotted", "triplet")  # append only: value x shape x sounding is the numbering in links
NAMES = tuple(VALUES)

_SAID = {
    (1, 1): "a whole note", (1, 2): "a half note", (1, 4): "a quarter", (1, 8): "an eighth", (1, 16): "a sixteenth",
    (1, 32): "a thirty-second", (1, 12): "an eighth triplet", (1, 24): "a sixteenth triplet",
    (3, 16): "a dotted eighth", (3, 8): "a dotted quarter", (3, 32): "a dotted sixteenth",
    (1, 6): "a quarter triplet",
}  # fmt: skip
_PLURAL = {4: "quarters", 8: "eighths", 16: "sixteenths", 32: "thirty-seconds"}
_NUMBERS = ("", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine")


@lru_cache(maxsize=256)
def read_amount(text: str) -> int:
    """Read "1/16 later" or "3/8 earlier" as ticks, earlier negative.

    >>> read_amount("1/16 later"), read_amount("1/4 earlier")
    (2520, -10080)
    """
    found = _AMOUNT.match(" ".join(text.split()))
    if not found:
        raise VariationError(
            f'"{text}" is not an amount; write a part of a whole note and a direction, like "1/16 later"', field="by"
        )
    num, den = int(found[1]), int(found[2] or 1)
    if den == 0 or num == 0:
        raise VariationError(f'"{text}" moves nothing; try "1/16 {found[3]}"', field="by")
    if (WHOLE * num) % den:
        raise VariationError(
            f"cannot displace by {num}/{den} of a whole note: that is not a whole number of ticks; "
            f"try {_try(num, den)}",
            field="by",
        )
    ticks = WHOLE * num // den
    if ticks > MAX_AMOUNT:
        raise VariationError(
            f"cannot displace by {num}/{den}: at most {MAX_AMOUNT // WHOLE} whole notes; try 1/16", field="by"
        )
    return ticks if found[3] == "later" else -ticks


def _try(num: int, den: int) -> str:
    ticks = max(1, round(WHOLE * num / den))
    for unit in (96, 48, 64, 32, 16):
        near = round(ticks * unit / WHOLE)
        if near and WHOLE % unit == 0 and abs(near * WHOLE // unit - ticks) * 8 <= ticks:
            shared = gcd(near, unit)
            return f"{near // shared}/{unit // shared}"
    return "1/96"


def amount_text(ticks: int) -> str:
    """Write an amount in the one form that files and links keep."""
    num, den = _reduced(abs(ticks))
    return f"{num}/{den} {'later' if ticks > 0 else 'earlier'}"


def amount_words(ticks: int) -> str:
    """Say an amount: "a sixteenth later", "five sixteenths earlier"."""
    num, den = _reduced(abs(ticks))
    said = _SAID.get((num, den))
    if said is None and den in _PLURAL and num < len(_NUMBERS):
        said = f"{_NUMBERS[num]} {_PLURAL[den]}"
    if said is None:
        said = f"{num}/{den} of a whole note" if den > 1 else f"{num} whole notes"
    return f"{said} {'later' if ticks > 0 else 'earlier'}"


def _reduced(ticks: int) -> tuple[int, int]:
    shared = gcd(ticks, WHOLE)
    return ticks // shared, WHOLE // shared


class Note(NamedTuple):
    """One note of a cell: a value by name, its shape, and whether it sounds."""

    value: str
    shape: str
    sounds: bool

    @property
    def ticks(self) -> int:
        """Its length."""
        plain = VALUES[self.value]
        return plain * 3 // 2 if self.shape == "dotted" else plain * 2 // 3 if self.shape == "triplet" else plain


@lru_cache(maxsize=256)
def read_cell(text: str) -> tuple[Note, ...]:
    """Read a cell: note values, each perhaps dotted before, triplet or rest after it.

    >>> [note.ticks for note in read_cell("dotted eighth sixteenth")]
    [7560, 2520]
    """
    tokens = text.split()
    notes: list[Note] = []
    index = 0
    while index < len(tokens):
        shape = ""
        if tokens[index] == "dotted":
            shape = "dotted"
            index += 1
        value = tokens[index] if index < len(tokens) else ""
        if value not in VALUES:
            raise VariationError(
                f'"{value or text}" is not a note value; a cell is made of {", ".join(VALUES)}, with "dotted" before '
                'or "triplet" or "rest" after',
                field="cell",
            )
        index += 1
        if index < len(tokens) and tokens[index] == "triplet":
            if shape:
                raise VariationError(f'"dotted {value} triplet": a note is dotted or a triplet, not both', field="cell")
            shape = "triplet"
            index += 1
        sounds = not (index < len(tokens) and tokens[index] == "rest")
        index += not sounds
        notes.append(Note(value, shape, sounds))
    if not notes:
        raise VariationError('a cell needs a note; try "sixteenth sixteenth eighth"', field="cell")
    if len(notes) > MAX_CELL:
        raise VariationError(f"a cell has at most {MAX_CELL} notes, not {len(notes)}", field="cell")
    if not any(note.sounds for note in notes):
        raise VariationError("a cell of rests alone plays nothing; use leave space or take the line out", field="cell")
    return tuple(notes)


def cell_text(notes: tuple[Note, ...]) -> str:
    """Write a cell in the one form that files and links keep."""
    words = []
    for note in notes:
        words += ["dotted"] if note.shape == "dotted" else []
        words.append(note.value)
        words += ["triplet"] if note.shape == "triplet" else []
        words += [] if note.sounds else ["rest"]
    return " ".join(words)
