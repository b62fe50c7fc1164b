"""Half-time: the backbeat to the middle of the bar, the riding hand unchanged; or everything at twice the length.

At the same length one backbeat a bar stays, on the beat that begins nearest to the middle of the bar (of two equally
near the later): 3 in 4/4, 3 in 3/4, 4 in 5/4, eighth 5 in 7/8 as 2+2+3, eighth 7 in 9/8 and in 12/8. It is the one that
stands there already, else the first; the others of the bar are left out. In meters of two beats (2/4, 2/2, 6/8) the
middle is where the backbeat is anyway: there half-time takes two bars at a time, and the backbeat comes on 1 of the
second. At twice the length every place is doubled, and so are the bars.
"""

from __future__ import annotations

from typing import Any

from ..lineage.ledger import Ledger
from ..model.meter import Meter
from .kind import Kind, Word
from .scene import Scene
from .setting import CHOICE, Setting

SAME, TWICE = "same length", "twice the length"

SETTINGS = (Setting("form", 1, CHOICE, SAME, words=(SAME, TWICE), label="which half-time"),)


def apply(scene: Scene, settings: dict[str, Any], ledger: Ledger) -> None:
    """Halve the time."""
    if settings["form"] == TWICE:
        if ledger.frame(bars=2 * scene.beat.bars):
            for stroke in scene.beat.strokes:
                ledger.move(stroke, stroke.at)
        return
    beat, meter = scene.beat, scene.beat.meter
    followed = set(scene.backbeats)
    backbeats = [stroke for stroke in beat.strokes if stroke.id in followed]
    if not backbeats:
        ledger.say("found no backbeat")
        return
    if len(meter.beats) == 1:
        ledger.say(f"a bar of {meter} is a single beat and has no middle; play it at twice the length")
        return
    bars = 2 if len(meter.beats) == 2 else 1
    if beat.bars % bars:
        ledger.say(f"half-time in {meter} takes two bars at a time; lengthen the beat to {2 * beat.bars} bars")
        return
    middle = meter.bar if bars == 2 else middle_of(meter)
    changed = False
    for start in range(0, beat.cycle, bars * meter.bar):
        here = [stroke for stroke in backbeats if start <= stroke.at < start + bars * meter.bar]
        if not here:
            continue
        stays = next((stroke for stroke in here if stroke.at == start + middle), here[0])
        ledger.move(stays, start + middle - stays.at)
        for stroke in here:
            if stroke is not stays:
                ledger.leave_out(stroke)
        changed = changed or len(here) > 1 or stays.at != start + middle
    if not changed:
        ledger.say("the backbeat is in the middle already")


def middle_of(meter: Meter) -> int:
    """Find the beat nearest to the middle of a bar, in ticks from the bar line; of two equally near the later.

    >>> [middle_of(Meter.of(name)) // Meter.of(name).number + 1 for name in ("4/4", "3/4", "5/4", "7/8", "12/8")]
    [3, 3, 4, 5, 7]
    """
    starts = [(number - 1) * meter.number for number in meter.beats]
    return min(starts, key=lambda start: (abs(2 * start - meter.bar), -start))


def sentence(settings: dict[str, Any]) -> tuple[Word, ...]:
    """Say it: "Play in half-time, the backbeat in the middle of the bar."."""
    same = settings["form"] == SAME
    how = "the backbeat in the middle of the bar" if same else "everything at twice the length"
    return (Word("Play in half-time, "), Word(how, "form"), Word("."))


KIND = Kind("half-time", "Half-time", SETTINGS, apply, sentence, reframes=True, family="Time and length")
