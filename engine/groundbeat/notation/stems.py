"""How high do stems go, and what stands on them and outside them?

All stems of a voice end at one height along a line of the staff, which is as far from the staff as its furthest
ordinary note asks for; beams are flat. A group or note that needs more (thirty-seconds, splash cymbals, a buzz sign
beside a flag) goes further alone. Outside the stem stand, from it outwards, the hi-hat's sign, the accent and the
choke, then the tuplet's number, with a bracket unless it is exactly one group of beams. Our choice, after the habits
of printed drum books.
"""

from __future__ import annotations

from collections.abc import Sequence

from .column import FAR, HEAD, STEM, Column, Note
from .glyphs import OUTLINES, STEP
from .primitives import Block, Mark, Sign

BEAM, APART = 125, 187  # thickness of a beam; from beam to beam: a quarter of a space between them
LENGTH = 875  # of a stem: three and a half spaces
_LEAST = {True: -1500, False: 750}  # where stems end at least: as for a snare, as for a kick
_HIGH, _DEEP = 10 * STEP, 1 * STEP  # heads beyond these do not move the whole line's stems
_FLAG = 815  # how far a flag hangs from the end of its stem
_CLEAR, _OUTSIDE = 40, 45  # between beams and what they cross; between signs outside the stem
_SIGN = {"buzz": 232, "one stroke": 187}
_NUMBER = 60  # percent
_BRACKET, _HOOK = 25, 110


def finish(columns: Sequence[Column], up: bool) -> list[Mark]:
    """Draw stems, beams, flags and all that stands outside them for one voice of one line; x of columns is known."""
    notes = [(place, note) for place, column in enumerate(columns) for note in column.notes if note.up is up]
    marks: list[Mark] = []
    common = _LEAST[up]
    for _, note in notes:
        if note.struck:
            note.tip = note.high - _length(note) if up else note.low + _length(note)
            if not note.on_stem and len(note.beams) < 3 and _near(note):
                common = min(common, note.tip) if up else max(common, note.tip)
    for group in _groups(notes):
        tips = [note.tip for _, note in group if note.struck]
        tip = min([common, *tips]) if up else max([common, *tips])
        if len(group) > 1:
            depth = _depth(group) + _CLEAR
            for column in columns[group[0][0] : group[-1][0] + 1]:
                if column.top < FAR:
                    tip = min(tip, column.top - depth) if up else max(tip, column.bottom + depth)
        for _, note in group:
            note.tip = tip
        _stems(group, marks)
        _beams(group, marks)
        for column in columns[group[0][0] : group[-1][0] + 1] if len(group) > 1 else ():
            column.top, column.bottom = min(column.top, tip), max(column.bottom, tip)
        for _, note in group:
            if note.struck:
                _outside(note, marks)
    _tuplets(columns, notes, marks)
    return marks


def _near(note: Note) -> bool:
    return note.high >= -_HIGH if note.up else note.low <= _DEEP


def _length(note: Note) -> int:
    """How long the stem must be from the outermost head on."""
    levels = len(note.beams)
    signs = sum(_SIGN[name] + _CLEAR for name, _ in note.on_stem)
    if not levels and note.value >= 8:
        return _heads_end(note) + signs + _CLEAR // 2 + _FLAG
    length = LENGTH + max(0, levels - 2) * BEAM
    return max(length, _heads_end(note) + signs + _CLEAR + _thick(levels)) if signs else length


def _heads_end(note: Note) -> int:
    """How far the column's heads and parentheses reach beyond the stem's outermost head."""
    top, bottom = note.column.core
    return note.high - top if note.up else bottom - note.low


def _thick(levels: int) -> int:
    return BEAM + APART * (levels - 1) if levels else 0


def _depth(group: Sequence[tuple[int, Note]]) -> int:
    return _thick(max(len(note.beams) for _, note in group))


def _groups(notes: list[tuple[int, Note]]) -> list[list[tuple[int, Note]]]:
    """Part notes into groups under one beam, rests within them too; every other note is alone."""
    found: list[list[tuple[int, Note]]] = []
    open_group = False
    for row in notes:
        first = row[1].beams[0] if row[1].beams else ""
        if open_group:
            found[-1].append(row)
        else:
            found.append([row])
        if first == "begin":
            open_group = True
        elif first == "end":
            open_group = False
    return found


