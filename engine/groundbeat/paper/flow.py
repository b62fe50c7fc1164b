"""How do pieces become pages, so that what belongs together stays together?

A group is kept on one page. Only a group that is higher than a page is broken, between pieces, and never behind a piece
that belongs to the next one (a heading). Points; a page has `room` points for pieces.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any, NamedTuple

Ink = Callable[[Any, float, float], None]  # canvas, left, top


class Piece(NamedTuple):
    """Something of a height; `before` is white above it, but not at the top of a page."""

    height: float
    before: float
    ink: Ink
    glued: bool = False  # stays with the next


class Placed(NamedTuple):
    """A piece on a page, `top` points below the top of its room."""

    top: float
    piece: Piece


def height(pieces: Sequence[Piece]) -> float:
    """How high pieces are at the top of a page."""
    return sum(piece.before + piece.height for piece in pieces) - (pieces[0].before if pieces else 0)


def pages(groups: Sequence[Sequence[Piece]], room: float) -> list[list[Placed]]:
    """Put groups on pages, in order; no page is empty."""
    made: list[list[Placed]] = []
    page: list[Placed] = []
    used = 0.0

    def put(pieces: Sequence[Piece]) -> None:
        nonlocal used
        for piece in pieces:
            used += piece.before if page else 0
            page.append(Placed(used, piece))
            used += piece.height

    def turn() -> None:
        nonlocal page, used
        made.append(page)
        page, used = [], 0.0

    for group in groups:
        if not group:
            continue
        if page and used + group[0].before + height(group) > room:
            turn()
        for run in [group] if height(group) <= room else _runs(group):
            if page and used + run[0].before + height(run) > room:
                turn()
            put(run)
    return [*made, page] if page else made


def _runs(group: Sequence[Piece]) -> list[list[Piece]]:
    """Part a group into what cannot be broken: a piece with those before it that are glued to it."""
    runs: list[list[Piece]] = []
    run: list[Piece] = []
    for piece in group:
        run.append(piece)
        if not piece.glued:
            runs.append(run)
            run = []
    return [*runs, run] if run else runs
