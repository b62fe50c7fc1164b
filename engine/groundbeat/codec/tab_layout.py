"""Where in a text does tablature stand: which lines belong together, where are the bars, where the columns?

A line of tablature is a name, a bar line and letters: `HH|x-x-x-x-|x-x-x-x-|`; after a name that is known a colon or
spaces do as well. Lines below each other are a system; each further system goes on with more bars. A line of counts
stands above or below a system. Everything else is text, and is handed back as such.

Lines count from 1. Places in a line count from 0 here and from 1 where they are told, with tab stops every 8.
"""

from __future__ import annotations

import re
from typing import NamedTuple

from .tab_names import line_named

_ALIKE = {
    "\u2013": "-", "\u2014": "-", "\u2212": "-", "\u2010": "-", "\u2011": "-", "\u2500": "-", "\u2502": "|",
    "\u2503": "|", "\u00a6": "|", "\u00d7": "x", "\u25cf": "o", "\u2022": "o", "\u00a0": " ", "\ufeff": "",
    "\u200b": "", "\u00b7": ".", "\u2551": "|",
}  # fmt: skip
_LOOKS = str.maketrans(_ALIKE)
# Spaces are bounded in all of these: a long line of them would take long otherwise.
_REPEAT = re.compile(
    r"[(\[]?\s?(?:(?:repeat|play)\s{1,4})?(?:[xX*]\s?(\d{1,2})|(\d{1,2})\s?(?:[xX]|times))\s?[)\]]?\Z", re.ASCII
)
_BARLESS = re.compile(
    r"([A-Za-z][\w.-]{0,9}?(?: [A-Za-z][\w.-]{0,8}?){0,2}?)"
    r"(?:\s{0,20}:\s{0,20}([-._A-Za-z@#%()+ ]{4,})|\s{1,20}([-._A-Za-z@#%()+]{4,}))\Z",
    re.ASCII,
)
_BELOW = re.compile(r"\s*(graces|hands)\s")
_COUNT = re.compile(r"[\d\s|+&.,_eantriplu:-]+\Z", re.ASCII | re.IGNORECASE)
_COUNT_NAME = re.compile(r"\s*(?:counts?:?|c:)\s*", re.IGNORECASE)
MAX_WIDTH = 1200  # letters of a line: sixteen bars of thirty-seconds with their bar lines are 529. Our choice
_MOST_NAME = 24  # letters of a name: "half-open hi-hat" has 16
_LETTERS = frozenset("-._xXoO%gfdbB@#+() ")


class Cell(NamedTuple):
    """What stands between two bar lines, and the place of its first letter."""

    text: str
    start: int


class Row(NamedTuple):
    """A line of letters: its line in the text, its name, its bars, and the repeats that stand in it."""

    line: int
    name: str
    cells: tuple[Cell, ...]
    opens: tuple[int, ...]  # cells that begin with a repeat sign
    closes: tuple[int, ...]  # cells that end with one
    times: int  # how often the system is played where a number stands behind it, else 0
    below: tuple[tuple[str, str], ...] = ()  # rows of graces and hands: "graces" or "hands", and the whole line


class System(NamedTuple):
    """Lines that sound together, and the line of counts that stands with them ("" where there is none)."""

    rows: tuple[Row, ...]
    counts: str


class Layout(NamedTuple):
    """All systems of a text; the other lines by number; remarks, each with its line."""

    systems: tuple[System, ...]
    text: tuple[tuple[int, str], ...]
    says: tuple[str, ...]


def lines_of(text: str) -> list[str]:
    """Split a text into lines, with tabs as spaces and the look-alikes of dashes and bar lines as such."""
    return [line.translate(_LOOKS).expandtabs(8).rstrip() for line in re.split(r"\r\n?|\n", text)]


def is_tab_line(line: str) -> bool:
    """Tell whether a line of a text is one of tablature.

    >>> is_tab_line("HH|x-x-x-x-|"), is_tab_line("one | two"), is_tab_line("SN: --o---o-")
    (True, False, True)
    """
    return _row(1, line, []) is not None


def lay_out(lines: list[str]) -> Layout:
    """Find the systems in the lines of a text."""
    blocks: list[list[Row | str]] = [[]]
    text: list[tuple[int, str]] = []
    says: list[str] = []
    for number, line in enumerate(lines, 1):
        row = _row(number, line, says)
        block = blocks[-1]
        if row is not None:
            block.append(row)
        elif _is_count(line):
            block.append(line)
        elif block and isinstance(block[-1], Row) and _BELOW.match(line):
            found = _BELOW.match(line)
            assert found is not None
            word = found[1]
            block[-1] = block[-1]._replace(below=(*block[-1].below, (word, " " * found.end() + line[found.end() :])))
        else:
            repeat = _REPEAT.match(line.strip())
            if repeat and block and isinstance(block[-1], Row):
                block[-1] = block[-1]._replace(times=int(repeat[1] or repeat[2]))
            elif line.strip():
                text.append((number, line.strip()))
            if block:
                blocks.append([])
    return Layout(_systems(blocks), tuple(text), tuple(says))


