"""How much must the hands hurry from one surface to another?

A change of surface counts with its distance, in full where it is as quick as hands can (the floor of a change of
surface), not at all where there is time to spare (three times as long as is comfortable), in between along a straight
line; our choice. Of all ways to share the strokes between the hands that are possible at the tempo, the one that needs
least of this is measured, around the whole loop: so it is what no sticking can avoid. Leaving a stroke out or playing
slower never raises it: the way past a place is never farther than over it, and never in a greater hurry.
"""

from __future__ import annotations

from math import ceil
from typing import NamedTuple

from ..model.count import spoken_at
from .assign import _SHORT, POSSIBLE, Walk, _Cut
from .deeds import Choice, Deed
from .limbs import LEAD, OTHER, Playing, doing, ms_a_part
from .limits import TRAVEL_COMFORT, TRAVEL_FLOOR
from .ring import Ring

IDLE = 3 * TRAVEL_COMFORT  # ms; from here on there is time to spare
FINE = 1000  # parts of a cm that are told apart
ABOVE = 40  # bits: travel outweighs all that usually decides the sticking, which decides among equals
HALF_WAY = 60  # cm a second, all of them in a hurry, shown as 50. Our choice


class Move(NamedTuple):
    """One hand in a hurry to another surface, `cm` away, within `ms`."""

    hand: int
    before: Deed
    after: Deed
    cm: float
    ms: float


class Travel(NamedTuple):
    """Hurried cm a second (None: the hands cannot play it), as 0 to 100 and in words, with the moves."""

    rate: float | None
    value: int
    text: str
    moves: tuple[Move, ...]


class _TravelWalk(Walk):
    """A walk of the hands in which travel outweighs everything else; where a hand was matters for so long."""

    def __init__(self, ring: Ring, ms: float) -> None:
        begins = max((deed.lead for deed in ring.track.deeds), default=0.0)
        ring.matters = [
            max(matters, IDLE + begins + deed.tail)
            for matters, deed in zip(ring.matters, ring.track.deeds, strict=True)
        ]
        super().__init__(ring, ms, POSSIBLE)

    def _ends(self, which: int, index: int, limb: int) -> dict[int, tuple[int, int]]:
        ends = super()._ends(which, index, limb)
        before = (limb >> _SHORT) - 1
        if before >= 0:
            for deed, (after, points) in ends.items():
                if deed >= 0:
                    ends[deed] = after, points + (hurried(self.ring, before, deed, self.ms) << ABOVE)
        return ends


def _least(ring: Ring, ms: float) -> tuple[Choice, ...] | None:
    """The sharing that needs least travel of all that are possible; None where none is."""
    cut = _Cut(_TravelWalk(ring, ms))
    found = cut.cheapest() if cut.starts else None
    if found is None:
        return None
    chosen = dict(zip(cut.order, found[1], strict=True))
    return tuple(moment.choices[chosen[index]] for index, moment in enumerate(ring.track.moments))


def hurried(ring: Ring, one: int, other: int, ms: float) -> int:
    """The hurried way between two deeds in parts of a cm; rounded up, so that no way is shorter in two pieces."""
    pair = ring.pair(one, other)
    if not pair.move:
        return 0
    gap = pair.parts * ms - pair.offset
    if gap >= IDLE:
        return 0
    hurry = min(1.0, (IDLE - gap) / (IDLE - TRAVEL_FLOOR))
    deeds = ring.track.deeds
    return ceil(round(FINE * _cm(deeds[one], deeds[other]) * hurry, 6))


def _cm(before: Deed, after: Deed) -> float:
    return float(((before.seat[0] - after.seat[0]) ** 2 + (before.seat[1] - after.seat[1]) ** 2) ** 0.5)


def travel(playing: Playing) -> Travel:
    """Measure how much the hands must hurry about the kit at the tempo."""
    hands = playing.rings[0]
    if not hands.track.moments:
        return Travel(0.0, 0, "no hand plays", ())
    ms = ms_a_part(playing.tempo, playing.unit, hands.track)
    ring = Ring(hands.track, hands.slower)
    lost = any(choice.dropped for choice in playing.chosen[0])
    chosen = None if lost else _least(ring, ms)
    if chosen is None:
        return Travel(None, 100, "two hands cannot get to all of it at this tempo", ())
    moves, total = _moves(ring, chosen, ms)
    seconds = playing.beat.cycle * playing.ms / 1000
    rate = total / FINE / seconds
    return Travel(rate, int(100 * rate / (rate + HALF_WAY)), _words(playing, moves), moves)


def _moves(ring: Ring, chosen: tuple[Choice, ...], ms: float) -> tuple[tuple[Move, ...], int]:
    moves, total = [], 0
    for which in (LEAD, OTHER):
        deeds = doing(ring.track, chosen, which)
        for index, deed in enumerate(deeds):
            before = deeds[index - 1]
            way = hurried(ring, before.number, deed.number, ms)
            if way:
                total += way
                pair = ring.pair(before.number, deed.number)
                moves.append(Move(which, before, deed, _cm(before, deed), pair.parts * ms - pair.offset))
    return tuple(moves), total


def _words(playing: Playing, moves: tuple[Move, ...]) -> str:
    if not moves:
        return "no hand has to hurry to another surface"
    farthest = max(moves, key=lambda move: (round(move.cm / max(move.ms, 1.0), 6), -move.after.at))
    one, two = farthest.before.stroke, farthest.after.stroke
    count = "1 hurried move" if len(moves) == 1 else f"{len(moves)} hurried moves"
    place = spoken_at(two.at, playing.beat.meter, playing.beat.bars)
    hand = playing.player.limbs[farthest.hand]
    most = ":" if len(moves) == 1 else ", most of all"
    return f"{count}{most} the {hand} from {one.surface} to {two.surface} for {place}, {round(farthest.ms)} ms"
