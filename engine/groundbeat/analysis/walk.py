"""Where can both limbs of a track get to from one moment to the next, at one tempo?

A state says, for each of the two limbs, the last deed that still matters and what the next step must know of the step
to it (`short`, see `cost`). Everything is worked out when it is first asked for, and once.
"""

from __future__ import annotations

from .cost import AGAIN, AGAIN_MS, POINT, RIDE_AGAIN_MS, Stepped, take
from .limits import HAND_COMFORT
from .ring import AT_REST, Ring, within

# A limb's state is (last deed + 1) x 16 + short, 0 where it rested long enough; a state is both, side by side.
_SHORT, _SIDE = 4, 24
_OTHER = (1 << _SIDE) - 1
_TURNS = 3  # from rest, until every state that a closed loop can have was there

Way = tuple[int, int, int]  # state after the moment, cost, number of the choice
_Ends = dict[int, tuple[int, int]]  # limb state after a moment and points, by deed; -1: rests


class Walk:
    """A ring at one tempo, told as ms a part; with `ask` only by steps that lie within it."""

    def __init__(self, ring: Ring, ms: float, ask: int = 0) -> None:
        self.ring, self.ms, self.ask = ring, ms, ask
        self._track = track = ring.track
        loop = track.loop
        deeds = track.deeds
        # A deed is forgotten when no step from it can cost anything; in parts after it.
        self._fade = [
            min(loop - 1, int(matters / ms) + deed.tail_parts + 1)
            for matters, deed in zip(ring.matters, deeds, strict=True)
        ]
        # How short the gap before a deed was matters as long as the next one could be its double.
        most = HAND_COMFORT * max(1.0, *ring.slower) + max((deed.lead for deed in deeds), default=0.0)
        self._single = [int((most + deed.tail) / ms) + deed.tail_parts + 1 for deed in deeds]
        self._runs = [ring.runs(which, ms) for which in (0, 1)]
        self._known: tuple[dict[int, Stepped], dict[int, Stepped]] = ({}, {})
        if ring.slower[0] == ring.slower[1]:
            self._known = self._known[0], self._known[0]
        count = len(track.moments)
        self._limb: tuple[list[dict[int, _Ends]], ...] = tuple([{} for _ in range(count)] for _ in (0, 1))
        self._ways: list[dict[int, list[Way]]] = [{} for _ in range(count)]
        self._rows = [self._row(index) for index in range(count)]

    def _row(self, index: int) -> list[tuple[int, int, int, int]]:
        """The choices of a moment: deeds, cost, and what is added where its one limb was alone at the one before."""
        moment = self._track.moments[index]
        since = ((moment.at - moment.before) % self._track.loop or self._track.loop) * self.ms
        if not self.ring.hands or since >= AGAIN_MS:
            return [(first, second, cost, 0) for first, second, cost, _, _ in self.ring.rows[index]]
        return [
            (first, second, cost, AGAIN * POINT if alone and (since < RIDE_AGAIN_MS or not rides) else 0)
            for first, second, cost, alone, rides in self.ring.rows[index]
        ]

    def ways(self, index: int, state: int) -> list[Way]:
        """All states that a state before a moment can go on to, with what that costs."""
        found = self._ways[index].get(state)
        if found is not None:
            return found
        one, two = state >> _SIDE, state & _OTHER
        firsts = self._limb[0][index].get(one)
        if firsts is None:
            firsts = self._ends(0, index, one)
        seconds = self._limb[1][index].get(two)
        if seconds is None:
            seconds = self._ends(1, index, two)
        found = []
        last, deeds = self._track.moments[index].before, self._track.deeds
        was = one > 0 and deeds[(one >> _SHORT) - 1].at == last
        alone = was != (two > 0 and deeds[(two >> _SHORT) - 1].at == last)
        for number, (first, second, cost, again) in enumerate(self._rows[index]):
            if first in firsts and second in seconds:
                after, points = firsts[first]
                after_two, points_two = seconds[second]
                if again and alone and was == (first >= 0):
                    cost += again
                found.append((after << _SIDE | after_two, cost + points + points_two, number))
        self._ways[index][state] = found
        return found

    def _ends(self, which: int, index: int, limb: int) -> _Ends:
        """Where a limb can get to at a moment."""
        ring = self.ring
        before, short = (limb >> _SHORT) - 1, limb & 15
        rested = self._aged(limb, self._track.moments[index].at)
        ends: _Ends = {-1: (rested, 0)}
        known = self._known[which]
        for deed in ring.mine[which][index]:
            if before < 0:
                step = ring.step(which, -1, 0, deed, self.ms) if self._track.deeds[deed].inner else AT_REST
            else:
                if not ring.hands and ring.passes(which, before, deed, self.ms):
                    ends[deed] = rested, 0
                    continue
                known_before = short if ring.hands else self._runs[which][deed]
                key = ring.number(before, deed) << _SHORT | known_before
                found = known.get(key)
                if found is None:
                    found = known[key] = take(ring.pairs[key >> _SHORT], known_before, self.ms, ring.slower[which])
                step = found
            if not self.ask or within(step, self.ask):
                ends[deed] = (deed + 1) << _SHORT | step.short, step.points
        self._limb[which][index][limb] = ends
        return ends

    def _aged(self, limb: int, at: int) -> int:
        """What still matters of a limb's last deed at a moment at which it rests."""
        if not limb:
            return 0
        deed = (limb >> _SHORT) - 1
        age = (at - self._track.deeds[deed].at) % self._track.loop
        if not 0 < age <= self._fade[deed]:
            return 0
        return limb if age < self._single[deed] else limb & ~15

    def layers(self) -> list[list[int]]:
        """The states that can stand before each moment, in the order from `first`; [] where the way ends.

        Two turns from rest reach every state that a closed loop can have, as what matters of a deed lies within one.
        When a turn finds what the one before found, so does every other.
        """
        order = self.order()
        found: list[dict[int, None]] = [{} for _ in order]
        states: dict[int, None] = {0: None}
        for turn in range(_TURNS):
            for place, index in enumerate(order):
                if turn and states.keys() == found[place].keys():
                    return [list(layer) for layer in found]
                found[place] = states
                states = {way[0]: None for state in states for way in self.ways(index, state)}
                if not states:
                    return []
        return [list(layer) for layer in found]

    def order(self) -> list[int]:
        """The moments' indices from `first` around the loop."""
        count, first = len(self._track.moments), self._track.first
        return [*range(first, count), *range(first)]
