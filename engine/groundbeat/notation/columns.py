"""What stands above one another at one place of a bar, and how much room does it take to the left and the right?

A column is everything at one written tick: heads, ledger lines, parentheses, dots, small notes with their slur, rests.
Coordinates are local: x = 0 is the left edge of an ordinary head, y = 0 the bottom line of the staff, downwards.
Stems, flags, beams and what stands outside them follow when a whole line is known (`stems`).

Heads a second apart, or on one place, do not cover each other: with stems up the higher one goes to the right, with
stems down the lower one to the left. Where hands lie so low that they would meet the feet's heads or stems, the feet
move to the right. Rests of two voices stand above and below what the other voice plays there. Distances are our
choice.
"""

from __future__ import annotations

from functools import lru_cache

from ..model.beat import Stroke
from .column import FAR, HEAD, STEM, Column, Note
from .glyphs import ANCHORS, HEADS, OUTLINES, STEP
from .graces import COUNT, put_graces
from .primitives import Block, Box, Mark
from .score import Bar, Chord
from .staff import CLOSED, HALF_OPEN, OPEN, SPLASH, Place, place

LEDGER, BEYOND = 40, 70  # thickness of a ledger line and how far it goes beyond its head
CLEAR = 15  # between a head and its parenthesis
PARENTHESIS = 109
_DOT_AFTER = 70
_FEET_END = 325  # above the kick and its parentheses: hands' rests end here
ON_STEM = {"buzz": "buzz", "diddle": "one stroke"}
ABOVE = {OPEN: "open", HALF_OPEN: "half-open", CLOSED: "closed"}


Key = tuple[bool, int, int, bool, tuple[tuple[str, str, str, str], ...]]  # a chord, without its place and its names


def columns(bar: Bar, hats: dict[str, str]) -> list[Column]:
    """Lay out a bar's columns in the order of time; `hats` are the marks of its strokes by their ids.

    The rest of an empty bar makes one column without ink: who knows the width of the bar centres it.
    """
    found: dict[int, list[tuple[bool, Chord]]] = {}
    for voice in bar.voices:
        up = voice.stem == "up"
        for chord in voice.chords:
            found.setdefault(chord.at, []).append((up, chord))
    two = sum(1 for voice in bar.voices if voice.chords) > 1
    return [_column(at, found[at], hats, two) for at in sorted(found)]


def _column(at: int, rows: list[tuple[bool, Chord]], hats: dict[str, str], two: bool) -> Column:
    """Take the column's form, and give it its place, its strokes and what belongs to this chord alone."""
    keys: list[Key] = []
    strokes: list[Stroke] = []
    for up, chord in rows:
        struck = tuple((s.surface, s.dynamic, s.grace, hats.get(s.id, "")) for s in chord.strokes)
        keys.append((up, chord.value, chord.dots, bool(chord.beams), struck))
        strokes += chord.strokes
    form = _form(two, tuple(keys))
    column = Column(at)
    column.left, column.right, column.top, column.bottom = form.left, form.right, form.top, form.bottom
    column.core, column.marks, column.strokes = form.core, form.marks, strokes
    for (_, chord), like in zip(rows, form.notes, strict=True):
        note = Note(column, like.up, chord.value, chord.dots, bool(chord.strokes))
        note.beams, note.tuplet, note.edge = chord.beams, chord.tuplet, chord.edge
        note.stem, note.high, note.low, note.start = like.stem, like.high, like.low, like.start
        note.above, note.below, note.on_stem = like.above, like.below, like.on_stem
        column.notes.append(note)
    return column


@lru_cache(maxsize=4096)
def _form(two: bool, keys: tuple[Key, ...]) -> Column:
    """Lay out a column once for all places where the same is played; its strokes are named "0", "1" and so on."""
    column = Column(0)
    rests: list[Note] = []
    for up, value, dots, beamed, struck in keys:
        note = Note(column, up, value, dots, bool(struck))
        note.beams = ("begin",) if beamed else ()
        column.notes.append(note)
        if struck:
            _heads(column, note, struck)
        elif value > 1:
            rests.append(note)
    if column.heads:
        _round(column)
    for note in rests:
        _rest(note, two)
    return column


def forget() -> None:
    """Drop what is remembered of columns, so that time can be measured."""
    _form.cache_clear()


def _heads(column: Column, note: Note, struck: tuple[tuple[str, str, str, str], ...]) -> None:
    """Place the heads of a chord, and note what else its strokes ask for."""
    up = note.up
    half = note.value <= 2
    rows: list[tuple[Stroke, Place, str]] = []
    for surface, dynamic, grace, hat in struck:
        name = str(len(column.heads) + len(rows))
        rows.append((Stroke(0, surface, dynamic, grace, "", name), place(surface), hat))
    if up:
        rows.reverse()
    shift = 0 if up else _beside(column, -rows[0][1].line * STEP)
    placed: list[Box] = []
    for stroke, where, hat in rows:
        name = HEADS[where.head][half]
        left, top, right, bottom = OUTLINES[name].box
        y = -where.line * STEP
        x = HEAD - ANCHORS[where.head][0] if up else shift
        near = [box for box in placed if box[1] < y + bottom and y + top < box[3]]
        if any(box[0] < x + right and x + left < box[2] for box in near):
            if up or shift:  # feet that had to move right go on to the right
                x = max(shift, HEAD, *(box[2] for box in near)) - left
            else:
                x = min(0, *(box[0] for box in near)) - right
        box = column.put("head", name, x, y, stroke.id)
        placed.append(box)
        column.heads.append((stroke, box))
        if not -2 < where.line < 10:
            _ledgers(column, where.line, box)
        grace, number = stroke.grace, int(stroke.id)
        outer = note.above if up else note.below
        if stroke.dynamic == "accent":
            outer.append(("accent above" if up else "accent below", number))
        if grace == "choke":
            outer.append(("choke", number))
        elif grace in ON_STEM:
            note.on_stem.append((ON_STEM[grace], number))
        if hat == SPLASH:
            note.below.insert(0, ("open", number))
        elif hat:
            note.above.insert(0, (ABOVE[hat], number))
    note.stem += shift
    first, last = rows[0][1], rows[-1][1]
    note.high, note.low = -max(first.line, last.line) * STEP, -min(first.line, last.line) * STEP
    note.start = -first.line * STEP + (-1 if up else 1) * ANCHORS[first.head][1]
    note.above, note.below, note.on_stem = _once(note.above), _once(note.below), _once(note.on_stem)


