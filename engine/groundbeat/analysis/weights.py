"""How much does a place of the bar weigh?

Weights count downwards from 0 on the bar, one less for every level of the meter, as Longuet-Higgins and Lee (1984,
Music Perception 1:424-441) have it: in 4/4 the half bar weighs -1, a quarter -2, an eighth -3, a sixteenth -4. Groups
of a meter over 8 or 16 are a level of their own. Our choices, where they say nothing: more than three equal beats are
bundled as notes over 8 usually are (4 as 2+2, 5 as 3+2), and a number is divided in halves first.
"""

from __future__ import annotations

from functools import lru_cache

from ..model.meter import QUARTER, Meter


@lru_cache(maxsize=128)
def weights(meter: Meter, pulse: int, thirds_first: bool = False, bundled: bool = True) -> tuple[int, ...]:
    """Weigh every pulse of a bar; `pulse` in ticks divides the meter's number.

    A number is divided in halves first, with `thirds_first` in thirds first (triplet columns). `bundled` False leaves
    out the level above the beats (Witek et al. 2014 weigh 4/4 without a half bar).

    >>> weights(Meter.of("6/8"), 5040)
    (0, -2, -2, -1, -2, -2)
    >>> weights(Meter.of("7/8", "2+2+3"), 5040)
    (0, -2, -1, -2, -1, -2, -2)
    >>> weights(Meter.of("2/4"), 3360)
    (0, -2, -2, -1, -2, -2)
    """
    numbers = [0] * meter.count
    _divide(meter.grouping if meter.unit > 4 else (1,) * meter.count, 0, 0, numbers, bundled)
    inside = _inside(meter.number // pulse, thirds_first, meter.number > QUARTER)
    deepest = max(numbers)
    return tuple(
        -numbers[number] if part == 0 else -(deepest + inside[part])
        for number in range(meter.count)
        for part in range(len(inside))
    )


def _divide(parts: tuple[int, ...], at: int, depth: int, numbers: list[int], bundled: bool) -> None:
    """Write the level of every number of a span that falls into these parts."""
    count = len(parts)
    if count == 1:
        if parts[0] > 1:
            usual = _usual(parts[0])
            _divide(usual if len(usual) > 1 else (1,) * parts[0], at, depth, numbers, True)
        return
    bundles: list[tuple[int, ...]] = [(part,) for part in parts]
    if bundled and count > 3 and len(set(parts)) == 1:
        bundles = [parts[:size] for size in _usual(count)]
    for nth, bundle in enumerate(bundles):
        if nth:
            numbers[at] = depth + 1
        _divide(bundle, at, depth + 1, numbers, bundled)
        at += sum(bundle)


def _usual(count: int) -> tuple[int, ...]:
    """How so many equal notes are grouped where nothing else is said."""
    return Meter.of(f"{count}/8").grouping


def _inside(parts: int, thirds_first: bool, is_half: bool) -> list[int]:
    """The level of every part of a number: 1 where the first division falls, and so on; 0 on the number.

    A half note falls into two quarters before a quarter falls into thirds.
    """
    levels = [0] * parts
    step, depth = parts, 0
    while step > 1:
        order = (3, 2, 5, 7) if thirds_first and (depth or not is_half) else (2, 3, 5, 7)
        step //= next((prime for prime in order if step % prime == 0), step)
        depth += 1
        for part in range(step, parts, step):
            levels[part] = levels[part] or depth
    return levels
