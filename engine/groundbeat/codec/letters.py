"""How is one line of a surface written in letters, one a column?

`x` a stroke on metal, `o` on a drum, a capital is an accent, `g` a ghost, `s` soft, `-` or `.` nothing. Rims, sticks
and wood take either letter. `|` must stand on a bar line, `%` repeats the bar before it, spaces are free. Lines of
graces (1 flam, 2 drag, 3 four-stroke ruff, z buzz, / diddle, # choke) and of hands (R, L) are written alike.
"""

from __future__ import annotations

from typing import NamedTuple

from ..errors import BeatError
from ..model.beat import MAX_BARS
from ..model.kit import DRUM, EITHER, METAL, Surface

EMPTY = "-."
GRACE_LETTERS = {"1": "flam", "2": "drag", "3": "ruff", "z": "buzz", "/": "diddle", "#": "choke"}
HAND_LETTERS = {"R": "R", "L": "L"}
_DYNAMICS = {"x": "normal", "o": "normal", "X": "accent", "O": "accent", "g": "ghost", "s": "soft"}
_GRACE_OF = {name: letter for letter, name in GRACE_LETTERS.items()}


class Misread(Exception):
    """What does not read in a line, and at which letter (from 0)."""

    def __init__(self, message: str, at: int) -> None:
        super().__init__(message)
        self.message = message
        self.at = at


class Letter(NamedTuple):
    """One letter of a line: its column, and where it stood in the text."""

    column: int
    letter: str
    at: int


def read_letters(text: str, per_bar: int) -> tuple[list[Letter], int]:
    """Read the columns of a line; the letters that are not empty, and the number of bars.

    Raises Misread for a bar line off the bars, a repeat with nothing before it, or a line that does not fill its bars.
    """
    letters: list[Letter] = []
    column = 0
    first = 0  # of the bar that is being read: its first letter in `letters`
    for at, letter in enumerate(text):
        if column > MAX_BARS * per_bar:
            raise Misread(f"the line has more than {MAX_BARS} bars of {per_bar} columns", at)
        if letter == " ":
            continue
        if letter == "|":
            if column % per_bar:
                raise Misread(
                    f"a bar line after {column % per_bar} columns of a bar of {per_bar}; it must stand between bars", at
                )
        elif letter == "%":
            if column % per_bar:
                raise Misread("% repeats a whole bar and stands at the beginning of one", at)
            if not column:
                raise Misread("% repeats the bar before it, and there is none before the first", at)
            before, first = letters[first:], len(letters)
            letters += [Letter(old.column + per_bar, old.letter, at) for old in before]
            column += per_bar
        else:
            if column % per_bar == 0:
                first = len(letters)
            if letter not in EMPTY:
                letters.append(Letter(column, letter, at))
            column += 1
    bars, over = divmod(column, per_bar)
    if over or not bars:
        short = per_bar - over
        raise Misread(
            f"the line has {column} columns, and a bar has {per_bar}: "
            + (f"{short} too few for bar {bars + 1}" if over else "write at least one bar")
            + (f" or {over} too many for bar {bars}" if over and bars else ""),
            len(text),
        )
    return letters, bars


def dynamic_of(letter: Letter, surface: Surface) -> str:
    """Read a letter as the dynamic of a stroke on a surface; Misread where it is not one there."""
    dynamic = _DYNAMICS.get(letter.letter)
    if dynamic is None:
        raise Misread(
            f'"{letter.letter}" is not a stroke; {surface.name} takes {_allowed(surface)}, '
            "g (ghost), s (soft), - (nothing)",
            letter.at,
        )
    low = letter.letter.lower()
    if low == "o" and surface.material == METAL:
        hint = ' (for an open hi-hat write a line "open hi-hat")' if surface.instrument == "hi-hat" else ""
        raise Misread(
            f'"{letter.letter}" is a stroke on a drum; {surface.name} is metal: write x or X{hint}', letter.at
        )
    if low == "x" and surface.material == DRUM:
        hint = ' (for a cross-stick write a line "cross-stick")' if surface.instrument == "snare" else ""
        raise Misread(
            f'"{letter.letter}" is a stroke on metal; {surface.name} is a drum: write o or O{hint}', letter.at
        )
    return dynamic


def _allowed(surface: Surface) -> str:
    return {METAL: "x, X (accent)", DRUM: "o, O (accent)", EITHER: "x or o, X or O (accent)"}[surface.material]


def letter_of(surface: Surface, dynamic: str) -> str:
    """Write a stroke as its letter."""
    if dynamic in ("ghost", "soft"):
        return dynamic[0]
    letter = "o" if surface.material == DRUM else "x"
    return letter.upper() if dynamic == "accent" else letter


def grace_letter(grace: str) -> str:
    """Write a grace as its letter, "-" for none."""
    return _GRACE_OF.get(grace, "-")


def write_letters(marks: dict[int, str], per_bar: int, bars: int) -> str:
    """Write the letters of a line by column, with bar lines between bars and % for a repeated bar of several."""
    rows: list[str] = []
    before = ""
    for bar in range(bars):
        row = "".join(marks.get(column, "-") for column in range(bar * per_bar, (bar + 1) * per_bar))
        rows.append("%" if row == before and bars > 1 else row)
        before = row
    if not rows:
        raise BeatError("a beat has at least one bar", field="bars")
    return "|".join(rows)
