"""How is a groove written as a groove file, in one canonical form?

Reading what was written gives the same groove. Defaults are left out; a bar that repeats the one before is "%".
"""

from __future__ import annotations

from collections.abc import Mapping
from json import dumps
from typing import Any, cast

from ..model.feel import Feel
from ..model.groove import Groove, Settings, Variation
from ..model.kit import BY_NAME
from ..model.place import COLUMNS, place_at, place_text
from ..variation.catalogue import kind
from ..variation.setting import NUMBER
from .letters import grace_letter, letter_of, write_letters
from .link_base import Line, lines_of


def write_groove(groove: Groove) -> str:
    """Write a groove as the text of a groove file."""
    beat = groove.base
    out = ["groundbeat = 1"]
    if groove.title:
        out.append(f"title = {quoted(groove.title)}")
    if groove.note:
        out.append(f"note = {quoted(groove.note)}")
    out.append(f"meter = {quoted(str(beat.meter))}")
    if not beat.meter.is_usual:
        out.append(f"grouping = {quoted('+'.join(str(size) for size in beat.meter.grouping))}")
    out += [f"columns = {quoted(beat.columns)}", f"tempo = {groove.tempo_text}"]
    lines, off = lines_of(beat, groove.lines)
    if not lines and beat.bars > 1:
        out.append(f"bars = {beat.bars}")
    keys = [variation.key for variation in groove.variations]
    every = keys + [v.key for branch in groove.branches for v in branch.variations]
    if groove.next_key != max([0, *every]) + 1:
        out.append(f"next-key = {groove.next_key}")
    out += ["", "[base]"]
    for line in lines:
        out += _line(line, beat.columns, beat.meter.bar, beat.bars)
    for stroke in off:
        row = {"at": place_text(place_at(stroke.at, beat.meter)), "surface": stroke.surface, "dynamic": stroke.dynamic}
        row |= {name: value for name, value in (("grace", stroke.grace), ("hand", stroke.hand)) if value}
        out += ["", "[[detail]]", *_rows(row)]
    if groove.roles:
        out += ["", "[roles]", *_rows({role.replace(" ", "-"): name for role, name in groove.roles})]
    if groove.feel != Feel():
        out += ["", "[feel]", *_feel(groove.feel)]
    for index, variation in enumerate(groove.variations):
        out += ["", "[[variation]]", *_variation(variation, index + 1)]
    first = max([0, *keys]) + 1
    for branch in groove.branches:
        out += ["", "[[branch]]"]
        out += [f"name = {quoted(branch.name)}"] if branch.name else []
        out += [f"after = {branch.after}"]
        for index, variation in enumerate(branch.variations):
            out += ["", "[[branch.variation]]", *_variation(variation, first + index)]
        first = max([first - 1, *(v.key for v in branch.variations)]) + 1
    return "\n".join(out) + "\n"


def quoted(text: str) -> str:
    """Write text as a TOML string.

    >>> quoted('a "b"')
    '"a \\\\"b\\\\""'
    """
    return dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")


def _line(line: Line, columns: str, bar: int, bars: int) -> list[str]:
    kit = BY_NAME[line.surface]
    name = line.surface.replace(" ", "-")
    ticks = COLUMNS[line.columns]

    def row(marks: Mapping[int, str]) -> str:
        return quoted(write_letters(dict(marks), bar // ticks, bars))

    at = {stroke.at // ticks: stroke for stroke in line.strokes}
    out = [f"{name}-columns = {quoted(line.columns)}"] if line.columns != columns else []
    out.append(f"{name} = {row({c: letter_of(kit, s.dynamic) for c, s in at.items()})}")
    if any(stroke.grace for stroke in line.strokes):
        out.append(f"{name}-graces = {row({c: grace_letter(s.grace) for c, s in at.items()})}")
    if any(stroke.hand for stroke in line.strokes):
        out.append(f"{name}-hands = {row({c: s.hand or '-' for c, s in at.items()})}")
    return out


def _rows(table: Mapping[str, str]) -> list[str]:
    return [f"{name} = {quoted(value)}" for name, value in table.items()]


def _feel(feel: Feel) -> list[str]:
    out = []
    if feel.swung:
        out.append(f"swing = {quoted(f'{feel.swung} {feel.long}:{feel.short}')}")
    if feel.pushes:
        rows = [
            f"{name.replace(' ', '-')} = {quoted(f'{abs(ms)} ms ' + ('early' if ms < 0 else 'late'))}"
            for name, ms in feel.pushes
        ]
        out.append(f"push = {{ {', '.join(rows)} }}")
    return out


def _variation(variation: Variation, usual: int) -> list[str]:
    out = [f"kind = {quoted(variation.kind)}"]
    if variation.key != usual:
        out.append(f"key = {variation.key}")
    if not variation.on:
        out.append("off = true")
    if variation.name:
        out.append(f"name = {quoted(variation.name)}")
    numbers = {row.name for row in kind(variation.kind).settings if row.type is NUMBER}
    out += [f"{name} = {value if name in numbers else _value(value)}" for name, value in variation.settings]
    if variation.note:
        out.append(f"note = {quoted(variation.note)}")
    return out


def _value(value: Any) -> str:
    if isinstance(value, str):
        return quoted(value)
    if isinstance(value, bool):
        return "true" if value else "false"
    if value and isinstance(value[0], tuple):
        return "{ " + ", ".join(f"{name} = {_value(inner)}" for name, inner in cast(Settings, value)) + " }"
    return "[" + ", ".join(_value(item) for item in value) + "]"