def _systems(blocks: list[list[Row | str]]) -> tuple[System, ...]:
    """Part blocks of lines where a name comes again; lines that all stand alone belong together until then."""
    kept = [block for block in blocks if any(isinstance(item, Row) for item in block)]
    alone = len(kept) > 1 and all(sum(isinstance(item, Row) for item in block) == 1 for block in kept)
    names = {item.name.lower() for block in kept for item in block if isinstance(item, Row)}
    repeated = any(isinstance(item, Row) and (item.times or item.closes) for block in kept for item in block)
    if alone and len(names) > 1 and not repeated:
        kept = [[item for block in kept for item in block]]
    systems: list[System] = []
    for block in kept:
        rows: list[Row] = []
        here: set[str] = set()  # names
        count = ""
        for item in block:
            if isinstance(item, str):
                if rows and count:  # one above and one below; the next system begins with this one
                    systems.append(System(tuple(rows), count))
                    rows = []
                    here.clear()
                count = item
                continue
            if item.name and item.name.lower() in here:
                systems.append(System(tuple(rows), count))
                rows, count = [], ""
                here.clear()
            rows.append(item)
            here.add(item.name.lower())
        if rows:
            systems.append(System(tuple(rows), count))
    return tuple(systems)


def _is_count(line: str) -> bool:
    bare = count_part(line).strip(" |")
    return bool(_COUNT.match(bare)) and bare[:1] == "1" and "2" in bare and not re.search(r"\d/\d", bare)


def count_part(line: str) -> str:
    """Blank out what stands before the counts of a line, so that the places stay."""
    found = _COUNT_NAME.match(line)
    return " " * found.end() + line[found.end() :] if found and found.end() else line


def _row(number: int, line: str, says: list[str]) -> Row | None:
    if len(line) > MAX_WIDTH or _is_count(line):
        return None
    at = line.find("|")
    if at < 0:
        return _without_bar_lines(number, line)
    name = line[:at].strip().rstrip(":").rstrip()
    if len(name) > _MOST_NAME or any(sign in name for sign in "\"'=<>;"):
        return None
    pieces = re.split(r"(\|+)", line[at:])
    cells: list[Cell] = []
    opens: list[int] = []
    closes: list[int] = []
    times, place = 0, at
    for index, piece in enumerate(pieces):
        start, last = place, index == len(pieces) - 1
        place += len(piece)
        if not piece or piece[0] == "|":
            continue
        if last:
            piece, times = _without_repeat(piece)
            if not piece.strip():
                continue
            if cells and not _like_letters(piece):
                says.append(f"line {number}: {_short(piece.strip())} behind the last bar line was left out")
                continue
        if piece[:1] == ":":
            opens.append(len(cells))
            piece, start = piece[1:], start + 1
        if piece[-1:] == ":":
            closes.append(len(cells))
            piece = piece[:-1]
        if piece:
            cells.append(Cell(piece, start))
    body = "".join(cell.text for cell in cells)
    if not _like_letters(body) or (not name and not body.strip(" -._")):
        return None
    return Row(number, name, tuple(cells), tuple(opens), tuple(closes), times)


def _without_repeat(text: str) -> tuple[str, int]:
    """Take "x4" off the end of a text; what is before it, and how many times (0 where nothing is said)."""
    for found in _REPEAT.finditer(text, max(len(text) - 20, 0)):
        if not text[: found.start()].strip() or text[found.start() - 1].isspace():
            return text[: found.start()].rstrip(), int(found[1] or found[2])
    return text, 0


def _without_bar_lines(number: int, line: str) -> Row | None:
    rest, times = _without_repeat(line)
    bare = rest.lstrip()
    found = _BARLESS.match(bare)
    if not found:
        return None
    body, start = found[2] or found[3], found.start(2) if found[2] else found.start(3)
    if not _like_letters(body) or not set("-._") & set(body):
        return None
    if line_named(found[1]) is None and (len(body) < 8 or body.count("-") * 3 < len(body)):
        return None
    return Row(number, found[1], (Cell(body, len(rest) - len(bare) + start),), (), (), times)


def _like_letters(body: str) -> bool:
    """Tell letters of tablature from words: at least half of what stands there is common on such lines."""
    bare = body.replace(" ", "")
    return (
        bool(bare) and 2 * sum(letter in _LETTERS for letter in bare) >= len(bare) and bool(set(bare) & set("-._xXoO%"))
    )


def _short(text: str) -> str:
    return f'"{text[:38]}..."' if len(text) > 40 else f'"{text}"'
