"""Up to which tempo can a stage be played, and up to which in comfort, and what sets the limit?

The search is exact. Take the best assignment at a tempo and the fastest tempo that it allows; ask whether any other
one closes the loop a hair faster; where one does, go on from there. Every round reaches a faster tempo of finitely
many. Slower is never less possible: a step that lies within its limits does so at every slower tempo, whatever was
chosen.
"""

from __future__ import annotations

from math import floor
from typing import NamedTuple

from ..model.groove import MAX_TEMPO
from .assign import COMFORTABLE, POSSIBLE, Solved, solve_within
from .cost import EASE, LONG_RUN
from .deeds import KICK, OPEN, Choice, Deed
from .limbs import MINUTE, Playing, Step, laid_out, ms_a_part, steps_of
from .limits import DOUBLE_COMFORT, DOUBLE_FLOOR, FOOT_COMFORT, FOOT_FLOOR, HAND_COMFORT, HAND_FLOOR, PEDAL_COMFORT
from .ring import Ring, fits, limb_deeds, numbers_of

HAIR = 1e-6  # how much faster is asked for, as a part of the tempo
_ANY = (
    HAND_FLOOR, HAND_COMFORT, DOUBLE_FLOOR, DOUBLE_COMFORT, LONG_RUN, PEDAL_COMFORT,
    *(limit for _, limit in (*FOOT_FLOOR, *FOOT_COMFORT)),
)  # fmt: skip
SLOWEST = 1.0  # beats a minute; what is only possible slower than this is not told as a tempo


class Tempo(NamedTuple):
    """A tempo in whole beats a minute (None: there is none, at any tempo), the steps that set it (() where it is the
    fastest that a groove can have, or where there is none), and the beat as it is played there."""

    bpm: int | None
    steps: tuple[Step, ...]
    playing: Playing


def fastest(playing: Playing) -> Tempo:
    """Find the fastest tempo at which nothing is beyond a floor."""
    return _search(playing, POSSIBLE)


def comfortable(playing: Playing) -> Tempo:
    """Find the fastest tempo at which everything is comfortable."""
    return _search(playing, COMFORTABLE)


def _search(playing: Playing, ask: int) -> Tempo:
    if not playing.possible:
        return Tempo(None, (), playing)
    beat, unit, parts = playing.beat, playing.unit, playing.rings[0].track.parts
    least = ms_a_part(MAX_TEMPO, unit, playing.rings[0].track)
    found = [_ring(ring, choices, ask, least) for ring, choices in zip(playing.rings, playing.chosen, strict=True)]
    ms = max(least, *(needed for needed, _ in found))
    tempo = MINUTE / (ms * unit * parts)
    if tempo < SLOWEST * 100:
        return Tempo(None, (), playing)
    there = floor(tempo + EASE)  # and there as it is played best, not as the search came upon it
    here = ms_a_part(there, unit, playing.rings[0].track)
    chosen = [
        solve_within(ring, here, ask) or Solved(choices, 0)
        for ring, (_, choices) in zip(playing.rings, found, strict=True)
    ]
    steps: list[Step] = []
    if ms > least:
        for ring, (needed, choices) in zip(playing.rings, found, strict=True):
            if needed >= ms * (1 - HAIR):
                steps += [step for step in steps_of(ring, choices, ms * (1 - HAIR * 10)) if not _lies(step, ask)]
    laid = laid_out(beat, playing.feel, playing.player, there, unit, playing.rings, (chosen[0], chosen[1]))
    return Tempo(floor(tempo / 100 + EASE), tuple(steps), laid)


def _lies(step: Step, ask: int) -> bool:
    return step.possible if ask == POSSIBLE else step.comfortable


def _ring(ring: Ring, choices: tuple[Choice, ...], ask: int, least: float) -> tuple[float, tuple[Choice, ...]]:
    """The fewest ms a part at which the loop closes, and how."""
    best = _needs(ring, choices, ask, least)
    while best > least:
        other = solve_within(ring, best * (1 - HAIR), ask)
        if other is None:
            break
        needed = _needs(ring, other.choices, ask, least)
        if needed >= best:  # cannot be: what closes a hair faster needs less
            break
        best, choices = needed, other.choices
    return best, choices


def _needs(ring: Ring, choices: tuple[Choice, ...], ask: int, least: float) -> float:
    """The fewest ms a part at which these choices lie within what is asked, at least `least`."""

    moving = any(ring.track.deeds[choice.second].kind == OPEN for choice in choices if choice.second >= 0)
    limbs = [limb_deeds(ring, choices, which, least) for which in (0, 1)]
    steps = [numbers_of(ring, deeds) for deeds in limbs]

    def lies(ms: float) -> bool:
        for which, (deeds, numbers) in enumerate(zip(limbs, steps, strict=True)):
            if moving and which and not ring.hands:
                # What a foot that left an open hi-hat alone does in a row hangs on the tempo.
                deeds = limb_deeds(ring, choices, which, ms)
                numbers = numbers_of(ring, deeds)
            if not fits(ring, which, deeds, numbers, ms, ask):
                return False
        return True

    if lies(least):
        return least
    numbered = set(steps[0]) | set(steps[1])
    if moving:
        numbered |= _leaving(ring, [ring.track.deeds[c.second] for c in choices if c.second >= 0])
    pairs = [ring.pairs[number] for number in numbered]
    limits = {limit * slower for limit in _ANY for slower in ring.slower}
    limits |= {limit for pair in pairs for slower in ring.slower for limit in pair.limits(slower)}
    spans = {(pair.parts, pair.offset) for pair in pairs if pair.parts > 0}
    spans |= {(ring.pairs[number].parts, 0.0) for number in _kicking(ring)}
    spans |= {(pair.inner, 0.0) for pair in pairs if pair.inner}
    row = sorted(
        {least, *(ms for limit in limits for parts, offset in spans if (ms := (limit + offset) / parts) > least)}
    )
    low, high = 0, len(row) - 1
    while low < high:
        middle = (low + high) // 2
        if lies(row[middle]):
            high = middle
        else:
            low = middle + 1
    return row[low]


def _leaving(ring: Ring, deeds: list[Deed]) -> set[int]:
    """The numbers of all steps of the hi-hat foot that leave out none, some or all open hi-hats between two deeds."""
    found = set()
    for index, deed in enumerate(deeds):
        for ahead in range(1, len(deeds) + 1):
            after = deeds[(index + ahead) % len(deeds)]
            found.add(ring.number(deed.number, after.number))
            if after.kind != OPEN:
                break
    return found


def _kicking(ring: Ring) -> set[int]:
    """The numbers of the steps from each kick to the next one, whoever plays them: they begin and end runs."""
    kicks = sorted((deed for deed in ring.track.deeds if deed.kind == KICK), key=lambda deed: deed.at)
    near = {
        (before.number, deed.number)
        for size in (1, 2)
        for before, deed in zip(kicks, kicks[size:] + kicks[:size], strict=True)
    }
    return {ring.number(before, deed) for before, deed in near}
