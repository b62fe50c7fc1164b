"""Which steps of a limb follow each other, and which of them are the same figure again?

A row is one step or several, each beginning where the one before ended: three strokes of a hand are a row of two steps.
It may run over the end of the loop. A step inside a diddle is a row by itself. A kick that is the n-th of a run brings
all of the run with it.
"""

from __future__ import annotations

from collections.abc import Iterable

from ..model.beat import Stroke
from .limbs import INSIDE, RUN, Step

Row = tuple[Step, ...]


def rows(steps: Iterable[Step]) -> list[Row]:
    """Join steps that follow each other in one limb, in the order of their limbs and places."""
    found: list[Row] = []
    limbs: dict[int, dict[str, Step]] = {}
    for step in steps:
        if step.about == INSIDE:
            found.append((step,))
        else:
            limbs.setdefault(step.limb, {})[step.before.id] = step
    for _, by_start in sorted(limbs.items()):
        ends = {step.after.id for step in by_start.values()}
        firsts = sorted((step for name, step in by_start.items() if name not in ends), key=_place)
        for first in firsts:
            found.append(_follow(first, by_start))
        while by_start:  # what is left goes all the way around
            found.append(_follow(min(by_start.values(), key=_place), by_start))
    return found


def _place(step: Step) -> tuple[int, str]:
    return step.before.at, step.before.id


def _follow(step: Step, by_start: dict[str, Step]) -> Row:
    row = [by_start.pop(step.before.id)]
    while row[-1].after.id in by_start:
        row.append(by_start.pop(row[-1].after.id))
    return tuple(row)


def strokes_of(row: Row) -> tuple[Stroke, ...]:
    """The strokes of a row in the order in which they are played; around the loop the first stands last again."""
    first = row[0]
    if first.about == INSIDE:
        return (first.before,)
    ends = tuple(step.after for step in row)
    if first.about == RUN and not is_around(row):
        return tuple({stroke.id: stroke for stroke in (*first.strokes, *ends)}.values())
    return first.before, *ends


def is_around(row: Row) -> bool:
    """Whether a row goes all the way around the loop."""
    return row[0].about != INSIDE and row[-1].after.id == row[0].before.id
