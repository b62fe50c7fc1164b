"""How is one beat of one voice written, apart from what is struck?

The same few rhythms come again and again, in every bar and every stage, so a beat's signs are worked out once for its
length and its places and kept.
"""

from __future__ import annotations

from functools import lru_cache
from typing import NamedTuple

from .beaming import Item, beams
from .grids import PLAIN, pieces_of, runs
from .values import VALUES


class Sign(NamedTuple):
    """A note or rest: a chord of the score without its strokes."""

    at: int  # ticks from the start of the beat
    ticks: int
    value: int
    dots: int
    place: int  # where in the beat the strokes lie that it writes; -1 for a rest
    beams: tuple[str, ...]
    tuplet: tuple[int, int]
    edge: str


@lru_cache(maxsize=4096)
def signs(ticks: int, places: tuple[int, ...], even: bool = False) -> tuple[Sign, ...]:
    """Write a beat of `ticks` with strokes at `places`, ascending and such that `grids.runs` reaches them.

    >>> [(sign.value, sign.dots, sign.place >= 0) for sign in signs(10080, (2520, 5040))]
    [(16, 0, False), (16, 0, True), (8, 0, True)]
    """
    found: list[Sign] = []
    items: list[Item] = []
    for number, run in enumerate(runs(ticks, places, even) or ()):
        inside = tuple(place - run.at for place in places if run.at <= place < run.at + run.ticks)
        actual, normal = run.tuplet
        pieces, part = pieces_of(run, inside)
        for piece in pieces:
            value, dots = VALUES[piece.ticks]
            at = run.at + piece.at * normal // actual
            edge = ""
            if run.tuplet != PLAIN:
                edge = "start" if piece is pieces[0] else "stop" if piece is pieces[-1] else ""
            place = run.at + inside[piece.struck] if piece.struck >= 0 else -1
            found.append(Sign(at, piece.ticks * normal // actual, value, dots, place, (), run.tuplet, edge))
            items.append(Item(at, piece.at % part, part, value, place >= 0, number, run.ticks, actual))
    return tuple(sign._replace(beams=words) for sign, words in zip(found, beams(items, ticks), strict=True))
