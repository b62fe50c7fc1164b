"""How does a groove file (TOML, written by people) become a groove? GROOVE.md tells the format in words.

Every error names file, line and column, and what was expected. Limits are checked before parsing.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from ..errors import GrooveFileError, GroundbeatError, shown
from ..model.beat import MAX_BARS, Beat, Stroke, base_beat
from ..model.feel import MAX_PUSH, MAX_SHARE, SWUNG, Feel
from ..model.groove import (
    DEFAULT_TEMPO,
    MAX_BRANCHES,
    MAX_NOTE,
    MAX_TEMPO,
    MAX_TITLE,
    MAX_VARIATIONS,
    MIN_TEMPO,
    Branch,
    Groove,
    Variation,
)  # fmt: skip
from ..model.kit import nearest, surface
from ..model.meter import Meter
from ..model.place import COLUMNS
from ..model.roles import ROLES
from ..variation.setting import UNKNOWN_SETTING
from ..variation.stack import make
from .groove_lines import read_base
from .locate import Path, Places, locate
from .spaced_keys import quote_keys, seen_column

VERSION = 1
# A file of sixteen bars of 32nds on every surface with 64 variations and long notes is under 120 kB; reading is linear
# and takes about a second at this size in a browser.
MAX_FILE = 256 * 1024
MAX_KEY = 100_000  # keys of variations; far more edits than a document sees
_TOP = (
    "groundbeat", "title", "note", "meter", "grouping", "columns", "tempo", "bars", "base", "detail", "roles", "feel",
    "variation", "branch", "next-key",
)  # fmt: skip
_OF_VARIATION = ("kind", "key", "off", "name", "note")
_TOML_PLACE = re.compile(r" \(at (?:line (\d+), column (\d+)|end of document)\)$", re.ASCII)


def read_groove(text: str, name: str = "") -> Groove:
    """Read a groove file; GrooveFileError names line and column of what does not read.

    `name` is the file's name, for errors.
    """
    return _Reader(text, name).groove()


class _Reader:
    def __init__(self, text: str, name: str) -> None:
        self.name = name
        if len(text) > MAX_FILE:
            raise GrooveFileError(
                f"the file has {len(text)} characters; a groove file has at most {MAX_FILE}. "
                "Is it another kind of file?",
                name=name,
            )
        text = text.removeprefix("\ufeff")
        self.table: dict[str, Any] = self._parse(text)
        self.places: Places = locate(self._text)

    def _parse(self, text: str) -> dict[str, Any]:
        self._text, self._moved = quote_keys(text.replace("\r\n", "\n"))
        try:
            return tomllib.loads(self._text, parse_float=Decimal)
        except tomllib.TOMLDecodeError as error:
            message = str(error)
            found = _TOML_PLACE.search(message)
            line, column = (int(found[1] or 0), int(found[2] or 0)) if found else (0, 0)
            column = seen_column(column, self._moved.get(line))
            if found and not found[1]:
                line, column = self._text.count("\n") + 1, 1
            said = _TOML_PLACE.sub("", message)
            raise GrooveFileError(f"not written as TOML: {said}", line=line, column=column, name=self.name) from None
        except (ValueError, ArithmeticError):
            raise GrooveFileError("a number in the file has too many digits", name=self.name) from None
        except RecursionError:
            raise GrooveFileError("lists or tables stand too deep inside each other", name=self.name) from None

    def fail(self, message: str, path: Path, letter: int = -1, *, key: bool = False) -> GrooveFileError:
        """Make an error at a value, at its key, or at a letter inside a one-line string."""
        spot = self.places.find(path, key=key)
        column = spot.column + 1 + letter if letter >= 0 and spot.quoted else spot.column
        return GrooveFileError(
            message,
            line=spot.line,
            column=seen_column(column, self._moved.get(spot.line)),
            name=self.name,
            field=".".join(str(part) for part in path),
        )

    def get(self, table: Mapping[str, Any], path: Path, key: str, kind: type, default: Any, what: str) -> Any:
        """Take a value of one type out of a table."""
        if key not in table:
            return default
        value = table[key]
        if not isinstance(value, kind) or (kind is int and isinstance(value, bool)):
            raise self.fail(f"{key} must be {what}, not {shown(value)}", (*path, key))
        if kind is str:
            self._clean(str(value), (*path, key))
        return value

    def _clean(self, value: str, path: Path) -> None:
        bad = next(
            (c for c in value if ord(c) < 32 and c not in "\n\t" or 0xD800 <= ord(c) < 0xE000 or ord(c) == 127), ""
        )
        if bad:
            raise self.fail(f"the text holds a control character (number {ord(bad)}); take it out", path)

    def known(self, table: Mapping[str, Any], path: Path, names: tuple[str, ...]) -> None:
        """Refuse keys that are not known here."""
        for key in table:
            if key not in names:
                raise self.fail(f"{shown(key)} is not known here{nearest(key, names)}", (*path, key), key=True)

    def groove(self) -> Groove:
        top = self.table
        version = self.get(top, (), "groundbeat", int, None, "a whole number")
        if version is None:
            raise GrooveFileError(
                'the first line of a groove file is "groundbeat = 1"', line=1, column=1, name=self.name
            )
        if version != VERSION:
            raise self.fail(
                f"this file is of version {shown(version)}; this Groundbeat reads version {VERSION}"
                + (": it was made with a newer Groundbeat" if version > VERSION else ""),
                ("groundbeat",),
            )
        self.known(top, (), _TOP)
        meter = self._meter(top)
        columns = self.get(top, (), "columns", str, "sixteenths", "text")
        if columns not in COLUMNS:
            raise self.fail(f'"{columns}" are not columns{nearest(columns, COLUMNS)}', ("columns",))
        if meter.bar % COLUMNS[columns]:
            raise self.fail(f"a bar of {meter} does not hold a whole number of {columns}", ("columns",))
        bars = self.get(top, (), "bars", int, 0, "a whole number")
        if "bars" in top and not 1 <= bars <= MAX_BARS:
            raise self.fail(f"a beat has 1 to {MAX_BARS} bars, not {shown(bars)}", ("bars",))
        beat, lines = self._base(top, meter, columns, bars)
        variations, next_key = self._variations(top)
        branches = self._branches(top, variations, next_key)
        next_key = max([next_key, *(v.key + 1 for b in branches for v in b.variations)])
        given = self.get(top, (), "next-key", int, next_key, "a whole number")
        if not next_key <= given <= MAX_KEY:
            raise self.fail(
                f"next-key is {shown(given)}; it must be above every key, here at least {next_key}", ("next-key",)
            )
        return Groove(
            title=self._limited(top, (), "title", MAX_TITLE),
            note=self._limited(top, (), "note", MAX_NOTE),
            base=beat,
            lines=lines,
            tempo=self._tempo(top),
            roles=self._roles(top),
            feel=self._feel(top),
            variations=variations,
            branches=branches,
            next_key=given,
        )

    def _limited(self, table: Mapping[str, Any], path: Path, key: str, limit: int) -> str:
        text: str = self.get(table, path, key, str, "", "text")
        if len(text) > limit:
            raise self.fail(f"{key} has {len(text)} characters; at most {limit}", (*path, key))
        if key != "note" and ("\n" in text or "\t" in text):
            raise self.fail(f"{key} must stand on one line", (*path, key))
        return text

    def _meter(self, top: Mapping[str, Any]) -> Meter:
        text = self.get(top, (), "meter", str, "4/4", 'text such as "4/4"')
        grouping = self.get(top, (), "grouping", str, "", 'text such as "2+2+3"')
        try:
            return Meter.of(text, grouping)
        except GroundbeatError as error:
            raise self.fail(error.message, (error.field or "meter",)) from None

    def _tempo(self, top: Mapping[str, Any]) -> int:
        if "tempo" not in top:
            return DEFAULT_TEMPO
        value = top["tempo"]
        if isinstance(value, bool) or not isinstance(value, (int, Decimal)):
            raise self.fail(f"tempo must be a number such as 92, not {shown(value)}", ("tempo",))
        low, high = MIN_TEMPO // 100, MAX_TEMPO // 100
        if not (isinstance(value, int) or value.is_finite()) or not low <= value <= high:
            raise self.fail(f"the tempo is {shown(value)}; it may be {low} to {high}", ("tempo",))
        if value * 100 % 1:
            raise self.fail(f"the tempo is {shown(value)}; it has at most two decimals", ("tempo",))
        return int(value * 100)

    def _base(self, top: Mapping[str, Any], meter: Meter, columns: str, bars: int) -> tuple[Beat, tuple[str, ...]]:
        base = self.get(top, (), "base", dict, {}, "a table [base]")
        details = self.get(top, (), "detail", list, [], "tables [[detail]]")
        strokes: list[Stroke] = []
        strokes, lines, bars = read_base(self, base, details, meter, columns, bars)
        try:
            beat = base_beat(meter, bars, columns, strokes)
        except GroundbeatError as error:
            raise self.fail(error.message, ("base",)) from None
        sounding = {stroke.surface for stroke in beat.strokes}
        return beat, tuple(name for name in lines if name not in sounding)

    def _roles(self, top: Mapping[str, Any]) -> tuple[tuple[str, str], ...]:
        table = self.get(top, (), "roles", dict, {}, "a table [roles]")
        rows = {}
        for key in table:
            role = next((role for role in ROLES if role.replace("-", " ") == key.replace("-", " ")), "")
            if not role:
                raise self.fail(f"{shown(key)} is not a role{nearest(key, ROLES)}", ("roles", key), key=True)
            if role in rows:
                raise self.fail(f"the role {role} stands here twice; keep one", ("roles", key), key=True)
            try:
                rows[role] = surface(self.get(table, ("roles",), key, str, "", "the name of a surface")).name
            except GrooveFileError:
                raise
            except GroundbeatError as error:
                raise self.fail(error.message, ("roles", key)) from None
        return tuple((role, rows[role]) for role in ROLES if role in rows)

    def _feel(self, top: Mapping[str, Any]) -> Feel:
        table = self.get(top, (), "feel", dict, {}, "a table [feel]")
        self.known(table, ("feel",), ("swing", "push"))
        swing = self.get(table, ("feel",), "swing", str, "", 'text such as "eighths 2:1"')
        swung, long, short = "", 1, 1
        if swing:
            found = re.fullmatch(r"(eighths|sixteenths) (\d):(\d)", swing.strip(), re.ASCII)
            if not found or not 1 <= int(found[2]) <= MAX_SHARE or not 1 <= int(found[3]) <= MAX_SHARE:
                raise self.fail(
                    f'"{swing}" is not a swing; write {" or ".join(SWUNG)} and long : short from 1 to {MAX_SHARE}, '
                    'like "eighths 2:1"',
                    ("feel", "swing"),
                )
            swung, long, short = found[1], int(found[2]), int(found[3])
        push = self.get(table, ("feel",), "push", dict, {}, 'a table such as { snare = "10 ms late" }')
        pushes = {}
        for key, value in push.items():
            path: Path = ("feel", "push", key)
            found = (
                re.fullmatch(r"(\d{1,3}) ms (late|early)", value.strip(), re.ASCII) if isinstance(value, str) else None
            )
            if not found or int(found[1]) > MAX_PUSH:
                raise self.fail(f'write a push as "10 ms late" or "5 ms early", at most {MAX_PUSH} ms', path)
            try:
                name = "all" if key == "all" else surface(key).name
            except GroundbeatError as error:
                raise self.fail(error.message, path, key=True) from None
            if name in pushes:
                raise self.fail(f"{name} stands here twice; keep one", path, key=True)
            pushes[name] = int(found[1]) * (1 if found[2] == "late" else -1)
        # In time, where all others are not, is something to say too.
        late = pushes.get("all", 0) != 0
        ordered = tuple(sorted((name, ms) for name, ms in pushes.items() if ms or (late and name != "all")))
        return Feel(swung, long, short, ordered)

    def _variations(self, top: Mapping[str, Any]) -> tuple[tuple[Variation, ...], int]:
        rows = self.get(top, (), "variation", list, [], "tables [[variation]]")
        if len(rows) > MAX_VARIATIONS:
            raise self.fail(
                f"a groove has at most {MAX_VARIATIONS} variations, not {len(rows)}", ("variation", MAX_VARIATIONS)
            )
        made = self._stack(rows, ("variation",), set(), 1)
        return made, max([0, *(v.key for v in made)]) + 1

    def _stack(self, rows: list[Any], path: Path, used: set[int], first: int) -> tuple[Variation, ...]:
        made = []
        for index, row in enumerate(rows):
            here: Path = (*path, index)
            if not isinstance(row, dict):
                raise self.fail(f"a variation is a table [[variation]], not {shown(row)}", here)
            key = self.get(row, here, "key", int, first + index, "a whole number")
            if not 1 <= key < MAX_KEY or key in used:
                raise self.fail(
                    f"key {shown(key)} is taken or out of range; every variation has a number of its own",
                    (*here, "key"),
                )
            used.add(key)
            made.append(self._variation(row, here, key))
        return tuple(made)

    def _variation(self, row: dict[str, Any], path: Path, key: int) -> Variation:
        if "kind" not in row:
            raise self.fail('a variation needs its kind, such as kind = "displace"', path)
        kind = self.get(row, path, "kind", str, "", "text")
        off = self.get(row, path, "off", bool, False, "true or false")
        from ..model.groove import MAX_NAME

        title = self._limited(row, path, "name", MAX_NAME)
        note = self._limited(row, path, "note", MAX_NOTE)
        raw = {name: value for name, value in row.items() if name not in _OF_VARIATION}
        try:
            return make(key, kind, raw, on=not off, title=title, note=note)
        except GroundbeatError as error:
            parts: list[str | int] = [
                int(part[1:]) if part[:1] == "#" else part for part in error.field.split(".") if part
            ]
            raise self.fail(error.message, (*path, *parts), key=error.code == UNKNOWN_SETTING) from None

    def _branches(self, top: Mapping[str, Any], stack: tuple[Variation, ...], first: int) -> tuple[Branch, ...]:
        rows = self.get(top, (), "branch", list, [], "tables [[branch]]")
        if len(rows) > MAX_BRANCHES:
            raise self.fail(f"a groove has at most {MAX_BRANCHES} branches, not {len(rows)}", ("branch", MAX_BRANCHES))
        used = {variation.key for variation in stack}
        branches = []
        for index, row in enumerate(rows):
            path: Path = ("branch", index)
            if not isinstance(row, dict):
                raise self.fail(f"a branch is a table [[branch]], not {shown(row)}", path)
            self.known(row, path, ("name", "after", "variation"))
            after = self.get(row, path, "after", int, 0, "the key of a variation, or 0")
            if after and after not in {variation.key for variation in stack}:
                raise self.fail(f"there is no variation with key {shown(after)} to branch after", (*path, "after"))
            from ..model.groove import MAX_NAME

            name = self._limited(row, path, "name", MAX_NAME)
            inner = self.get(row, path, "variation", list, [], "tables [[branch.variation]]")
            if len(inner) > MAX_VARIATIONS:
                raise self.fail(f"a branch has at most {MAX_VARIATIONS} variations", path)
            made = self._stack(inner, (*path, "variation"), used, first)
            first = max([first - 1, *(v.key for v in made)]) + 1
            branches.append(Branch(name, after, made))
        return tuple(branches)
