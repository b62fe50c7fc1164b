"""How does a limb get from one thing to the next around a loop, at any tempo?

A `Ring` is a track made ready to be walked: what is the same at every tempo is worked out once. `follow` walks one
limb around the loop for choices that are made, so that every step is judged by the one before it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence

from ..model.roles import KICKS
from .cost import (
    COMFORTABLE,
    EASE,
    GRACE,
    KICK,
    LATE,
    LONG_RUN,
    LONGEST,
    OPEN,
    UNEVEN_MS,
    Pair,
    Stepped,
    foot_pair,
    hand_pair,
    take,
)
from .deeds import Choice, Deed, Track
from .limits import HAND_COMFORT, PEDAL_COMFORT

AT_REST = Stepped(0, 0, True, True)
_Kind = tuple[int, str, int, int, float, float, int, int, int, bool]


class Ring:
    """A track and how much slower its two limbs are than the usual limits."""

    def __init__(self, track: Track, slower: tuple[float, float]) -> None:
        self.track = track
        self.slower = slower
        self.hands = track.limbs[0] == 0
        self.pairs: list[Pair] = []  # every different one once
        self._lay: Callable[[Deed, Deed, int], Pair] = hand_pair if self.hands else foot_pair
        self._numbers: dict[tuple[int, int], int] = {}
        self._by_pair: dict[Pair, int] = {}
        self._by_kinds: dict[tuple[int, int, int], int] = {}
        kinds: dict[_Kind, int] = {}
        self._kind = [kinds.setdefault(_kind(deed), len(kinds)) for deed in track.deeds]
        self.matters = self._memory()
        # For each limb and moment, the deeds that it may do; for each moment its choices: deeds, cost, whether one
        # limb is alone, and whether it rides then.
        self.mine = [
            [list(dict.fromkeys(choice[which] for choice in row if choice[which] >= 0)) for row in self._plain()]
            for which in (0, 1)
        ]
        self.rows = [
            [
                (
                    first,
                    second,
                    cost,
                    (first < 0) != (second < 0),
                    (first >= 0 or second >= 0) and track.deeds[max(first, second)].rides,
                )
                for first, second, cost in row
            ]
            for row in self._plain()
        ]

    def _plain(self) -> list[list[tuple[int, int, int]]]:
        return [[(c.first, c.second, c.cost) for c in moment.choices] for moment in self.track.moments]

    def _memory(self) -> list[float]:
        """For each deed, ms after it for which what its limb does next can cost something."""
        begins = max((deed.lead for deed in self.track.deeds), default=0.0)
        most = max(1.0, *self.slower)
        if not self.hands:
            return [max(LONG_RUN, PEDAL_COMFORT) * most + begins + deed.tail for deed in self.track.deeds]
        seats = {(deed.instrument, deed.seat): deed for deed in self.track.deeds}
        reach = {
            seat: max(self._lay(deed, other, 1).comfort for other in seats.values()) for seat, deed in seats.items()
        }
        return [
            max(UNEVEN_MS, LATE * max(reach[deed.instrument, deed.seat], HAND_COMFORT)) * most + begins + deed.tail
            for deed in self.track.deeds
        ]

    def number(self, before: int, after: int) -> int:
        """Number in `pairs` of the step from one deed to another."""
        found = self._numbers.get((before, after))
        if found is None:
            deeds, loop = self.track.deeds, self.track.loop
            one, other = deeds[before], deeds[after]
            parts = (other.at - one.at) % loop or loop
            kinds = self._kind[before], self._kind[after], parts
            found = self._by_kinds.get(kinds)
            if found is None:
                pair = self._lay(one, other, parts)
                found = self._by_pair.setdefault(pair, len(self.pairs))
                if found == len(self.pairs):
                    self.pairs.append(pair)
                self._by_kinds[kinds] = found
            self._numbers[before, after] = found
        return found

    def pair(self, before: int, after: int) -> Pair:
        """The step from one deed to another."""
        return self.pairs[self.number(before, after)]

    def runs(self, which: int, ms: float) -> list[int]:
        """For each deed what its foot must know of the run of kicks that it is in: see `short` in `cost`."""
        found = [0] * len(self.track.deeds)
        if self.hands:
            return found
        shared = any(choice.second >= 0 and self._is_kick(choice.second, KICKS[0]) for choice in self._choices())
        names = KICKS if shared else KICKS[which : which + 1]
        kicks = [deed for deed in self.track.deeds if deed.kind == KICK and deed.stroke.surface in names]
        places = sorted({deed.at for deed in kicks})
        if not places:
            return found
        ends = LONG_RUN * self.slower[which]
        loop = self.track.loop
        fresh = [((at - places[index - 1]) % loop or loop) * ms + EASE >= ends for index, at in enumerate(places)]
        start = fresh.index(True) if any(fresh) else 0
        most = 2 * (LONGEST + 2)
        count = 0 if any(fresh) else most
        run = {}
        for index in [*range(start, len(places)), *range(start)]:
            count = 1 if fresh[index] else min(count + 1, most)
            mine = (count + 1) // 2 if shared else count
            run[places[index]] = min(max(mine - 2, 0), LONGEST)
        for deed in kicks:
            found[deed.number] = run[deed.at]
        return found

    def _choices(self) -> Iterable[Choice]:
        return (choice for moment in self.track.moments for choice in moment.choices)

    def _is_kick(self, number: int, surface: str) -> bool:
        deed = self.track.deeds[number]
        return deed.kind == KICK and deed.stroke.surface == surface

    def step(self, limb: int, before: int, short: int, after: int, ms: float) -> Stepped:
        """Judge a step at `ms` a part; from rest (-1) only a diddle is judged, by itself."""
        if before < 0:
            deed = self.track.deeds[after]
            if not deed.inner:
                return AT_REST
            alone = self.pair(after, after)._replace(parts=self.track.loop * 1000, offset=0.0)
            return take(alone, 0, ms, self.slower[limb])
        return take(self.pair(before, after), short, ms, self.slower[limb])

    def passes(self, limb: int, before: int, after: int, ms: float) -> bool:
        """Tell whether a foot that just played a kick leaves an open hi-hat to itself: it is not on it anyway.

        Our choice: as long after the kick as a whole movement of the pedal takes in comfort. The kick then counts as
        the foot's last deed.
        """
        deeds = self.track.deeds
        if before < 0 or deeds[after].kind != OPEN or deeds[before].kind not in (KICK, GRACE):
            return False
        return self.pair(before, after).parts * ms < PEDAL_COMFORT * self.slower[limb]


def _kind(deed: Deed) -> _Kind:
    """All of a deed that a step hangs on, but for its place."""
    return (
        deed.kind, deed.instrument, *deed.seat, deed.lead, deed.tail, deed.tail_parts, deed.level, deed.inner,
        deed.several,
    )  # fmt: skip


def limb_deeds(ring: Ring, choices: Sequence[Choice], which: int, ms: float) -> list[Deed]:
    """What the first (0) or second (1) limb of a track does, in order, at `ms` a part; see `Ring.passes`."""
    deeds = ring.track.deeds
    numbers = [number for choice in choices if (number := choice.second if which else choice.first) >= 0]
    if ring.hands or not any(deeds[number].kind == OPEN for number in numbers):
        return [deeds[number] for number in numbers]
    start = next((index for index, number in enumerate(numbers) if deeds[number].kind != OPEN), 0)
    kept = set()
    last = -1
    for index in [*range(start, len(numbers)), *range(start)]:
        if not ring.passes(which, last, numbers[index], ms):
            kept.add(index)
            last = numbers[index]
    return [deeds[number] for index, number in enumerate(numbers) if index in kept]


def numbers_of(ring: Ring, deeds: Sequence[Deed]) -> list[int]:
    """The numbers of a limb's steps around the loop: the step to each deed from the one before."""
    return [ring.number(deeds[index - 1].number, deed.number) for index, deed in enumerate(deeds)]


