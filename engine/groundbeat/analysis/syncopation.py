"""How much does a beat work against its meter?

A note is syncopated where it is followed by silence on a place that weighs more than its own. The longer name of the
measure is that of Longuet-Higgins and Lee (1984, Music Perception 1:424-441), read here on a grid that loops: for each
note, the heaviest silent place before the next note, less the weight of the note's own place, where that is above 0.

Between lines of the kit there is the index of Witek et al. (2014, PLOS ONE 9(4):e94446): a note on one line just before
a note on another on a place that weighs as much or more. Both count notes, not loudness: a ghost counts like an accent.
More is not better: wanting to move was greatest in the middle there.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import gcd
from typing import NamedTuple

from ..model.beat import Beat
from ..model.kit import INSTRUMENTS, ROWS
from ..model.meter import QUARTER
from ..model.place import COLUMNS, TRIPLET_COLUMNS
from ..model.roles import BACKBEAT_SURFACES, KICKS, Roles, find_roles
from .weights import weights

FINEST = 48  # pulses a quarter at most: 64ths, triplets of 32nds; what lies off them goes to the nearest. Our choice
HALF_WAY = 12  # points a bar shown as 50: the most syncopated of the 30 rhythms of Fitch and Rosenfeld (2007) has 12
SIXTEENTH = COLUMNS["sixteenths"]

# What Witek et al. add for who is syncopated against whom.
KICK_AGAINST_BOTH, SNARE_AGAINST_BOTH, AGAINST_HIHAT_ALONE = 2, 1, 5


class Syncopation(NamedTuple):
    """The syncopation of a beat in points of Longuet-Higgins and Lee over its whole cycle, and Witek's index.

    `whole` reads all strokes as one line, `lines` each instrument for itself (from the top line of the kit), `bars`
    says how much of the lines' sum each bar brings, `against` is Witek's index over the cycle, `shown` the lines' sum
    from 0 to 99, compressed.
    """

    whole: int
    lines: tuple[tuple[str, int], ...]
    bars: tuple[int, ...]
    against: int
    shown: int


def longuet_higgins(onsets: Sequence[int], weights: Sequence[int]) -> int:
    """Add up the syncopations of a line that loops: 0 where every note is followed by nothing heavier.

    `onsets` are pulses in order, without repeats; `weights` one number a pulse.

    >>> from ..model.meter import Meter
    >>> longuet_higgins([0, 3, 6, 10, 12], weights(Meter.of("4/4"), 2520))  # the son
    4
    """
    return sum(_strengths(onsets, weights))


def _strengths(onsets: Sequence[int], weights: Sequence[int]) -> list[int]:
    """The strength of each note's syncopation, 0 where it has none."""
    if not onsets:
        return []
    turn = [*weights[onsets[-1] + 1 :], *weights[: onsets[0]]]  # the silence over the loop's end
    found = []
    for at, following in zip(onsets, onsets[1:], strict=False):
        silent = weights[at + 1 : following]
        found.append(max(max(silent) - weights[at], 0) if silent else 0)
    found.append(max(max(turn) - weights[onsets[-1]], 0) if turn else 0)
    return found


