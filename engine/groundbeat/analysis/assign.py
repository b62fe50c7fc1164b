"""Which limb plays what, so that a whole looping beat costs least?

Dynamic programming over the moments of a track. A state says for both limbs what still matters of what
they did (see `walk`). Exact over the cycle: the state after the last moment must be the one before the first.

The ring is cut where the fewest states can stand. What each of these costs at least, whatever it ends in, comes from
one pass backwards; the cheapest way on from a state that leads back to itself is the answer, if it is the cheapest of
all. Where it is not, every start that promises less than the best loop so far is tried by itself. Where two answers
cost the same, the one found first from the track's `first` moment is taken.

`reach` asks only whether the loop closes within the floors (or within comfort) at a tempo: every state carries the
set of starting states that lead to it, as the bits of a number, so that one turn answers for all of them.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from .cost import BEYOND, COMFORTABLE, POSSIBLE
from .deeds import Choice
from .ring import Ring
from .walk import _SHORT, Walk

__all__ = [
    "COMFORTABLE",
    "POSSIBLE",
    "_SHORT",
    "Ring",
    "Solved",
    "Walk",
    "_Cut",
    "beyond",
    "reach",
    "solve",
    "solve_within",
]


class Solved(NamedTuple):
    """The choices of a track, one a moment in its order, and their cost."""

    choices: tuple[Choice, ...]
    cost: int


class _Cut:
    """A walk cut open where the fewest states can stand."""

    def __init__(self, walk: Walk) -> None:
        self.walk = walk
        layers = walk.layers()
        self.starts: list[int] = []
        if layers:
            place = min(range(len(layers)), key=lambda place: len(layers[place]))
            order = walk.order()
            self.order = order[place:] + order[:place]
            self.layers = layers[place:] + layers[:place]
            self.starts = self.layers[0]

    def least(self) -> list[dict[int, int]]:
        """What it costs at least from each state before each place to any start a turn later; no dead ends."""
        after = dict.fromkeys(self.starts, 0)
        found = [after]
        for place in range(len(self.order) - 1, -1, -1):
            index = self.order[place]
            here = {}
            for state in self.layers[place]:
                costs = [cost + after[new] for new, cost, _ in self.walk.ways(index, state) if new in after]
                if costs:
                    here[state] = min(costs)
            found.append(here)
            after = here
        found.reverse()
        return found

    def descend(self, least: Sequence[dict[int, int]], state: int) -> tuple[int, list[int]]:
        """Go the cheapest way on from a start: where it ends, and the numbers of its choices."""
        numbers = []
        for place, index in enumerate(self.order):
            left, after = least[place][state], least[place + 1]
            for new, cost, number in self.walk.ways(index, state):
                if new in after and cost + after[new] == left:
                    state = new
                    numbers.append(number)
                    break
        return state, numbers

    def around(self, least: Sequence[dict[int, int]], start: int, below: int | None) -> tuple[int, list[int]] | None:
        """Find the cheapest way from a start back to it, if there is one cheaper than `below`."""
        costs = {start: 0}
        came: list[dict[int, tuple[int, int]]] = []
        for place, index in enumerate(self.order):
            after = least[place + 1]
            new_costs: dict[int, int] = {}
            back: dict[int, tuple[int, int]] = {}
            for state, so_far in costs.items():
                for new, more, number in self.walk.ways(index, state):
                    if new not in after:
                        continue
                    total = so_far + more
                    if below is not None and total + after[new] >= below:
                        continue
                    if total < new_costs.get(new, total + 1):
                        new_costs[new] = total
                        back[new] = state, number
            costs = new_costs
            came.append(back)
        if start not in costs:
            return None
        numbers = []
        state = start
        for back in reversed(came):
            state, number = back[state]
            numbers.append(number)
        return costs[start], numbers[::-1]

    def closes(self) -> bool:
        """Tell whether any start leads back to itself."""
        bits = {state: 1 << number for number, state in enumerate(self.starts)}
        first = dict(bits)
        for index in self.order:
            new_bits: dict[int, int] = {}
            for state, bit in bits.items():
                for new, _, _ in self.walk.ways(index, state):
                    new_bits[new] = new_bits.get(new, 0) | bit
            bits = new_bits
        return any(bits.get(state, 0) & bit for state, bit in first.items())

    def cheapest(self) -> tuple[int, list[int]] | None:
        """Find the cheapest closed loop: its cost and the numbers of its choices; None where none closes."""
        least = self.least()
        best: tuple[int, list[int]] | None = None
        for bound, start in sorted((cost, start) for start, cost in least[0].items()):
            if best is not None and bound >= best[0]:
                break
            if best is None:
                best = self._upper(least, start)
                if best is not None and best[0] == bound:
                    break
                if best is None and not self.closes():
                    return None
            found = self.around(least, start, None if best is None else best[0])
            if found is not None:
                best = found
        return best

    def _upper(self, least: Sequence[dict[int, int]], start: int) -> tuple[int, list[int]] | None:
        """Go the cheapest way lap after lap until one closes, or the laps repeat."""
        seen = set()
        while start not in seen:
            seen.add(start)
            end, numbers = self.descend(least, start)
            if end == start:
                return least[0][start], numbers
            if end not in least[0]:
                return None
            start = end
        return None


def solve_within(ring: Ring, ms: float, ask: int = 0) -> Solved | None:
    """Find the cheapest choices that close the loop at `ms` a part, all within what is asked; None where none do."""
    moments = ring.track.moments
    if not moments:
        return Solved((), 0)
    cut = _Cut(Walk(ring, ms, ask))
    found = cut.cheapest() if cut.starts else None
    if found is None:
        return None
    cost, numbers = found
    chosen = dict(zip(cut.order, numbers, strict=True))
    return Solved(tuple(moment.choices[chosen[index]] for index, moment in enumerate(moments)), cost)


def solve(ring: Ring, ms: float, strict: int = 0) -> Solved:
    """Find the cheapest choices that close the loop, at `ms` a part.

    With `strict` those that lie within the floors (POSSIBLE) or within comfort (COMFORTABLE), where there are any.
    """
    found = solve_within(ring, ms, strict)
    return found if found is not None else solve(ring, ms, strict - 1)


def reach(ring: Ring, ms: float, ask: int = POSSIBLE) -> bool:
    """Tell whether the loop closes within the floors, or within comfort, at `ms` a part."""
    if not ring.track.moments:
        return True
    cut = _Cut(Walk(ring, ms, ask))
    return bool(cut.starts) and cut.closes()


def beyond(cost: int) -> bool:
    """Tell whether a cost holds something beyond a floor, or that nobody can do."""
    return cost >= BEYOND
