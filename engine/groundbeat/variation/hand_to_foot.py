"""Hand to foot: a foot plays what a hand played.

Only strokes of a hand go; what a foot plays already stays. Place and dynamic stay, a pinned hand and ornaments do not:
a foot plays single strokes. With `alternate` two feet take the places in turn. Where a foot plays already, strokes
merge.
"""

from __future__ import annotations

from typing import Any

from ..lineage.ledger import Ledger
from ..model.beat import Beat, Stroke
from ..model.kit import FEET_ONLY, GRACE_WORDS
from ..model.roles import FEET, KICKS
from .kind import Kind, Word, chosen
from .scene import Scene
from .selection import ALL
from .setting import CHOICE, PLACES, TARGET, Setting
from .words import STROKES, join, places_words, target_words

NO = "no"
CHICK, SPLASH = FEET
_ORNAMENTS = GRACE_WORDS | {"choke": "choke"}
FOOT_SURFACES = (*KICKS, *FEET)  # append only: the order is the numbering in links
SETTINGS = (
    Setting("surface", 1, TARGET, "snare", label="what is meant"),
    Setting("at", 2, PLACES, ALL, label="which strokes", example="Such as e a, 2:3&, ghosts, upbeats free."),
    Setting("to", 3, CHOICE, "kick", words=FOOT_SURFACES, label="what the foot plays"),
    Setting("alternate", 4, CHOICE, NO, words=(NO, *FOOT_SURFACES), label="what takes turns with it",
            offer="two feet in turn"),
)  # fmt: skip


def apply(scene: Scene, settings: dict[str, Any], ledger: Ledger) -> None:
    """Give the chosen strokes of hands to the foot, or to two in turn."""
    strokes = chosen(settings["surface"], settings["at"], scene, ledger)
    hands = [stroke for stroke in strokes if stroke.surface not in FEET_ONLY]
    if strokes and not hands:
        ledger.say("a foot plays that already")
    first, second = settings["to"], settings["alternate"]
    if second == first and hands:
        ledger.say(f"the {first} has nothing to take turns with")
    feet = (first,) if second == NO else (first, second)
    turn = {at: feet[index % len(feet)] for index, at in enumerate(dict.fromkeys(stroke.at for stroke in hands))}
    for stroke in hands:
        ledger.alter(stroke, surface=turn[stroke.at], grace="")
    _tell_graces(hands, ledger)
    _tell_hihat(hands, set(turn.values()), scene.beat, ledger)


def _tell_graces(hands: list[Stroke], ledger: Ledger) -> None:
    """Say which ornaments had to go."""
    rows = dict.fromkeys(stroke.grace for stroke in hands if stroke.grace)
    if rows:
        words = [_ORNAMENTS[grace] for grace in rows]
        ledger.say(f"a foot plays single strokes, without the {join(words, 'or')}")


def _tell_hihat(hands: list[Stroke], feet: set[str], beat: Beat, ledger: Ledger) -> None:
    """Say what the foot on the hi-hat does to what the hands still play there."""
    gone = {stroke.id for stroke in hands}
    left = {stroke.surface for stroke in beat.strokes if stroke.instrument == "hi-hat" and stroke.id not in gone}
    closed = not left.isdisjoint(("hi-hat", "half-open hi-hat"))
    if CHICK in feet and closed:
        ledger.say("the foot opens the hi-hat before each of its strokes: closed strokes just before it ring")
    if CHICK in feet and "open hi-hat" in left:
        ledger.say("the foot closes the open hi-hat")
    if SPLASH in feet and closed:
        ledger.say("a foot splash leaves the hi-hat open: the foot closes it again before the next closed stroke")


def sentence(settings: dict[str, Any]) -> tuple[Word, ...]:
    """Say it: "Give every e and a of the snare to the kick and the second kick in turn."."""
    words = [
        Word("Give "),
        Word(places_words(settings["at"], STROKES), "at"),
        Word(" of "),
        Word(target_words(settings["surface"]), "surface"),
        Word(" to "),
        Word(target_words(settings["to"]), "to"),
    ]
    if settings["alternate"] != NO:
        words += [Word(" and "), Word(target_words(settings["alternate"]), "alternate"), Word(" in turn")]
    return (*words, Word("."))


KIND = Kind(
    "hand-to-foot",
    "Hand to foot",
    SETTINGS,
    apply,
    sentence,
    {"surface": "riding", "at": "upbeats", "to": CHICK},
    family="On which surface",
)
