"""Orchestrate: play the same rhythm on another surface; some of it perhaps on a third.

Only the surface changes. On a place that its new instrument already takes, the strokes merge.
"""

from __future__ import annotations

from typing import Any

from ..lineage.ledger import Ledger
from .kind import Kind, Scene, Word, chosen
from .selection import ALL, pick_strokes, read_selection
from .setting import EVERYTHING, GROUP, PLACES, SURFACE, TARGET, Setting
from .words import STROKES, places_words, target_words

THEN = (Setting("at", 1, PLACES, "beats"), Setting("to", 2, SURFACE))
SETTINGS = (
    Setting("surface", 1, TARGET, EVERYTHING),
    Setting("at", 2, PLACES, ALL),
    Setting("to", 3, SURFACE),
    Setting("then", 4, GROUP, (), inner=THEN),
)


def apply(scene: Scene, settings: dict[str, Any], ledger: Ledger) -> None:
    """Give the chosen strokes their new surface."""
    strokes = chosen(settings["surface"], settings["at"], scene, ledger)
    for stroke in strokes:
        ledger.alter(stroke, surface=settings["to"])
    then = dict(settings["then"])
    if then and strokes:
        selection = read_selection(then.get("at", "beats"))
        some = pick_strokes(selection, scene.beat, scene.backbeats, strokes, ledger.say)
        if not some:
            ledger.say(f"found nothing to play on the {then['to']}")
        for stroke in some:
            ledger.alter(stroke, surface=then["to"])


def sentence(settings: dict[str, Any]) -> tuple[Word, ...]:
    """Say it: "Play every stroke of the riding hand on the ride, the beats on the ride bell."."""
    words = [
        Word("Play "),
        Word(places_words(settings["at"], STROKES), "at"),
        Word(" of "),
        Word(target_words(settings["surface"]), "surface"),
        Word(" on "),
        Word(target_words(settings["to"]), "to"),
    ]
    then = dict(settings["then"])
    if then:
        said = places_words(then.get("at", "beats"), STROKES)
        words += [Word(", "), Word(f"{said} on {target_words(then['to'])}", "then")]
    return (*words, Word("."))


KIND = Kind("orchestrate", "Orchestrate", SETTINGS, apply, sentence, {"surface": "riding", "to": "ride"})
