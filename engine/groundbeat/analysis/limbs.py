"""Who plays what in a stage, at a tempo: limbs, and every step from one stroke of a limb to its next.

`play` answers for one tempo. All else that is said of a player (fastest tempo, tricky spots, demand, plan) reads the
steps here. A step that is not within its floor is *beyond*, not impossible: impossible is only what no limb is left
for, at any tempo.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from ..model.beat import Beat, Stroke
from ..model.feel import Feel
from ..model.groove import Groove
from ..model.roles import find_roles
from ..variation.stack import Stage
from .assign import Solved, solve
from .cost import EASE, Stepped
from .deeds import GRACE, HOLD, OPEN, Choice, Deed, Track, tracks
from .limits import FOOT_COMFORT, HAND_FLOOR, Limits
from .player import USUAL, Player
from .ring import Ring, follow, limb_deeds

LEAD, OTHER, KICK_FOOT, HAT_FOOT = range(4)  # a limb by what it does; the player says which is the right one
MINUTE = 60_000 * 100  # ms in a minute, times the hundredths that a tempo is told in

# What a step is about.
AGAIN, DOUBLE, TRAVEL, INSIDE, PEDAL, RUN = "again", "double", "travel", "inside", "pedal", "run"


class Step(NamedTuple):
    """One limb from one stroke to its next: `gap` ms at the tempo, and the floor and comfort that hold for it there.

    `about` is what limits it: the same hand AGAIN or as a DOUBLE, TRAVEL to another surface, INSIDE a diddle, the
    PEDAL of the hi-hat, or a RUN of one foot (then `gap` is the mean of the run, `strokes` all of it). `gap` is `parts`
    (1/parts tick of the track) at the tempo less `offset` ms.
    """

    limb: int
    before: Stroke
    after: Stroke
    gap: float
    floor: float
    comfort: float
    about: str
    possible: bool
    comfortable: bool
    parts: float
    offset: float
    strokes: tuple[Stroke, ...] = ()


class Playing(NamedTuple):
    """A beat as it is played at a tempo. `limbs` and `graces` give limbs by stroke id, `dropped` what no limb does."""

    beat: Beat
    feel: Feel
    player: Player
    tempo: int
    unit: int
    limbs: dict[str, int]
    graces: dict[str, int]
    dropped: tuple[tuple[Stroke, str], ...]
    released: tuple[Stroke, ...]
    steps: tuple[Step, ...]
    rings: tuple[Ring, Ring]
    chosen: tuple[tuple[Choice, ...], tuple[Choice, ...]]
    cost: int

    @property
    def possible(self) -> bool:
        """Whether limbs are left for everything."""
        return not self.dropped

    @property
    def playable(self) -> bool:
        """Whether nothing is impossible or beyond a floor."""
        return self.possible and all(step.possible for step in self.steps)

    @property
    def ms(self) -> float:
        """Milliseconds a tick as written."""
        return MINUTE / (self.tempo * self.unit)

    def limb_names(self) -> dict[str, str]:
        """Which limb plays each stroke, in words; strokes that nobody can play are not in it."""
        return {name: self.player.limbs[limb] for name, limb in self.limbs.items()}


def play(groove: Groove, stage: Stage, player: Player = USUAL, tempo: int = 0) -> Playing:
    """Find who plays what in a stage; `tempo` in hundredths of a beat a minute, 0 for the groove's own."""
    riding = find_roles(stage.beat, stage.backbeats, groove.roles).riding
    return play_beat(stage.beat, stage.feel, riding, tempo or groove.tempo, groove.base.meter.tempo_unit[1], player)


def play_beat(beat: Beat, feel: Feel, riding: Iterable[str], tempo: int, unit: int, player: Player = USUAL) -> Playing:
    """Find who plays what in a beat; `unit` are the ticks that the tempo counts, `riding` the riding hand's
    surfaces."""
    rings = rings_of(beat, feel, riding, player)
    ms = ms_a_part(tempo, unit, rings[0].track)
    return laid_out(beat, feel, player, tempo, unit, rings, (solve(rings[0], ms), solve(rings[1], ms)))


def rings_of(beat: Beat, feel: Feel, riding: Iterable[str], player: Player) -> tuple[Ring, Ring]:
    """Make the tracks of hands and feet ready."""
    hands, feet = tracks(beat, feel, riding, player)
    slow: Limits = player.limits
    return Ring(hands, (slow.lead, slow.other)), Ring(feet, (slow.kick, slow.pedal))


