"""Which way did a stroke take through all stages?

A thread joins one stroke's place before a stage with its place after it. A way is the row of a stroke's places from
its birth to the last stage or to where it was left out; a merged stroke goes on as the one that took it in.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from ..model.beat import Beat, Stroke
from .change import Change

KEPT, MOVED, ALTERED, ADDED, LEFT_OUT, MERGED = "kept", "moved", "altered", "added", "left out", "merged"


class Thread(NamedTuple):
    """One stroke across one stage: (ticks, surface) before and after, None where there is no before or after."""

    id: str
    start: tuple[int, str] | None
    end: tuple[int, str] | None
    fate: str
    crosses: bool


class Step(NamedTuple):
    """One stage of a way: the stage's position, the stroke as it stands there, and what happened to it."""

    stage: int
    stroke: Stroke
    fate: str


def threads(before: Beat, after: Beat, change: Change) -> tuple[Thread, ...]:
    """Join the strokes of two neighbouring stages: one thread for every stroke that went in or came out."""
    now = {stroke.id: stroke for stroke in after.strokes}
    rows = {row.id: row for row in changed_threads(before, after, change)}
    kept: list[Thread] = []
    for stroke in before.strokes:
        row = rows.pop(stroke.id, None)
        if row is None:
            end = now[stroke.id]
            row = Thread(stroke.id, (stroke.at, stroke.surface), (end.at, end.surface), KEPT, False)
        kept.append(row)
    return (*kept, *rows.values())


def changed_threads(before: Beat, after: Beat, change: Change) -> tuple[Thread, ...]:
    """Join those strokes only that a stage did not simply keep: first those that went in, then those it added."""
    moved = {move.id for move in change.moved}
    absorbed, left_out, altered = change.absorbed(), set(change.left_out), set(change.altered)
    crossed, added = set(change.crossed), set(change.added)
    touched = moved.union(absorbed, left_out, altered)
    if not touched and not added:
        return ()
    now = {stroke.id: stroke for stroke in after.strokes}
    rows: list[Thread] = []
    for stroke in before.strokes:
        name = stroke.id
        if name not in touched:
            continue
        start = (stroke.at, stroke.surface)
        if name in left_out:
            rows.append(Thread(name, start, None, LEFT_OUT, False))
            continue
        end = now[absorbed.get(name, name)]
        fate = MERGED if name in absorbed else MOVED if name in moved else ALTERED
        rows.append(Thread(name, start, (end.at, end.surface), fate, name in crossed))
    for name in change.added:
        stroke = now[name]
        rows.append(Thread(name, None, (stroke.at, stroke.surface), ADDED, False))
    return tuple(rows)


def way(stages: Sequence[tuple[Beat, Change]], name: str) -> tuple[Step, ...]:
    """Follow one stroke by its id from its birth on; () for an id that no stage brings.

    `stages` are beat and change of every stage, the base beat first.
    """
    steps: list[Step] = []
    for number, (beat, change) in enumerate(stages):
        if name in change.left_out:
            break
        taken = change.absorbed().get(name)
        if taken:
            name = taken
        stroke = next((stroke for stroke in beat.strokes if stroke.id == name), None)
        if stroke is None:
            continue
        if taken:
            fate = MERGED
        elif name in change.added:
            fate = ADDED
        elif any(move.id == name for move in change.moved):
            fate = MOVED
        else:
            fate = ALTERED if name in change.altered else KEPT
        steps.append(Step(number, stroke, fate))
    return tuple(steps)
