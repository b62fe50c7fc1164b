"""Distances between rhythms: printed matrices, laws, and every mapping tried where there are few."""

from __future__ import annotations

import json
from itertools import combinations, product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from groundbeat.analysis.distance import apart, directed_swap, edit, hamming, swap
from groundbeat.model.beat import Stroke, base_beat
from groundbeat.model.meter import QUARTER, Meter

SIX = ([0, 4, 6, 10, 12], [0, 3, 6, 10, 12], [0, 3, 6, 10, 11], [0, 3, 7, 10, 12], [0, 3, 6, 10, 13], [0, 3, 6, 10, 14])
# shiko, son, soukous, rumba, bossa, gahu
SWAP = [
    [0, 1, 2, 2, 2, 3],
    [1, 0, 1, 1, 1, 2],
    [2, 1, 0, 2, 2, 3],
    [2, 1, 2, 0, 2, 3],
    [2, 1, 2, 2, 0, 1],
    [3, 2, 3, 3, 1, 0],
]
HAMMING = [
    [0, 2, 4, 4, 4, 4],
    [2, 0, 2, 2, 2, 2],
    [4, 2, 0, 4, 2, 2],
    [4, 2, 4, 0, 4, 4],
    [4, 2, 2, 4, 0, 2],
    [4, 2, 2, 4, 2, 0],
]
places = st.sets(st.integers(0, 15), max_size=8).map(sorted)
some_places = st.sets(st.integers(0, 15), min_size=1, max_size=8).map(sorted)
five = st.sets(st.integers(0, 15), min_size=5, max_size=5).map(sorted)


def test_six_timelines_have_these_distances():
    assert [[swap(a, b) for b in SIX] for a in SIX] == SWAP
    assert [[hamming(a, b) for b in SIX] for a in SIX] == HAMMING
    assert [[directed_swap(a, b) for b in SIX] for a in SIX] == SWAP, "of as many notes both are the same"


def test_the_son_is_nearest_to_all_others():
    assert [sum(row) for row in SWAP] == [10, 6, 10, 10, 8, 12]
    assert [sum(swap(a, b) or 0 for b in SIX) for a in SIX] == [10, 6, 10, 10, 8, 12]


def test_the_matrices_written_here_are_those_of_the_data_beside_the_clone(real_inputs):
    data = json.loads((real_inputs / "rhythm_vectors.json").read_text())["computed_here"]
    assert data["order"] == ["shiko", "son", "soukous", "rumba", "bossa", "gahu"]
    assert data["swap_matrix"] == SWAP
    assert data["hamming_matrix"] == HAMMING


def test_distances_that_are_not_defined_are_none():
    assert swap([0], [0, 8]) is None
    assert directed_swap([], [3]) is directed_swap([3], []) is None
    assert directed_swap([], []) == swap([], []) == 0


@given(places, places, places)
def test_hamming_is_a_distance(a, b, c):
    assert hamming(a, b) == hamming(b, a)
    assert (hamming(a, b) == 0) == (a == b)
    assert hamming(a, c) <= hamming(a, b) + hamming(b, c)


@given(five, five, five)
def test_swap_is_a_distance(a, b, c):
    assert swap(a, b) == swap(b, a)
    assert (swap(a, b) == 0) == (a == b)
    assert swap(a, c) <= swap(a, b) + swap(b, c)


@given(five, five)
def test_swap_is_the_least_of_all_ways_to_pair_and_directed_swap_the_same(a, b):
    """Moving in order is the cheapest: the number of notes before each line between places tells it at once."""
    crossed = sum(abs(sum(at < line for at in a) - sum(at < line for at in b)) for line in range(1, 16))
    assert swap(a, b) == directed_swap(a, b) == crossed


@given(some_places, some_places)
def test_directed_swap_is_nothing_only_between_equals(a, b):
    found = directed_swap(a, b)
    assert found == directed_swap(b, a)
    assert found >= 0 and (found == 0) == (a == b)


@given(
    st.sets(st.integers(0, 15), min_size=1, max_size=5).map(sorted),
    st.sets(st.integers(0, 15), min_size=1, max_size=3).map(sorted),
)
def test_directed_swap_is_the_least_of_all_mappings(a, b):
    more, fewer = (a, b) if len(a) >= len(b) else (b, a)
    every = (row for row in product(fewer, repeat=len(more)) if set(row) == set(fewer))
    assert directed_swap(a, b) == min(sum(abs(x - y) for x, y in zip(more, row, strict=True)) for row in every)


