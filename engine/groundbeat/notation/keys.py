"""Which signs on a sheet need a word, besides the notes of the legend? Only those that stand on it are told."""

from __future__ import annotations

from collections.abc import Iterable

from ..model.beat import Beat

_GRACES = {
    "flam": "a small note before a note: flam",
    "drag": "two small notes: drag",
    "ruff": "three small notes: four-stroke ruff",
    "buzz": "z on the stem: buzz",
    "diddle": "a stroke through the stem: played as two by one hand",
    "choke": "a mark of choke: grab the cymbal at once",
}


def keys(beats: Iterable[Beat], marked: bool, sticking: bool, counts: bool) -> str:
    """Tell the signs of these beats in one sentence each."""
    strokes = [stroke for beat in beats for stroke in beat.strokes]
    dynamics, graces = {stroke.dynamic for stroke in strokes}, {stroke.grace for stroke in strokes}
    surfaces = {stroke.surface for stroke in strokes}
    told = ["a triangle under a note: new, moved or changed in this stage"] if marked else []
    told += ["a note in parentheses: ghost, barely heard"] if "ghost" in dynamics else []
    told += ["> over a note: accent"] if "accent" in dynamics else []
    told += ["o over a hi-hat note: open"] if "open hi-hat" in surfaces else []
    told += [word for grace, word in _GRACES.items() if grace in graces]
    told += ["R and L below: which hand, B both"] if sticking else []
    told += ["below that the count, grey where nothing is struck"] if counts else []
    return " ".join(f"{text[:1].upper()}{text[1:]}." for text in told)