def ms_a_part(tempo: int, unit: int, track: Track) -> float:
    """Milliseconds a part of a track at a tempo."""
    return MINUTE / (tempo * unit * track.parts)


def laid_out(
    beat: Beat,
    feel: Feel,
    player: Player,
    tempo: int,
    unit: int,
    rings: tuple[Ring, Ring],
    solved: tuple[Solved, Solved],
) -> Playing:
    """Tell everything about what was chosen at a tempo."""
    limbs: dict[str, int] = {}
    graces: dict[str, int] = {}
    strokes = {stroke.id: stroke for stroke in beat.strokes}
    dropped: list[tuple[Stroke, str]] = []
    released: list[Stroke] = []
    steps: list[Step] = []
    for ring, found in zip(rings, solved, strict=True):
        track = ring.track
        ms = ms_a_part(tempo, unit, track)
        for choice in found.choices:
            for limb, number in zip(track.limbs, (choice.first, choice.second), strict=True):
                if number >= 0 and track.deeds[number].kind not in (HOLD, OPEN):
                    deed = track.deeds[number]
                    (graces if deed.kind == GRACE else limbs)[deed.stroke.id] = limb
            dropped += [(strokes[name], "grace" if kind == GRACE else "stroke") for name, kind in choice.dropped]
        steps += steps_of(ring, found.choices, ms)
        released += [strokes[name] for choice in found.choices for name in choice.opens]
    cost = solved[0].cost + solved[1].cost
    chosen = solved[0].choices, solved[1].choices
    return Playing(
        beat, feel, player, tempo, unit, limbs, graces, tuple(dropped), tuple(released), tuple(steps), rings, chosen,
        cost,
    )  # fmt: skip


def doing(track: Track, choices: Iterable[Choice], which: int) -> list[Deed]:
    """What the first (0) or second (1) limb of a track does, in order."""
    numbers = (choice.second if which else choice.first for choice in choices)
    return [track.deeds[number] for number in numbers if number >= 0]


def steps_of(ring: Ring, choices: Iterable[Choice], ms: float) -> list[Step]:
    """Every step of both limbs around the loop, and the tightest runs of the feet."""
    row = tuple(choices)
    steps: list[Step] = []
    for which, limb in enumerate(ring.track.limbs):
        deeds = limb_deeds(ring, row, which, ms)
        for index, (found, short) in enumerate(follow(ring, which, deeds, ms)):
            steps += _told(ring, limb, deeds, index, found, short, ms)
    return steps


def _told(ring: Ring, limb: int, deeds: list[Deed], index: int, found: Stepped, short: int, ms: float) -> list[Step]:
    before, deed = deeds[index - 1], deeds[index]
    pair = ring.pair(before.number, deed.number)
    slower = ring.slower[limb % 2]
    gap = pair.parts * ms - pair.offset
    floor, comfort = pair.limits(slower, short)
    rows = []
    if floor > 0:
        possible, easy = gap + EASE >= floor, gap + EASE >= comfort
        about = TRAVEL if pair.move else AGAIN
        strokes: tuple[Stroke, ...] = ()
        if pair.double and not easy and (short < 1 or (short < 2 and not possible)):
            # As a rebound: comfortable after a comfortable gap, possible after a possible one.
            about, floor = DOUBLE, pair.double_floor * slower
            comfort = pair.double_comfort * slower if short < 1 else comfort
            possible, easy = gap + EASE >= floor, gap + EASE >= comfort
        elif pair.run and short + 2 >= FOOT_COMFORT[1][0]:
            about = RUN
            count = max(length for length, _ in FOOT_COMFORT if length <= short + 2)
            strokes = tuple(
                deeds[(index - back) % len(deeds)].stroke for back in range(min(count, len(deeds)) - 1, -1, -1)
            )
        elif pair.foot and not pair.run:
            about = PEDAL
        rows.append(
            Step(limb, before.stroke, deed.stroke, gap, floor, comfort, about, possible, easy, pair.parts, pair.offset,
                 strokes)
        )  # fmt: skip
    if pair.inner:
        within = pair.inner * ms
        floor, comfort = pair.double_floor * slower, pair.double_comfort * slower
        fits, easy = within + EASE >= floor and gap + EASE >= HAND_FLOOR * slower, within + EASE >= comfort
        rows.append(Step(limb, deed.stroke, deed.stroke, within, floor, comfort, INSIDE, fits, easy, pair.inner, 0.0))
    return rows