def test_an_edit_counts_what_stays_moves_comes_and_goes():
    assert edit([0, 4, 8], [0, 4, 8], 16, 4) == 0
    assert edit([0, 4, 8], [0, 5, 8], 16, 4) == 4 + 1
    assert edit([0, 4, 8], [0, 8], 16, 4) == edit([0, 8], [0, 4, 8], 16, 4) == 4
    assert edit([0], [8], 16, 4) == 4 + 4, "too far to be one note that moved"
    assert edit([15], [0], 16, 4) == edit([0], [15], 16, 4) == 4 + 1, "over the loop"
    assert edit([], [1, 2], 16, 4) == 8
    assert edit([5, 5], [5, 6], 16, 4) == 4 + 1, "places may repeat"


@given(places, places)
def test_an_edit_is_the_least_of_all_pairings_in_order(a, b):
    """Without a note in the last quarter the loop's longest silence is over its end, and the order is that of the row."""
    a, b = [at for at in a if at < 6], [at for at in b if at < 6]
    reach, best = 3, None
    for size in range(min(len(a), len(b)) + 1):
        for one in combinations(a, size):
            for other in combinations(b, size):
                away = [abs(x - y) for x, y in zip(one, other, strict=True)]
                cost = reach * (len(a) + len(b) - 2 * size) + sum(reach + far if far else 0 for far in away)
                best = cost if best is None else min(best, cost)
    assert edit(a, b, 16, reach) == best


@given(places, places, st.integers(0, 15))
def test_an_edit_is_symmetric_nothing_between_equals_and_the_same_wherever_the_loop_begins(a, b, by):
    found = edit(a, b, 16, 4)
    assert found == edit(b, a, 16, 4)
    assert (found == 0) == (a == b)
    assert found <= 4 * (len(a) + len(b))
    everything = sorted({*a, *b})
    silences = sorted((y - x - 1) % 16 for x, y in zip(everything, everything[1:] + everything[:1], strict=True))
    if len(silences) < 2 or silences[-1] > silences[-2]:  # one longest silence: the loop is always read from there
        turned = [sorted((at + by) % 16 for at in row) for row in (a, b)]
        assert edit(*turned, 16, 4) == found


def beat_of(*strokes: tuple[int, str, str]):
    rows = [Stroke(at * QUARTER // 4, surface, dynamic) for at, surface, dynamic in strokes]
    return base_beat(Meter.of("4/4"), 1, "sixteenths", rows)


BASE = beat_of((0, "hi-hat", "normal"), (8, "hi-hat", "normal"), (4, "snare", "accent"), (0, "kick", "normal"))
LINES = {"hi-hat": "riding", "ride": "riding", "snare": "backbeat", "kick": "kick", "crash": "crash"}


@pytest.mark.parametrize(
    ("strokes", "twelfths", "count"),
    [
        ([], 4 * 12, 4),  # all left out: the farthest
        ([(0, "hi-hat", "normal"), (8, "hi-hat", "normal"), (4, "snare", "ghost"), (0, "kick", "normal")], 6, 8),
        ([(0, "ride", "normal"), (8, "ride", "normal"), (4, "snare", "accent"), (0, "kick", "normal")], 12, 8),
        ([(0, "hi-hat", "normal"), (8, "hi-hat", "normal"), (5, "snare", "accent"), (0, "kick", "normal")], 15, 8),
        ([(0, "hi-hat", "normal"), (8, "hi-hat", "normal"), (4, "snare", "accent"), (0, "kick", "soft")], 2, 8),
        ([(0, "crash", "normal"), (8, "hi-hat", "normal"), (4, "snare", "accent"), (0, "kick", "normal")], 24, 8),
        ([(2, "crash", "normal")], 5 * 12, 5),
    ],
    ids=["silence", "ghosted", "on the ride", "a sixteenth later", "softer", "crash for hat", "all others"],
)
def test_beats_are_as_far_apart_as_a_hand_works_out(strokes, twelfths, count):
    other = beat_of(*strokes)
    assert apart(BASE, 1, other, LINES, LINES) == pytest.approx(twelfths / 12 / count)
    assert apart(other, 1, BASE, LINES, LINES) == apart(BASE, 1, other, LINES, LINES)


def test_a_beat_is_nowhere_from_itself_and_from_two_rounds_of_itself():
    twice = [Stroke(s.at + turn * BASE.cycle, s.surface, s.dynamic) for turn in (0, 1) for s in BASE.strokes]
    assert apart(BASE, 1, BASE, LINES, LINES) == 0
    assert apart(BASE, 2, base_beat(BASE.meter, 2, "sixteenths", twice), LINES, LINES) == 0
