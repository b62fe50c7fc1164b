"""What does it cost a player to do one thing after another?

Points, whole numbers; fewer is easier. All weights are our choice, set so that common beats get the sticking that
drummers give them; only their order matters. From the outermost: what nobody can do (`DROPPED`), what lies beyond a
floor (`BEYOND`), then everything that makes playing easy or hard, in points. The last digits (`TIE`) break ties only:
the leading limb on the beats.

The cost of a closed loop is the sum of its choices (`choice_cost`), of the steps of both limbs (`take`), and of AGAIN.

A *step* is one limb going from one deed to its next around the loop; a limb with one deed goes from it to itself, a
whole loop later. Its gap runs from where the limb is free to where it must begin. A step is possible from its floor on
and comfortable from its comfort on. A hand may play two strokes of one instrument closer than one after the other, as
a rebound (double): only if the second is no louder, neither is more than one stroke by itself, and the gap before the
first was no such short one: not below the floor for what is possible, not below comfort for what is comfortable. The
kicks of a foot get slower with their number: the n-th kick of a run has the floor and comfort of a run of n; a gap of
at least the comfort of the longest run ends it. With a double pedal the run is that of all kicks, whoever plays them,
and each foot is taken to have half of it: the n-th kick counts as the (n + 1) / 2-th, rounded down (our choice; a foot
that plays them all has it easier here than it is).

`short` is what a step must know of the one before. Hands: 0 the gap before was comfortable as one stroke after the
other, 1 below comfort, 2 below the floor. Feet: 2 less than how many kicks the run has so far, at least 0 and at most
LONGEST; that hangs on the tempo and on what is written alone.

AGAIN is added where one hand alone plays two moments of the hands in a row less than AGAIN_MS apart; where the second
rides (the riding hand's surfaces), only if less than RIDE_AGAIN_MS.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from ..model.kit import BY_NAME
from .limits import (
    DOUBLE_COMFORT,
    DOUBLE_FLOOR,
    FOOT_COMFORT,
    FOOT_FLOOR,
    HALF_COMFORT,
    HALF_FLOOR,
    HAND_COMFORT,
    HAND_FLOOR,
    PEDAL_COMFORT,
    PEDAL_FLOOR,
    TRAVEL_FLOOR,
    by_run,
    travel_comfort,
)

if TYPE_CHECKING:
    from .deeds import Deed
    from .player import Player

TIE = 1
POINT = 1 << 16  # more ties than a beat has strokes
BEYOND = 10**6 * POINT  # what lies beyond a floor, and as much again for how far
DROPPED = 10**10 * POINT

TIGHT, TIGHTER = 60, 400  # below comfort; and more the further below
MOVE, MOVE_FAR = 12, 10  # to another surface; and for every 40 cm
AGAIN, AGAIN_MS = 8, 250.0  # two moments of one hand alone so soon after each other
RIDE_AGAIN_MS = 150.0  # the same where the later stroke rides: one hand keeps it as long as that is comfortable
UNEVEN, UNEVEN_MS = 6, 200.0  # one hand changes by two dynamics or more so soon
NOT_LEADING = 45  # the riding hand's stroke in the other hand
LENT = 5  # a drum in the riding hand while something rides
CROSSED, UNDER = 30, 3  # arms crossed; the usual crossing of a hand over the snare to the hi-hat
ASIDE = 6  # a hand reaches to the other side of the kit
HAT_OPENS = 80  # the hi-hat foot leaves a closed hi-hat for a kick
OTHER_FOOT = 4  # with a double pedal: a kick in the foot that usually holds the hi-hat
LATE = 1.5  # a move costs up to so many times its comfort; later it is free
POSSIBLE, COMFORTABLE = 1, 2  # what can be asked of a step
EASE = 1e-6  # ms; what a division may lose
LONG_RUN = FOOT_COMFORT[-1][1]  # ms; a gap of this length ends a run of kicks
LONGEST = FOOT_COMFORT[-1][0] - 2  # from here on a run of kicks gets no slower; see `short`


class Pair(NamedTuple):
    """What two deeds of one limb in a row have in common, at any tempo; gap = parts x ms a part - offset.

    `foot`: of a foot; `run`: two kicks, limited by the length of their run.
    """

    parts: int
    offset: float
    floor: float
    comfort: float
    double: bool
    double_floor: float
    double_comfort: float
    uneven: bool
    move: int
    inner: int
    foot: bool = False
    run: bool = False

    def limits(self, slower: float, short: int = 0) -> tuple[float, float]:
        """Floor and comfort of one stroke after the other for a limb that is so much slower."""
        if self.run:
            return by_run(FOOT_FLOOR, short + 2) * slower, by_run(FOOT_COMFORT, short + 2) * slower
        if not self.move:
            return self.floor * slower, self.comfort * slower
        if slower > 1:
            return max(self.floor, HAND_FLOOR * slower), max(self.comfort, HAND_COMFORT * slower)
        return self.floor, self.comfort


def choice_cost(
    limbs: tuple[int, int],
    deeds: tuple[Deed | None, Deed | None],
    dropped: int,
    riding: tuple[str, ...],
    player: Player,
    strong: bool,
    released: bool,
) -> int:
    """Count what a choice costs by itself, whatever comes before and after.

    `dropped` is how many strokes and graces nobody does, `strong` whether the moment is on a beat, `released` whether
    a closed hi-hat stroke rings because its foot is on the kick.
    """
    cost = DROPPED * dropped
    one, two = deeds
    if limbs[0] == 2:
        if two is not None and two.kind == KICK and two.stroke.surface == "kick":
            cost += OTHER_FOOT * POINT
        return cost + HAT_OPENS * POINT * released + TIE * (strong and one is None)
    points = 0
    leads_left = player.open_handed and bool(riding) and BY_NAME[riding[0]].seat[0] < _MIDDLE
    home = 1 if leads_left else 0
    for hand, deed in enumerate(deeds):
        if deed is None or deed.kind == GRACE:
            continue
        if deed.rides:
            points += NOT_LEADING * (hand != home)
        else:
            points += LENT * (bool(riding) and hand == home)
            points += ASIDE * (deed.seat[0] < _LEFT_SIDE if hand == 0 else deed.seat[0] > _RIGHT_SIDE)
    if one is not None and two is not None and one.seat[0] + _SLACK < two.seat[0]:
        over_hat = one.instrument == "hi-hat" and not player.open_handed
        points += UNDER if over_hat else CROSSED
    return cost + points * POINT + TIE * (strong and one is None)


_MIDDLE = BY_NAME["snare"].seat[0]
_LEFT_SIDE, _RIGHT_SIDE, _SLACK = -30, 40, 10  # cm from the player's middle; our choice


def hand_pair(before: Deed, after: Deed, parts: int) -> Pair:
    """Lay out the step of a hand from one deed to another so many parts later."""
    same = before.instrument == after.instrument
    distance = 0.0
    if not same:
        distance = ((before.seat[0] - after.seat[0]) ** 2 + (before.seat[1] - after.seat[1]) ** 2) ** 0.5
    return Pair(
        parts - before.tail_parts,
        before.tail + after.lead,
        HAND_FLOOR if same else TRAVEL_FLOOR,
        HAND_COMFORT if same else travel_comfort(distance),
        same and after.level <= before.level and not before.several and not after.several,
        DOUBLE_FLOOR,
        DOUBLE_COMFORT,
        abs(before.level - after.level) >= 2,
        0 if same else MOVE + round(MOVE_FAR * distance / 40),
        after.inner,
    )


def foot_pair(before: Deed, after: Deed, parts: int) -> Pair:
    """Lay out the step of a foot; where it only holds or opens the hi-hat the limits are those of the pedal."""
    kinds = tuple(KICK if deed.kind == GRACE else deed.kind for deed in (before, after))
    floor, comfort = _ON_PEDAL.get(kinds, _FULL)
    run = kinds == (KICK, KICK)
    once, easily = (FOOT_FLOOR[0][1], FOOT_COMFORT[0][1]) if kinds[1] == KICK else _FULL
    return Pair(
        parts - before.tail_parts, before.tail + after.lead, floor, comfort, False, once, easily, False, 0, after.inner,
        True, run,
    )  # fmt: skip


# The hi-hat foot. Down to down is a whole movement, down to up or up to down half of one. From one pedal to the other
# takes a whole movement, and half of one where the foot is up already. A splash leaves the hi-hat open, a chick closed.
STROKE, GRACE, HOLD, OPEN, CHICK, SPLASH, KICK = range(7)  # what a limb does at a moment
_FULL, _HALF, _FREE = (PEDAL_FLOOR, PEDAL_COMFORT), (HALF_FLOOR, HALF_COMFORT), (0.0, 0.0)
_ON_PEDAL: dict[tuple[int, ...], tuple[float, float]] = {
    (HOLD, HOLD): _FREE, (HOLD, OPEN): _HALF, (OPEN, OPEN): _FREE, (OPEN, HOLD): _HALF,
    (OPEN, CHICK): _HALF, (OPEN, SPLASH): _HALF, (OPEN, KICK): _HALF,
    (CHICK, HOLD): _FREE, (CHICK, OPEN): _HALF, (SPLASH, HOLD): _HALF, (SPLASH, OPEN): _FREE,
    (KICK, OPEN): _FREE, (KICK, KICK): (FOOT_FLOOR[0][1], FOOT_COMFORT[0][1]),
}  # fmt: skip


class Stepped(NamedTuple):
    """A step at a tempo: points, `short` for the next one (feet: 0), and whether it lies within floor and comfort."""

    points: int
    short: int
    possible: bool
    comfortable: bool


def take(pair: Pair, short: int, ms: float, slower: float) -> Stepped:
    """Judge a step at `ms` a part; `slower` is the limb's own scale.

    Inside a diddle the double's limits hold. In points: below comfort TIGHT, and up to TIGHTER more the further below;
    a move; UNEVEN. Below the floor BEYOND, and up to as much again the further below.
    """
    gap = pair.parts * ms - pair.offset + EASE
    floor, comfort = pair.limits(slower, short)
    possible, comfortable = gap >= floor or floor == 0, gap >= comfort or comfort == 0
    if pair.double and not possible and short < 2:
        possible = gap >= pair.double_floor * slower
    if pair.double and not comfortable and short < 1:
        comfortable = gap >= pair.double_comfort * slower
    bad = 0.0 if possible else 1 - max(gap, 0.0) / floor
    points = 0 if comfortable else _tight(gap, comfort)
    now = 2 if gap < HAND_FLOOR * slower else 1 if gap < HAND_COMFORT * slower else 0
    if pair.inner:
        within, least, easily = pair.inner * ms + EASE, pair.double_floor * slower, pair.double_comfort * slower
        if within < least or (gap < HAND_FLOOR * slower):
            possible = False
            bad = max(bad, 1 - within / least, 0.01)
        if within < easily:
            comfortable = False
            points += _tight(within, easily)
    if pair.move and gap < LATE * comfort:
        points += pair.move
    if pair.uneven and gap < UNEVEN_MS:
        points += UNEVEN
    beyond = 0 if possible else BEYOND + round(BEYOND * bad)
    return Stepped(points * POINT + beyond, 0 if pair.foot else now, possible, comfortable)


def _tight(gap: float, comfort: float) -> int:
    return TIGHT + round(TIGHTER * (1 - max(gap, 0.0) / comfort))
