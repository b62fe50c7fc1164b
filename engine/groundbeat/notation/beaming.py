"""Which notes of a beat hang on one beam, and how many beams reach from one to the next?

Beams stay inside a beat (layout in `grids`): quarters, halves in 2/2, the groups over 8 and 16. Two beats of four
eighths in a half bar of 4/4 are *not* joined: then a change in one beat leaves the picture of its neighbour alone,
and two stages of a stack can be compared; our choice.

The first beam goes over rests between two notes, never beyond the first and the last note. The further beams do not
go over rests, and part where a reader looks for the next division: at the eighth where the beat has 32nds, at the
quarter in a beat of a half, at the edge of a tuplet. Two tuplets of a quarter each in a beat of a half hang on
beams of their own. A level that one note has alone is a hook, towards the note that the level above leads to, else
towards the rest of its own division.
"""

from __future__ import annotations

from typing import NamedTuple

from ..model.meter import QUARTER
from .grids import is_compound
from .score import BACKWARD, BEGIN, CONTINUE, END, FORWARD

_LEVELS = {8: 1, 16: 2, 32: 3, 64: 4}
_EIGHTH = QUARTER // 2


class Item(NamedTuple):
    """A note or rest of a beat as beams see it."""

    at: int  # ticks from the start of the beat
    written: int  # written ticks from the start of its part: a triplet's three units, a plain run as a whole
    part: int  # written length of that part
    value: int
    sounds: bool
    run: int  # number of the run that it belongs to
    run_ticks: int
    tuplet: int  # number over the bracket, 1 none


def beams(items: list[Item], beat: int) -> list[tuple[str, ...]]:
    """Give every item of a beat of `beat` ticks its beams, one word a level.

    >>> plain = [Item(at, at, 10080, value, True, 0, 10080, 1) for at, value in ((0, 8), (7560, 16))]
    >>> beams(plain, 10080)
    [('begin',), ('end', 'backward hook')]
    """
    found: list[tuple[str, ...]] = [()] * len(items)
    long = beat > QUARTER and not is_compound(beat)
    group: list[int] = []
    for number, item in enumerate(items):
        if group and (item.value < 8 or (long and _parts_all(items[group[-1]], item))):
            _beam(items, group, long, found)
            group = []
        if item.value >= 8 and item.sounds:
            group.append(number)
    _beam(items, group, long, found)
    return found


def _parts_all(before: Item, item: Item) -> bool:
    return before.run != item.run and max(before.run_ticks, item.run_ticks) >= QUARTER


def _beam(items: list[Item], group: list[int], long: bool, found: list[tuple[str, ...]]) -> None:
    if len(group) < 2:
        return
    step = _EIGHTH if any(items[number].value >= 32 for number in group) else QUARTER
    divided = long or step < QUARTER
    marks = [[CONTINUE] for _ in group]
    marks[0][0], marks[-1][0] = BEGIN, END
    divisions = [
        (item.run, item.at // step if divided and (item.tuplet == 1 or item.tuplet % 2 == 0) else 0)
        for item in (items[number] for number in group)
    ]
    depth = [_LEVELS[items[number].value] for number in group]
    for level in range(2, max(depth) + 1):
        start = 0
        while start < len(group):
            if depth[start] < level:
                start += 1
                continue
            end = start
            while (end + 1 < len(group) and depth[end + 1] >= level and group[end + 1] == group[end] + 1
                   and divisions[end + 1] == divisions[start]):  # fmt: skip
                end += 1
            if end == start:
                marks[start].append(_hook(marks[start][-1], items[group[start]], level))
            else:
                for index in range(start, end + 1):
                    marks[index].append(BEGIN if index == start else END if index == end else CONTINUE)
            start = end + 1
    for number, words in zip(group, marks, strict=True):
        found[number] = tuple(words)


def _hook(above: str, item: Item, level: int) -> str:
    if above in (BEGIN, FORWARD):
        return FORWARD
    if above in (END, BACKWARD):
        return BACKWARD
    half = QUARTER >> level
    first = item.written % (2 * half) < half and item.written + 2 * half <= item.part
    return FORWARD if first else BACKWARD
