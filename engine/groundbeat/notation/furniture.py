"""What stands on a line of the staff besides its notes: the five lines, clef, meter, repeat signs, rows of letters?

Coordinates are a line's: y = 0 is the bottom line, x = 0 the left end. Thicknesses are those that the font asks for
(staff lines 0.13 of a space, thin bar lines 0.16, thick ones 0.5); other distances are our choice.
"""

from __future__ import annotations

from collections.abc import Sequence

from ..model.meter import Meter
from .column import FAR, HEAD, Column
from .glyphs import OUTLINES, STEP
from .lettering import ASCENT, DESCENT, shortened, text_width
from .primitives import Block, Mark, Row, Sign, Words
from .spacing import LETTER, SYLLABLE

BAR_LINE = 40
NUMBER = 230  # size of bar numbers
_LINE, _THICK, _GAP, _TO_DOT = 33, 125, 90, 100
_CLEF_AT, _AFTER_CLEF = 120, 150
CLEF = _CLEF_AT + OUTLINES["percussion clef"].box[2] + _AFTER_CLEF
AFTER_METER = 180
REPEAT = _THICK + _GAP + BAR_LINE + _TO_DOT + 100
_TITLE, _TEMPO, _ROW = 450, 330, 60
_CHANGED = 60  # percent of a head
_UNITS = {
    "half": ("half note", False), "quarter": ("quarter note", False), "dotted quarter": ("quarter note", True),
    "eighth": ("eighth note", False),
}  # fmt: skip


def block(kind: str, x: int, y: int, width: int, height: int) -> Mark:
    """Make a mark that is a filled rectangle."""
    return Mark(kind, (x, y, x + width, y + height), Block(x, y, width, height), "")


def words(
    kind: str, text: str, x: int, y: int, size: int, anchor: str, bold: bool = False, faint: bool = False
) -> Mark:
    """Make a mark that is a text; the box is as wide as a wide font would make it."""
    wide = text_width(text, size)
    left = x - wide // 2 if anchor == "middle" else x
    box = (left, y - ASCENT * size // 1000, left + wide, y + DESCENT * size // 1000)
    return Mark(kind, box, Words(text, x, y, size, anchor, bold, faint), "")


def sign(kind: str, name: str, x: int, y: int, size: int = 100) -> Mark:
    """Make a mark that is an outline."""
    left, top, right, bottom = OUTLINES[name].box
    box = (x + left * size // 100, y + top * size // 100, x - (-right * size // 100), y - (-bottom * size // 100))
    return Mark(kind, box, Sign(name, x, y, size), "")


def meter_width(meter: Meter) -> int:
    """How much room the meter takes."""
    return max(_digits(meter.count), _digits(meter.unit))


def _digits(number: int) -> int:
    return sum(OUTLINES[f"meter {digit}"].box[2] + 20 for digit in str(number))


def opening(meter: Meter, right: int, first: bool, loops: bool, marks: list[Mark]) -> None:
    """Draw the lines of the staff and the clef; on the first line also the meter and the repeat sign."""
    for line in range(0, 10, 2):
        marks.append(block("staff", 0, -line * STEP - _LINE // 2, right, _LINE))
    marks.append(sign("clef", "percussion clef", _CLEF_AT, -4 * STEP))
    if not first:
        return
    wide = meter_width(meter)
    for number, line, away in ((meter.count, 6, -9), (meter.unit, 2, 9)):
        x = CLEF + (wide - _digits(number)) // 2
        for digit in str(number):
            marks.append(sign("meter", f"meter {digit}", x, -line * STEP + away))
            x += OUTLINES[f"meter {digit}"].box[2] + 20
    if loops:
        x = CLEF + wide + AFTER_METER
        marks.append(block("bar line", x, -8 * STEP, _THICK, 8 * STEP))
        marks.append(block("bar line", x + _THICK + _GAP, -8 * STEP, BAR_LINE, 8 * STEP))
        for line in (3, 5):
            marks.append(sign("repeat dot", "dot", x + REPEAT - 100, -line * STEP))


def closing(right: int, marks: list[Mark]) -> None:
    """Draw the repeat sign at the end of the last line; its thin line takes the place of the last bar line."""
    last = max((mark.box[2], place) for place, mark in enumerate(marks) if mark.kind == "bar line")[1]
    del marks[last]
    x = right - REPEAT
    for line in (3, 5):
        marks.append(sign("repeat dot", "dot", x, -line * STEP))
    marks.append(block("bar line", x + 100 + _TO_DOT, -8 * STEP, BAR_LINE, 8 * STEP))
    marks.append(block("bar line", right - _THICK, -8 * STEP, _THICK, 8 * STEP))


def letters(columns: Sequence[Column], marks: list[Mark]) -> None:
    """Put rows below the line, each on one height: signs of what changed, sticking letters, counts."""
    y = max((column.bottom for column in columns if column.top < FAR), default=0)
    y = max(y, 0) + 2 * _ROW
    if any(column.changed for column in columns):
        y += 250 * _CHANGED // 100 + _ROW
        for column in columns:
            if column.changed:
                x = column.x + (HEAD - 290 * _CHANGED // 100) // 2
                marks.append(sign("changed", "triangle head", x, y - _ROW - 125 * _CHANGED // 100, _CHANGED))
    if any(column.letter for column in columns):
        y += ASCENT * LETTER // 1000
        for column in columns:
            if column.letter:
                marks.append(words("sticking", column.letter, column.x + HEAD // 2, y, LETTER, "middle", bold=True))
        y += DESCENT * LETTER // 1000 + _ROW
    if any(column.syllable for column in columns):
        y += ASCENT * SYLLABLE // 1000
        for column in columns:
            if column.syllable:
                x = column.x + HEAD // 2
                marks.append(
                    words("count", column.syllable, x, y, SYLLABLE, "middle", column.played, not column.played)
                )


def tempo_mark(meter: Meter, tempo: str, feel: str, room: int, marks: list[Mark]) -> None:
    """Put the tempo with its unit, and words about the feel, above the line."""
    y = min(mark.box[1] for mark in marks) - 2 * _ROW - DESCENT * _TEMPO // 1000
    x = 0
    if tempo:
        name, dotted = _UNITS[meter.tempo_unit[0]]
        marks.append(sign("tempo", name, x, y - 138 * 60 // 100, 60))
        x = marks[-1].box[2] + 40
        if dotted:
            marks.append(sign("tempo", "dot", x, y - 138 * 60 // 100, 60))
            x = marks[-1].box[2] + 40
    text = "   ".join(part for part in (f"= {tempo}" if tempo else "", feel) if part)
    marks.append(words("tempo", shortened(text, _TEMPO, room - x), x, y, _TEMPO, "start"))


def title_row(title: str, room: int, y: int) -> tuple[int, Row]:
    """Make a row of the title, and say where the next one begins."""
    mark = words("title", shortened(title, _TITLE, room), 0, ASCENT * _TITLE // 1000, _TITLE, "start", bold=True)
    return y + mark.box[3] + 2 * _ROW, Row(60, y, (mark,))
