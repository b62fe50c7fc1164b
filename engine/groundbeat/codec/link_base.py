"""How does the base beat stand in a link of version 1?

Line by line, from the top line of the kit: surface, columns where they differ, how the dynamics are written, then
for each bar either "as the bar before" or one bit a column. Graces, hands and strokes off the columns follow in
optional blocks. Frozen.
"""

from __future__ import annotations

from typing import NamedTuple

from ..model.beat import Beat, Stroke
from ..model.kit import BY_NAME, DYNAMICS, GRACES, HANDS
from ..model.meter import WHOLE, Meter
from ..model.place import COLUMNS, fraction
from .bits import BitReader, BitWriter
from .link_values import Newer, pick, read_surface, write_target

COLUMN_NAMES = tuple(COLUMNS)
ALL_NORMAL, ALL_ACCENT, EACH, ALL_GHOST = range(4)
_WHOLE_LINE = {ALL_NORMAL: "normal", ALL_ACCENT: "accent", ALL_GHOST: "ghost"}
MAX_LINES = 64  # more than the kit has surfaces, with room for newer ones


class Line(NamedTuple):
    """One line of a base beat: its surface, its columns, and the strokes that stand on them."""

    surface: str
    columns: str
    strokes: tuple[Stroke, ...]


def lines_of(beat: Beat, silent: tuple[str, ...]) -> tuple[tuple[Line, ...], tuple[Stroke, ...]]:
    """Sort a base beat into lines, from the top, and the strokes that fit no columns.

    A line uses the columns of the beat where all its strokes fit, else the coarsest columns where they do, else those
    of the beat with the rest as details.
    """
    by_surface: dict[str, list[Stroke]] = {name: [] for name in silent}
    for stroke in beat.strokes:
        by_surface.setdefault(stroke.surface, []).append(stroke)
    rows: list[Line] = []
    off: list[Stroke] = []
    for name in sorted(by_surface, key=lambda name: BY_NAME[name].row):
        strokes = by_surface[name]
        columns = _columns_for(beat, strokes)
        ticks = COLUMNS[columns]
        on = tuple(stroke for stroke in strokes if stroke.at % ticks == 0)
        off += [stroke for stroke in strokes if stroke.at % ticks]
        if on or not strokes or name in silent:
            rows.append(Line(name, columns, on))
    return tuple(rows), tuple(off)


def _columns_for(beat: Beat, strokes: list[Stroke]) -> str:
    own = COLUMNS[beat.columns]
    for stroke in strokes:
        if stroke.at % own:
            break
    else:
        return beat.columns  # as most lines do
    fits = [
        name for name, ticks in COLUMNS.items()
        if beat.meter.bar % ticks == 0 and all(stroke.at % ticks == 0 for stroke in strokes)
    ]  # fmt: skip
    if not fits:
        return beat.columns
    return max(fits, key=lambda name: COLUMNS[name])


def write_lines(bits: BitWriter, beat: Beat, lines: tuple[Line, ...]) -> None:
    """Write all lines."""
    bits.number(len(lines), 3)
    for line in lines:
        write_target(bits, line.surface)
        bits.flag(line.columns != beat.columns)
        if line.columns != beat.columns:
            bits.number(COLUMN_NAMES.index(line.columns), 3)
        kinds = {stroke.dynamic for stroke in line.strokes}
        mode = next((mode for mode, name in _WHOLE_LINE.items() if kinds <= {name}), EACH)
        bits.fixed(mode, 2)
        ticks = COLUMNS[line.columns]
        width = beat.meter.bar // ticks
        at = {stroke.at // ticks: stroke for stroke in line.strokes}
        before: list[str] | None = None
        for bar in range(beat.bars):
            row = [at[c].dynamic if c in at else "" for c in range(bar * width, (bar + 1) * width)]
            if before is not None:
                bits.flag(row == before)
            if row != before:
                bits.flags([dynamic != "" for dynamic in row])
                if mode == EACH:
                    for dynamic in row:
                        if dynamic:
                            bits.fixed(DYNAMICS.index(dynamic), 2)
            before = row


def read_lines(bits: BitReader, meter: Meter, bars: int, columns: str) -> list[Line]:
    """Read all lines."""
    count = bits.number(3)
    if count > MAX_LINES:
        raise Newer
    return [_read_line(bits, meter, bars, columns) for _ in range(count)]


def _read_line(bits: BitReader, meter: Meter, bars: int, columns: str) -> Line:
    surface = read_surface(bits)
    own = pick(COLUMN_NAMES, bits.number(3)) if bits.flag() else columns
    mode = bits.fixed(2)
    ticks = COLUMNS[own]
    if meter.bar % ticks:
        raise Newer
    width = meter.bar // ticks
    row: list[str] = []
    strokes: list[Stroke] = []
    for bar in range(bars):
        if not (bar and bits.flag()):
            hits = [bits.flag() for _ in range(width)]
            if mode == EACH:
                row = [DYNAMICS[bits.fixed(2)] if hit else "" for hit in hits]
            else:
                row = [_WHOLE_LINE[mode] if hit else "" for hit in hits]
        strokes += [Stroke((bar * width + c) * ticks, surface, dynamic) for c, dynamic in enumerate(row) if dynamic]
    return Line(surface, own, tuple(strokes))


def write_marks(bits: BitWriter, lines: tuple[Line, ...], table: tuple[str, ...], k: int, field: str) -> bool:
    """Write graces or hands of the lines that have any; False where none has."""
    marked = [(index, [getattr(s, field) for s in line.strokes]) for index, line in enumerate(lines)]
    marked = [(index, marks) for index, marks in marked if any(marks)]
    if not marked:
        return False
    bits.number(len(marked), 3)
    for index, marks in marked:
        bits.number(index, 3)
        for mark in marks:
            bits.number(table.index(mark), k)
    return True


def read_marks(bits: BitReader, lines: list[Line], table: tuple[str, ...], k: int) -> dict[tuple[int, int], str]:
    """Read graces or hands: (line, stroke) to mark."""
    marks: dict[tuple[int, int], str] = {}
    for _ in range(bits.number(3)):
        index = bits.number(3)
        if index >= len(lines):
            raise Newer
        for nth in range(len(lines[index].strokes)):
            marks[index, nth] = pick(table, bits.number(k))
    return marks


def write_details(bits: BitWriter, strokes: tuple[Stroke, ...]) -> None:
    """Write strokes that stand on no columns."""
    bits.number(len(strokes), 3)
    for stroke in strokes:
        write_target(bits, stroke.surface)
        num, _, den = fraction(stroke.at).partition("/")
        bits.number(int(num), 6)
        bits.number(int(den or 1), 6)
        bits.fixed(DYNAMICS.index(stroke.dynamic), 2)
        bits.number(GRACES.index(stroke.grace), 3)
        bits.number(HANDS.index(stroke.hand), 2)


def read_details(bits: BitReader, limit: int) -> list[Stroke]:
    """Read strokes that stand on no columns, at most `limit`."""
    count = bits.number(3)
    if count > limit:
        raise Newer
    strokes = []
    for _ in range(count):
        surface = read_surface(bits)
        num, den = bits.number(6), bits.number(6)
        if not den or WHOLE * num % den:
            raise Newer
        dynamic = DYNAMICS[bits.fixed(2)]
        grace, hand = pick(GRACES, bits.number(3)), pick(HANDS, bits.number(2))
        strokes.append(Stroke(WHOLE * num // den, surface, dynamic, grace, hand))
    return strokes
