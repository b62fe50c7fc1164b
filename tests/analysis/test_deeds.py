"""What each limb has to choose from at a moment."""

from __future__ import annotations

import pytest

from groundbeat.analysis.deeds import CHICK, GRACE, HOLD, KICK, OPEN, SPLASH, STROKE, Track, tracks
from groundbeat.analysis.player import USUAL, Player
from groundbeat.model.beat import Beat, Stroke, base_beat
from groundbeat.model.feel import Feel
from groundbeat.model.meter import Meter


def beat_of(*strokes: Stroke, meter: str = "4/4", bars: int = 1) -> Beat:
    return base_beat(Meter.of(meter), bars, "sixteenths", strokes)


STRAIGHT = Feel()


def laid(
    beat: Beat, player: Player = USUAL, riding: tuple[str, ...] = (), feel: Feel = STRAIGHT
) -> tuple[Track, Track]:
    return tracks(beat, feel, riding, player)


def kinds(track: Track, moment: int = 0) -> set[tuple[int, int]]:
    """What the two limbs may do at a moment, as kinds of deeds (-1: nothing)."""
    return {
        tuple(track.deeds[n].kind if n >= 0 else -1 for n in (choice.first, choice.second))
        for choice in track.moments[moment].choices
    }


def test_hands_and_feet_have_tracks_of_their_own():
    hands, feet = laid(beat_of(Stroke(0, "snare"), Stroke(0, "kick"), Stroke(2520, "kick")))
    assert [moment.at for moment in hands.moments] == [0]
    assert [(moment.at, moment.before) for moment in feet.moments] == [(0, 2520), (2520, 0)]
    assert hands.limbs == (0, 1) and feet.limbs == (2, 3)


def test_an_empty_beat_has_no_moments():
    assert [track.moments for track in laid(Beat(Meter.of("4/4")))] == [(), ()]


def test_one_hand_or_the_other_plays_a_stroke():
    assert kinds(laid(beat_of(Stroke(0, "snare")))[0]) == {(STROKE, -1), (-1, STROKE)}


@pytest.mark.parametrize(
    ("hand", "left_handed", "leads"), [("R", False, True), ("L", False, False), ("R", True, False)]
)
def test_a_pinned_stroke_has_its_hand_alone(hand, left_handed, leads):
    track = laid(beat_of(Stroke(0, "snare", hand=hand)), Player(left_handed=left_handed))[0]
    assert kinds(track) == {(STROKE, -1) if leads else (-1, STROKE)}


@pytest.mark.parametrize(
    ("grace", "lead", "last", "main", "several"),
    [("flam", 30, 30, 0, False), ("drag", 70, 35, 0, True), ("ruff", 105, 35, 70, True)],
)
def test_the_other_hand_plays_the_grace_notes(grace, lead, last, main, several):
    track = laid(beat_of(Stroke(0, "snare", grace=grace)))[0]
    assert kinds(track) == {(STROKE, GRACE), (GRACE, STROKE)}
    found = {deed.kind: deed for deed in track.deeds}
    assert (found[GRACE].lead, found[GRACE].tail, found[GRACE].several) == (lead, -last, several)
    assert found[STROKE].lead == main


def test_buzz_and_choke_keep_their_hand():
    deeds = laid(beat_of(Stroke(0, "snare", grace="buzz"), Stroke(2520, "crash", grace="choke")))[0].deeds
    assert {deed.stroke.grace: deed.tail for deed in deeds} == {"buzz": 140.0, "choke": 150.0}


def test_a_diddle_is_half_a_column_wide_also_where_it_swings():
    diddle = beat_of(Stroke(0, "snare", grace="diddle"))
    assert laid(diddle)[0].deeds[0].inner == 1260
    swung = laid(diddle, feel=Feel("sixteenths", 2, 1))[0]
    assert swung.parts == 3 and swung.deeds[0].inner == 1260 * 4


