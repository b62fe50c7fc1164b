"""What is the grammar of a link of version 1? Frozen for ever; LINK.md tells it in words.

    meter, columns, bars, tempo, title, lines of the base beat, variations, blocks

Each variation is kind, on, length in bits, settings; a reader that does not know the kind, a setting or a word knows
where the next one begins. Blocks at the end are number, length in bits, content; all are optional.
"""

from __future__ import annotations

from dataclasses import replace

from ..errors import LinkError
from ..model.beat import MAX_BARS, base_beat
from ..model.groove import (
    MAX_TEMPO,
    MAX_TITLE,
    MAX_VARIATIONS,
    MIN_TEMPO,
    Groove,
    Variation,
)  # fmt: skip
from ..model.meter import COUNTS, Meter
from ..model.place import COLUMNS
from ..variation.catalogue import kind, name_of, number_of
from ..variation.setting import settle
from .bits import BitReader, BitWriter
from .link_base import (
    Line,
    lines_of,
    read_lines,
    write_lines,
)  # fmt: skip
from .link_blocks import Blocks, read_block, write_blocks
from .link_values import Newer, pick, read_settings, write_settings

UNITS = (2, 4, 8, 16)
# Columns of the beat, the usual ones first. Append only. (Lines count theirs by COLUMN_NAMES.)
COLUMN_CODES = ("sixteenths", "thirty-seconds", "eighth triplets", "sixteenth triplets", "eighths")


def write(groove: Groove) -> BitWriter:
    """Write a groove as bits; the writer's `parts` tell what each part took."""
    bits = BitWriter()
    _part(bits, "meter, columns, bars, tempo", lambda out: _write_head(out, groove))
    _part(bits, "title", lambda out: out.text(groove.title))
    lines, off = lines_of(groove.base, groove.lines)
    _part(bits, "base beat", lambda out: write_lines(out, groove.base, lines))
    start = len(bits)
    bits.number(len(groove.variations), 3)
    bits.mark("variations", start)
    for variation in groove.variations:
        start = len(bits)
        _write_variation(bits, variation)
        bits.mark("variations", start)
        bits.parts[f"variation {variation.key}, {variation.kind}"] = len(bits) - start
    _part(bits, "blocks", lambda out: write_blocks(out, groove, lines, off))
    return bits


def _part(bits: BitWriter, name: str, write_part: object) -> None:
    start = len(bits)
    write_part(bits)  # type: ignore[operator]
    bits.mark(name, start)


