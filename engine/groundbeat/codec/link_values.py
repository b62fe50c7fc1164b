"""How does each type of setting stand in a link of version 1?

One writer and one reader a type; kinds do not matter here. Tables are append only: a number that has been published
keeps its meaning for ever. A number that this version does not know raises Newer.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, NamedTuple

from ..model.feel import SWUNG
from ..model.groove import Settings, Value
from ..model.kit import BY_NAME, BY_NUMBER, DYNAMICS, GRACES
from ..model.meter import WHOLE
from ..model.place import MAX_PARTS, Place
from ..model.roles import BACKBEAT_VOICE, RIDING
from ..variation.notes import NAMES, SHAPES, Note, amount_text, cell_text, read_amount, read_cell
from ..variation.patterns import (
    HAND_LETTERS,
    grouping_text,
    offset_text,
    read_grouping,
    read_offset,
    read_swing,
    swing_text,
)
from ..variation.scene import EVERYTHING
from ..variation.selection import (
    MAX_TERMS,
    ORDERS,
    PLACE,
    STAGE,
    WHERE,
    WORDS,
    Selection,
    Term,
    read_selection,
    selection_text,
)
from ..variation.setting import MAX_LIST, Setting
from ..variation.touch import MAX_CHANGES, Touch, read_touch, touch_text
from .bits import BitReader, BitWriter


class Newer(Exception):
    """Something in a link that only a newer Groundbeat knows."""


# Targets: these three words, then the surfaces by their numbers. This tuple never grows: a word that comes later takes
# a number far above the kit.
TARGET_WORDS = (EVERYTHING, RIDING, BACKBEAT_VOICE)
# Parts of a number that have a syllable. Append only; 0 means that the fraction follows.
PARTS = ((0, 1), (1, 4), (1, 2), (3, 4), (1, 3), (2, 3))
# Denominators of amounts, the usual ones first. Append only; 0 means that the denominator follows.
DENOMINATORS = (16, 8, 4, 32, 12, 24, 6, 48, 2, 1, 96, 3, 64)
SIGNS = ("+", "-", "=")


class Code(NamedTuple):
    """How a type is written and read."""

    write: Callable[[BitWriter, Setting, Any], None]
    read: Callable[[BitReader, Setting], Value]


def pick(table: tuple[Any, ...], number: int) -> Any:
    """Look a number up in an append-only table; Newer where this version ends before it."""
    if number >= len(table):
        raise Newer
    return table[number]


def write_target(bits: BitWriter, name: str) -> None:
    """Write a surface or role."""
    if name in TARGET_WORDS:
        bits.number(TARGET_WORDS.index(name), 4)
    else:
        bits.number(len(TARGET_WORDS) + BY_NAME[name].number, 4)


def read_target(bits: BitReader) -> str:
    """Read a surface or role."""
    number = bits.number(4)
    if number < len(TARGET_WORDS):
        return TARGET_WORDS[number]
    row = BY_NUMBER.get(number - len(TARGET_WORDS))
    if row is None:
        raise Newer
    return row.name


def read_surface(bits: BitReader) -> str:
    """Read a surface, which a role cannot stand for."""
    name = read_target(bits)
    if name not in BY_NAME:
        raise Newer
    return name


def write_place(bits: BitWriter, place: Place) -> None:
    """Write number and part of a place."""
    bits.number(place.number, 3)
    if place.part in PARTS:
        bits.number(PARTS.index(place.part) + 1, 3)
    else:
        bits.number(0, 3)
        bits.number(place.part[0], 4)
        bits.number(place.part[1], 4)


def read_place_bits(bits: BitReader, bar: int) -> Place:
    """Read number and part of a place."""
    number = bits.number(3)
    code = bits.number(3)
    if code:
        return Place(bar, number, pick(PARTS, code - 1))
    num, den = bits.number(4), bits.number(4)
    if not 0 <= num < den <= MAX_PARTS:
        raise Newer
    return Place(bar, number, (num, den))


def _write_places(bits: BitWriter, setting: Setting, value: str) -> None:
    selection = read_selection(value)
    bits.number(len(selection.terms) - 1, 2)
    bits.flag(selection.free)
    for term in selection.terms:
        bits.flag(term.bar > 0)
        if term.bar:
            bits.number(term.bar - 1, 2)
        bits.number(ORDERS.index(term.order), 1)
        bits.flag(term.word == PLACE)
        if term.word == PLACE:
            write_place(bits, term.place)
        else:
            bits.number(WORDS.index(term.word), 3)
            if term.word == STAGE:
                bits.number(int(term.of), 4)
            elif term.word == WHERE:
                write_target(bits, term.of)


def _read_places(bits: BitReader, setting: Setting) -> Value:
    count = bits.number(2) + 1
    if count > MAX_TERMS:
        raise Newer
    free = bits.flag()
    terms = []
    for _ in range(count):
        bar = bits.number(2) + 1 if bits.flag() else 0
        order = pick(ORDERS, bits.number(1))
        if bits.flag():
            terms.append(Term(bar, order, PLACE, read_place_bits(bits, 0)))
        else:
            word = pick(WORDS, bits.number(3))
            of = str(bits.number(4)) if word == STAGE else read_target(bits) if word == WHERE else ""
            terms.append(Term(bar, order, word, Place(0, 0, (0, 1)), of))
    return selection_text(Selection(tuple(terms), free))


def _write_amount(bits: BitWriter, setting: Setting, value: str) -> None:
    ticks = read_amount(value)
    num, _, rest = value.partition("/")
    den = int(rest.split()[0])
    bits.flag(ticks < 0)
    if den in DENOMINATORS:
        bits.number(DENOMINATORS.index(den) + 1, 3)
    else:
        bits.number(0, 3)
        bits.number(den, 6)
    bits.number(int(num) - 1, 3)


def _read_amount(bits: BitReader, setting: Setting) -> Value:
    earlier = bits.flag()
    code = bits.number(3)
    den = pick(DENOMINATORS, code - 1) if code else bits.number(6)
    num = bits.number(3) + 1
    if not den or (WHOLE * num) % den:
        raise Newer
    ticks = WHOLE * num // den
    return amount_text(-ticks if earlier else ticks)


def _write_cell(bits: BitWriter, setting: Setting, value: str) -> None:
    row = read_cell(value)
    bits.number(len(row) - 1, 3)
    for note in row:
        _write_note(bits, note)


def _write_note(bits: BitWriter, note: Note) -> None:
    bits.number(NAMES.index(note.value), 3)
    plain = not note.shape and note.sounds
    bits.flag(not plain)
    if not plain:
        bits.number(SHAPES.index(note.shape), 2)
        bits.flag(note.sounds)


def _read_note(bits: BitReader) -> Note:
    value = pick(NAMES, bits.number(3))
    shape, sounds = ("", True) if not bits.flag() else (pick(SHAPES, bits.number(2)), bits.flag())
    return Note(value, shape, sounds)


def _read_cell(bits: BitReader, setting: Setting) -> Value:
    return cell_text(tuple(_read_note(bits) for _ in range(bits.number(3) + 1)))


def _write_names(bits: BitWriter, setting: Setting, value: tuple[str, ...]) -> None:
    bits.number(len(value), 2)
    for name in value:
        write_target(bits, name)


def _read_targets(bits: BitReader, setting: Setting) -> Value:
    count = bits.number(2)
    if count > MAX_LIST:
        raise Newer
    return tuple(read_target(bits) for _ in range(count))


def _read_row(bits: BitReader, setting: Setting) -> Value:
    count = bits.number(2)
    if count > MAX_LIST:
        raise Newer
    return tuple(read_surface(bits) for _ in range(count))


def _read_number(bits: BitReader, setting: Setting) -> Value:
    number = bits.number(3) + setting.low
    if number > setting.high:
        raise Newer
    return str(number)


def _write_grouping(bits: BitWriter, setting: Setting, value: str) -> None:
    sizes = read_grouping(value)
    bits.number(len(sizes) - 1, 2)
    for size in sizes:
        bits.number(size - 1, 2)


def _read_grouping(bits: BitReader, setting: Setting) -> Value:
    return grouping_text(tuple(bits.number(2) + 1 for _ in range(bits.number(2) + 1)))


def _write_hands(bits: BitWriter, setting: Setting, value: str) -> None:
    bits.number(len(value) - 1, 3)
    for letter in value:
        bits.number(HAND_LETTERS.index(letter), 1)


def _read_hands(bits: BitReader, setting: Setting) -> Value:
    return "".join(pick(HAND_LETTERS, bits.number(1)) for _ in range(bits.number(3) + 1))


def _write_swing(bits: BitWriter, setting: Setting, value: str) -> None:
    swung, long, short = read_swing(value)
    bits.flag(bool(swung))
    if swung:
        bits.number(SWUNG.index(swung), 1)
        bits.number(long - 1, 2)
        bits.number(short - 1, 2)


def _read_swing(bits: BitReader, setting: Setting) -> Value:
    if not bits.flag():
        return swing_text("", 1, 1)
    return swing_text(pick(SWUNG, bits.number(1)), bits.number(2) + 1, bits.number(2) + 1)


def _write_offset(bits: BitWriter, setting: Setting, value: str) -> None:
    ms = read_offset(value)
    bits.flag(ms < 0)
    bits.number(abs(ms), 4)


def _read_offset(bits: BitReader, setting: Setting) -> Value:
    early = bits.flag()
    ms = bits.number(4)
    return offset_text(-ms if early else ms)


def _write_changes(bits: BitWriter, setting: Setting, value: tuple[str, ...]) -> None:
    bits.number(len(value), 3)
    for text in value:
        touch = read_touch(text)
        bits.fixed(SIGNS.index(touch.sign), 2)
        write_target(bits, touch.surface)
        bits.number(touch.place.bar, 2)
        write_place(bits, touch.place)
        if touch.sign == "-":
            continue
        for given, table, k in (
            (touch.dynamic, DYNAMICS, 2),
            (touch.grace, GRACES, 3),
            (touch.hand, ("", "R", "L"), 2),
        ):
            bits.flag(given is not None)
            if given is not None:
                bits.number(table.index(given), k)


def _read_changes(bits: BitReader, setting: Setting) -> Value:
    count = bits.number(3)
    if count > MAX_CHANGES:
        raise Newer
    return tuple(_read_touch_bits(bits) for _ in range(count))


def _read_touch_bits(bits: BitReader) -> str:
    sign = pick(SIGNS, bits.fixed(2))
    surface = read_surface(bits)
    place = read_place_bits(bits, bits.number(2))
    qualities: list[str | None] = [None, None, None]
    if sign != "-":
        for index, (table, k) in enumerate(((DYNAMICS, 2), (GRACES, 3), (("", "R", "L"), 2))):
            if bits.flag():
                qualities[index] = pick(table, bits.number(k))
    return touch_text(read_touch(touch_text(Touch(sign, surface, place, qualities[0], qualities[1], qualities[2]))))


def _write_group(bits: BitWriter, setting: Setting, value: Settings) -> None:
    write_settings(bits, setting.inner, value)


def _read_group(bits: BitReader, setting: Setting) -> Value:
    return read_settings(bits, setting.inner)


def _write_index(table: tuple[str, ...], k: int) -> Callable[[BitWriter, Setting, Any], None]:
    return lambda bits, setting, value: bits.number(table.index(value), k)


def _read_index(table: tuple[str, ...], k: int) -> Callable[[BitReader, Setting], Value]:
    def read(bits: BitReader, setting: Setting) -> Value:
        found: str = pick(table, bits.number(k))
        return found

    return read


CODES: dict[str, Code] = {
    "target": Code(lambda bits, setting, value: write_target(bits, value), lambda bits, setting: read_target(bits)),
    "surface": Code(lambda bits, setting, value: write_target(bits, value), lambda bits, setting: read_surface(bits)),
    "targets": Code(_write_names, _read_targets),
    "places": Code(_write_places, _read_places),
    "amount": Code(_write_amount, _read_amount),
    "cell": Code(_write_cell, _read_cell),
    "dynamic": Code(_write_index(DYNAMICS, 2), _read_index(DYNAMICS, 2)),
    "grace": Code(_write_index(GRACES, 3), _read_index(GRACES, 3)),
    "choice": Code(
        lambda bits, setting, value: bits.number(setting.words.index(value), 2),
        lambda bits, setting: pick(setting.words, bits.number(2)),
    ),
    "group": Code(_write_group, _read_group),
    "changes": Code(_write_changes, _read_changes),
    "number": Code(
        lambda bits, setting, value: bits.number(int(value) - setting.low, 3),
        _read_number,
    ),
    "row": Code(_write_names, _read_row),
    "note": Code(
        lambda bits, setting, value: _write_note(bits, read_cell(value)[0]),
        lambda bits, setting: cell_text((_read_note(bits),)),
    ),
    "grouping": Code(_write_grouping, _read_grouping),
    "hands": Code(_write_hands, _read_hands),
    "swing": Code(_write_swing, _read_swing),
    "offset": Code(_write_offset, _read_offset),
}


def write_settings(bits: BitWriter, settings: tuple[Setting, ...], given: Settings) -> None:
    """Write the settings that are not at their default: how many, then number and value of each."""
    known = {setting.name: setting for setting in settings}
    bits.number(len(given), 2)
    for name, value in given:
        bits.number(known[name].number, 3)
        CODES[known[name].type.name].write(bits, known[name], value)


def read_settings(bits: BitReader, settings: tuple[Setting, ...]) -> Settings:
    """Read settings; Newer where one has a number that this version does not know."""
    known = {setting.number: setting for setting in settings}
    given: list[tuple[str, Value]] = []
    for _ in range(bits.number(2)):
        setting = known.get(bits.number(3))
        if setting is None:
            raise Newer
        given.append((setting.name, CODES[setting.type.name].read(bits, setting)))
    return tuple(given)
