"""How does a stage read as text, one line a surface, with the counts above it?

The columns are those of the beat, or the coarsest finer ones that hold every stroke; strokes that fit no columns are
told below. A line of marks stands under a surface that has graces. Rows of letters, such as those of the hands, may
stand under all of it.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from ..model.beat import Beat, Stroke
from ..model.count import spoken_at, syllable
from ..model.kit import BY_NAME
from ..model.place import COLUMNS
from .letters import grace_letter, letter_of


def tab(beat: Beat, below: Sequence[tuple[str, Mapping[int, str]]] = ()) -> str:
    """Write a beat as tablature; `below` are rows to stand under it: what each is called, and its letters by tick.

    >>> from ..model.beat import base_beat
    >>> from ..model.meter import Meter
    >>> print(tab(base_beat(Meter.of("2/4"), 1, "eighths", [Stroke(0, "kick"), Stroke(10080, "snare", "accent")])))
           1&2&
    snare |--O-|
    kick  |o---|
    """
    columns = columns_for(beat)
    ticks = COLUMNS[columns]
    per_bar = beat.meter.bar // ticks
    surfaces = sorted({stroke.surface for stroke in beat.strokes}, key=lambda name: BY_NAME[name].row)
    width = max([len(name) for name in (*surfaces, *(name for name, _ in below))] + [0])
    counts = [_first(syllable(c * ticks, beat.meter, columns)) for c in range(beat.bars * per_bar)]
    out = [(" " * (width + 2) + _barred(counts, per_bar, " ")).rstrip()]
    off: list[Stroke] = []
    for name in surfaces:
        row = ["-"] * (beat.bars * per_bar)
        graces = [" "] * len(row)
        for stroke in beat.strokes:
            if stroke.surface != name:
                continue
            if stroke.at % ticks:
                off.append(stroke)
                continue
            row[stroke.at // ticks] = letter_of(BY_NAME[name], stroke.dynamic)
            if stroke.grace:
                graces[stroke.at // ticks] = grace_letter(stroke.grace)
        out.append(f"{name:<{width}} |{_barred(row, per_bar, '|')}|")
        if any(grace != " " for grace in graces):
            out.append((" " * (width + 2) + _barred(graces, per_bar, " ")).rstrip())
    for name, letters in below:
        under = [letters.get(column * ticks, " ")[:1] for column in range(beat.bars * per_bar)]
        out.append(f"{name:<{width}}  {_barred(under, per_bar, ' ')}".rstrip())
    for stroke in off:
        where = spoken_at(stroke.at, beat.meter, beat.bars)
        out.append(f"off the columns: {stroke.surface}, {stroke.dynamic}, {where}")
    return "\n".join(out)


def columns_for(beat: Beat) -> str:
    """Choose the columns that hold all strokes: the beat's own, else the coarsest that do, else the beat's own."""
    places = {stroke.at for stroke in beat.strokes}
    for name in [beat.columns, *sorted(COLUMNS, key=lambda name: -COLUMNS[name])]:
        ticks = COLUMNS[name]
        if beat.meter.bar % ticks == 0 and beat.column % ticks == 0 and all(place % ticks == 0 for place in places):
            return name
    return beat.columns


def _first(word: str) -> str:
    return word[-1:] if word.isdigit() else (word[:1] or " ")


def _barred(row: list[str], per_bar: int, line: str) -> str:
    return line.join("".join(row[at : at + per_bar]) for at in range(0, len(row), per_bar))
