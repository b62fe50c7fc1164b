"""Syncopation follows the meter: the published numbers, every meter of ours, and beats worked out by hand."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from groundbeat.analysis.syncopation import compressed, longuet_higgins, of_beat, witek
from groundbeat.analysis.weights import weights
from groundbeat.model.beat import Stroke, base_beat
from groundbeat.model.meter import Meter
from groundbeat.model.roles import Roles
from groundbeat.variation.stack import grow
from tests.strategies import beats, meters

SIXTEENTH = 2520
FOUR = Meter.of("4/4")
SIXTEENTHS = weights(FOUR, SIXTEENTH)
FLAT = weights(FOUR, SIXTEENTH, False, False)
TIMELINES = {
    "shiko": ([0, 4, 6, 10, 12], 2),
    "son": ([0, 3, 6, 10, 12], 4),
    "soukous": ([0, 3, 6, 10, 11], 6),
    "rumba": ([0, 3, 7, 10, 12], 5),
    "bossa": ([0, 3, 6, 10, 13], 6),
    "gahu": ([0, 3, 6, 10, 14], 5),
}


def beat_of(meter: str, columns: str = "sixteenths", bars: int = 1, **lines: list[int]):
    """A beat from ticks by surface; underscores are hyphens."""
    strokes = [Stroke(at, name.replace("_", "-")) for name, row in lines.items() for at in row]
    return base_beat(Meter.of(meter), bars, columns, strokes)


def test_sixteenths_of_four_four_have_the_published_weights():
    assert SIXTEENTHS == (0, -4, -3, -4, -2, -4, -3, -4, -1, -4, -3, -4, -2, -4, -3, -4)
    assert FLAT == (0, -3, -2, -3, -1, -3, -2, -3, -1, -3, -2, -3, -1, -3, -2, -3)


@pytest.mark.parametrize(
    ("meter", "grouping", "pulse", "thirds", "expected"),
    [
        ("2/4", "", 5040, False, (0, -2, -1, -2)),
        ("2/2", "", 10080, False, (0, -2, -1, -2)),
        ("3/4", "", 5040, False, (0, -2, -1, -2, -1, -2)),
        ("5/4", "", 10080, False, (0, -2, -2, -1, -2)),
        ("6/4", "", 10080, False, (0, -2, -2, -1, -2, -2)),
        ("7/4", "", 10080, False, (0, -2, -1, -2, -1, -2, -2)),
        ("6/8", "", 2520, False, (0, -3, -2, -3, -2, -3, -1, -3, -2, -3, -2, -3)),
        ("12/8", "", 5040, False, (0, -3, -3, -2, -3, -3, -1, -3, -3, -2, -3, -3)),
        ("9/8", "", 5040, False, (0, -2, -2, -1, -2, -2, -1, -2, -2)),
        ("7/8", "", 5040, False, (0, -2, -1, -2, -1, -2, -2)),
        ("7/8", "3+2+2", 5040, False, (0, -2, -2, -1, -2, -1, -2)),
        ("7/8", "4+3", 5040, False, (0, -3, -2, -3, -1, -2, -2)),
        ("8/8", "3+3+2", 5040, False, (0, -2, -2, -1, -2, -2, -1, -2)),
        ("5/16", "", 2520, False, (0, -2, -2, -1, -2)),
        ("4/4", "", 3360, True, (0, -3, -3, -2, -3, -3, -1, -3, -3, -2, -3, -3)),
        ("2/4", "", 1680, False, (0, -3, -3, -2, -3, -3, -1, -3, -3, -2, -3, -3)),
        ("2/4", "", 1680, True, (0, -3, -2, -3, -2, -3, -1, -3, -2, -3, -2, -3)),
        ("2/2", "", 3360, True, (0, -3, -3, -2, -3, -3, -1, -3, -3, -2, -3, -3)),
    ],
)
def test_levels_of_a_meter_are_bar_groups_beats_and_their_parts(meter, grouping, pulse, thirds, expected):
    assert weights(Meter.of(meter, grouping), pulse, thirds) == expected


@given(meters(), st.sampled_from([1, 2, 4, 3, 6, 12]), st.booleans(), st.booleans())
def test_only_the_bar_line_weighs_nothing_and_a_finer_pulse_keeps_all_weights(meter, parts, thirds, bundled):
    coarse = weights(meter, meter.number, thirds, bundled)
    fine = weights(meter, meter.number // parts, thirds, bundled)
    assert len(fine) == meter.count * parts
    assert fine[0] == 0 and all(weight < 0 for weight in fine[1:])
    assert fine[::parts] == coarse
    for number in meter.beats:
        first = coarse[number - 1]
        assert all(first >= weight for weight in fine[(number - 1) * parts + 1 : number * parts])


@pytest.mark.parametrize("name", TIMELINES)
def test_six_timelines_have_these_points(name):
    onsets, points = TIMELINES[name]
    assert longuet_higgins(onsets, SIXTEENTHS) == points


def test_points_are_those_of_the_data_beside_the_clone(real_inputs):
    data = json.loads((real_inputs / "rhythm_vectors.json").read_text())
    given_points = dict(zip(data["computed_here"]["order"], data["computed_here"]["LHL_cyclic"], strict=True))
    assert given_points == {name: points for name, (_, points) in TIMELINES.items()}


def test_nothing_and_a_full_grid_are_not_syncopated():
    assert longuet_higgins([], SIXTEENTHS) == 0
    assert longuet_higgins(range(16), SIXTEENTHS) == 0
    assert longuet_higgins([0], SIXTEENTHS) == 0
    assert longuet_higgins([15], SIXTEENTHS) == 4, "the silent 1 after it weighs four levels more"


# Kick, snare, hi-hat in 16 steps, open hi-hat counted as hi-hat; worked out by hand.
HEARD_A = ([0, 6, 10], [0, 3, 6, 9, 12, 14, 15], [0, 2, 3, 4, 6, 8, 10, 12, 14])  # 3: 7, 9: 2, 15: 4
HEARD_B = ([0, 6, 9, 12], [6, 8, 9, 11, 12, 14], [0, 2, 4, 6, 8, 12, 14])  # 11: 3


@pytest.mark.parametrize(("lines", "expected"), [(HEARD_A, 13), (HEARD_B, 3)])
def test_two_known_patterns_have_their_syncopation_between_lines(lines, expected):
    assert witek(*lines, FLAT) == expected


def test_each_kind_of_meeting_between_lines_counts_what_the_paper_says():
    assert witek([3], [4], [4], FLAT) == -1 + 3 + 2, "kick against snare and hi-hat"
    assert witek([4], [3], [4], FLAT) == -1 + 3 + 1, "snare against kick and hi-hat"
    assert witek([3], [], [4], FLAT) == witek([], [3], [4], FLAT) == -1 + 3 + 5, "against the hi-hat alone: 7"
    assert witek([4], [], [5], FLAT) == 0, "the later place weighs less"
    assert witek([3], [], [], FLAT) == 0, "followed by silence: not between lines"
    assert witek([15], [], [0], FLAT) == 0 + 3 + 5, "over the loop"
    assert witek([3, 4], [3, 4], [3, 4], FLAT) == 0, "the same lines again"
    assert witek([1], [], [2], weights(Meter.of("6/8"), 5040)) == 5, "a place as heavy is enough"


@given(*[st.sets(st.integers(0, 31))] * 3)
def test_syncopation_between_lines_does_not_depend_on_the_bar_that_begins(low, mid, high):
    turned = [sorted((at + 16) % 32 for at in line) for line in (low, mid, high)]
    assert witek(*turned, FLAT, 32) == witek(sorted(low), sorted(mid), sorted(high), FLAT, 32) >= 0


@given(st.sets(st.integers(0, 47)), st.integers(0, 2))
def test_turning_by_whole_bars_leaves_the_points(places, bars):
    turned = sorted((at + 16 * bars) % 48 for at in places)
    assert longuet_higgins(turned, SIXTEENTHS * 3) == longuet_higgins(sorted(places), SIXTEENTHS * 3)


@given(st.sets(st.integers(0, 15), min_size=1))
def test_a_note_added_on_the_bar_line_never_adds_points(places):
    before, after = sorted(places), sorted({0, *places})
    assert longuet_higgins(after, SIXTEENTHS) <= longuet_higgins(before, SIXTEENTHS)


def test_slack_tide_is_what_a_hand_works_out(slack_tide):
    """Snare of stage 2, by hand: 1 -> 1, 3 -> 2, 5 -> 3, 9 -> 1, 11 and 12 -> 0, 13 -> 4 points."""
    found = [of_beat(stage.beat) for stage in grow(slack_tide)]
    assert [row.whole for row in found] == [0, 0, 0, 0, 0], "the hi-hat leaves no heavier place silent"
    assert [dict(row.lines)["snare"] for row in found] == [3, 5, 11, 11, 11]
    assert [dict(row.lines)["kick"] for row in found] == [0] * 5
    assert [name for name, _ in found[0].lines] == ["hi-hat", "snare", "kick"]
    assert [name for name, _ in found[4].lines] == ["ride", "snare", "kick"], "ride and bell are one instrument"
    # between lines: 5 to the hi-hat on 6; then ghosts on 1, 3, 9, 13, the 3 to a quarter
    assert [row.against for row in found] == [0, 6, 6 + 6 + 7 + 6 + 6, 31, 31]
    assert [row.bars for row in found] == [(3,), (5,), (11,), (11,), (11,)]
    assert [row.shown for row in found] == [300 // 15, 500 // 17, 1100 // 23, 1100 // 23, 1100 // 23]


def test_a_bar_has_its_own_points_and_the_last_note_looks_over_the_loop():
    beat = beat_of("4/4", bars=2, snare=[10080, 30240, 40320 + 10080, 2 * 40320 - 5040])
    found = of_beat(beat)
    # bar 1: 2 -> 1, 4 -> 2 (the 1 of bar 2); bar 2: 2 -> 1, the & of 4 -> 3
    assert found.bars == (3, 4) and found.lines == (("snare", 7),) and found.whole == 7


def test_other_meters_and_triplets_have_their_own_levels():
    assert of_beat(beat_of("6/8", snare=[15120])).whole == 1, "the second beat of two"
    assert of_beat(beat_of("6/8", snare=[10080])).whole == 2, "an eighth before it"
    assert of_beat(beat_of("7/8", kick=[0, 5040])).whole == 1, "eighth 2, then a silent group"
    assert of_beat(beat_of("4/4", "eighth triplets", kick=[36960])).whole == 3, "the last triplet before 1"
    assert of_beat(beat_of("4/4", "eighth triplets", kick=[0, 3360])).whole == 2, "trip of 1, the half bar silent"


def test_a_stroke_off_every_pulse_counts_at_the_nearest():
    assert of_beat(beat_of("4/4", kick=[40319])).whole == 0, "a tick before the 1 it is the 1"
    assert of_beat(beat_of("4/4", kick=[37801])).whole == 4, "a tick after the a of 4 it is the a of 4"


def test_who_rides_can_be_told():
    beat = beat_of("4/4", hi_hat=[0, 20160], cowbell=[7560, 10080, 12600], kick=[7560])
    assert of_beat(beat).against == -1 + 3 + 5, "the cowbell is struck most: kick on the a of 1, cowbell on 2"
    assert of_beat(beat, Roles(("hi-hat",), (), ("kick",), ())).against == 0, "but the hi-hat was silent there"


def test_an_empty_beat_is_not_syncopated():
    found = of_beat(beat_of("4/4"))
    assert found == (0, (), (0,), 0, 0)


def test_shown_points_never_fall_and_rise_less_and_less():
    row = [compressed(points, 2) for points in range(400)]
    assert row == sorted(row) and row[0] == 0 and row[24] == 50 and row[-1] < 100
    assert row[24] - row[0] > row[48] - row[24] > row[399] - row[375]


@given(beats())
def test_any_beat_is_measured_and_its_bars_add_up(beat):
    found = of_beat(beat)
    assert sum(found.bars) == sum(points for _, points in found.lines)
    assert len(found.bars) == beat.bars
    assert found.whole >= 0 and found.against >= 0 and all(points >= 0 for _, points in found.lines)
    assert 0 <= found.shown < 100


@given(beats(), st.integers(1, 2))
def test_turning_a_beat_by_whole_bars_turns_its_bars_alone(beat, by):
    strokes = [replace(stroke, at=(stroke.at + by * beat.meter.bar) % beat.cycle, id="") for stroke in beat.strokes]
    one, other = of_beat(beat), of_beat(base_beat(beat.meter, beat.bars, beat.columns, strokes))
    assert other._replace(bars=()) == one._replace(bars=())
    turn = by % beat.bars
    assert other.bars == one.bars[len(one.bars) - turn :] + one.bars[: len(one.bars) - turn]


@given(beats())
def test_a_beat_played_twice_has_twice_the_points_and_shows_the_same(beat):
    twice = [replace(stroke, at=stroke.at + turn * beat.cycle, id="") for turn in (0, 1) for stroke in beat.strokes]
    one, two = of_beat(beat), of_beat(base_beat(beat.meter, 2 * beat.bars, beat.columns, twice))
    assert two.whole == 2 * one.whole and two.against == 2 * one.against
    assert two.lines == tuple((name, 2 * points) for name, points in one.lines)
    assert two.bars == one.bars * 2 and two.shown == one.shown


@given(beats())
def test_loudness_is_no_part_of_it(beat):
    quiet = [replace(stroke, dynamic="ghost", id="") for stroke in beat.strokes]
    assert of_beat(base_beat(beat.meter, beat.bars, beat.columns, quiet)) == of_beat(beat)
