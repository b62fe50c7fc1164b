"""Orchestrate: play the same rhythm on another surface, or on several in turn; some of it perhaps elsewhere.

Only the surface changes. The turn begins anew with the loop; it counts all chosen strokes, those as well that `then`
and `also` play elsewhere. `also` has the last word over `then`. On a place that its new instrument already takes, the
strokes merge.
"""

from __future__ import annotations

from math import gcd
from typing import Any

from ..lineage.ledger import Ledger
from ..model.beat import Beat, Stroke
from .kind import Kind, Word, chosen
from .picking import pick_strokes
from .scene import EVERYTHING, Scene
from .selection import ALL, read_selection
from .setting import CHOICE, GROUP, PLACES, ROW, SURFACE, TARGET, Setting
from .words import STROKES, join, places_words, target_words

EACH, EACH_BEAT, EACH_BAR = "every stroke", "every beat", "every bar"
QUIET = "ghosts soft"
_AT = "Such as 2 4, e a, 2:3&, first backbeat, accents, kick."
_WHICH, _WHERE = "which of them", "where those are played"
THEN = (
    Setting("at", 1, PLACES, "beats", label=_WHICH, example="Such as beats, accents, 2 4, first 1."),
    Setting("to", 2, SURFACE, label=_WHERE),
)
ALSO = (
    Setting("at", 1, PLACES, QUIET, label=_WHICH, example="Such as ghosts, ghosts soft, e a."),
    Setting("to", 2, SURFACE, label=_WHERE),
)
SETTINGS = (
    Setting("surface", 1, TARGET, EVERYTHING, label="what is meant"),
    Setting("at", 2, PLACES, ALL, label="which strokes", example=_AT),
    Setting("to", 3, SURFACE, label="where it is played"),
    Setting("then", 4, GROUP, (), inner=THEN, label="some of it elsewhere", offer="some of it elsewhere"),
    Setting("turn", 5, ROW, (), label="the surfaces that follow in turn", offer="go on to other surfaces in turn",
            example="Such as mid tom, floor tom."),
    Setting("change", 6, CHOICE, EACH, needs="turn", words=(EACH, EACH_BEAT, EACH_BAR),
            label="when it goes on to the next surface",
            offer="go on with every beat or bar"),
    Setting("also", 7, GROUP, (), inner=ALSO, label="more of it elsewhere", offer="the quiet strokes elsewhere"),
)  # fmt: skip


def apply(scene: Scene, settings: dict[str, Any], ledger: Ledger) -> None:
    """Give the chosen strokes their new surfaces."""
    strokes = chosen(settings["surface"], settings["at"], scene, ledger)
    row = (settings["to"], *settings["turn"])
    steps = _steps(strokes, settings["change"], scene.beat)
    for stroke, step in zip(strokes, steps, strict=True):
        ledger.alter(stroke, surface=row[step % len(row)])
    if strokes:
        _tell(len(row), settings["change"], len(strokes), scene.beat, ledger)
        for name, every in (("then", "beats"), ("also", QUIET)):
            _elsewhere(dict(settings[name]), every, strokes, scene, ledger)


def _steps(strokes: tuple[Stroke, ...], change: str, beat: Beat) -> list[int]:
    """How often the turn has gone on when each stroke comes."""
    if change == EACH:
        return list(range(len(strokes)))
    if change == EACH_BAR:
        return [beat.bar_of(stroke.at) - 1 for stroke in strokes]
    meter = beat.meter
    begins = [(number - 1) * meter.number for number in meter.beats]
    return [
        (beat.bar_of(stroke.at) - 1) * len(begins) + sum(start <= stroke.at % meter.bar for start in begins) - 1
        for stroke in strokes
    ]


def _tell(surfaces: int, change: str, strokes: int, beat: Beat, ledger: Ledger) -> None:
    """Say where the turn stays on one surface, does not get to the last or is cut."""
    if surfaces == 1:
        if change != EACH:
            ledger.say("there is no second surface to go on to")
        return
    steps = {EACH: strokes, EACH_BEAT: beat.bars * len(beat.meter.beats), EACH_BAR: beat.bars}[change]
    if steps == 1:
        ledger.say("it never comes to the second surface")
    elif steps < surfaces:
        ledger.say(f"only the first {steps} of the {surfaces} surfaces are reached")
    elif steps % surfaces:
        ledger.say(f"the turn is cut at the loop; comes round after {surfaces // gcd(steps, surfaces)} times through")


def _elsewhere(group: dict[str, Any], every: str, strokes: tuple[Stroke, ...], scene: Scene, ledger: Ledger) -> None:
    """Give some of the chosen strokes a surface of their own."""
    if not group:
        return
    remarks: list[str] = []
    some = pick_strokes(read_selection(group.get("at", every)), scene, strokes, remarks.append)
    for remark in remarks:
        if not (some and every == QUIET and "at" not in group):  # ghosts or soft strokes: either will do
            ledger.say(remark)
    if not some:
        ledger.say(f"found nothing to play on the {group['to']}")
    for stroke in some:
        ledger.alter(stroke, surface=group["to"])


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
    if settings["turn"]:
        names = [target_words(name) for name in settings["turn"]]
        words += [Word(" and " if len(names) == 1 else ", "), Word(join(names), "turn"), Word(" in turn")]
    if settings["change"] != EACH:
        words += [Word(", going on with "), Word(settings["change"], "change")]
    for name, every, lead in (("then", "beats", ", "), ("also", QUIET, ", but ")):
        group = dict(settings[name])
        if group:
            said = places_words(group.get("at", every), STROKES)
            words += [Word(lead), Word(f"{said} on {target_words(group['to'])}", name)]
    return (*words, Word("."))


KIND = Kind(
    "orchestrate",
    "Orchestrate",
    SETTINGS,
    apply,
    sentence,
    {"surface": "riding", "to": "ride"},
    family="On which surface",
)
