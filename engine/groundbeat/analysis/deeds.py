"""What has each limb to choose from at every moment of a looping beat?

A beat becomes two tracks: one for the hands, one for the feet. A track is a ring of moments; a moment has choices; a
choice gives each of the two limbs one deed or none. Places count in 1/`parts` tick as they are sounded, so that a
swung beat is judged by its short gaps. Limbs are meant from the player's own side: 0 the leading hand, 1 the other
hand, 2 the kick foot, 3 the hi-hat foot; the kit of a left-handed player is mirrored.

* A flam or drag takes both limbs of its track: the other one plays the grace notes before the stroke. In a four-stroke
  ruff the main one plays the second grace note too. A diddle is two strokes of one limb, half a column apart; a buzz
  keeps its hand on the head; a choked stroke needs its hand to take hold of the cymbal.
* Closed hi-hat strokes need the hi-hat foot down (HOLD), open and half-open ones need it up (OPEN), as far as that foot
  has anything else to do. Where it also plays kicks it may stay away from a closed hi-hat, which then rings. With a
  drop clutch the hi-hat stays closed without it. The second kick is the hi-hat foot's; with a double pedal it may take
  any kick, and the grace note of a flam.
* What no limb is left for is dropped: as few strokes as can be, the quietest, then as few grace notes as can be; and
  told. This is the same at every tempo. A pinned hand is never unpinned: two strokes pinned to one hand at a moment
  are one too many.
* A push moves a surface by its milliseconds, for the limb that plays it.

Deeds are numbered from a bar that is found by what the bars hold, so that a beat rotated by whole bars is worked out
in the same order.
"""

from __future__ import annotations

from collections.abc import Iterable
from itertools import product
from math import gcd
from typing import NamedTuple

from ..model.beat import Beat, Stroke
from ..model.feel import Feel
from ..model.kit import BY_NAME, FEET_ONLY
from ..model.roles import FEET, KICKS
from .cost import CHICK, GRACE, HOLD, KICK, OPEN, SPLASH, STROKE, choice_cost
from .limits import BUZZ_LENGTH, CHOKE_AFTER, GRACE_LAST, GRACE_LEAD, RUFF_MAIN
from .player import Player

__all__ = ["CHICK", "GRACE", "HOLD", "KICK", "OPEN", "SPLASH", "STROKE", "Choice", "Deed", "Moment", "Track", "tracks"]

# A half-open hi-hat counts as up: from there to closed is half a movement, as every player uses it before a chick.
_HAT = {"hi-hat": HOLD, "half-open hi-hat": OPEN, "open hi-hat": OPEN}
_SECOND = KICKS[1]
_NONE = -1


class Deed(NamedTuple):
    """One thing that a limb does at a moment.

    `lead` is how long before the moment it begins, `tail` and `tail_parts` how long after it the limb is still busy,
    `inner` the gap inside a diddle, all 0 for a plain stroke; ms, and 1/`parts` tick. `several`: it is more than one
    stroke of this limb by itself. `rides`: it is on the riding hand's surfaces.
    """

    number: int
    at: int
    stroke: Stroke
    kind: int
    instrument: str
    seat: tuple[int, int]
    level: int
    lead: float = 0.0
    tail: float = 0.0
    tail_parts: int = 0
    inner: int = 0
    several: bool = False
    rides: bool = False


class Choice(NamedTuple):
    """Which deed the first and the second limb of a track do (-1: none), what that costs, and what nobody does.

    `opens` are the ids of closed or half-open hi-hat strokes that ring, because the hi-hat foot is on the kick.
    """

    first: int
    second: int
    cost: int
    dropped: tuple[tuple[str, int], ...]
    opens: tuple[str, ...] = ()


class Moment(NamedTuple):
    """A moment with its choices; `before` is when the moment before it is (itself where there is only one)."""

    at: int
    before: int
    choices: tuple[Choice, ...]


class Track(NamedTuple):
    """The moments of two limbs in the order of time: `limbs` are (0, 1) for the hands, (2, 3) for the feet.

    `first` is the index of the moment that deeds are numbered from.
    """

    limbs: tuple[int, int]
    loop: int
    parts: int
    moments: tuple[Moment, ...]
    deeds: tuple[Deed, ...]
    first: int = 0