def _write_head(bits: BitWriter, groove: Groove) -> None:
    meter = groove.base.meter
    plain = str(meter) == "4/4" and meter.is_usual
    bits.flag(not plain)
    if not plain:
        bits.number(meter.count, 4)
        bits.fixed(UNITS.index(meter.unit), 2)
        bits.flag(not meter.is_usual)
        if not meter.is_usual:
            bits.number(len(meter.grouping), 3)
            for size in meter.grouping:
                bits.number(size, 3)
    bits.number(COLUMN_CODES.index(groove.base.columns), 2)
    bits.number(groove.base.bars - 1, 2)
    whole = groove.tempo % 100 == 0
    bits.flag(not whole)
    bits.number(groove.tempo // 100 if whole else groove.tempo, 7)


def _read_head(bits: BitReader) -> tuple[Meter, str, int, int]:
    meter = Meter.of("4/4")
    if bits.flag():
        count, unit = bits.number(4), UNITS[bits.fixed(2)]
        low, high = COUNTS[unit]
        if not low <= count <= high:
            raise Newer
        meter = Meter.of(f"{count}/{unit}")
        if bits.flag():
            groups = [bits.number(3) for _ in range(min(bits.number(3), 16))]
            meter = Meter.of(f"{count}/{unit}", "+".join(str(size) for size in groups))
    columns = pick(COLUMN_CODES, bits.number(2))
    bars = bits.number(2) + 1
    if bars > MAX_BARS or meter.bar % COLUMNS[columns]:
        raise Newer
    hundredths = bits.flag()
    tempo = bits.number(7) * (1 if hundredths else 100)
    if not MIN_TEMPO <= tempo <= MAX_TEMPO:
        raise LinkError(f"the tempo in the link is {tempo / 100:g}; it may be 20 to 400", code="link.damaged")
    return meter, columns, bars, tempo


def _write_variation(bits: BitWriter, variation: Variation) -> None:
    body = BitWriter()
    write_settings(body, kind(variation.kind).settings, variation.settings)
    bits.number(number_of(variation.kind), 4)
    bits.flag(variation.on)
    bits.number(len(body), 6)
    bits.append(body)


def _read_variation(bits: BitReader, key: int) -> Variation | None:
    """Read one variation; None where it needs a newer Groundbeat. Ends behind it either way."""
    number = bits.number(4)
    on = bits.flag()
    length = bits.number(6)
    end = bits.at + length
    name = name_of(number)
    found: Variation | None = None
    if name is not None:
        try:
            settings = read_settings(bits, kind(name).settings)
            if bits.at != end:
                raise LinkError("the link is damaged; ask for it again", code="link.damaged")
            found = Variation(key, name, settle(kind(name).settings, dict(settings), name), on)
        except Newer:
            found = None
    if found is None and bits.at > end:
        raise LinkError("the link is damaged; ask for it again", code="link.damaged")
    bits.skip_to(end)
    return found


def read(bits: BitReader) -> tuple[Groove, int | None]:
    """Read a groove, and the number of the first stage that needs a newer Groundbeat (0: something beside the stages).

    The groove then ends below that stage. LinkError where the base beat itself cannot be read.
    """
    try:
        meter, columns, bars, tempo = _read_head(bits)
        title = bits.text(MAX_TITLE, "title")
        lines = read_lines(bits, meter, bars, columns)
    except Newer:
        raise LinkError(
            "this link was made with a newer Groundbeat, and its base beat needs it; reload the page to get the newest",
            code="link.newer",
        ) from None
    count = bits.number(3)
    if count > MAX_VARIATIONS:
        raise LinkError(f"the link holds {count} variations; at most {MAX_VARIATIONS} are read", code="link.damaged")
    variations: list[Variation] = []
    newer: int | None = None
    for index in range(count):
        variation = _read_variation(bits, index + 1)
        if variation is None and newer is None:
            newer = index + 1
        if variation is not None and newer is None:
            variations.append(variation)
    blocks = Blocks()
    for _ in range(bits.number(2)):
        number, length = bits.number(3), bits.number(6)
        end = bits.at + length
        try:
            read_block(bits, number, blocks, lines, count)
        except Newer:
            newer = 0 if newer is None else newer
        if bits.at > end:
            raise LinkError("the link is damaged; ask for it again", code="link.damaged")
        bits.skip_to(end)
    return _assemble(meter, columns, bars, tempo, title, lines, variations, blocks, count), newer


def _assemble(
    meter: Meter, columns: str, bars: int, tempo: int, title: str, lines: list[Line], variations: list[Variation],
    blocks: Blocks, count: int,
) -> Groove:  # fmt: skip
    strokes = [
        replace(
            stroke,
            grace=blocks.marks.get("grace", {}).get((i, n), ""),
            hand=blocks.marks.get("hand", {}).get((i, n), ""),
        )
        for i, line in enumerate(lines)
        for n, stroke in enumerate(line.strokes)
    ]
    strokes += blocks.details
    keys = blocks.keys or list(range(1, count + 1))
    if len(set(keys)) != len(keys) or 0 in keys:
        raise LinkError("the link is damaged: two variations have one key", code="link.damaged")
    next_key = blocks.next_key or count + 1
    if keys and next_key <= max(keys):
        raise LinkError("the link is damaged: the next key is taken", code="link.damaged")
    silent = tuple(line.surface for line in lines if not line.strokes)
    if len({line.surface for line in lines}) != len(lines):
        raise LinkError("the link is damaged: a surface has two lines", code="link.damaged")
    sounding = {stroke.surface for stroke in strokes}
    return Groove(
        title=title,
        note=blocks.note,
        base=base_beat(meter, bars, columns, strokes),
        lines=tuple(name for name in silent if name not in sounding),
        tempo=tempo,
        roles=blocks.roles,
        feel=blocks.feel,
        variations=tuple(
            replace(v, key=keys[i], name=blocks.names.get(i, ""), note=blocks.notes.get(i, ""))
            for i, v in enumerate(variations)
        ),
        next_key=next_key,
    )
