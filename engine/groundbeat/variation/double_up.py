"""Double up: the same strokes on a second surface as well.

Every chosen stroke is copied; it stays as it is. Of several at one place the loudest is copied, once. Never on a place
where the second instrument sounds already. A copy has no pinned hand: the hands sort themselves out. It keeps an
ornament that one hand can play there; a flam, a drag or a ruff would take a third hand.
"""

from __future__ import annotations

from typing import Any

from ..lineage.ledger import Ledger
from ..model.beat import Stroke
from ..model.kit import BY_NAME, DYNAMICS, GRACE_WORDS, HAND, INSTRUMENTS
from ..model.roles import BACKBEAT_VOICE
from .kind import Kind, Word, chosen
from .scene import Scene
from .selection import ALL
from .setting import CHOICE, PLACES, SURFACE, TARGET, Setting
from .words import STROKES, join, places_words, target_words

SAME = "as they are"
_AS = {"ghost": "ghosts", "soft": "soft strokes", "normal": "plain strokes", "accent": "accents"}
_ONE_HAND = ("buzz", "diddle")
_ORNAMENTS = GRACE_WORDS | {"choke": "choke"}

SETTINGS = (
    Setting("surface", 1, TARGET, BACKBEAT_VOICE, label="what is meant"),
    Setting("at", 2, PLACES, ALL, label="which strokes", example="Such as 2 4, e a, 2:3&, first backbeat, accents."),
    Setting("with", 3, SURFACE, label="the second surface"),
    Setting("dynamic", 4, CHOICE, SAME, words=(SAME, *DYNAMICS), label="how loud the second surface is",
            offer="louder or softer there"),
)  # fmt: skip


def apply(scene: Scene, settings: dict[str, Any], ledger: Ledger) -> None:
    """Copy the chosen strokes to the second surface where it is free."""
    name = settings["with"]
    instrument = INSTRUMENTS[name]
    strokes = chosen(settings["surface"], settings["at"], scene, ledger)
    others = [stroke for stroke in strokes if stroke.instrument != instrument]
    if strokes and not others:
        ledger.say(f"these strokes are on the {instrument} already, which sounds once at a place")
    taken = {stroke.at for stroke in scene.beat.strokes if stroke.instrument == instrument}
    full = sum(stroke.at in taken for stroke in others)
    if full:
        ledger.say(f"{full} {'stroke' if full == 1 else 'strokes'} found the {instrument} taken")
    loudest: dict[int, Stroke] = {}
    for stroke in others:
        there = loudest.get(stroke.at)
        if stroke.at not in taken and (there is None or stroke.level > there.level):
            loudest[stroke.at] = stroke
    plain = []
    for at, stroke in loudest.items():
        grace = stroke.grace if _can(name, stroke.grace) else ""
        if grace != stroke.grace:
            plain.append(stroke.grace)
        dynamic = stroke.dynamic if settings["dynamic"] == SAME else settings["dynamic"]
        ledger.add(at, name, dynamic, grace=grace, of=stroke.id)
    if plain:
        words = [_ORNAMENTS[grace] for grace in dict.fromkeys(plain)]
        ledger.say(f"the {name} plays single strokes there, without the {join(words, 'or')}")


def _can(surface: str, grace: str) -> bool:
    """Tell whether a copy on this surface can have this grace."""
    row = BY_NAME[surface]
    if grace == "choke":
        return row.limb == HAND and (row.family == "cymbal" or row.choke != "")
    return not grace or (row.limb == HAND and grace in _ONE_HAND)


def sentence(settings: dict[str, Any]) -> tuple[Word, ...]:
    """Say it: "Double every stroke of the backbeat voice on the floor tom, as soft strokes."."""
    words = [
        Word("Double "),
        Word(places_words(settings["at"], STROKES), "at"),
        Word(" of "),
        Word(target_words(settings["surface"]), "surface"),
        Word(" on "),
        Word(target_words(settings["with"]), "with"),
    ]
    if settings["dynamic"] != SAME:
        words += [Word(", as "), Word(_AS[settings["dynamic"]], "dynamic")]
    return (*words, Word("."))


KIND = Kind(
    "double-up",
    "Double up",
    SETTINGS,
    apply,
    sentence,
    {"at": "backbeats", "with": "floor tom"},
    family="On which surface",
)
