"""Every measure of a rhythm gives the values that are printed for it."""

from __future__ import annotations

import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from groundbeat.analysis import rhythm
from groundbeat.analysis.weights import weights
from groundbeat.model.meter import Meter

SIXTEENTHS = weights(Meter.of("4/4"), 2520)

TIMELINES = {
    "shiko": [0, 4, 6, 10, 12],
    "son": [0, 3, 6, 10, 12],
    "soukous": [0, 3, 6, 10, 11],
    "rumba": [0, 3, 7, 10, 12],
    "bossa": [0, 3, 6, 10, 13],
    "gahu": [0, 3, 6, 10, 14],
}  # in the order of the rows below

# Gomez et al. (2005), Fig. 8; Toussaint (2013), Fig. 17.13 and 37.11; the rest worked out from the definitions.
PRINTED = {
    "keith_count": (1, 2, 3, 2, 3, 3),
    "keith_weighted": (3, 6, 8, 6, 9, 9),
    "off_beatness": (0, 1, 2, 2, 2, 1),
    "distinct_distances": (4, 5, 7, 6, 4, 7),
    "distinct_adjacent": (2, 3, 4, 3, 2, 3),
    "is_maximally_even": (False, False, False, False, True, False),
    "is_odd": (False, True, False, True, True, False),
    "is_deep": (True, False, False, False, True, False),
}
WNBD = ((6, 5), (14, 5), (18, 5), (18, 5), (4, 1), (18, 5))
NPVI = (66.7, 40.5, 70.5, 41.0, 14.3, 23.8)
COMPLEXITY = (2, 4, 6, 5, 6, 5)
EVENNESS = (15.164, 15.282, 15.010, 15.211, 15.325, 15.136)

# Gomez et al. (2005), Fig. 11: twelve pulses, a beat of three; off-beatness and WNBD.
TERNARY = (
    ("soli", "101010101101", 1, (15, 7)),
    ("tambu", "101010110101", 2, (15, 7)),
    ("bembe", "101011010101", 3, (3, 1)),
    ("bembe-2", "110101101010", 2, (15, 7)),
    ("yoruba", "101011010110", 2, (3, 1)),
    ("tonada", "101101101010", 1, (15, 7)),
    ("asaadua", "101010110110", 1, (15, 7)),
    ("sorsonet", "111010101010", 1, (3, 1)),
    ("bemba", "101101010110", 2, (15, 7)),
    ("ashanti", "101101011010", 2, (3, 1)),
)


def onsets_of(bits: str) -> list[int]:
    return [at for at, bit in enumerate(bits) if bit == "1"]


@pytest.mark.parametrize("name", PRINTED)
def test_six_timelines_have_the_printed_values(name):
    measure = getattr(rhythm, name)
    assert tuple(measure(16, onsets) for onsets in TIMELINES.values()) == PRINTED[name]


def test_six_timelines_have_the_printed_distances_to_the_beat():
    assert tuple(rhythm.wnbd(16, onsets, 4) for onsets in TIMELINES.values()) == WNBD


def test_six_timelines_have_the_printed_variability():
    found = tuple(rhythm.npvi(rhythm.gaps(16, onsets)) for onsets in TIMELINES.values())
    assert found == pytest.approx(NPVI, abs=0.051)  # the table has one decimal


def test_six_timelines_have_the_metrical_complexity_of_their_places():
    assert tuple(rhythm.metrical_complexity(onsets, SIXTEENTHS) for onsets in TIMELINES.values()) == COMPLEXITY
    toussaint = (5, 1, 2, 1, 3, 1, 2, 1, 4, 1, 2, 1, 3, 1, 2, 1)  # his weights differ by a constant
    assert tuple(rhythm.metrical_complexity(onsets, toussaint) for onsets in TIMELINES.values()) == COMPLEXITY


def test_bossa_is_the_most_even_of_the_six():
    found = tuple(rhythm.evenness(16, onsets) for onsets in TIMELINES.values())
    assert found == pytest.approx(EVENNESS, abs=0.00051)
    assert max(zip(found, TIMELINES, strict=True))[1] == "bossa"


