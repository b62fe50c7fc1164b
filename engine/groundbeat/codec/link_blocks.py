"""What stands in the optional blocks at the end of a link of version 1? Frozen; LINK.md tells it in words.

Each block is a number, a length in bits and its content: the groove's note, roles, feel, graces, hands, strokes off
the columns, keys, names and notes of variations.
"""

from __future__ import annotations

from ..model.beat import MAX_STROKES, Stroke
from ..model.feel import MAX_PUSH, MAX_SHARE, SWUNG, Feel
from ..model.groove import MAX_NAME, MAX_NOTE, Groove
from ..model.kit import BY_NAME, GRACES, HANDS
from ..model.roles import ROLES
from .bits import BitReader, BitWriter
from .link_base import Line, read_details, read_marks, write_details, write_marks
from .link_values import Newer, pick, read_surface, read_target, write_target

NOTE, ROLE, FEEL, GRACE, HAND, DETAIL, KEYS, NAMES, NOTES = range(1, 10)  # blocks; append only


def write_blocks(bits: BitWriter, groove: Groove, lines: tuple[Line, ...], off: tuple[Stroke, ...]) -> None:
    blocks: list[tuple[int, BitWriter]] = []

    def block(number: int) -> BitWriter:
        blocks.append((number, BitWriter()))
        return blocks[-1][1]

    if groove.note:
        block(NOTE).text(groove.note)
    if groove.roles:
        out = block(ROLE)
        out.number(len(groove.roles), 2)
        for role, surface in groove.roles:
            out.number(ROLES.index(role), 2)
            write_target(out, surface)
    if groove.feel != Feel():
        _write_feel(block(FEEL), groove.feel)
    for number, table, k, field in ((GRACE, GRACES, 3, "grace"), (HAND, HANDS, 2, "hand")):
        marks = BitWriter()
        if write_marks(marks, lines, table, k, field):
            blocks.append((number, marks))
    if off:
        write_details(block(DETAIL), off)
    keys = [variation.key for variation in groove.variations]
    if keys != list(range(1, len(keys) + 1)) or groove.next_key != len(keys) + 1:
        out = block(KEYS)
        for key in keys:
            out.number(key, 4)
        out.number(groove.next_key, 4)
    for number, field in ((NAMES, "name"), (NOTES, "note")):
        texts = [(i, getattr(v, field)) for i, v in enumerate(groove.variations) if getattr(v, field)]
        if texts:
            out = block(number)
            out.number(len(texts), 3)
            for index, text in texts:
                out.number(index, 3)
                out.text(text)
    bits.number(len(blocks), 2)
    for number, out in blocks:
        bits.number(number, 3)
        bits.number(len(out), 6)
        bits.append(out)


def _write_feel(bits: BitWriter, feel: Feel) -> None:
    bits.flag(bool(feel.swung))
    if feel.swung:
        bits.number(SWUNG.index(feel.swung), 1)
        bits.number(feel.long, 2)
        bits.number(feel.short, 2)
    bits.number(len(feel.pushes), 2)
    for surface, ms in feel.pushes:
        bits.flag(surface == "all")
        if surface != "all":
            write_target(bits, surface)
        bits.flag(ms < 0)
        bits.number(abs(ms), 4)


def _read_feel(bits: BitReader) -> Feel:
    swung, long, short = "", 1, 1
    if bits.flag():
        swung = pick(SWUNG, bits.number(1))
        long, short = bits.number(2), bits.number(2)
        if not (1 <= long <= MAX_SHARE and 1 <= short <= MAX_SHARE):
            raise Newer
    pushes = []
    for _ in range(min(bits.number(2), len(BY_NAME) + 1)):
        surface = "all" if bits.flag() else read_surface(bits)
        early = bits.flag()
        ms = bits.number(4)
        if ms > MAX_PUSH:
            raise Newer
        pushes.append((surface, -ms if early else ms))
    return Feel(swung, long, short, tuple(pushes))


class Blocks:
    """What the optional blocks of a link hold."""

    def __init__(self) -> None:
        self.note = ""
        self.roles: tuple[tuple[str, str], ...] = ()
        self.feel = Feel()
        self.marks: dict[str, dict[tuple[int, int], str]] = {}
        self.details: list[Stroke] = []
        self.keys: list[int] = []
        self.next_key = 0
        self.names: dict[int, str] = {}
        self.notes: dict[int, str] = {}


def read_block(bits: BitReader, number: int, blocks: Blocks, lines: list[Line], count: int) -> None:
    if number == NOTE:
        blocks.note = bits.text(MAX_NOTE, "note")
    elif number == ROLE:
        rows = []
        for _ in range(bits.number(2)):
            role = pick(ROLES, bits.number(2))
            rows.append((role, read_target(bits)))
        blocks.roles = tuple(rows)
    elif number == FEEL:
        blocks.feel = _read_feel(bits)
    elif number == GRACE:
        blocks.marks["grace"] = read_marks(bits, lines, GRACES, 3)
    elif number == HAND:
        blocks.marks["hand"] = read_marks(bits, lines, HANDS, 2)
    elif number == DETAIL:
        blocks.details = read_details(bits, MAX_STROKES)
    elif number == KEYS:
        blocks.keys = [bits.number(4) for _ in range(count)]
        blocks.next_key = bits.number(4)
    elif number in (NAMES, NOTES):
        texts = blocks.names if number == NAMES else blocks.notes
        for _ in range(bits.number(3)):
            index = bits.number(3)
            texts[index] = bits.text(MAX_NAME if number == NAMES else MAX_NOTE, "name" if number == NAMES else "note")
    else:
        raise Newer
