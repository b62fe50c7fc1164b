"""Grouping: strokes read in threes, fives, sevens or 3+3+2, across the bar line until they come round.

The groups are counted in one note value from the first place of the cycle (with `restart = "bar"` anew in each bar).
The grouping is to be heard: with "accent" the first of each group is accented and every other accent of the line
becomes a normal stroke; with "alone" only the firsts sound; with "elsewhere" they go to another surface. A first that
is missing is added. As in an ostinato the whole instrument is meant: all positions of the hi-hat, the ride with its
bell.
"""

from __future__ import annotations

from itertools import accumulate, cycle
from typing import Any

from ..lineage.ledger import Ledger
from ..model.beat import Beat, Stroke
from ..model.kit import INSTRUMENTS
from ..model.roles import RIDING
from .frames import say_round
from .kind import Kind, Word, voice_of
from .notes import read_cell
from .patterns import read_grouping
from .scene import EVERYTHING, Scene, surfaces_of
from .setting import CHOICE, GROUPING, NOTE, SURFACE, TARGET, Setting
from .words import grouping_words, note_words, target_words

ACCENT, ALONE, ELSEWHERE = "accent", "alone", "elsewhere"
TO = "ride bell"

SETTINGS = (
    Setting("surface", 1, TARGET, RIDING, label="what is grouped"),
    Setting("groups", 2, GROUPING, "3", label="how many in a group", example="Such as 3, 5 or 3+3+2."),
    Setting("step", 3, NOTE, "sixteenth", label="what is counted", example="Such as sixteenth or eighth triplet."),
    Setting("mark", 4, CHOICE, ACCENT, words=(ACCENT, ALONE, ELSEWHERE), label="how the first of a group is heard"),
    Setting("to", 5, SURFACE, TO, needs="mark", label="where the first of a group is played"),
    Setting("restart", 6, CHOICE, "never", words=("never", "bar"), label="where it begins anew",
            offer="begin anew in every bar"),
)  # fmt: skip


def apply(scene: Scene, settings: dict[str, Any], ledger: Ledger) -> None:
    """Mark the first of each group."""
    target, mark = settings["surface"], settings["mark"]
    voice = voice_of(target, scene, ledger)
    if not voice:
        return
    beat = scene.beat
    strokes = beat.strokes if voice == EVERYTHING else _line({voice, *surfaces_of(target, scene)}, beat)
    step = read_cell(settings["step"])[0].ticks
    sizes = read_grouping(settings["groups"])
    span = beat.meter.bar if settings["restart"] == "bar" else beat.cycle
    heads = {start + head for start in range(0, beat.cycle, span) for head in _firsts(sizes, step, span)}
    for stroke in strokes:
        _mark(stroke, stroke.at in heads, settings, ledger)
    missing = sorted(heads - {stroke.at for stroke in strokes})
    surface = settings["to"] if mark == ELSEWHERE else voice
    if missing and surface == EVERYTHING:
        ledger.say("firsts where nothing sounds stay silent: the whole beat is no surface to add strokes on")
    elif missing:
        for at in missing:
            ledger.add(at, surface, "accent" if mark == ACCENT else "normal")
    if any(head % beat.column for head in heads):
        ledger.say(f"these groups do not lie on the {beat.columns} of the beat")
    if settings["restart"] == "never":
        say_round(sum(sizes) * step, beat, ledger)
    elif span % (sum(sizes) * step):
        ledger.say("cut at every bar line")
    if mark == ELSEWHERE and strokes and all(stroke.surface == surface for stroke in strokes):
        ledger.say(f"all of this is on the {surface} already; name another surface to hear the groups")


def _line(names: set[str], beat: Beat) -> tuple[Stroke, ...]:
    instruments = {INSTRUMENTS[name] for name in names}
    return tuple([stroke for stroke in beat.strokes if stroke.instrument in instruments])


def _firsts(sizes: tuple[int, ...], step: int, span: int) -> list[int]:
    """The places of the firsts within `span` ticks."""
    firsts: list[int] = []
    for at in accumulate((size * step for size in cycle(sizes)), initial=0):
        if at >= span:
            break
        firsts.append(at)
    return firsts


def _mark(stroke: Stroke, first: bool, settings: dict[str, Any], ledger: Ledger) -> None:
    mark = settings["mark"]
    if mark == ACCENT:
        if first:
            ledger.alter(stroke, dynamic="accent")
        elif stroke.dynamic == "accent":
            ledger.alter(stroke, dynamic="normal")
    elif mark == ALONE:
        if not first:
            ledger.leave_out(stroke)
    elif first:
        ledger.alter(stroke, surface=settings["to"])


_DEEDS = {ACCENT: "accent the first of each", ALONE: "leave only the first of each"}


def sentence(settings: dict[str, Any]) -> tuple[Word, ...]:
    """Say it: "Count the riding hand in threes of sixteenths and accent the first of each."."""
    mark, to = settings["mark"], settings["to"]
    words = [
        Word("Count "),
        Word(target_words(settings["surface"]), "surface"),
        Word(" in "),
        Word(grouping_words(settings["groups"]), "groups"),
        Word(" of "),
        Word(note_words(settings["step"], one=False), "step"),
        Word(" and "),
    ]
    if mark == ELSEWHERE:
        words += [Word("play the first of each", "mark"), Word(" on "), Word(target_words(to), "to")]
    else:
        words.append(Word(_DEEDS[mark], "mark"))
        if to != TO:
            words += [Word(", with "), Word(f"{target_words(to)} left aside", "to")]
    if settings["restart"] == "bar":
        words += [Word(", "), Word("beginning anew in each bar", "restart")]
    return (*words, Word("."))


KIND = Kind("grouping", "Grouping", SETTINGS, apply, sentence, family="Patterns")
