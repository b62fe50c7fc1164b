"""Which of these hits does a selection mean?

For kinds that lay a figure of their own over the beat: its hits are no strokes yet, and may lie off the columns. Words
for places mean the hits that lie there; words for strokes ("backbeats", "ghosts", "kick", "stage 2") mean the hits that
fall together with those strokes of the beat.
"""

from __future__ import annotations

from collections.abc import Collection

from ..model.beat import Stroke
from .picking import Say, pick_places, pick_strokes
from .scene import Scene
from .selection import BACKBEATS, LOUD, STAGE, Selection, Term

_OF_STROKES = (BACKBEATS, *LOUD, STAGE)


def pick_among(
    selection: Selection, hits: Collection[int], scene: Scene, say: Say, busy: Collection[int] = ()
) -> frozenset[int]:
    """Pick those of `hits` (ticks) that a selection means; `busy` are the ticks that are not free.

    `say` is told what the beat lacks; that no hit lies at a place is for the caller to say.
    """
    row = sorted(hits)
    picked: set[int] = set()
    for term in selection.terms:
        here = _meant(term._replace(order=""), row, scene, say)
        if here and term.order:
            here = [here[0] if term.order == "first" else here[-1]]
        picked.update(here)
    if selection.free:
        picked.difference_update(busy)
    return frozenset(picked)


def _meant(term: Term, row: list[int], scene: Scene, say: Say) -> list[int]:
    selection = Selection((term,), False)
    if term.word in _OF_STROKES:
        there = set(pick_places(selection, scene, say))
        return [tick for tick in row if tick in there]
    return [hit.at for hit in pick_strokes(selection, scene, [_hit(tick) for tick in row], say)]


def _hit(tick: int) -> Stroke:
    return Stroke(tick, "", id=f"hit at {tick}")  # only its place is looked at
