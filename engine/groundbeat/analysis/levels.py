"""How much must loud and quiet be kept apart?

Counted in steps of dynamic (ghost, soft, normal, accent): what each hand changes from one of its strokes to its next,
around the loop, and by how much two hands differ that strike at once. Within 200 ms a change of one hand counts twice:
there is no time to lift the stick again (the time is the one at which sticking is made dearer, our choice, as is
counting twice). A hand that plays the small notes of a flam, drag or ruff plays a ghost there; feet have no part in it.
"""

from __future__ import annotations

from typing import NamedTuple

from ..model.meter import QUARTER
from .cost import UNEVEN_MS
from .deeds import GRACE
from .limbs import LEAD, OTHER, Playing, doing, ms_a_part

HALF_WAY = 4.0  # steps a quarter note shown as 50. Our choice, near the middle of what drummers of many styles play


class Levels(NamedTuple):
    """Steps of dynamic a quarter note, as 0 to 99 and in words."""

    steps: float
    value: int
    text: str


def levels(playing: Playing) -> Levels:
    """Measure how much the hands change between loud and quiet in a beat as it is played."""
    ring, beat = playing.rings[0], playing.beat
    ms = ms_a_part(playing.tempo, playing.unit, ring.track)
    points, told = 0, []
    for which in (LEAD, OTHER):
        deeds = doing(ring.track, playing.chosen[0], which)
        changes = quick = 0
        for index, deed in enumerate(deeds):
            before = deeds[index - 1]
            step = abs(deed.level - before.level)
            if step:
                pair = ring.pair(before.number, deed.number)
                soon = pair.parts * ms - pair.offset < UNEVEN_MS
                points += step * (2 if soon else 1)
                changes += 1
                quick += soon
        if changes:
            words = f"the {playing.player.limbs[which]} changes {_times(changes)}"
            told.append(words + (f", {quick} of them within {round(UNEVEN_MS)} ms" if quick else ""))
    unequal = 0
    for choice in playing.chosen[0]:
        if choice.first >= 0 and choice.second >= 0:
            one, two = ring.track.deeds[choice.first], ring.track.deeds[choice.second]
            apart = abs(one.level - two.level)
            points += apart
            unequal += bool(apart) and GRACE not in (one.kind, two.kind)
    if unequal:
        told.append(f"both hands at once, one louder, {_times(unequal)}")
    each = points * QUARTER / beat.cycle
    text = "; ".join(told) if told else "each hand stays at one level"
    return Levels(each, int(100 * each / (each + HALF_WAY)), text)


def _times(count: int) -> str:
    return {1: "once", 2: "twice"}.get(count, f"{count} times")
