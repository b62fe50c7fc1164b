"""What shape has a rhythm: how off the beat, how even, how varied?

A rhythm is a cycle of `n` pulses and its `onsets`: pulses in order, without repeats, 0 <= onset < n. It loops: the last
note lasts until the first onset of the next turn. A measure answers None where it is not defined for the cycle.

Tables to check against: Gomez, Melvin, Rappaport, Toussaint (2005), "Mathematical measures of syncopation", BRIDGES;
Toussaint (2013), "The Geometry of Musical Rhythm". None of these is a measure of difficulty.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations
from math import cos, gcd, hypot, pi, sin

HESITATION, ANTICIPATION = 1, 2  # weights of an off-beat end and an off-beat start (Keith 1991); both: syncopation, 3


def gaps(n: int, onsets: Sequence[int]) -> list[int]:
    """How many pulses from each onset to the next, over the loop too.

    >>> gaps(16, [0, 3, 6, 10, 12])
    [3, 3, 4, 2, 4]
    """
    return [(after - at - 1) % n + 1 for at, after in zip(onsets, [*onsets[1:], *onsets[:1]], strict=True)]


def keith_count(n: int, onsets: Sequence[int]) -> int | None:
    """Count the notes that start off the beat (Keith 1991, as in Gomez et al. 2005); None unless n is a power of two.

    A note's own beat is the largest power of two that its length reaches.

    >>> keith_count(16, [0, 3, 6, 10, 12])
    2
    """
    pairs = _keith(n, onsets)
    return None if pairs is None else sum(start for start, _ in pairs)


def keith_weighted(n: int, onsets: Sequence[int]) -> int | None:
    """Add 2 for every start off the beat and 1 for every end off it (Keith 1991); None unless n is a power of two.

    >>> keith_weighted(16, [0, 3, 6, 10, 12])
    6
    """
    pairs = _keith(n, onsets)
    return None if pairs is None else sum(ANTICIPATION * start + HESITATION * end for start, end in pairs)


def _keith(n: int, onsets: Sequence[int]) -> list[tuple[bool, bool]] | None:
    """Whether each note starts and ends off its own beat."""
    if n < 1 or n & (n - 1):
        return None
    found = []
    for at, length in zip(onsets, gaps(n, onsets), strict=True):
        beat = 1 << (length.bit_length() - 1)
        found.append((at % beat != 0, (at + length) % beat != 0))
    return found


def metrical_complexity(onsets: Sequence[int], weights: Sequence[int]) -> int:
    """How much lighter its places are than the heaviest as many (Toussaint 2002, BRIDGES 157-168); 0: on the heaviest.

    `weights` one number a pulse, higher on heavier places, as `syncopation.weights` gives.

    >>> metrical_complexity([0, 2], [0, -2, -1, -2])
    0
    """
    best = sorted(weights, reverse=True)[: len(onsets)]
    return sum(best) - sum(weights[at] for at in onsets)


def off_beatness(n: int, onsets: Sequence[int]) -> int:
    """Count the onsets that no even division of the cycle meets: those coprime to n (Toussaint 2005).

    >>> off_beatness(12, [1, 5, 7, 11])
    4
    """
    return sum(gcd(at, n) == 1 for at in onsets)


def wnbd(n: int, onsets: Sequence[int], beat: int, cyclic: bool = True) -> tuple[int, int] | None:
    """Weighted note-to-beat distance (Gomez et al. 2005) as a reduced fraction (numerator, denominator).

    A note between two beats counts the inverse of its distance to the nearer one, in beats; twice that where it lasts
    over the next beat and ends before (not on) the one after: the printed table needs the strict reading. Beats come
    every `beat` pulses; None where they do not divide the cycle. `cyclic` False leaves the last note out, whose end is
    not known then. Without onsets (0, 1).

    >>> wnbd(16, [0, 3, 6, 10, 12], 4)
    (14, 5)
    """
    if beat < 1 or n % beat:
        return None
    lengths = gaps(n, onsets)
    if not onsets:
        return 0, 1
    scale = 1
    for distance in range(2, beat // 2 + 1):
        scale = scale * distance // gcd(scale, distance)
    total = 0  # in parts of 1/scale
    for at, length in list(zip(onsets, lengths, strict=True))[: None if cyclic else -1]:
        rest = at % beat
        if rest:
            following = at - rest + beat
            factor = 2 if following < at + length < following + beat else 1
            total += factor * beat * scale // min(rest, beat - rest)
    shared = gcd(total, scale * len(onsets))
    return total // shared, scale * len(onsets) // shared


def counter_evidence(n: int, onsets: Sequence[int], unit: int) -> int | None:
    """How badly the best clock of `unit` pulses fits (Povel and Essens 1985): 4 a tick on silence, 1 on a weak note.

    Accented are a note alone, the second of a pair, the first and last of a longer run of neighbouring pulses; every
    phase of the clock is tried. None where the clock does not divide the cycle.

    >>> counter_evidence(16, [0, 4, 8, 12], 4), counter_evidence(16, [0, 1, 2, 3, 4, 5, 8, 12], 4)
    (0, 1)
    """
    if unit < 1 or n % unit:
        return None
    sounding = set(onsets)
    accented = {
        at
        for at in onsets
        if (at + 1) % n not in sounding or ((at - 1) % n not in sounding and (at + 2) % n in sounding)
    }
    return min(
        sum(4 if tick not in sounding else tick not in accented for tick in range(phase, n, unit))
        for phase in range(unit)
    )


def npvi(lengths: Sequence[float]) -> float:
    """Normalised pairwise variability of neighbouring lengths: 0 all equal, below 200; 0 for fewer than two.

    The mean difference of neighbours as a share of their mean, times 100 (Grabe and Low; for music Patel and Daniele
    2003). For a rhythm give its `gaps`; the last is not compared with the first.

    >>> round(npvi([3, 3, 4, 2, 4]), 1)
    40.5
    """
    pairs = list(zip(lengths, lengths[1:], strict=False))
    return 100 * sum(abs(a - b) / ((a + b) / 2) for a, b in pairs) / len(pairs) if pairs else 0.0


def evenness(n: int, onsets: Sequence[int]) -> float:
    """Add up the straight lines between all pairs of onsets on a circle of radius 1; the more even, the longer.

    Compare only rhythms of as many onsets (Toussaint 2013).

    >>> round(evenness(16, [0, 3, 6, 10, 13]), 3)
    15.325
    """
    return sum(2 * sin(pi * _arc(n, a, b) / n) for a, b in combinations(onsets, 2))


def balance(n: int, onsets: Sequence[int]) -> float:
    """How near the centre of the circle the onsets' centre of gravity lies: 1 in the centre, 0 all at one place.

    Milne and Herff (2020), Cognition 203:104233. Without onsets 1.

    >>> round(balance(16, [0, 3, 6, 9, 12]), 5)
    0.92977
    """
    if not onsets:
        return 1.0
    x = sum(cos(2 * pi * at / n) for at in onsets)
    y = sum(sin(2 * pi * at / n) for at in onsets)
    return 1 - hypot(x, y) / len(onsets)


def is_maximally_even(n: int, onsets: Sequence[int]) -> bool:
    """Tell whether so many onsets cannot be spread more evenly over n pulses.

    >>> is_maximally_even(16, [0, 3, 6, 10, 13]), is_maximally_even(16, [0, 3, 6, 10, 12])
    (True, False)
    """
    count = len(onsets)
    even, own = gaps(n, [j * n // count for j in range(count)]), gaps(n, onsets)
    return any(own == even[turn:] + even[:turn] for turn in range(count)) or not count


def is_odd(n: int, onsets: Sequence[int]) -> bool:
    """Tell whether a rhythm has rhythmic oddity: no two onsets halve the cycle.

    >>> is_odd(16, [0, 3, 6, 10, 12]), is_odd(16, [0, 3, 6, 10, 14])
    (True, False)
    """
    return all(2 * (b - a) != n for a, b in combinations(onsets, 2))


def interval_vector(n: int, onsets: Sequence[int]) -> tuple[int, ...]:
    """Count the pairs of onsets by their distance, the shorter way round: for distances 1 to n // 2.

    >>> interval_vector(16, [0, 4, 6, 10, 12])
    (0, 2, 0, 3, 0, 4, 0, 1)
    """
    counts = [0] * (n // 2)
    for a, b in combinations(onsets, 2):
        counts[_arc(n, a, b) - 1] += 1
    return tuple(counts)


def distinct_distances(n: int, onsets: Sequence[int]) -> int:
    """Count the different distances among all pairs of onsets."""
    return sum(count > 0 for count in interval_vector(n, onsets))


def distinct_adjacent(n: int, onsets: Sequence[int]) -> int:
    """Count the different lengths of notes: distances from an onset to the next."""
    return len(set(gaps(n, onsets)))


def is_deep(n: int, onsets: Sequence[int]) -> bool:
    """Tell whether every distance that occurs occurs a number of times of its own.

    >>> is_deep(16, [0, 4, 6, 10, 12]), is_deep(16, [0, 3, 6, 10, 12])
    (True, False)
    """
    counts = [count for count in interval_vector(n, onsets) if count]
    return len(counts) == len(set(counts))


def _arc(n: int, a: int, b: int) -> int:
    return min((b - a) % n, (a - b) % n)