@pytest.mark.parametrize(("name", "bits", "off", "distance"), TERNARY, ids=[row[0] for row in TERNARY])
def test_ten_ternary_rhythms_have_the_printed_values(name, bits, off, distance):
    onsets = onsets_of(bits)
    assert len(onsets) == 7
    assert rhythm.off_beatness(12, onsets) == off
    assert rhythm.wnbd(12, onsets, 3) == distance
    assert not rhythm.is_odd(12, onsets)


def test_hesitation_has_half_a_beat_where_the_last_note_has_no_end():
    assert rhythm.wnbd(8, onsets_of("10101001"), 4, cyclic=False) == (1, 2)
    assert rhythm.wnbd(8, onsets_of("10101001"), 4) == (3, 2)  # by hand: (2 + 4) / 4


def test_a_note_counts_twice_where_it_ends_between_the_next_two_beats_and_once_where_it_ends_on_the_second():
    """By hand, a beat of 4: 2 lies half a beat off, so 2; ending at 8 it counts once, ending at 7 twice, and 7 itself 4."""
    assert rhythm.wnbd(8, [0, 2], 4) == (2 // 2, 1)
    assert rhythm.wnbd(8, [0, 2, 7], 4) == (2 * 2 + 4, 3)


def test_the_most_off_beat_places_of_twelve():
    assert rhythm.off_beatness(12, [1, 5, 7, 11]) == rhythm.off_beatness(12, range(12)) == 4


def test_shiko_has_this_interval_vector():
    assert rhythm.interval_vector(16, TIMELINES["shiko"]) == (0, 2, 0, 3, 0, 4, 0, 1)


def test_a_row_of_lengths_has_the_printed_variability():
    third = 1 / 3  # Daniele and Patel (2013), appendix
    row = [1, 0.5, 0.5, 1, 0.5, 0.5, third, third, third, 2, *[third] * 6, 1.5, 1, 0.5]
    assert rhythm.npvi(row) == pytest.approx(42.2, abs=0.051)


@pytest.mark.parametrize(("bits", "expected"), [("1001001001001000", 0.92977), ("1001111010101110", 0.96098)])
def test_two_rhythms_have_the_known_balance(bits, expected):
    assert rhythm.balance(16, onsets_of(bits)) == pytest.approx(expected, abs=0.000006)


def test_the_tables_written_here_are_those_of_the_data_beside_the_clone(real_inputs):
    data = json.loads((real_inputs / "rhythm_vectors.json").read_text())
    assert {name: row["onsets"] for name, row in data["timelines16"].items()} == TIMELINES
    names = list(TIMELINES)

    def given_row(part: str, key: str) -> tuple[object, ...]:
        rows = dict(zip(data[part]["order"], data[part][key], strict=True))
        return tuple(rows[name] for name in names)

    assert given_row("published_SEEN", "keith_count") == PRINTED["keith_count"]
    assert given_row("published_SEEN", "off_beatness") == PRINTED["off_beatness"]
    told = tuple(f"{a}/{b}" if b > 1 else str(a) for a, b in WNBD)
    assert given_row("published_SEEN", "wnbd") == told
    book = "published_SEEN_toussaint2013"
    assert given_row(book, "npvi") == NPVI
    for key, name in (
        ("distinct_distances", "distinct_distances"),
        ("distinct_adjacent", "distinct_adjacent"),
        ("maximally_even", "is_maximally_even"),
        ("rhythmic_oddity", "is_odd"),
        ("deep", "is_deep"),
    ):
        assert given_row(book, key) == PRINTED[name]
    assert given_row("computed_here", "TMC") == COMPLEXITY
    assert given_row("computed_here", "keith_weighted_2_1") == PRINTED["keith_weighted"]
    ternary = data["ternary12_SEEN"]
    assert list(ternary["bits"].values()) == [bits for _, bits, _, _ in TERNARY]
    assert ternary["off_beatness"] == [off for _, _, off, _ in TERNARY]


@pytest.mark.parametrize("n", [3, 6, 12, 14])
def test_keith_is_not_defined_where_the_cycle_is_no_power_of_two(n):
    assert rhythm.keith_count(n, [0, 1]) is None
    assert rhythm.keith_weighted(n, [0, 1]) is None


def test_a_beat_that_does_not_divide_the_cycle_has_no_distance():
    assert rhythm.wnbd(14, [0, 3], 4) is None
    assert rhythm.counter_evidence(14, [0, 3], 4) is None


def test_silence_is_measured_too():
    assert rhythm.keith_count(16, []) == rhythm.keith_weighted(16, []) == rhythm.off_beatness(16, []) == 0
    assert rhythm.wnbd(16, [], 4) == (0, 1)
    assert rhythm.npvi([]) == rhythm.npvi([5]) == 0
    assert rhythm.evenness(16, []) == 0 and rhythm.balance(16, []) == 1
    assert rhythm.is_maximally_even(16, []) and rhythm.is_odd(16, []) and rhythm.is_deep(16, [])
    assert rhythm.metrical_complexity([], SIXTEENTHS) == 0


@st.composite
def rhythms(draw, sizes=(8, 12, 14, 16, 24, 32)):
    """A cycle with at least one onset, and a turn of it."""
    n = draw(st.sampled_from(sizes))
    onsets = sorted(draw(st.sets(st.integers(0, n - 1), min_size=1)))
    by = draw(st.integers(0, n - 1))
    return n, onsets, by, sorted((at + by) % n for at in onsets)


@given(rhythms())
def test_shape_does_not_depend_on_where_the_cycle_begins(case):
    n, onsets, _, turned = case
    assert rhythm.evenness(n, turned) == pytest.approx(rhythm.evenness(n, onsets), abs=1e-9)
    assert rhythm.balance(n, turned) == pytest.approx(rhythm.balance(n, onsets), abs=1e-9)
    for measure in (
        rhythm.is_maximally_even,
        rhythm.is_odd,
        rhythm.is_deep,
        rhythm.interval_vector,
        rhythm.distinct_distances,
        rhythm.distinct_adjacent,
    ):
        assert measure(n, turned) == measure(n, onsets)


@given(rhythms((8, 16, 32)), st.sampled_from([2, 4, 8]))
def test_turning_by_whole_beats_changes_no_distance_to_the_beat(case, beat):
    n, onsets, by, _ = case
    turned = sorted((at + by * beat) % n for at in onsets)
    assert rhythm.wnbd(n, turned, beat) == rhythm.wnbd(n, onsets, beat)
    assert rhythm.counter_evidence(n, turned, beat) == rhythm.counter_evidence(n, onsets, beat)


@given(rhythms((8, 16, 32)))
def test_the_weighted_form_of_keith_lies_between_two_and_three_times_the_count_plus_the_ends(case):
    n, onsets, _, _ = case
    count, weighted = rhythm.keith_count(n, onsets), rhythm.keith_weighted(n, onsets)
    assert count is not None and weighted is not None
    assert 2 * count <= weighted <= 2 * count + len(onsets)
    assert 0 <= count <= len(onsets)


@given(rhythms())
def test_the_most_even_spread_is_the_most_even(case):
    n, onsets, by, _ = case
    count = len(onsets)
    spread = sorted((j * n // count + by) % n for j in range(count))
    assert rhythm.is_maximally_even(n, spread)
    assert rhythm.evenness(n, onsets) <= rhythm.evenness(n, spread) + 1e-9
    if rhythm.is_maximally_even(n, onsets):
        assert rhythm.evenness(n, onsets) == pytest.approx(rhythm.evenness(n, spread), abs=1e-9)


@given(rhythms())
def test_measures_stay_in_their_range(case):
    n, onsets, _, _ = case
    assert sum(rhythm.gaps(n, onsets)) == n
    assert 0 <= rhythm.npvi(rhythm.gaps(n, onsets)) < 200
    assert -1e-9 <= rhythm.balance(n, onsets) <= 1 + 1e-9
    assert 0 <= rhythm.off_beatness(n, onsets) <= len(onsets)
    assert sum(rhythm.interval_vector(n, onsets)) == len(onsets) * (len(onsets) - 1) // 2
    assert rhythm.distinct_distances(n, onsets) <= n // 2


@given(st.sets(st.integers(0, 15)))
def test_metrical_complexity_is_never_below_nothing(places):
    assert rhythm.metrical_complexity(sorted(places), SIXTEENTHS) >= 0
