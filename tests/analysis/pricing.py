"""What does a whole loop cost, played one certain way?

By the text of `cost`, for one complete assignment at a time; nothing here searches.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from itertools import product

from groundbeat.analysis.cost import (
    AGAIN,
    AGAIN_MS,
    POINT,
    POSSIBLE,
    RIDE_AGAIN_MS,
    Stepped,
    foot_pair,
    hand_pair,
    take,
)
from groundbeat.analysis.deeds import GRACE, KICK, OPEN, Choice, Track


def complete(track: Track) -> Iterator[tuple[Choice, ...]]:
    """Every complete assignment of a track."""
    return product(*(moment.choices for moment in track.moments))


class Pricing:
    """What a whole loop costs at a tempo, told as ms a part."""

    def __init__(self, track: Track, slower: tuple[float, float], ms: float) -> None:
        self.track, self.slower, self.ms = track, slower, ms
        self.hands = track.limbs == (0, 1)
        self.taken = lru_cache(maxsize=None)(self._taken)
        self.kicks_before = lru_cache(maxsize=None)(self._kicks_before)
        self.steps_of = lru_cache(maxsize=None)(self._steps_of)

    def _taken(self, which: int, before: int, after: int, short: int) -> Stepped:
        one, other = self.track.deeds[before], self.track.deeds[after]
        lay = hand_pair if self.hands else foot_pair
        parts = (other.at - one.at) % self.track.loop or self.track.loop
        return take(lay(one, other, parts), short, self.ms, self.slower[which])

    def deeds(self, choices: tuple[Choice, ...], which: int) -> list[int]:
        """The deeds of a limb; an open hi-hat soon after a kick of its foot asks nothing."""
        numbers = [(choice.first, choice.second)[which] for choice in choices]
        numbers = [number for number in numbers if number >= 0]
        deeds = self.track.deeds
        while not self.hands:
            for index, number in enumerate(numbers):
                before = deeds[numbers[index - 1]]
                gap = ((deeds[number].at - before.at) % self.track.loop - before.tail_parts) * self.ms
                if deeds[number].kind == OPEN and before.kind in (KICK, GRACE) and gap < 200 * self.slower[which]:
                    del numbers[index]
                    break
            else:
                break
        return numbers

    def steps(self, choices: tuple[Choice, ...], which: int) -> list[Stepped]:
        """The steps of a limb in the loop that has gone on for ever."""
        return self.steps_of(which, tuple(self.deeds(choices, which)))

    def _steps_of(self, which: int, numbers: tuple[int, ...]) -> list[Stepped]:
        short = 0
        found: list[Stepped] = []
        for _ in range(3):
            found = []
            for index, number in enumerate(numbers):
                knows = short if self.hands else self.kicks_before(which, number)
                found.append(self.taken(which, numbers[index - 1], number, knows))
                short = found[-1].short
        return found

    def _kicks_before(self, which: int, number: int) -> int:
        """How many kicks of its foot the run before a kick has, less the one right before it."""
        deeds, loop = self.track.deeds, self.track.loop
        if deeds[number].kind != KICK:
            return 0
        feet = {"kick": 0, "second kick": 1}
        two_pedals = any(
            choice.second >= 0 and deeds[choice.second].kind == KICK and deeds[choice.second].stroke.surface == "kick"
            for moment in self.track.moments
            for choice in moment.choices
        )
        places = sorted(
            {d.at for d in deeds if d.kind == KICK and (two_pedals or feet[d.stroke.surface] == which)}, reverse=True
        )
        at = places.index(deeds[number].at)
        count = 1
        while count < 40:
            before = places[(at + 1) % len(places)]
            if ((places[at] - before) % loop or loop) * self.ms + 1e-6 >= 231 * self.slower[which]:
                break
            at = (at + 1) % len(places)
            count += 1
        if two_pedals:
            count = (count + 1) // 2
        return min(max(count - 2, 0), 14)

    def cost(self, choices: tuple[Choice, ...]) -> int:
        """The whole loop: choices, steps, and one hand alone twice in a row."""
        total = sum(choice.cost for choice in choices)
        total += sum(step.points for which in (0, 1) for step in self.steps(choices, which))
        if not self.hands:
            return total
        moments, deeds, loop = self.track.moments, self.track.deeds, self.track.loop
        for index, choice in enumerate(choices):
            before = choices[index - 1]
            since = ((moments[index].at - moments[index - 1].at) % loop or loop) * self.ms
            for mine, other in ((0, 1), (1, 0)):
                alone = choice[mine] >= 0 > choice[other] and before[mine] >= 0 > before[other]
                if alone and since < (RIDE_AGAIN_MS if deeds[choice[mine]].rides else AGAIN_MS):
                    total += AGAIN * POINT
        return total

    def fits(self, choices: tuple[Choice, ...], ask: int) -> bool:
        """Whether every step lies within what is asked."""
        return all(
            step.possible if ask == POSSIBLE else step.comfortable
            for which in (0, 1)
            for step in self.steps(choices, which)
        )