def tracks(beat: Beat, feel: Feel, riding: Iterable[str], player: Player) -> tuple[Track, Track]:
    """Lay out what hands and feet have to do; `riding` are the surfaces that the riding hand plays."""
    parts = _parts(feel)
    loop = beat.cycle * parts
    moments: dict[int, list[Stroke]] = {}
    for stroke in beat.strokes:
        moments.setdefault(_sounded(stroke.at, feel, parts) % loop, []).append(stroke)
    ring = sorted(moments.items())
    begin = _canonical(beat) * beat.meter.bar * parts
    ring = [row for row in ring if row[0] >= begin] + [row for row in ring if row[0] < begin]
    hands: list[_Row] = [(at, [s for s in row if s.surface not in FEET_ONLY], None) for at, row in ring]
    layer = _Layer(beat, feel, parts, frozenset(riding), tuple(riding), player)
    return layer.track((0, 1), hands), layer.track((2, 3), _footwork(ring, player))


def _sounded(tick: int, feel: Feel, parts: int) -> int:
    num, den = feel.sounded(tick)
    return num * parts // den


def _canonical(beat: Beat) -> int:
    """The bar to begin with: that of which the bars from there on come first in an order of what they hold."""
    if beat.bars == 1:
        return 0
    bars: list[list[tuple[int, str, str, str, str]]] = [[] for _ in range(beat.bars)]
    for s in beat.strokes:
        bars[s.at // beat.meter.bar].append((s.at % beat.meter.bar, s.surface, s.dynamic, s.grace, s.hand))
    return min(range(beat.bars), key=lambda bar: bars[bar:] + bars[:bar])


def _parts(feel: Feel) -> int:
    if not feel.swung or feel.long == feel.short:
        return 1
    return (feel.long + feel.short) // gcd(feel.long, feel.short)


_Row = tuple[int, list[Stroke], tuple[int, Stroke] | None]  # place, strokes, and what the hi-hat must be


def _footwork(ring: list[tuple[int, list[Stroke]]], player: Player) -> list[_Row]:
    """What feet strike, and where the hi-hat must be closed or open while that foot has more to do."""
    rows: list[_Row] = [(at, [s for s in row if s.surface in FEET_ONLY], None) for at, row in ring]
    struck = {stroke.surface for _, row, _ in rows for stroke in row}
    if player.clutch or not (struck & {*FEET, _SECOND} or (player.double_pedal and struck)):
        return rows
    held: list[_Row] = []
    for (at, feet, _), (_, row) in zip(rows, ring, strict=True):
        hat = next((s for s in row if s.surface in _HAT), None)
        held.append((at, feet, (_HAT[hat.surface], hat) if hat else None))
    return held


class _Layer:
    """What is the same for all moments of a beat while its tracks are laid."""

    def __init__(
        self, beat: Beat, feel: Feel, parts: int, rides: frozenset[str], riding: tuple[str, ...], player: Player
    ) -> None:
        self.beat, self.feel, self.parts = beat, feel, parts
        self.rides, self.riding, self.player = rides, riding, player

    def track(self, limbs: tuple[int, int], ring: list[_Row]) -> Track:
        """Lay the track of two limbs; the rows come in the order in which deeds are numbered."""
        self.deeds: list[Deed] = []
        self.made: dict[tuple[int, str, int], int] = {}
        surfaces = {stroke.surface for _, row, _ in ring for stroke in row}
        kicks = limbs[0] == 2 and (_SECOND in surfaces or (self.player.double_pedal and KICKS[0] in surfaces))
        moments = [
            Moment(at, 0, tuple(self._choices(limbs, at, row, hat, kicks))) for at, row, hat in ring if row or hat
        ]
        head = moments[0].at if moments else 0
        moments.sort()
        timed = [moment._replace(before=moments[index - 1].at) for index, moment in enumerate(moments)]
        first = next((index for index, moment in enumerate(timed) if moment.at == head), 0)
        return Track(limbs, self.beat.cycle * self.parts, self.parts, tuple(timed), tuple(self.deeds), first)

    def _choices(
        self, limbs: tuple[int, int], at: int, row: list[Stroke], hat: tuple[int, Stroke] | None, kicks: bool
    ) -> Iterable[Choice]:
        """All choices at a moment that drop as little as can be; `kicks`: the hi-hat foot plays some somewhere."""
        strong = _on_a_beat(row[0] if row else hat[1] if hat else None, self.beat)
        found: dict[Choice, tuple[list[int], int]] = {}
        for first, second in _shares(row, limbs, self.player):
            one = self._deed(at, first, _kind(first)) if first else _NONE
            two = self._deed(at, second, _kind(second)) if second else _NONE
            lost = [s for s in row if s is not first and s is not second]
            dropped = [(s.id, STROKE) for s in lost]
            for stroke in (first, second):
                if stroke and stroke.grace in GRACE_LEAD:
                    if second is None and _may(limbs[1], stroke, self.player, grace=True):
                        two = self._deed(at, stroke, GRACE)
                    elif first is None and _may(limbs[0], stroke, self.player, grace=True):
                        one = self._deed(at, stroke, GRACE)
                    else:
                        dropped.append((stroke.id, GRACE))
            seconds = [(two, False)]
            if hat:
                kind, stroke = hat
                if two == _NONE:
                    seconds = [(self._deed(at, stroke, kind), False)] + [(two, True)] * (kicks and kind == HOLD)
                else:
                    rings = stroke.surface != "open hi-hat" and self.deeds[two].kind in (KICK, GRACE)
                    seconds = [(two, rings)]
            loss = sorted((stroke.level for stroke in lost), reverse=True), len(dropped) - len(lost)
            for other, released in seconds:
                both = self.deeds[one] if one >= 0 else None, self.deeds[other] if other >= 0 else None
                cost = choice_cost(limbs, both, len(dropped), self.riding, self.player, strong, released)
                opens = (hat[1].id,) if hat and released else ()
                found[Choice(one, other, cost, tuple(dropped), opens)] = loss
        least = min(found.values())
        return (choice for choice, loss in found.items() if loss == least)

    def _deed(self, at: int, stroke: Stroke, kind: int) -> int:
        key = (at, stroke.id, kind)
        number = self.made.get(key)
        if number is None:
            number = self.made[key] = len(self.deeds)
            half = _sounded(min(stroke.at + self.beat.column // 2, self.beat.cycle - 1), self.feel, self.parts)
            inner = half - _sounded(stroke.at, self.feel, self.parts)
            push = self.feel.push(stroke.surface) if self.feel.pushes and kind not in (HOLD, OPEN) else 0
            self.deeds.append(_deed(number, at, stroke, kind, inner, push, stroke.surface in self.rides))
        return number


def _shares(row: list[Stroke], limbs: tuple[int, int], player: Player) -> Iterable[tuple[Stroke | None, Stroke | None]]:
    """Every way to give two limbs one stroke each, or none; every limb takes one as long as there are any for it."""
    able = [[None, *(s for s in row if _may(limb, s, player))] for limb in limbs]
    pairs = [(a, b) for a, b in product(*able) if a is None or a is not b]
    most = max((a is not None) + (b is not None) for a, b in pairs)
    return [pair for pair in pairs if (pair[0] is not None) + (pair[1] is not None) == most]


def _may(limb: int, stroke: Stroke, player: Player, *, grace: bool = False) -> bool:
    """Tell whether a limb may play a stroke, or its grace notes: a pinned hand, and the feet with their pedals.

    Grace notes of feet are played by the other foot on the same drum: only a flam on the kick of a double pedal. Drags
    and ruffs would ask more of a foot than its floor.
    """
    if limb < 2:
        if grace or not stroke.hand:
            return True
        return (stroke.hand == "R") == ((limb == 0) != player.left_handed)
    if grace and stroke.grace != "flam":
        return False
    if stroke.surface == "kick":
        return limb == 2 or player.double_pedal
    return limb == 3 and not grace


def _kind(stroke: Stroke) -> int:
    if stroke.surface in FEET:
        return CHICK if stroke.surface == FEET[0] else SPLASH
    return KICK if stroke.surface in KICKS else STROKE


def _deed(number: int, at: int, stroke: Stroke, kind: int, half: int, push: int, rides: bool) -> Deed:
    row = BY_NAME[stroke.surface]
    lead = tail = 0.0
    inner = 0
    several = False
    if kind == GRACE:
        lead = GRACE_LEAD[stroke.grace]
        tail = -GRACE_LAST[stroke.grace]
        several = stroke.grace != "flam"
    elif kind not in (HOLD, OPEN):
        inner = half if stroke.grace == "diddle" else 0
        several = inner > 0
        if kind == STROKE:
            lead = RUFF_MAIN if stroke.grace == "ruff" else 0.0
            tail = BUZZ_LENGTH if stroke.grace == "buzz" else CHOKE_AFTER if stroke.grace == "choke" else 0.0
            several = several or stroke.grace in ("buzz", "ruff")
    level = stroke.level if kind != GRACE else 0
    lead, tail = lead - push, tail + push
    return Deed(
        number, at, stroke, kind, row.instrument, row.seat, level, lead, tail, inner, inner, several, rides
    )  # fmt: skip


def _on_a_beat(stroke: Stroke | None, beat: Beat) -> bool:
    if stroke is None:
        return False
    meter = beat.meter
    within = stroke.at % meter.bar
    return within % meter.number == 0 and within // meter.number + 1 in meter.beats