def _flags(column: Column) -> None:
    """Keep room for what will stand on the stems: flags, buzz signs, strokes."""
    for note in column.notes:
        if note.struck and not note.beams and note.value >= 8:
            end = note.stem + OUTLINES[f"flag {note.value} {'up' if note.up else 'down'}"].box[2]
            column.right = max(column.right, end)
        for name, _ in note.on_stem:
            left, _, right, _ = OUTLINES[name].box
            column.left = max(column.left, -(note.stem + left))
            column.right = max(column.right, note.stem + STEM + right)


def _beside(column: Column, y: int) -> int:
    """How far the feet move to the right, if hands play where their highest head at y or its stem would stand."""
    low = [box for _, box in column.heads if box[3] > y - STEP]
    return max(HEAD, *(box[2] for box in low)) + 2 * STEM if low else 0


def _once(rows: list[tuple[str, int]]) -> list[tuple[str, int]]:
    """Keep one of each outline: one accent stands for all strokes of a chord."""
    if len(rows) < 2:
        return rows
    seen: dict[str, int] = {}
    for name, number in rows:
        seen.setdefault(name, number)
    return list(seen.items())


def _ledgers(column: Column, line: int, head: Box) -> None:
    left, right = head[0] - BEYOND, head[2] + BEYOND
    for row in (*range(10, line + 1, 2), *range(-2, line - 1, -2)):
        y = -row * STEP - LEDGER // 2
        box = (left, y, right, y + LEDGER)
        column.marks.append(Mark("ledger", box, Block(left, y, right - left, LEDGER), ""))
        column.reach(box)


def _round(column: Column) -> None:
    """Put parentheses around ghosts, dots behind dotted notes, small notes before graced ones."""
    taken = [box for _, box in column.heads]
    dotted = [note for note in column.notes if note.dots and note.struck]
    ghosts = [row for row in column.heads if row[0].dynamic == "ghost"]
    if ghosts:
        for note in column.notes:
            if note.struck:
                ends = (-FAR, note.start) if note.up else (note.start, FAR)
                taken.append((note.stem, ends[0], note.stem + STEM, ends[1]))
        for stroke, box in ghosts:
            y = (box[1] + box[3]) // 2
            x = _free(taken, box[0] - CLEAR - PARENTHESIS, y, -1)
            taken.append(column.put("parenthesis", "left parenthesis", x, y, stroke.id))
            x = _free(taken, box[2] + CLEAR, y, 1)
            taken.append(column.put("parenthesis", "right parenthesis", x + 36, y, stroke.id))
    if dotted:
        x = column.right + _DOT_AFTER
        spaces: set[int] = set()
        for note in dotted:
            for _, box in column.heads:
                y = (box[1] + box[3]) // 2
                if note.high <= y <= note.low:
                    line = -y // STEP
                    spaces.add(line + (1 if note.up else -1) if line % 2 == 0 else line)
        for line in sorted(spaces):
            for number in range(max(note.dots for note in dotted)):
                column.put("dot", "dot", x + 150 * number, -line * STEP)
    column.core = (column.top, column.bottom)
    _flags(column)
    small = [(stroke, (box[1] + box[3]) // 2) for stroke, box in column.heads if stroke.grace in COUNT]
    if small:
        put_graces(column, small)


def _free(taken: list[Box], x: int, y: int, way: int) -> int:
    """Push a parenthesis outwards until it meets nothing."""
    top, bottom = y - 181, y + 181
    moving = True
    while moving:
        moving = False
        for box in taken:
            if box[1] < bottom and top < box[3] and box[0] < x + PARENTHESIS and x < box[2]:
                x = box[0] - CLEAR - PARENTHESIS if way < 0 else box[2] + CLEAR
                moving = True
    return x


def _rest(note: Note, two: bool) -> None:
    """Put a rest where it meets nothing of the other voice."""
    column = note.column
    name = f"rest {note.value}"
    _, top, _, bottom = OUTLINES[name].box
    line = 4
    if two and note.up:
        line = 6
        while -line * STEP + bottom > -_FEET_END:
            line += 2
    elif two:
        line = 0
        lowest = column.bottom
        while -line * STEP + top < lowest:
            line -= 2
    box = column.put("rest", name, 0, -line * STEP)
    note.high, note.low = box[1], box[3]
    for number in range(note.dots):
        column.put("dot", "dot", box[2] + _DOT_AFTER + 150 * number, -(line + 1) * STEP)
