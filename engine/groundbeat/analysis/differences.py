"""How does a beat differ from the one before it, in what a wish can be about?

Counts are hundredths a whole note, so that a longer loop is not busier by being longer; where the loop is so many
times as long as the one before it, the beat before is laid out as often. What the wish words stand for is our choice.
"""

from __future__ import annotations

from fractions import Fraction
from math import log2

from ..model.beat import Beat, Stroke
from ..model.kit import FEET_ONLY
from ..model.meter import WHOLE
from ..variation.stack import Stage
from .limbs import OTHER, Playing
from .syncopation import of_beat
from .wish import (
    ACCENTS,
    FEET,
    FEET_FIRST,
    GHOSTS,
    LEFT,
    LEFT_FIRST,
    LOUDNESS,
    RIGHT,
    RIGHT_FIRST,
    SOUNDS,
    STROKES,
)

_LOUD = {"ghost": 1, "soft": 2, "normal": 4, "accent": 6}  # how loud strokes are beside each other; our choice
_BARE = {"cross-stick": 2, "snare rim": 2}  # and what is quieter than a full stroke, as its part; our choice

Spot = tuple[int, str]
Hit = tuple[int, str, str, str, str]


def hit(stroke: Stroke, later: int = 0) -> Hit:
    """Say all of a stroke that is heard or played; `later` is added to its place."""
    return stroke.at + later, stroke.surface, stroke.dynamic, stroke.grace, stroke.hand


def rounds(before: Beat, after: Beat) -> int:
    """How often the beat before goes into the one after it; 1 where it does not come out even."""
    return after.cycle // before.cycle if after.cycle % before.cycle == 0 else 1


def laid_out(before: Beat, times: int) -> list[tuple[Stroke, int]]:
    """The strokes of so many rounds of a beat, each with how much later its round begins."""
    return [(stroke, number * before.cycle) for number in range(times) for stroke in before.strokes]


class Differences:
    """What is new and what is gone from one stage to another."""

    def __init__(self, before: Stage, after: Stage) -> None:
        self.before, self.after = before, after
        self.rounds = rounds(before.beat, after.beat)
        old = {hit(stroke, later) for stroke, later in laid_out(before.beat, self.rounds)}
        now = {hit(stroke) for stroke in after.beat.strokes}
        self.new, self.gone = now - old, old - now
        self.size = max(len(old), len(now), 1)

    @property
    def nothing(self) -> bool:
        """Whether nothing that is heard or played has changed."""
        return not self.new and not self.gone and not self.felt

    @property
    def felt(self) -> bool:
        """Whether some stroke sounds in another feel."""
        one, two = self.before.feel, self.after.feel
        return one != two and any(
            one.push(s.surface) != two.push(s.surface) or Fraction(*one.sounded(s.at)) != Fraction(*two.sounded(s.at))
            for s in self.after.beat.strokes
        )

    def counted(self) -> dict[str, int]:
        """Measure all that needs no limbs: the changes of counts, of loudness and of syncopation, and what is new."""
        one, two = _counts(self.before.beat), _counts(self.after.beat)
        found = {name: two[name] - one[name] for name in one}
        length = self.after.beat.cycle
        old = {(stroke.at + later, stroke.surface) for stroke, later in laid_out(self.before.beat, self.rounds)}
        feet = hands = 0
        for at, surface, *_ in self.new:
            if (at, surface) not in old:
                feet, hands = feet + (surface in FEET_ONLY), hands + (surface not in FEET_ONLY)
        found[FEET] = feet * 100 * WHOLE // length
        found[FEET_FIRST] = feet - hands
        found[SOUNDS] = len(
            {s.surface for s in self.after.beat.strokes} - {s.surface for s in self.before.beat.strokes}
        )
        return found

    def by_limb(self, before: Playing, after: Playing) -> dict[str, int]:
        """Measure what each hand has to do anew: strokes that it did not play there before."""
        had = {}
        for stroke, later in laid_out(self.before.beat, self.rounds):
            had[stroke.at + later, stroke.surface] = before.limbs.get(stroke.id)
        fresh = [0, 0, 0, 0]
        for stroke in self.after.beat.strokes:
            limb = after.limbs.get(stroke.id)
            if limb is not None and had.get((stroke.at, stroke.surface)) != limb:
                fresh[limb] += 1
        left = 0 if after.player.left_handed else OTHER
        right, length = OTHER - left, self.after.beat.cycle
        everything = sum(fresh)
        return {
            LEFT: fresh[left] * 100 * WHOLE // length, LEFT_FIRST: 2 * fresh[left] - everything,
            RIGHT: fresh[right] * 100 * WHOLE // length, RIGHT_FIRST: 2 * fresh[right] - everything,
        }  # fmt: skip


def _counts(beat: Beat) -> dict[str, int]:
    loud = ghosts = accents = 0
    for stroke in beat.strokes:
        loud += _LOUD[stroke.dynamic] * 2 // _BARE.get(stroke.surface, 1)
        ghosts += stroke.dynamic == "ghost"
        accents += stroke.dynamic == "accent"
    per = 100 * WHOLE
    return {
        STROKES: len(beat.strokes) * per // beat.cycle,
        GHOSTS: ghosts * per // beat.cycle,
        ACCENTS: accents * per // beat.cycle,
        LOUDNESS: round(100 * log2(1 + loud * WHOLE / beat.cycle)),  # 100 is twice as much
        "syncopation": of_beat(beat).shown,
    }
