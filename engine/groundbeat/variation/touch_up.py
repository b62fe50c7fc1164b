"""Touch-up: strokes changed by hand at this stage, one by one.

Leaving out and changing speak of the strokes that come in; adding comes last and never lands on a taken place of its
instrument.
"""

from __future__ import annotations

from typing import Any

from ..lineage.ledger import Ledger
from ..model.beat import Stroke
from ..model.count import spoken
from ..model.kit import BY_NAME
from .kind import Kind, Word
from .picking import pick_ticks
from .scene import Scene
from .setting import CHANGES, Setting
from .touch import Touch, read_touch, touch_words

SETTINGS = (
    Setting(
        "changes",
        1,
        CHANGES,
        label="the changes by hand",
        example="One change a line: + snare 3a ghost, - kick 2&, = snare 2 accent L.",
    ),
)


def apply(scene: Scene, settings: dict[str, Any], ledger: Ledger) -> None:
    """Do every change in turn."""
    touches = [read_touch(text) for text in settings["changes"]]
    here = {(stroke.at, stroke.surface): stroke for stroke in scene.beat.strokes}
    instruments = {(stroke.at, stroke.instrument): stroke for stroke in scene.beat.strokes}
    for touch in touches:
        if touch.sign != "+":
            _change(touch, scene, here, ledger)
    for touch in touches:
        if touch.sign == "+":
            _add(touch, scene, instruments, ledger)


def _change(touch: Touch, scene: Scene, here: dict[tuple[int, str], Stroke], ledger: Ledger) -> None:
    found = False
    for tick in pick_ticks(touch.place, scene.beat, ledger.say):
        stroke = here.get((tick, touch.surface))
        if stroke is None:
            continue
        found = True
        if touch.sign == "-":
            ledger.leave_out(stroke)
        else:
            ledger.alter(stroke, dynamic=touch.dynamic, grace=touch.grace, hand=touch.hand)
    if not found:
        ledger.say(f"found no {touch.surface} at {spoken(touch.place, bars=2)}")


def _add(touch: Touch, scene: Scene, here: dict[tuple[int, str], Stroke], ledger: Ledger) -> None:
    ticks = pick_ticks(touch.place, scene.beat, ledger.say)
    if not ticks:
        ledger.say(f"this beat has no {spoken(touch.place, bars=2)}")
    for tick in ticks:
        other = here.get((tick, BY_NAME[touch.surface].instrument))
        if other is not None and not ledger.is_out(other):
            ledger.say(f"the {other.surface} already sounds at {spoken(touch.place, bars=2)}; nothing added there")
            continue
        ledger.add(tick, touch.surface, touch.dynamic or "normal", grace=touch.grace or "", hand=touch.hand or "")


def sentence(settings: dict[str, Any]) -> tuple[Word, ...]:
    """Say it: "By hand: add a ghost on the snare at the a of 3; leave out the kick at the & of 2."."""
    said = "; ".join(touch_words(read_touch(text)) for text in settings["changes"])
    return (Word("By hand: "), Word(said or "nothing yet", "changes"), Word("."))


KIND = Kind("touch-up", "Touch-up", SETTINGS, apply, sentence, {"changes": ()}, family="How it is struck")
