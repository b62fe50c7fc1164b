"""What is a kind of variation, and what does it see of the beat?

A kind is data and two functions: `apply` writes into a ledger what it does to a beat, `sentence` says it as a
teacher would. Both are pure. Everything else (file, link, page, command line) reads the catalogue.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import Any, NamedTuple

from ..lineage.ledger import Ledger
from ..model.beat import Beat, Stroke
from ..model.roles import BACKBEAT_VOICE, HIHAT_FOOT, KICK, KICKS, RIDING, Roles, find_roles
from .selection import Selection, pick_places, pick_strokes, read_selection
from .setting import EVERYTHING, Setting


class Word(NamedTuple):
    """A piece of a sentence; `setting` is the setting that it says, "" for plain text."""

    text: str
    setting: str = ""


class Scene:
    """What a kind sees: the beat, the followed backbeats by id, and who does what (found when it is asked for)."""

    __slots__ = ("_corrections", "_roles", "backbeats", "beat")

    def __init__(self, beat: Beat, backbeats: tuple[str, ...], corrections: tuple[tuple[str, str], ...] = ()) -> None:
        self.beat = beat
        self.backbeats = backbeats
        self._corrections = corrections
        self._roles: Roles | None = None

    @property
    def roles(self) -> Roles:
        """Who does what in this beat."""
        if self._roles is None:
            self._roles = find_roles(self.beat, self.backbeats, self._corrections)
        return self._roles


class Kind(NamedTuple):
    """One kind of variation. `settings` are in the order of the file; `heading` is its name on a page.

    `start` are the settings that a new one begins with, where they differ from the defaults.
    """

    name: str
    heading: str
    settings: tuple[Setting, ...]
    apply: Callable[[Scene, dict[str, Any], Ledger], None]
    sentence: Callable[[dict[str, Any]], tuple[Word, ...]]
    start: Mapping[str, object] = MappingProxyType({})


_FOUND_NONE = {RIDING: "riding hand", BACKBEAT_VOICE: "backbeat", KICK: "kick", HIHAT_FOOT: "hi-hat foot"}


def surfaces_of(target: str, scene: Scene) -> tuple[str, ...]:
    """Name the surfaces that a target means on this beat; () where it does not sound.

    "kick" means every kick, a role what plays it, any other surface itself.
    """
    sounding = dict.fromkeys(stroke.surface for stroke in scene.beat.strokes)
    if target == EVERYTHING:
        return tuple(sounding)
    if target in (RIDING, BACKBEAT_VOICE, HIHAT_FOOT):
        return scene.roles.of(target)
    wanted = KICKS if target == KICK else (target,)
    return tuple(name for name in wanted if name in sounding)


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
    picked = pick_strokes(read_selection(at), scene.beat, scene.backbeats, pool, ledger.say)
    if not picked and len(ledger.says) == heard:
        ledger.say(
            f"found no {_FOUND_NONE.get(target, target)} at {at}" if target != EVERYTHING else f"found nothing at {at}"
        )
    return picked


def places(selection: Selection, scene: Scene, ledger: Ledger, *, quiet: bool = False) -> tuple[int, ...]:
    """Find the ticks of the columns that a selection means, in order; `quiet` does not tell what is missing."""
    say = (lambda text: None) if quiet else ledger.say
    return pick_places(selection, scene.beat, scene.backbeats, say)


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
