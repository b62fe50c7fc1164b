"""What is a kind of variation, and what does it see of the beat?

A kind is data and two functions: `apply` writes into a ledger what it does to a beat, `sentence` says it as a
teacher would. Both are pure. Everything else (file, link, page, command line) reads the catalogue.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import Any, NamedTuple

from ..lineage.ledger import Ledger
from ..model.beat import Stroke
from ..model.roles import BACKBEAT_VOICE, HIHAT_FOOT, KICK, RIDING
from .picking import pick_places, pick_strokes
from .scene import EVERYTHING, Scene, surfaces_of
from .selection import Selection, read_selection
from .setting import Setting


class Word(NamedTuple):
    """A piece of a sentence; `setting` is the setting that it says, "" for plain text."""

    text: str
    setting: str = ""


class Kind(NamedTuple):
    """One kind of variation. `settings` are in the order of the file; `heading` is its name on a page.

    `start` are the settings that a new one begins with, where they differ from the defaults. `reframes` says that it
    may give the stage another meter, length or columns; `family` is the heading that it stands under on a page, "" for
    one of its own at the end.
    """

    name: str
    heading: str
    settings: tuple[Setting, ...]
    apply: Callable[[Scene, dict[str, Any], Ledger], None]
    sentence: Callable[[dict[str, Any]], tuple[Word, ...]]
    start: Mapping[str, object] = MappingProxyType({})
    reframes: bool = False
    family: str = ""


_FOUND_NONE = {RIDING: "riding hand", BACKBEAT_VOICE: "backbeat", KICK: "kick", HIHAT_FOOT: "hi-hat foot"}


def strokes_of(target: str, scene: Scene, ledger: Ledger) -> tuple[Stroke, ...]:
    """Find the strokes of a target, in order; says so where there is none."""
    surfaces = set(surfaces_of(target, scene))
    found = tuple([stroke for stroke in scene.beat.strokes if stroke.surface in surfaces])
    if not found:
        ledger.say(f"found no {_FOUND_NONE.get(target, target)}" if target != EVERYTHING else "found no stroke")
    return found


def chosen(target: str, at: str, scene: Scene, ledger: Ledger) -> tuple[Stroke, ...]:
    """Find the strokes of a target at a selection, in order; says so where there is none."""
    pool = strokes_of(target, scene, ledger)
    if not pool:
        return ()
    heard = len(ledger.says)
    picked = pick_strokes(read_selection(at), scene, pool, ledger.say)
    if not picked and len(ledger.says) == heard:
        ledger.say(
            f"found no {_FOUND_NONE.get(target, target)} at {at}" if target != EVERYTHING else f"found nothing at {at}"
        )
    return picked


def places(selection: Selection, scene: Scene, ledger: Ledger, *, quiet: bool = False) -> tuple[int, ...]:
    """Find the ticks of the columns that a selection means, in order; `quiet` does not tell what is missing."""
    say = (lambda text: None) if quiet else ledger.say
    return pick_places(selection, scene, say)


def voice_of(target: str, scene: Scene, ledger: Ledger) -> str:
    """Name the one surface that a target adds strokes on: the one struck most; "" (and says so) where there is none."""
    if target not in (RIDING, BACKBEAT_VOICE):
        return target
    names = surfaces_of(target, scene)
    if not names:
        ledger.say(f"found no {_FOUND_NONE[target]}")
        return ""
    counts = dict.fromkeys(names, 0)
    for stroke in scene.beat.strokes:
        if stroke.surface in counts:
            counts[stroke.surface] += 1
    return max(names, key=lambda name: counts[name])