def test_the_quietest_of_three_is_dropped_whatever_else():
    strokes = Stroke(0, "hi-hat", "accent", "flam"), Stroke(0, "snare", "normal"), Stroke(0, "floor tom", "ghost")
    for choice in laid(beat_of(*strokes))[0].moments[0].choices:
        assert dict(choice.dropped) == {"0/floor tom@0": STROKE, "0/hi-hat@0": GRACE}


def test_of_two_as_quiet_either_may_be_dropped():
    strokes = Stroke(0, "hi-hat"), Stroke(0, "snare"), Stroke(0, "floor tom")
    found = {name for choice in laid(beat_of(*strokes))[0].moments[0].choices for name, _ in choice.dropped}
    assert len(found) == 3


HAT = Stroke(0, "hi-hat"), Stroke(10080, "open hi-hat")


def test_a_hi_hat_without_other_work_for_its_foot_asks_nothing_of_it():
    assert laid(beat_of(*HAT, Stroke(0, "kick")))[1].deeds[0].kind == KICK
    assert {deed.kind for deed in laid(beat_of(*HAT, Stroke(0, "kick")))[1].deeds} == {KICK}


def test_the_hi_hat_foot_holds_closed_strokes_and_opens_open_ones():
    feet = laid(beat_of(*HAT, Stroke(20160, "hi-hat foot"), Stroke(30240, "foot splash")))[1]
    assert [kinds(feet, index) for index in range(4)] == [{(-1, HOLD)}, {(-1, OPEN)}, {(-1, CHICK)}, {(-1, SPLASH)}]


def test_a_foot_that_also_kicks_may_leave_a_closed_hi_hat_ringing():
    feet = laid(beat_of(*HAT, Stroke(5040, "second kick")))[1]
    assert kinds(feet, 0) == {(-1, HOLD), (-1, -1)}
    assert {choice.opens for choice in feet.moments[0].choices} == {(), ("0/hi-hat@0",)}
    assert kinds(feet, 1) == {(-1, KICK)}


def test_with_a_drop_clutch_nothing_is_held():
    player = Player(double_pedal=True, clutch=True)
    assert {deed.kind for deed in laid(beat_of(*HAT, Stroke(0, "kick")), player)[1].deeds} == {KICK}


def test_a_double_pedal_gives_a_kick_to_either_foot():
    kick = beat_of(Stroke(0, "kick"))
    assert kinds(laid(kick)[1]) == {(KICK, -1)}
    assert kinds(laid(kick, Player(double_pedal=True))[1]) == {(KICK, -1), (-1, KICK)}


def test_places_count_as_they_are_sounded():
    swung = laid(beat_of(Stroke(0, "snare"), Stroke(5040, "snare")), feel=Feel("eighths", 2, 1))[0]
    assert (swung.parts, [moment.at for moment in swung.moments], swung.loop) == (3, [0, 20160], 3 * 40320)


def test_deeds_are_numbered_from_the_same_bar_however_a_beat_is_rotated():
    bars = [(Stroke(0, "snare"), Stroke(2520, "floor tom")), (Stroke(0, "hi-hat"),)]
    for first, second in (bars, bars[::-1]):
        strokes = [*first, *(Stroke(s.at + 40320, s.surface) for s in second)]
        track = laid(beat_of(*strokes, bars=2))[0]
        assert [deed.stroke.surface for deed in track.deeds] == ["hi-hat", "snare", "floor tom"]
        assert track.deeds[0].at == track.moments[track.first].at
        assert [moment.at for moment in track.moments] == sorted(moment.at for moment in track.moments)


def test_in_another_meter_the_beats_are_its_own():
    ties = [
        min(choice.cost for choice in moment.choices if choice.first < 0)
        - min(choice.cost for choice in moment.choices if choice.first >= 0)
        for moment in laid(beat_of(*(Stroke(n * 5040, "snare") for n in range(6)), meter="6/8"))[0].moments
    ]
    assert ties == [1, 0, 0, 1, 0, 0]
