"""How do the lines of [base] and the tables [[detail]] become strokes?

A key of [base] is a surface, with hyphens or spaces, perhaps followed by graces, hands or columns ("snare graces").
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Protocol

from ..errors import GrooveFileError, GroundbeatError, shown
from ..model.beat import Stroke, check
from ..model.kit import BY_NAME, DYNAMICS, GRACES, nearest, surface
from ..model.meter import Meter
from ..model.place import COLUMNS, fraction, offset_in, read_place
from .letters import GRACE_LETTERS, HAND_LETTERS, Letter, Misread, dynamic_of, read_letters
from .locate import Path

EXTRAS = ("graces", "hands", "columns")
MAX_DETAILS = 512  # strokes off the columns, written one by one; our choice


class Reader(Protocol):
    """What is needed of the reader of the whole file: errors with their place, and checked values."""

    def fail(self, message: str, path: Path, letter: int = -1, *, key: bool = False) -> GrooveFileError:
        """Make an error at a value."""

    def get(self, table: Mapping[str, Any], path: Path, key: str, kind: type, default: Any, what: str) -> Any:
        """Take a value of one type out of a table."""

    def known(self, table: Mapping[str, Any], path: Path, names: tuple[str, ...]) -> None:
        """Refuse keys that are not known here."""


def read_base(
    reader: Reader, base: Mapping[str, Any], details: list[Any], meter: Meter, columns: str, bars: int
) -> tuple[list[Stroke], list[str], int]:
    """Read all strokes of the base beat; the strokes, the surfaces that have lines, and the number of bars.

    `bars` 0 means that the lines say it.
    """
    lines: dict[str, dict[str, str]] = {}
    for key in base:
        name, extra = _split(reader, key)
        row = lines.setdefault(name, {})
        if extra in row:
            raise reader.fail(f"{name} has two lines of {extra or 'strokes'}; keep one", ("base", key), key=True)
        row[extra] = key
    strokes: list[Stroke] = []
    length, first = bars, ""
    for name, row in lines.items():
        if "" not in row:
            key = next(iter(row.values()))
            raise reader.fail(f'"{key}" needs the line "{name}" beside it', ("base", key), key=True)
        found, count = _read_line(reader, base, name, row, meter, columns)
        if length and count != length:
            than = f"bars = {bars}" if bars else f"{first} has {length}"
            raise reader.fail(
                f"{name} has {count} bar{'s' * (count > 1)}, but {than}; all lines have the same", ("base", row[""])
            )
        length, first = count, first or name
        strokes += found
    length = length or 1
    _refuse_meetings(reader, strokes, lines)
    strokes = _with_details(reader, details, strokes, meter, length)
    return strokes, sorted(lines, key=lambda name: BY_NAME[name].row), length


def _refuse_meetings(reader: Reader, strokes: list[Stroke], lines: dict[str, dict[str, str]]) -> None:
    taken: dict[tuple[int, str], str] = {}
    for stroke in strokes:
        other = taken.setdefault((stroke.at, stroke.instrument), stroke.surface)
        if other != stroke.surface:
            raise reader.fail(_meeting(stroke, other), ("base", lines[stroke.surface][""]))


def _meeting(stroke: Stroke, other: str) -> str:
    return (
        f"{other} and {stroke.surface} both at {fraction(stroke.at)}: one {stroke.instrument} is struck "
        "once at a place; keep one of them"
    )


def _split(reader: Reader, key: str) -> tuple[str, str]:
    words = key.replace("-", " ").split()
    extra = words[-1] if len(words) > 1 and words[-1] in EXTRAS else ""
    name = key[: -len(extra)].rstrip(" -") if extra else key
    try:
        return surface(name).name, extra
    except GroundbeatError:
        raise reader.fail(
            f"{shown(name)} is not a surface of the kit{nearest(name, BY_NAME)}", ("base", key), key=True
        ) from None


def _read_line(
    reader: Reader, base: Mapping[str, Any], name: str, row: dict[str, str], meter: Meter, columns: str
) -> tuple[list[Stroke], int]:
    own = columns
    if "columns" in row:
        own = reader.get(base, ("base",), row["columns"], str, columns, "the name of columns")
        if own not in COLUMNS or meter.bar % COLUMNS[own]:
            fit = [column for column, ticks in COLUMNS.items() if meter.bar % ticks == 0]
            raise reader.fail(f'"{own}" are not columns of {meter}{nearest(own, fit)}', ("base", row["columns"]))
    ticks = COLUMNS[own]
    per_bar = meter.bar // ticks
    letters, bars = _letters(reader, base, row[""], per_bar)
    kit = BY_NAME[name]
    strokes: dict[int, Stroke] = {}
    for letter in letters:
        try:
            strokes[letter.column] = Stroke(letter.column * ticks, name, dynamic_of(letter, kit))
        except Misread as error:
            raise reader.fail(error.message, ("base", row[""]), error.at) from None
    for extra, table in (("graces", GRACE_LETTERS), ("hands", HAND_LETTERS)):
        if extra not in row:
            continue
        marks, count = _letters(reader, base, row[extra], per_bar)
        if count != bars:
            raise reader.fail(f"{name} has {bars} bars, its {extra} have {count}", ("base", row[extra]))
        for mark in marks:
            strokes[mark.column] = _marked(reader, strokes.get(mark.column), mark, extra, table, name, row[extra])
    return list(strokes.values()), bars


def _letters(reader: Reader, base: Mapping[str, Any], key: str, per_bar: int) -> tuple[list[Letter], int]:
    text = reader.get(base, ("base",), key, str, "", "a line of letters")
    try:
        return read_letters(text, per_bar)
    except Misread as error:
        raise reader.fail(error.message, ("base", key), error.at) from None


def _marked(
    reader: Reader, stroke: Stroke | None, mark: Letter, extra: str, table: dict[str, str], name: str, key: str
) -> Stroke:
    path: Path = ("base", key)
    if mark.letter not in table:
        said = ", ".join(f"{letter} {word}" if letter != word else letter for letter, word in table.items())
        raise reader.fail(f'"{mark.letter}" is not one of the {extra}: {said}', path, mark.at)
    if stroke is None:
        raise reader.fail(f'"{mark.letter}" stands where {name} has no stroke', path, mark.at)
    word = table[mark.letter]
    grace, hand = (word, stroke.hand) if extra == "graces" else (stroke.grace, word)
    new = Stroke(stroke.at, stroke.surface, stroke.dynamic, grace, hand)
    try:
        check(new)
    except GroundbeatError as error:
        raise reader.fail(error.message, path, mark.at) from None
    return new


def _with_details(reader: Reader, details: list[Any], strokes: list[Stroke], meter: Meter, bars: int) -> list[Stroke]:
    if len(details) > MAX_DETAILS:
        raise reader.fail(f"at most {MAX_DETAILS} details are read, not {len(details)}", ("detail", MAX_DETAILS))
    standing = {(stroke.at, stroke.surface): stroke for stroke in strokes}
    for index, row in enumerate(details):
        path: Path = ("detail", index)
        if not isinstance(row, dict):
            raise reader.fail("a detail is a table [[detail]]", path)
        reader.known(row, path, ("at", "surface", "dynamic", "grace", "hand"))
        for needed in ("at", "surface"):
            if needed not in row:
                raise reader.fail(f'a detail needs "{needed}"', path)
        try:
            place = read_place(reader.get(row, path, "at", str, "", 'a place such as "2[3/6]"'))
        except GrooveFileError:
            raise
        except GroundbeatError as error:
            raise reader.fail(error.message, (*path, "at")) from None
        offset = offset_in(place, meter) if place.number else None
        if offset is None or place.bar > bars:
            raise reader.fail(f'"{row["at"]}" is no single place of a beat of {bars} bars of {meter}', (*path, "at"))
        for bar in (place.bar,) if place.bar else range(1, bars + 1):
            new = _detail(reader, row, path, (bar - 1) * meter.bar + offset, standing)
            rivals = (s for s in standing.values() if s.at == new.at and s.instrument == new.instrument)
            rival = next((s.surface for s in rivals if s.surface != new.surface), "")
            if rival:
                raise reader.fail(_meeting(new, rival), path)
            standing[new.at, new.surface] = new
    return list(standing.values())


def _detail(
    reader: Reader, row: dict[str, Any], path: Path, at: int, standing: dict[tuple[int, str], Stroke]
) -> Stroke:
    word = reader.get(row, path, "surface", str, "", "the name of a surface")
    try:
        name = surface(word).name
    except GroundbeatError as error:
        raise reader.fail(error.message, (*path, "surface")) from None
    old = standing.get((at, name), Stroke(at, name))
    new = Stroke(
        at,
        name,
        reader.get(row, path, "dynamic", str, old.dynamic, f"one of {', '.join(DYNAMICS)}"),
        reader.get(row, path, "grace", str, old.grace, f"one of {', '.join(GRACES[1:])}"),
        reader.get(row, path, "hand", str, old.hand, '"R" or "L"'),
    )
    try:
        check(new)
    except GroundbeatError as error:
        raise reader.fail(error.message, (*path, error.field)) from None
    return new
