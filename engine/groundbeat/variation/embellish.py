"""Embellish: add quiet notes, extra kicks or ornamented strokes at chosen free places.

Never on a taken place of its own instrument; `clear-of` names what must be silent there as well, `except` leaves
places out. Places are those of the columns.
"""

from __future__ import annotations

from typing import Any

from ..lineage.ledger import Ledger
from .kind import Kind, Scene, Word, places, surfaces_of, voice_of
from .selection import read_selection
from .setting import DYNAMIC, GRACE, PLACES, TARGET, TARGETS, Setting
from .words import dynamic_words, join, places_words, target_words

SETTINGS = (
    Setting("surface", 1, TARGET, "snare"),
    Setting("at", 2, PLACES, "e a"),
    Setting("except", 3, PLACES, ""),
    Setting("dynamic", 4, DYNAMIC, "ghost"),
    Setting("grace", 5, GRACE, ""),
    Setting("clear-of", 6, TARGETS, ()),
)


def apply(scene: Scene, settings: dict[str, Any], ledger: Ledger) -> None:
    """Add a stroke at every chosen place that is free."""
    surface = voice_of(settings["surface"], scene, ledger)
    if not surface or surface == "everything":
        if surface:
            ledger.say("the whole beat is no surface to add strokes on")
        return
    chosen_places = places(read_selection(settings["at"]), scene, ledger)
    left = set()
    if settings["except"]:
        left = set(places(read_selection(settings["except"]), scene, ledger, quiet=True))
    clear = {name for target in settings["clear-of"] for name in surfaces_of(target, scene)}
    busy = {stroke.at for stroke in scene.beat.strokes if stroke.surface in clear}
    free = [at for at in chosen_places if at not in left and at not in busy]
    for at in free:
        ledger.add(at, surface, settings["dynamic"], grace=settings["grace"])


def sentence(settings: dict[str, Any]) -> tuple[Word, ...]:
    """Say it: "Add ghost notes on the snare at every e and a, clear of the kick, except the a of 4."."""
    words = [
        Word("Add "),
        Word(dynamic_words(settings["dynamic"], settings["grace"]), "dynamic"),
        Word(" on "),
        Word(target_words(settings["surface"]), "surface"),
        Word(" at "),
        Word(places_words(settings["at"], "every place"), "at"),
    ]
    if settings["clear-of"]:
        words += [Word(", clear of "), Word(join([target_words(name) for name in settings["clear-of"]]), "clear-of")]
    if settings["except"]:
        words += [Word(", except "), Word(places_words(settings["except"], "every place"), "except")]
    return (*words, Word("."))


KIND = Kind("embellish", "Embellish", SETTINGS, apply, sentence, {"clear-of": ("kick",)})
