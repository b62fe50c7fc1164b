"""Displace: move some strokes, a line or the whole beat by a note value, later or earlier.

All selected strokes move at once, modulo the cycle; meetings are resolved afterwards by the ledger. What passes the
end of the loop is marked as crossing. Displacing back restores the beat when nothing merged.
"""

from __future__ import annotations

from typing import Any

from ..lineage.ledger import Ledger
from .kind import Kind, Word, chosen
from .notes import amount_words, read_amount
from .scene import EVERYTHING, Scene
from .selection import ALL
from .setting import AMOUNT, AT, PLACES, TARGET, Setting
from .words import STROKES, places_words, target_words

SETTINGS = (
    Setting("surface", 1, TARGET, EVERYTHING, label="what is meant"),
    Setting("at", 2, PLACES, ALL, label="the places", example=AT),
    Setting("by", 3, AMOUNT, label="how far, and which way", example="Such as 1/16 later, 3/8 earlier."),
)


def apply(scene: Scene, settings: dict[str, Any], ledger: Ledger) -> None:
    """Move the chosen strokes."""
    by = read_amount(settings["by"])
    for stroke in chosen(settings["surface"], settings["at"], scene, ledger):
        ledger.move(stroke, by)


def sentence(settings: dict[str, Any]) -> tuple[Word, ...]:
    """Say it: "Move the first backbeat of the backbeat voice a sixteenth later."."""
    return (
        Word("Move "),
        Word(places_words(settings["at"], STROKES), "at"),
        Word(" of "),
        Word(target_words(settings["surface"]), "surface"),
        Word(" "),
        Word(amount_words(read_amount(settings["by"])), "by"),
        Word("."),
    )


KIND = Kind(
    "displace",
    "Displace",
    SETTINGS,
    apply,
    sentence,
    {"surface": "backbeat voice", "at": "first backbeat", "by": "1/16 later"},
    family="Where it falls",
)
