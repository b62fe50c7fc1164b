"""How fast a stage can go, and what stops it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from groundbeat.analysis.limbs import play, play_beat
from groundbeat.analysis.player import USUAL, Player, read_player
from groundbeat.analysis.tempo import comfortable, fastest
from groundbeat.model.beat import Beat, Stroke, base_beat
from groundbeat.model.feel import Feel
from groundbeat.model.meter import Meter
from groundbeat.variation.stack import grow


def row(count: int, *, surface: str = "snare", hand: str = "", grace: str = "", columns: str = "sixteenths") -> Beat:
    """A bar of 4/4 full of even strokes."""
    ticks = 40320 // count
    return base_beat(
        Meter.of("4/4"), 1, columns, [Stroke(n * ticks, surface, hand=hand, grace=grace) for n in range(count)]
    )


def tempi(beat: Beat, player: Player = USUAL, tempo: int = 9000) -> tuple[int | None, int | None]:
    playing = play_beat(beat, Feel(), (), tempo, 10080, player)
    return fastest(playing).bpm, comfortable(playing).bpm


def test_three_lefts_are_comfortable_to_exactly_100(slack_tide):
    playing = play(slack_tide, grow(slack_tide)[2])
    found = comfortable(playing)
    assert found.bpm == 100
    lefts = [step for step in found.steps if step.limb == 1]
    assert [(step.before.at // 2520, step.after.at // 2520) for step in lefts] == [(11, 12), (12, 13)]
    assert all(step.about == "again" and step.comfort == 150 for step in lefts)
    kicks = [step for step in found.steps if step.limb == 2]
    assert [(step.before.at // 2520, step.after.at // 2520, step.comfort) for step in kicks] == [(7, 8, 150)]
    assert len(found.steps) == 3


def test_the_example_can_be_played_to_150(slack_tide):
    found = fastest(play(slack_tide, grow(slack_tide)[2]))
    assert found.bpm == 150
    assert {step.limb for step in found.steps} == {1, 2}


@pytest.mark.parametrize("tempo", [2000, 6000, 9900, 10000, 10001, 15000, 40000])
def test_the_tempo_found_does_not_hang_on_the_tempo_at_which_it_is_asked(slack_tide, tempo):
    for stage in grow(slack_tide):
        playing = play(slack_tide, stage, tempo=tempo)
        assert (fastest(playing).bpm, comfortable(playing).bpm) == (150, 100)


@pytest.mark.parametrize(
    ("beat", "expected"),
    [
        (row(16, hand="R"), (150, 100)),  # one hand: 100 and 150 ms
        (row(16), (326, 258)),  # two hands: a roll of doubles, 46 and 58 ms
        (row(4, surface="kick"), (375, 259)),  # one foot on and on: 160 and 231 ms
        (row(8, surface="hi-hat foot"), (200, 150)),  # 150 and 200 ms
        (row(4, surface="hi-hat foot"), (400, 300)),
        (row(1), (400, 400)),
        (Beat(Meter.of("4/4")), (400, 400)),
    ],
    ids=["one hand", "two hands", "kick", "hi-hat foot eighths", "hi-hat foot quarters", "one stroke", "nothing"],
)
def test_even_strokes_go_as_fast_as_the_limits_of_their_limb_say(beat, expected):
    assert tempi(beat) == expected


def test_a_double_pedal_goes_nearly_twice_as_fast_as_one_foot():
    assert tempi(row(16, surface="kick"))[0] == 93  # 160 ms
    assert tempi(row(16, surface="kick"), Player(double_pedal=True))[0] == 187


def test_two_kicks_and_a_rest_go_faster_than_a_stream():
    pair = base_beat(Meter.of("4/4"), 1, "sixteenths", [Stroke(at, "kick") for at in (0, 2520, 20160, 22680)])
    assert tempi(pair) == (150, 100)
    eight = base_beat(Meter.of("4/4"), 1, "sixteenths", [Stroke(n * 2520, "kick") for n in range(8)])
    assert tempi(eight) == (125, 80)  # 120 and 186 ms: eight in a row


def test_a_rebound_goes_where_two_single_strokes_would_not():
    ghost = [Stroke(0, "snare", "accent", hand="L"), Stroke(2520, "snare", "ghost", hand="L")]
    beat = base_beat(Meter.of("4/4"), 1, "sixteenths", ghost)
    louder = [Stroke(0, "snare", "ghost", hand="L"), Stroke(2520, "snare", "accent", hand="L")]
    assert tempi(beat) == (326, 258)  # 46 and 58 ms
    assert tempi(base_beat(Meter.of("4/4"), 1, "sixteenths", louder)) == (150, 100)


def test_three_in_a_row_are_no_rebound():
    strokes = [Stroke(n * 2520, "snare", "normal", hand="L") for n in range(3)]
    assert tempi(base_beat(Meter.of("4/4"), 1, "sixteenths", strokes)) == (150, 100)


def test_a_hand_that_changes_surface_takes_longer():
    strokes = [Stroke(0, "snare", hand="R"), Stroke(5040, "floor tom", hand="R")]
    assert tempi(base_beat(Meter.of("4/4"), 1, "eighths", strokes))[0] == 206  # 145 ms
    near = [Stroke(0, "snare", hand="R"), Stroke(5040, "high tom", hand="R")]
    assert tempi(base_beat(Meter.of("4/4"), 1, "eighths", near))[1] == 170  # 176 ms


def test_a_diddle_is_bound_by_its_two_strokes():
    beat = base_beat(Meter.of("4/4"), 1, "sixteenths", [Stroke(0, "snare", grace="diddle", hand="R")])
    assert tempi(beat) == (163, 129)  # half a sixteenth of 46 and 58 ms


def test_after_a_diddle_its_hand_has_no_further_rebound():
    strokes = [Stroke(0, "snare", grace="diddle", hand="R"), Stroke(2520, "snare", hand="R")]
    assert tempi(base_beat(Meter.of("4/4"), 1, "sixteenths", strokes)) == (75, 50)  # half a sixteenth: 100 and 150 ms


def test_what_no_limb_is_left_for_has_no_tempo():
    strokes = [Stroke(0, name) for name in ("snare", "hi-hat", "floor tom")]
    playing = play_beat(base_beat(Meter.of("4/4"), 1, "sixteenths", strokes), Feel(), (), 9000, 10080)
    assert fastest(playing).bpm is None and comfortable(playing).bpm is None
    assert fastest(playing).steps == ()


def test_strokes_a_tick_apart_have_no_tempo():
    strokes = [Stroke(at, "snare", hand="R") for at in (0, 1, 2)]
    assert tempi(base_beat(Meter.of("4/4"), 1, "sixteenths", strokes)) == (None, None)


def test_the_tempo_counts_its_own_unit():
    beat = row(16, hand="R")
    playing = play_beat(beat, Feel(), (), 9000, 5040)  # eighths are counted: twice as many of them in a minute
    assert (fastest(playing).bpm, comfortable(playing).bpm) == (300, 200)


def test_swing_is_bound_by_its_short_eighths():
    # After the short gap comes a louder stroke, which is no rebound.
    strokes = [Stroke(n * 5040, "snare", "ghost" if n % 2 else "accent", hand="R") for n in range(8)]
    beat = base_beat(Meter.of("4/4"), 1, "eighths", strokes)
    playing = play_beat(beat, Feel("eighths", 2, 1), (), 9000, 10080)
    assert (fastest(playing).bpm, comfortable(playing).bpm) == (200, 133)  # a third of a quarter


def test_a_beat_is_shown_as_it_is_played_at_the_tempo_found(slack_tide):
    found = fastest(play(slack_tide, grow(slack_tide)[3]))
    assert found.playing.tempo == 15000
    assert found.playing.playable
    slow = comfortable(play(slack_tide, grow(slack_tide)[3]))
    assert all(step.comfortable for step in slow.playing.steps)


@pytest.mark.parametrize("limb", ["right hand", "left hand", "right foot", "left foot"])
def test_slower_limbs_never_make_a_beat_faster(slack_tide, limb):
    stages = grow(slack_tide)
    lines = [*stages[3].beat.strokes, Stroke(10080, "hi-hat foot"), Stroke(30240, "hi-hat foot")]
    beat = base_beat(stages[0].beat.meter, 1, "sixteenths", [replace(s, id="") for s in lines])
    before = (400, 400)
    for count in (90, 70, 60, 50, 40, 30, 20, 10):
        playing = play_beat(beat, Feel(), ("hi-hat",), 9200, 10080, read_player(f"{limb} {count}"))
        found = fastest(playing).bpm, comfortable(playing).bpm
        assert found[0] is not None and found[0] <= before[0]
        assert found[1] is not None and found[1] <= before[1]
        before = found
    assert before < (150, 100)