def of_beat(beat: Beat, roles: Roles | None = None) -> Syncopation:
    """Measure a beat over its whole cycle; `roles` say who rides (found where they are not given).

    >>> from ..model.beat import Stroke, base_beat
    >>> from ..model.meter import Meter
    >>> rock = [Stroke(at, "snare") for at in (10080, 30240)] + [Stroke(at, "kick") for at in (0, 17640)]
    >>> found = of_beat(base_beat(Meter.of("4/4"), 1, "sixteenths", rock))
    >>> found.whole, found.lines
    (3, (('snare', 3), ('kick', 3)))
    """
    pulse = _pulse(beat)
    grid = weights(beat.meter, pulse, beat.columns == TRIPLET_COLUMNS) * beat.bars
    count, half = len(grid), pulse // 2
    places: dict[str, set[int]] = {}
    for stroke in beat.strokes:
        places.setdefault(stroke.surface, set()).add((stroke.at + half) // pulse % count)
    by_line: dict[str, set[int]] = {}
    for surface in sorted(places, key=ROWS.__getitem__):
        by_line.setdefault(INSTRUMENTS[surface], set()).update(places[surface])
    bar, bars, lines = count // beat.bars, [0] * beat.bars, []
    for name, spots in by_line.items():
        onsets = sorted(spots)
        strengths = _strengths(onsets, grid)
        lines.append((name, sum(strengths)))
        for at, strength in zip(onsets, strengths, strict=True):
            bars[at // bar] += strength
    whole = longuet_higgins(sorted(set().union(*by_line.values())), grid)
    return Syncopation(whole, tuple(lines), tuple(bars), _against(beat, roles), compressed(sum(bars), beat.bars))


def _pulse(beat: Beat) -> int:
    """The coarsest pulse that holds all strokes and numbers, in ticks; not finer than FINEST."""
    pulse = gcd(beat.meter.number, *(stroke.at for stroke in beat.strokes))
    return pulse if pulse * FINEST >= QUARTER else QUARTER // FINEST


def compressed(points: int, bars: int) -> int:
    """Show points over so many bars as 0 to 99: 50 at HALF_WAY points a bar, never falling, flatter towards the top.

    Listeners hear less difference at the upper end than a sum of syncopations says (Hoesl and Senn 2018, Music &
    Science); the curve is our choice.

    >>> [compressed(points, 1) for points in (0, 3, 12, 36, 10000)]
    [0, 20, 50, 75, 99]
    """
    return 100 * points // (points + HALF_WAY * bars)


def witek(
    kick: Sequence[int], snare: Sequence[int], hihat: Sequence[int], weights: Sequence[int], cycle: int = 0
) -> int:
    """Add up the syncopations between kick, snare and hi-hat; each step is compared with the next, over the loop too.

    Places are steps; `weights` (one a step) repeat up to `cycle` steps. Where the next step weighs as much or more and
    sounds other lines: later weight less earlier weight, plus 2 for the kick against snare and hi-hat, 1 for the snare
    against kick and hi-hat, 5 for either against the hi-hat alone. A pair of steps counts once, by the first of these
    that fits (our reading; the paper does not say).
    """
    low, mid, high = set(kick), set(snare), set(hihat)
    steps, total = cycle or len(weights), 0
    for at in low | mid:
        after = (at + 1) % steps
        now, then = (at in low, at in mid, at in high), (after in low, after in mid, after in high)
        rise = weights[after % len(weights)] - weights[at % len(weights)]
        if rise < 0 or not then[2] or now == then:
            continue
        if now[0] and then[1]:
            total += rise + KICK_AGAINST_BOTH
        elif now[1] and then[0]:
            total += rise + SNARE_AGAINST_BOTH
        elif not then[0] and not then[1]:
            total += rise + AGAINST_HIHAT_ALONE
    return total


def _against(beat: Beat, roles: Roles | None) -> int:
    """Witek's index of kick, backbeat surfaces and riding hand, in sixteenths (on triplet columns: in those).

    Strokes between the steps are no part of it.
    """
    step = beat.column if "triplets" in beat.columns else SIXTEENTH
    riding = frozenset((roles or find_roles(beat)).riding)
    lines: tuple[list[int], list[int], list[int]] = ([], [], [])
    for stroke in beat.strokes:
        surface = stroke.surface
        which = 2 if surface in riding else 0 if surface in KICKS else 1 if surface in BACKBEAT_SURFACES else 3
        if which < 3 and stroke.at % step == 0:
            lines[which].append(stroke.at // step)
    if beat.meter.number % step:  # sixteenth numbers on triplets: no steps to weigh
        return 0
    grid = weights(beat.meter, step, beat.columns == TRIPLET_COLUMNS, False)
    return witek(*lines, grid, beat.cycle // step)
