"""How do the lines of a system become bars of columns with strokes?

A bar has as many columns as most of its lines; a shorter line is filled with silence, a longer one is cut where only
silence is lost, and each is told. Between dashes spaces part the letters for the eye; where no line has dashes or
dots a space is an empty column. `%` repeats the bar before.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from typing import NamedTuple

from ..errors import KitError, TabError
from ..model.beat import Stroke, check
from .letters import GRACE_LETTERS, HAND_LETTERS
from .tab_layout import Cell, Row, System, count_part
from .tab_letters import EMPTY, Meant, meaning
from .tab_names import Named

Spots = list[tuple[str, int]]  # letters of a bar with their places in the line
_DASHES = frozenset("-._")


class Hit(NamedTuple):
    """A stroke: its column in the bar, what it is, its hand, and where it stands in the text."""

    column: int
    meant: Meant
    hand: str
    line: int
    place: int


class TabBar(NamedTuple):
    """A bar: how many columns it has, the counts over them ("" unknown), its strokes by the line's surface, and the
    line of the text where it begins."""

    columns: int
    counts: str
    hits: dict[str, tuple[Hit, ...]]
    line: int


class Remarks:
    """What is to be told, each remark once, with the places where it holds."""

    def __init__(self) -> None:
        self._places: dict[str, list[tuple[int, int]]] = {}

    def tell(self, remark: str, line: int, place: int = -1) -> None:
        """Note a remark at a line and perhaps a place in it (from 0)."""
        self._places.setdefault(remark, []).append((line, place + 1))

    def sentences(self) -> list[str]:
        """All remarks: the first place of each, and how many more there are."""
        told = []
        for remark, places in self._places.items():
            line, column = places[0]
            where = f"line {line}, column {column}" if column else f"line {line}"
            more = f" and {len(places) - 1} more" if len(places) > 1 else ""
            told.append(f"{remark} ({where}{more}).")
        return told


def bars_of(system: System, names: dict[str, Named], before: TabBar | None, remarks: Remarks) -> list[TabBar]:
    """Read all bars of a system; `names` are the known ones, `before` is the bar before the system.

    Raises TabError where lines of one bar differ so that a stroke would be lost, or a `%` has nothing to repeat.
    """
    rows = [row for row in system.rows if row.name in names]
    if not rows:
        return []
    dashed = any(_DASHES & set(cell.text) for row in rows for cell in row.cells)
    many = max(len(row.cells) for row in rows)
    for row in rows:
        if len(row.cells) < many:
            there = f"{len(row.cells)} bar{'s' * (len(row.cells) > 1)}"
            remarks.tell(f"{row.name} has {there} where other lines have {many}; the rest is read as silence", row.line)
    count = count_part(system.counts)
    lead = _lead(count, rows)
    bars: list[TabBar] = []
    for index in range(many):
        before = _bar(index, rows, names, before, dashed, remarks, count, lead)
        bars.append(before)
    if count and lead is None:
        bars = _counted(bars, count, rows[0], remarks)
    return [part for bar in bars for part in _parted(bar)]


def _counted(bars: list[TabBar], count: str, first: Row, remarks: Remarks) -> list[TabBar]:
    """Lay counts over bars, or over the first, where they do not stand over the letters, but are as many."""
    total = sum(bar.columns for bar in bars)
    bare = count.strip(" |").replace("|", "")
    fits = next((text for text in (bare, bare.replace(" ", "")) if len(text) in (total, bars[0].columns)), "")
    if not fits:
        remarks.tell("The counts do not stand over the letters, and were left out", first.line)
        return bars
    laid = []
    for bar in bars:
        laid.append(bar._replace(counts=fits[: bar.columns]))
        fits = fits[bar.columns :]
    return laid


def _lead(count: str, rows: Sequence[Row]) -> Row | None:
    """The line over whose columns the counts stand: their 1 stands over its first letter."""
    first = len(count) - len(count.lstrip(" |"))
    return next((row for row in rows if row.cells[0].start == first), None) if count else None


def _bar(
    index: int, rows: Sequence[Row], names: dict[str, Named], before: TabBar | None, dashed: bool, remarks: Remarks,
    count: str, lead: Row | None,
) -> TabBar:  # fmt: skip
    here = [(row, row.cells[index]) for row in rows if index < len(row.cells)]
    written = [(row, cell) for row, cell in here if cell.text.strip(" -.") != "%"]
    again = [(row, cell) for row, cell in here if cell.text.strip(" -.") == "%"]
    if again and before is None:
        row, cell = again[0]
        raise TabError("% repeats the bar before it, and there is none", line=row.line, column=cell.start + 1)
    if not written and before is not None:
        return before
    spots = _spread([cell for _, cell in written], dashed)
    width = _width([len(row) for row in spots])
    counts = ""
    hits: dict[str, tuple[Hit, ...]] = {}
    for (row, cell), letters in zip(written, spots, strict=True):
        fitted = _fitted(letters, width, row, cell, index, remarks)
        if row is lead:
            counts = "".join(count[place] if place < len(count) else " " for _, place in fitted).replace("|", " ")
        line = names[row.name]
        hits[line.surface] = hits.get(line.surface, ()) + _hits(fitted, row, line, remarks)
    for row, cell in again:
        assert before is not None
        if before.columns != width:
            raise TabError(
                f"% repeats a bar of {before.columns} columns in a bar of {width}; write the bar out",
                line=row.line, column=cell.start + 1,
            )  # fmt: skip
        surface = names[row.name].surface
        hits[surface] = hits.get(surface, ()) + before.hits.get(surface, ())
    return TabBar(width, counts, hits, here[0][0].line)


def _spread(cells: list[Cell], dashed: bool) -> list[Spots]:
    """Part the letters of a bar into columns; see the head of this module for spaces."""
    loose = [[(letter, cell.start + n) for n, letter in enumerate(cell.text)] for cell in cells]
    if not dashed:
        width = max(len(row) for row in loose)
        return [
            row + [(" ", cell.start + n) for n in range(len(row), width)]
            for row, cell in zip(loose, cells, strict=True)
        ]
    tight = [[spot for spot in row if spot[0] != " "] for row in loose]
    if len({len(row) for row in tight}) == 1 and tight[0]:
        return tight
    if len({len(row) for row in loose}) == 1:
        bare = {n for n in range(len(loose[0])) if all(row[n][0] == " " for row in loose)}
        return [[spot for n, spot in enumerate(row) if n not in bare] for row in loose]
    return tight


def _width(sizes: list[int]) -> int:
    """The columns of a bar: what most lines have; where as many say so, an even number, then the larger one."""
    found = Counter(sizes)
    return max(found, key=lambda size: (found[size], size % 2 == 0 or size % 3 == 0, size))


def _fitted(letters: Spots, width: int, row: Row, cell: Cell, index: int, remarks: Remarks) -> Spots:
    if len(letters) == width:
        return letters
    said = f"{row.name} has {len(letters)} columns in bar {index + 1} of its line, most lines have {width}"
    if len(letters) < width:
        end = letters[-1][1] + 1 if letters else cell.start
        remarks.tell(f"{said}; its end is read as silence", row.line, end)
        return letters + [(" ", end + n) for n in range(width - len(letters))]
    lost = next((place for letter, place in letters[width:] if letter not in EMPTY), None)
    if lost is not None:
        raise TabError(f"{said}; take out what is too much, or write - where columns are missing in the others",
                       line=row.line, column=lost + 1)  # fmt: skip
    remarks.tell(f"{said}; the silence behind them was left out", row.line, letters[width][1])
    return letters[:width]


def _hits(letters: Spots, row: Row, line: Named, remarks: Remarks) -> tuple[Hit, ...]:
    found: list[Hit] = []
    marks = [(word, text) for word, text in row.below]
    for column, (letter, place) in enumerate(letters):
        given = {word: text[place] for word, text in marks if place < len(text) and text[place] not in " -.|"}
        if letter in EMPTY or letter in "()":
            for mark in given.values():
                remarks.tell(f'"{mark}" stands where {row.name} has no stroke, and was left out', row.line, place)
            continue
        meant = meaning(letter, line)
        if meant is None:
            remarks.tell(
                f'"{letter}" on {row.name} is no letter that is known there, and was left out', row.line, place
            )
            continue
        if meant.doubt:
            remarks.tell(f'"{letter}" on {row.name} {meant.doubt}', row.line, place)
        around = letters[column - 1][0] if column else "", letters[column + 1][0] if column + 1 < len(letters) else ""
        if around == ("(", ")"):
            meant = meant._replace(dynamic="ghost")
        found.append(_marked(Hit(column, meant, "", row.line, place), given, row.name, remarks))
    return tuple(found)


def _marked(hit: Hit, given: dict[str, str], name: str, remarks: Remarks) -> Hit:
    for word, mark in given.items():
        grace, hand = GRACE_LETTERS.get(mark), HAND_LETTERS.get(mark)
        if word == "graces" and grace:
            new = hit._replace(meant=hit.meant._replace(grace=grace))
        elif word == "hands" and hand:
            new = hit._replace(hand=hand)
        else:
            remarks.tell(f'"{mark}" is none of the {word} that are known, and was left out', hit.line, hit.place)
            continue
        try:
            check(Stroke(0, new.meant.surface, new.meant.dynamic, new.meant.grace, new.hand))
        except KitError as error:
            remarks.tell(f'"{mark}" under {name} was left out: {error.message}', hit.line, hit.place)
            continue
        hit = new
    return hit


def _parted(bar: TabBar) -> list[TabBar]:
    """Part a bar where its counts begin again at 1."""
    digits = [(n, letter) for n, letter in enumerate(bar.counts) if letter.isdigit()]
    again = [n for (_, old), (n, letter) in zip(digits, digits[1:], strict=False) if letter == "1" and old not in "01"]
    if not again or bar.columns % again[0] or again != list(range(again[0], bar.columns, again[0])):
        return [bar]
    return cut(bar, again[0])


def cut(bar: TabBar, columns: int) -> list[TabBar]:
    """Cut a bar into bars of so many columns."""
    return [
        TabBar(
            columns,
            bar.counts[start : start + columns],
            {
                name: tuple(
                    hit._replace(column=hit.column - start) for hit in hits if start <= hit.column < start + columns
                )
                for name, hits in bar.hits.items()
            },
            bar.line,
        )
        for start in range(0, bar.columns, columns)
    ]