def _stems(group: list[tuple[int, Note]], marks: list[Mark]) -> None:
    for _, note in group:
        if not note.struck:
            continue
        x, tip = note.column.x + note.stem, note.tip
        top, bottom = (tip, note.start) if note.up else (note.start, tip)
        marks.append(Mark("stem", (x, top, x + STEM, bottom), Block(x, top, STEM, bottom - top), ""))
        if not note.beams and note.value >= 8:
            name = f"flag {note.value} {'up' if note.up else 'down'}"
            left, high, right, low = OUTLINES[name].box
            marks.append(Mark("flag", (x + left, tip + high, x + right, tip + low), Sign(name, x, tip, 100), ""))
            _stretch(note.column, tip + high, tip + low)
        _stretch(note.column, tip, tip)
        if note.on_stem:
            _on_stem(note, x + STEM // 2, marks)


def _stretch(column: Column, top: int, bottom: int) -> None:
    column.top, column.bottom = min(column.top, top), max(column.bottom, bottom)


def _on_stem(note: Note, x: int, marks: list[Mark]) -> None:
    """Put buzz signs and strokes in the middle of what is free of the stem."""
    inner = _FLAG if not note.beams and note.value >= 8 else _thick(len(note.beams))
    free = abs(note.tip - (note.high if note.up else note.low)) - inner - _heads_end(note)
    need = sum(_SIGN[name] + _CLEAR for name, _ in note.on_stem) - _CLEAR
    way = 1 if note.up else -1
    y = note.tip + way * (inner + (free - need) // 2)
    for name, number in note.on_stem:
        left, top, right, bottom = OUTLINES[name].box
        y += way * (_SIGN[name] // 2)
        marks.append(
            Mark(
                "on stem",
                (x + left, y + top, x + right, y + bottom),
                Sign(name, x, y, 100),
                note.column.strokes[number].id,
            )
        )
        y += way * (_SIGN[name] // 2 + _CLEAR)


def _beams(group: list[tuple[int, Note]], marks: list[Mark]) -> None:
    if len(group) < 2:
        return
    way = 1 if group[0][1].up else -1
    struck = [note for _, note in group if note.struck]
    ends = [note.column.x + note.stem for note in struck]
    for level in range(max(len(note.beams) for note in struck)):
        y = struck[0].tip + way * APART * level - (0 if way > 0 else BEAM)
        begin = 0
        for place, note in enumerate(struck):
            word = note.beams[level] if level < len(note.beams) else ""
            if word == "begin":
                begin = ends[place]
            elif word == "end":
                _beam(begin, ends[place] + STEM, y, marks)
            elif word == "forward hook":
                gap = ends[place + 1] - ends[place] if place + 1 < len(ends) else FAR
                _beam(ends[place], ends[place] + STEM + min(HEAD, gap // 2 - STEM), y, marks)
            elif word == "backward hook":
                gap = ends[place] - ends[place - 1] if place else FAR
                _beam(ends[place] - min(HEAD, gap // 2 - STEM), ends[place] + STEM, y, marks)


def _beam(left: int, right: int, y: int, marks: list[Mark]) -> None:
    marks.append(Mark("beam", (left, y, right, y + BEAM), Block(left, y, right - left, BEAM), ""))


def _outside(note: Note, marks: list[Mark]) -> None:
    """Put the signs outside the stem (or, below a chord with its stem up, outside its lowest head)."""
    column = note.column
    for rows, up in ((note.above, True), (note.below, False)):
        for name, number in rows:
            left, top, right, bottom = OUTLINES[name].box
            x = column.x + note.stem + (STEM - HEAD if note.up else 0) + HEAD // 2 - (left + right) // 2
            y = column.top - _OUTSIDE - bottom if up else column.bottom + _OUTSIDE - top
            box = (x + left, y + top, x + right, y + bottom)
            marks.append(Mark("outside", box, Sign(name, x, y, 100), column.strokes[number].id))
            _stretch(column, y + top, y + bottom)


def _tuplets(columns: Sequence[Column], notes: list[tuple[int, Note]], marks: list[Mark]) -> None:
    begin = -1
    for place, (_, note) in enumerate(notes):
        if note.tuplet == (1, 1):
            continue
        if note.edge.startswith("start"):
            begin = place
        if note.edge.endswith("stop") and begin >= 0:
            _tuplet(columns, notes[begin : place + 1], marks)
            begin = -1


def _tuplet(columns: Sequence[Column], rows: list[tuple[int, Note]], marks: list[Mark]) -> None:
    """Put the number over the middle of a tuplet, with a bracket unless its notes are exactly one group of beams."""
    first, last = rows[0][1], rows[-1][1]
    up = first.up
    span = columns[rows[0][0] : rows[-1][0] + 1]
    digits = [OUTLINES[f"tuplet {digit}"] for digit in str(first.tuplet[0])]
    height = -(-395 * _NUMBER // 100)
    if up:
        y = min(column.top for column in span) - _OUTSIDE
    else:
        y = max(column.bottom for column in span) + _OUTSIDE + height
    left, right = first.column.x + first.stem, last.column.x + last.stem
    beamed = first.beams[:1] == ("begin",) and last.beams[:1] == ("end",)
    beamed = beamed and not any(note.beams[:1] == ("end",) for _, note in rows[:-1])
    if up:
        left -= HEAD - STEM
        right += STEM
    else:
        right += HEAD
    wide = sum(outline.box[2] + 20 for outline in digits) * _NUMBER // 100
    x = middle = (left + right) // 2
    if beamed:
        x = middle = (first.column.x + first.stem + last.column.x + last.stem + STEM) // 2
    x -= wide // 2
    for digit, outline in zip(str(first.tuplet[0]), digits, strict=True):
        a, b, c, d = (value * _NUMBER // 100 for value in outline.box)
        marks.append(Mark("tuplet", (x + a, y + b, x + c + 1, y + d + 1), Sign(f"tuplet {digit}", x, y, _NUMBER), ""))
        x += (outline.box[2] + 20) * _NUMBER // 100
    if not beamed:
        line = y - height // 2
        hook = line if up else line - _HOOK + _BRACKET
        for one, two in ((left, middle - wide // 2 - 40), (middle + wide // 2 + 40, right)):
            if two - one > _BRACKET:
                _bracket(one, line, two - one, _BRACKET, marks)
        for x in (left, right - _BRACKET):
            _bracket(x, hook, _BRACKET, _HOOK, marks)
    for column in span:
        _stretch(column, y - height, y)


def _bracket(x: int, y: int, width: int, height: int, marks: list[Mark]) -> None:
    marks.append(Mark("bracket", (x, y, x + width, y + height), Block(x, y, width, height), ""))