def follow(ring: Ring, which: int, deeds: Sequence[Deed], ms: float) -> list[tuple[Stepped, int]]:
    """Judge every step of a limb around the loop, from the deed before to each, with its `short`."""
    numbers = numbers_of(ring, deeds)
    slower, pairs = ring.slower[which], ring.pairs
    if ring.hands:  # how short a gap was does not hang on the one before it
        gaps = [take(pairs[number], 0, ms, slower).short for number in numbers]
        shorts = gaps[-1:] + gaps[:-1]
    else:
        runs = ring.runs(which, ms)
        shorts = [runs[deed.number] for deed in deeds]
    return [(take(pairs[number], short, ms, slower), short) for number, short in zip(numbers, shorts, strict=True)]


def fits(ring: Ring, which: int, deeds: Sequence[Deed], numbers: Sequence[int], ms: float, ask: int) -> bool:
    """Tell whether every step of a limb around the loop lies within what is asked; `numbers` are those of its steps."""
    slower, pairs = ring.slower[which], ring.pairs
    if ring.hands:
        return all(
            within(take(pairs[number], take(pairs[before], 0, ms, slower).short, ms, slower), ask)
            for before, number in {(numbers[index - 1], number) for index, number in enumerate(numbers)}
        )
    runs = ring.runs(which, ms)
    steps = {(number, runs[deed.number]) for deed, number in zip(deeds, numbers, strict=True)}
    return all(within(take(pairs[number], short, ms, slower), ask) for number, short in steps)


def within(step: Stepped, ask: int) -> bool:
    """Tell whether a step lies within what is asked."""
    return step.comfortable if ask == COMFORTABLE else step.possible
