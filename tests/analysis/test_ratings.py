"""The measures agree with what listeners judged, as far as they are known to."""

from __future__ import annotations

import json
from collections.abc import Callable, Sequence

import pytest

from groundbeat.analysis.rhythm import (
    counter_evidence,
    keith_weighted,
    metrical_complexity,
    off_beatness,
    wnbd,
)
from groundbeat.analysis.syncopation import longuet_higgins
from groundbeat.analysis.weights import weights
from groundbeat.model.meter import Meter

SIXTEENTHS = weights(Meter.of("4/4"), 2520)

# The 30 rhythms of Fitch and Rosenfeld (2007), Music Perception 25(1):43-58: two sets of 15, onsets in 16 pulses.
HEARD = (
    "0 6 8 14",
    "0 4 8 12 14",
    "0 2 4 12 14",
    "0 4 5 6 12",
    "2 6 8 10 12",
    "2 6 8 12 14",
    "0 6 9 14",
    "0 3 7 10 12",
    "0 5 9 13 14",
    "0 5 9 13",
    "2 6 10 11 13",
    "1 5 9 12 14",
    "2 6 7 11 13",
    "2 5 11 15",
    "3 5 10 11 15",
    "0 4 6 7 8",
    "0 2 4 10 12",
    "2 4 8 10",
    "0 2 6 8 11",
    "2 6 8 12",
    "0 5 7 10 12",
    "2 6 8 10 14",
    "0 1 5 10 14",
    "1 5 9 10 12",
    "2 6 10 13",
    "2 6 10 11 15",
    "2 5 10 13 15",
    "2 3 7 11 13",
    "1 3 5 7 11",
    "1 3 7 11 15",
)
POINTS = [
    *(0, 0, 1, 2, 3, 4, 4, 5, 5, 6, 9, 9, 10, 10, 11),
    *(0, 1, 3, 3, 3, 4, 5, 6, 7, 8, 9, 10, 11, 11, 12),
]

# The 35 rhythms of Shmulevich and Povel (2000) with their mean judged complexity, 1 to 5.
JUDGED = (
    ("1111100110101000", 1.56),
    ("1110101110011000", 2.12),
    ("1011101110011000", 2.08),
    ("1010111110011000", 1.88),
    ("1001101011111000", 1.8),
    ("1110111011001000", 2.44),
    ("1011110110011000", 2.2),
    ("1100111110101000", 2.56),
    ("1100101110111000", 3.0),
    ("1011101111001000", 2.04),
    ("1110110011011000", 2.76),
    ("1101111010011000", 2.72),
    ("1101101111001000", 3.0),
    ("1100110110111000", 3.16),
    ("1001110111011000", 2.04),
    ("1101111011001000", 2.88),
    ("1101110111001000", 2.6),
    ("1101110011011000", 2.6),
    ("1100110111101000", 2.64),
    ("1100110111011000", 3.24),
    ("1111101101001000", 3.08),
    ("1111010011101000", 3.04),
    ("1110011011101000", 3.04),
    ("1011100101111000", 2.56),
    ("1010011110111000", 2.56),
    ("1111010100111000", 2.84),
    ("1101110100111000", 3.6),
    ("1101001110111000", 2.68),
    ("1011110100111000", 3.28),
    ("1001111101101000", 3.08),
    ("1111011100101000", 3.52),
    ("1111001101101000", 3.6),
    ("1101111001101000", 3.04),
    ("1101001111101000", 2.88),
    ("1010011101111000", 3.08),
)


def onsets_of(bits: str) -> list[int]:
    return [at for at, bit in enumerate(bits) if bit == "1"]


def ranks(values: Sequence[float]) -> list[float]:
    """Ranks from 0, equal values sharing the mean of theirs."""
    ordered = sorted(values)
    return [ordered.index(value) + (ordered.count(value) - 1) / 2 for value in values]


def pearson(a: Sequence[float], b: Sequence[float]) -> float:
    mean_a, mean_b = sum(a) / len(a), sum(b) / len(b)
    both = sum((x - mean_a) * (y - mean_b) for x, y in zip(a, b, strict=True))
    return float(both / (sum((x - mean_a) ** 2 for x in a) * sum((y - mean_b) ** 2 for y in b)) ** 0.5)


def spearman(a: Sequence[float], b: Sequence[float]) -> float:
    return pearson(ranks(a), ranks(b))


def test_rank_correlation_of_a_row_known_by_hand():
    assert spearman([1, 2, 3, 4], [10, 20, 20, 90]) == pytest.approx(4.5 / (5 * 4.5) ** 0.5)
    assert spearman([1, 2, 3], [9, 4, 1]) == pytest.approx(-1)


def test_thirty_heard_rhythms_have_these_points_and_come_sorted_within_each_set():
    points = [longuet_higgins([int(at) for at in row.split()], SIXTEENTHS) for row in HEARD]
    assert points == POINTS
    assert points[:15] == sorted(points[:15])
    assert points[15:] == sorted(points[15:])


def share(pair: tuple[int, int] | None) -> float:
    assert pair is not None
    return pair[0] / pair[1]


@pytest.mark.parametrize(
    ("measure", "by_rank", "by_value"),
    [
        (lambda onsets: longuet_higgins(onsets, SIXTEENTHS), 0.755, 0.761),
        (lambda onsets: counter_evidence(16, onsets, 4), 0.741, 0.767),
        (lambda onsets: metrical_complexity(onsets, SIXTEENTHS), 0.694, 0.678),
        (lambda onsets: share(wnbd(16, onsets, 4)), 0.690, 0.659),
        (lambda onsets: keith_weighted(16, onsets), 0.511, 0.516),
        (lambda onsets: off_beatness(16, onsets), 0.458, 0.451),
    ],
    ids=["Longuet-Higgins and Lee", "Povel and Essens", "Toussaint", "WNBD", "Keith", "off-beatness"],
)
def test_a_measure_agrees_with_listeners_as_well_as_it_is_known_to(
    measure: Callable[[list[int]], float], by_rank: float, by_value: float
):
    ratings = [rating for _, rating in JUDGED]
    values = [measure(onsets_of(bits)) for bits, _ in JUDGED]
    assert len(values) == 35
    assert spearman(values, ratings) == pytest.approx(by_rank, abs=0.0006)
    assert pearson(values, ratings) == pytest.approx(by_value, abs=0.0006)


def test_the_tables_written_here_are_those_of_the_data_beside_the_clone(real_inputs):
    data = json.loads((real_inputs / "rhythm_vectors.json").read_text())
    rows = data["fitch_rosenfeld_2007"]
    assert [row["onsets"] for row in rows] == [[int(at) for at in row.split()] for row in HEARD]
    assert [row["LHL_cyclic_computed_here"] for row in rows] == POINTS
    assert [(row["bits"], row["rating"]) for row in data["shmulevich_povel_2000"]] == list(JUDGED)
