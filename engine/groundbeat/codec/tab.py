"""How does a stage read as text, one line a surface, with the counts above it?

The columns are those of the beat, or the coarsest finer ones that hold every stroke; strokes that fit no columns are
told below. A row of graces stands under a surface that has some, a row of hands under one with pinned hands. Rows of
letters, such as those of all hands, may stand under all of it. Long beats go on in systems below each other. What
`tab_read` makes of the text is the same beat.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from ..model.beat import Beat
from ..model.count import spoken_at, syllable
from ..model.kit import BY_NAME, GRACE_WORDS
from ..model.place import COLUMNS
from .letters import GRACE_LETTERS, grace_letter, letter_of

WIDEST = 72  # columns of a system with its bar lines: with names beside them a page of fixed letters. Our choice
_TOLD = {"normal": "stroke", "accent": "accent", "ghost": "ghost", "soft": "soft"}


def tab(beat: Beat, below: Sequence[tuple[str, Mapping[int, str]]] = ()) -> str:
    """Write a beat as tablature; `below` are rows to stand under it: what each is called, and its letters by tick.

    >>> from ..model.beat import Stroke, base_beat
    >>> from ..model.meter import Meter
    >>> print(tab(base_beat(Meter.of("2/4"), 1, "eighths", [Stroke(0, "kick"), Stroke(10080, "snare", "accent")])))
           1&2&
    snare |--O-|
    kick  |o---|
    """
    columns = columns_for(beat)
    ticks = COLUMNS[columns]
    rows = _rows(beat, ticks, below)
    width = max(len(name) for name, _, _ in rows)
    per_bar = beat.meter.bar // ticks
    counts = [_first(syllable(column * ticks, beat.meter, columns)) for column in range(per_bar)]
    each = next((many for many in (8, 4, 2) if many * (per_bar + 1) <= WIDEST), 1)
    systems = []
    for first in range(0, beat.bars, each):
        bars = range(first, min(first + each, beat.bars))
        out = [(" " * (width + 2) + " ".join("".join(counts) for _ in bars)).rstrip()]
        for name, line, letters in rows:
            parts = ["".join(letters[bar * per_bar : (bar + 1) * per_bar]) for bar in bars]
            if line:
                out.append(f"{name:<{width}} |{'|'.join(parts)}|")
            elif "".join(parts).strip() or name not in ("", "graces", "hands"):
                out.append(f"{name:<{width}}  {' '.join(parts)}".rstrip())
        systems.append("\n".join(out))
    off = [stroke for stroke in beat.strokes if stroke.at % ticks]
    for stroke in sorted(off, key=lambda stroke: BY_NAME[stroke.surface].row):
        where = spoken_at(stroke.at, beat.meter, beat.bars)
        systems[-1] += f"\noff the columns: {stroke.surface}, {stroke.dynamic}, {where}"
    return ("\n\n" if beat.bars > each else "\n").join(systems)


def _rows(beat: Beat, ticks: int, below: Sequence[tuple[str, Mapping[int, str]]]) -> list[tuple[str, bool, list[str]]]:
    """All rows from the top: what each is called, whether it is a line with bars, and its letters by column."""
    total = beat.cycle // ticks
    rows: list[tuple[str, bool, list[str]]] = []
    for name in sorted({stroke.surface for stroke in beat.strokes}, key=lambda name: BY_NAME[name].row):
        letters, graces, hands = ["-"] * total, [" "] * total, [" "] * total
        for stroke in beat.strokes:
            if stroke.surface == name and stroke.at % ticks == 0:
                column = stroke.at // ticks
                letters[column] = letter_of(BY_NAME[name], stroke.dynamic)
                graces[column] = grace_letter(stroke.grace) if stroke.grace else " "
                hands[column] = stroke.hand or " "
        rows.append((name, True, letters))
        if any(grace != " " for grace in graces):
            rows.append(("graces", False, graces))
        if not below and any(hand != " " for hand in hands):
            rows.append(("hands", False, hands))
    for name, marks in below:
        rows.append((name, False, [marks.get(column * ticks, " ")[:1] for column in range(total)]))
    return rows or [("", False, [" "] * total)]


def key(beats: Sequence[Beat]) -> str:
    """Say what the letters in the tablature of some beats mean, those that stand there.

    >>> from ..model.beat import Stroke
    >>> from ..model.meter import Meter
    >>> key([Beat(Meter.of("4/4"), strokes=(Stroke(0, "snare", "ghost", "flam"), Stroke(2520, "hi-hat")))])
    'x stroke, g ghost; graces: 1 flam'
    """
    strokes = [stroke for beat in beats for stroke in beat.strokes]
    meant: dict[str, set[str]] = {}
    for stroke in strokes:
        meant.setdefault(stroke.dynamic, set()).add(letter_of(BY_NAME[stroke.surface], stroke.dynamic))
    said = [f"{' '.join(sorted(meant[word]))} {told}" for word, told in _TOLD.items() if word in meant]
    found = {stroke.grace for stroke in strokes}
    graces = [f"{letter} {GRACE_WORDS[name]}" for letter, name in GRACE_LETTERS.items() if name in found]
    return ", ".join(said) + (f"; graces: {', '.join(graces)}" if graces else "")


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
