"""Feel: swing, pushed, laid back from this stage on.

Never moves a stroke: a feel says how the written places sound. What is not given stays as it was: a swing leaves the
pushes, a push leaves the swing and the pushes of other surfaces. The whole beat means every surface: a push of it takes
the place of all others. A role is pushed on the surfaces that play it at this stage.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from ..lineage.ledger import Ledger
from ..model.feel import ALL, Feel
from ..model.roles import KICK, KICKS, ROLES
from .kind import Kind, Word, strokes_of
from .patterns import read_offset, read_swing
from .scene import EVERYTHING, Scene, surfaces_of
from .setting import OFFSET, SWING, TARGET, Setting
from .words import offset_words, swing_words, target_words

AS_BEFORE = ""  # the default: what there was stays

SETTINGS = (
    Setting("swing", 1, SWING, AS_BEFORE, label="the swing", offer="with a swing",
            example="Such as eighths 2:1, sixteenths 3:2 or straight."),
    Setting("surface", 2, TARGET, EVERYTHING, label="what is early or late", offer="only some of it early or late"),
    Setting("push", 3, OFFSET, AS_BEFORE, label="how early or late", offer="early or late",
            example="Such as 10 ms late or 5 ms early; 0 ms late is in time."),
)  # fmt: skip


def apply(scene: Scene, settings: dict[str, Any], ledger: Ledger) -> None:
    """Set the feel of this stage."""
    feel = scene.feel
    if settings["swing"]:
        swung, long, short = read_swing(settings["swing"])
        feel = replace(feel, swung=swung, long=long, short=short)
    if settings["push"]:
        pushes = _pushed(feel.pushes, settings["surface"], read_offset(settings["push"]), scene, ledger)
        feel = replace(feel, pushes=pushes)
    ledger.feel = feel


def _pushed(
    old: tuple[tuple[str, int], ...], target: str, ms: int, scene: Scene, ledger: Ledger
) -> tuple[tuple[str, int], ...]:
    """The pushes with those of a target set."""
    if target == EVERYTHING:
        return Feel().pushed((ALL,), ms).pushes
    names: tuple[str, ...] = (target,)
    if target == KICK:
        names = KICKS
    elif target in ROLES:
        names = surfaces_of(target, scene)
        strokes_of(target, scene, ledger)  # says so where nobody plays it
    return Feel(pushes=old).pushed(names, ms).pushes


def sentence(settings: dict[str, Any]) -> tuple[Word, ...]:
    """Say it: "Play the eighths swung 2 : 1, the snare 10 ms late."."""
    swing, target, push = settings["swing"], settings["surface"], settings["push"]
    words = [Word("Play ")]
    if swing:
        words.append(Word(swing_words(swing), "swing"))
    who, when = Word(target_words(target), "surface"), Word(offset_words(push) if push else "as before", "push")
    if push or target != EVERYTHING or not swing:
        words += [Word(", ")] if swing else []
        words += [who, Word(" "), when]
    return (*words, Word("."))


KIND = Kind("feel", "Feel", SETTINGS, apply, sentence, {"swing": "eighths 2:1"}, family="Time and length")
