"""How far is one rhythm from another?

Onsets are places in order, without repeats, in whatever whole unit. Hamming and swap distance after Toussaint (2004);
the directed swap distance, for rhythms of different numbers of notes, after Diaz-Banez, Farigu, Gomez, Rappaport and
Toussaint (2004, BRIDGES), worked out exactly by trying every mapping in order. Swap distances do not go over the loop's
end. `edit` and `apart` are ours: what changes for a player from one to the other, over the loop too.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from ..model.beat import Beat, Stroke
from ..model.meter import QUARTER

# What `apart` counts, beside a QUARTER for a stroke left out or added: another surface, a step of dynamics. Our choice.
SURFACE, DYNAMIC = QUARTER // 2, QUARTER // 6


def hamming(a: Sequence[int], b: Sequence[int]) -> int:
    """Count the places where only one of the two sounds.

    >>> hamming([0, 3, 6, 10, 12], [0, 4, 6, 10, 12])
    2
    """
    return len(set(a) ^ set(b))


def swap(a: Sequence[int], b: Sequence[int]) -> int | None:
    """Add up how far the notes of one move, in their order, to become the other; None for different numbers of notes.

    >>> swap([0, 3, 6, 10, 12], [0, 3, 7, 10, 14])
    3
    """
    return sum(abs(x - y) for x, y in zip(a, b, strict=True)) if len(a) == len(b) else None


def directed_swap(a: Sequence[int], b: Sequence[int]) -> int | None:
    """The least total way in which each note of the rhythm with more goes to a note of the other, none left without.

    As large as `swap` where both have as many notes; None where just one of them is silent.

    >>> directed_swap([0, 3, 6, 10, 12], [0, 8])
    11
    """
    more, fewer = (a, b) if len(a) >= len(b) else (b, a)
    if not fewer:
        return None if more else 0
    never = sum(map(abs, more)) + len(more) * max(map(abs, fewer)) + 1  # more than any mapping costs
    best = [0] + [never] * len(fewer)
    for x in more:
        row = [never]
        for nth, y in enumerate(fewer):
            row.append(min(best[nth], best[nth + 1]) + abs(x - y))
        best = row
    return best[-1]


def edit(a: Sequence[int], b: Sequence[int], n: int, reach: int) -> int:
    """The least cost of turning one rhythm into the other over a loop of n, notes staying in their order.

    A note left out or added costs `reach`; one moved costs `reach` and as much as it moves, less than `reach` either
    way (farther it is one note left out and another added); one that stays costs nothing. The loop is read from the
    end of its longest silence, so that a note pushed over the end is near. Places may repeat. Time grows with the
    number of notes, not with its square.

    >>> edit([0, 15], [0], 16, 4), edit([15], [0], 16, 4), edit([0, 8], [0, 8, 10], 16, 4)
    (4, 5, 4)
    """
    if not a or not b:
        return reach * (len(a) + len(b))
    start = _after_silence(a, b, n)
    first = sorted((at - start) % n for at in a)
    second = sorted((at - start) % n for at in b)
    # best[j]: the most that can be saved with the first j notes of the second rhythm; filled as far as `seen`
    best, low, seen = [0] * (len(second) + 1), 0, 0
    for x in first:
        while low < len(second) and second[low] <= x - reach:
            low += 1
        while seen < len(second) and second[seen] < x + reach:
            seen += 1
            best[seen] = best[seen - 1]
        before = best[low]
        for nth in range(low, seen):
            away = abs(x - second[nth])
            saved = before + (reach - away if away else 2 * reach)
            before = best[nth + 1]
            best[nth + 1] = max(before, best[nth], saved)
    return reach * (len(a) + len(b)) - best[seen]


def _after_silence(a: Sequence[int], b: Sequence[int], n: int) -> int:
    """The place that ends the longest silence of both together, of equal ones the first."""
    places = sorted({*a, *b})
    silences = [after - at for at, after in zip(places, places[1:], strict=False)]
    silences.insert(0, places[0] + n - places[-1])
    return places[silences.index(max(silences))]


def apart(base: Beat, rounds: int, beat: Beat, own_lines: Mapping[str, str], lines: Mapping[str, str]) -> float:
    """How far a beat is from so many rounds of a base beat: 0 where place, surface and dynamic of all strokes agree.

    It is 1 where every stroke is another one. A stroke left out or added costs 1; one moved by less than a quarter note
    1 and the share of a quarter that it moved; another surface of the same line 1/2, another dynamic 1/6 a step. All
    that is divided by the number of strokes of both beats. `own_lines` and `lines` say to which line each surface
    belongs, in the base beat and in the other: strokes are compared within a line. Feel, ornaments, hands and the
    length of the bar are not in it.
    """
    first = {
        (number * base.cycle + stroke.at, stroke.surface): stroke for number in range(rounds) for stroke in base.strokes
    }
    second = {(stroke.at, stroke.surface): stroke for stroke in beat.strokes}
    if not first and not second:
        return 0.0
    cost = sum(DYNAMIC * abs(first[spot].level - second[spot].level) for spot in first.keys() & second.keys())
    rests: dict[str, tuple[dict[int, list[Stroke]], dict[int, list[Stroke]]]] = {}
    for which, (one, other, of) in enumerate(((first, second, own_lines), (second, first, lines))):
        for (at, surface), stroke in one.items():
            if (at, surface) not in other:
                rests.setdefault(of[surface], ({}, {}))[which].setdefault(at, []).append(stroke)
    reach = max(base.cycle, beat.cycle)
    return (cost + sum(_rest(*pair, reach) for pair in rests.values())) / (QUARTER * (len(first) + len(second)))


def _rest(first: dict[int, list[Stroke]], second: dict[int, list[Stroke]], cycle: int) -> int:
    """The cost of one line's strokes that do not sound on the same surface at the same place in both."""
    cost, left, right = 0, list[int](), list[int]()
    for at in first.keys() | second.keys():
        one, other = first.get(at, []), second.get(at, [])
        for stroke, now in zip(one, other, strict=False):
            cost += SURFACE + DYNAMIC * abs(stroke.level - now.level)
        left += [at] * (len(one) - len(other))
        right += [at] * (len(other) - len(one))
    return cost + edit(left, right, cycle, QUARTER)
