"""Who plays what: a loop is closed at its cheapest, and common beats get the sticking that drummers give them."""

from __future__ import annotations

from dataclasses import replace

import pytest

from groundbeat.analysis.assign import Ring, beyond, solve
from groundbeat.analysis.cost import BEYOND, POINT, take
from groundbeat.analysis.deeds import Choice
from groundbeat.analysis.limbs import ms_a_part, play, play_beat, rings_of
from groundbeat.analysis.player import Player, read_player
from groundbeat.model.beat import Beat, Stroke, base_beat
from groundbeat.model.feel import Feel
from groundbeat.model.meter import Meter
from groundbeat.variation.stack import grow
from tests.analysis.pricing import Pricing

# Cycles of which the end must fit the start: a meter, a tempo, and strokes as (sixteenth, surface, dynamic).
TRAPS = {
    "five around snare, hi-hat and floor tom": (
        "5/16", 140,
        [(0, "hi-hat", "accent"), (1, "snare", "accent"), (2, "floor tom", "normal"), (3, "snare", "ghost"), (4, "snare", "normal")],
        "RLRLL",
    ),
    "five with one on the hi-hat": (
        "5/16", 100,
        [(0, "snare", "normal"), (1, "snare", "normal"), (2, "hi-hat", "ghost"), (3, "snare", "normal"), (4, "snare", "ghost")],
        "RRLRL",
    ),
    "six over snare and hi-hat": (
        "3/8", 140,
        [(0, "snare", "accent"), (1, "hi-hat", "accent"), (2, "hi-hat", "normal"), (3, "hi-hat", "ghost"), (4, "snare", "normal"), (5, "hi-hat", "ghost")],
        "RLRLRL",
    ),
    "eight with two holes": (
        "2/4", 140,
        [(1, "snare", "accent"), (2, "snare", "ghost"), (4, "snare", "ghost"), (5, "floor tom", "normal"), (6, "floor tom", "ghost"), (7, "snare", "ghost")],
        "LLLRRL",
    ),
}  # fmt: skip


def trap(name: str) -> tuple[Beat, int, str]:
    meter, tempo, rows, expected = TRAPS[name]
    strokes = [Stroke(place * 2520, surface, dynamic) for place, surface, dynamic in rows]
    return base_beat(Meter.of(meter), 1, "sixteenths", strokes), tempo * 100, expected


def hands(beat: Beat, tempo: int) -> tuple[Ring, float]:
    ring = rings_of(beat, Feel(), (), Player())[0]
    return ring, ms_a_part(tempo, 10080, ring.track)


def letters(choices: tuple[Choice, ...]) -> str:
    return "".join("L" if choice.first < 0 else "R" for choice in choices)


def greedy(ring: Ring, ms: float) -> tuple[Choice, ...]:
    """From the first moment on, each time whatever costs least there and then."""
    last: list[tuple[int, int]] = [(-1, 0), (-1, 0)]
    chosen: list[Choice] = []
    for moment in ring.track.moments:
        priced = []
        for choice in moment.choices:
            cost, state = choice.cost, list(last)
            for which, number in ((0, choice.first), (1, choice.second)):
                if number >= 0:
                    step = ring.step(which, last[which][0], last[which][1], number, ms)
                    cost += step.points
                    state[which] = (number, step.short)
            priced.append((cost, len(priced), choice, state))
        _, _, best, last = min(priced, key=lambda row: row[:2])
        chosen.append(best)
    return tuple(chosen)


def doubled(beat: Beat, tempo: int, ring: Ring, skipped: int) -> tuple[Choice, ...]:
    """Two turns in a row from silence into silence, solved as well as can be; one turn of them read off."""
    strokes = [replace(s, at=s.at + turn * beat.cycle, id="") for turn in (0, 1) for s in beat.strokes]
    row, ms = hands(base_beat(beat.meter, 12, beat.columns, strokes), tempo)
    numbers = {(m.at, c.first >= 0): c for m in ring.track.moments for c in m.choices}
    read = solve(row, ms).choices[skipped : skipped + len(ring.track.moments)]
    places = [row.track.deeds[max(c.first, c.second)].at % beat.cycle for c in read]
    return tuple(
        choice for _, choice in sorted((at, numbers[at, c.first >= 0]) for at, c in zip(places, read, strict=True))
    )


@pytest.mark.parametrize("name", TRAPS)
def test_greedy_and_a_loop_solved_twice_in_a_row_are_worse_than_the_closed_loop(name):
    beat, tempo, expected = trap(name)
    ring, ms = hands(beat, tempo)
    price = Pricing(ring.track, ring.slower, ms).cost
    found = solve(ring, ms)
    assert letters(found.choices) == expected
    assert price(found.choices) == found.cost
    worse = {"greedy": greedy(ring, ms)}
    count = len(ring.track.moments)
    worse |= {f"doubled, from moment {skip}": doubled(beat, tempo, ring, skip) for skip in (0, count // 2)}
    for how, choices in worse.items():
        assert price(choices) // POINT > found.cost // POINT, how


def test_a_doubled_loop_lies_beyond_a_floor_where_the_closed_one_does_not():
    beat, tempo, _ = trap("five around snare, hi-hat and floor tom")
    ring, ms = hands(beat, tempo)
    price = Pricing(ring.track, ring.slower, ms).cost
    assert not beyond(solve(ring, ms).cost)
    assert all(beyond(price(doubled(beat, tempo, ring, skip))) for skip in (0, 2))


ROCK = 'hi-hat = "x-x-x-x-x-x-x-x-"\nsnare = "----O-------O---"\nkick = "o-------o-o-----"'


def test_a_rock_beat_is_ridden_by_the_leading_hand(played, sticking):
    playing = played(ROCK, 120)
    assert sticking(playing, "hi-hat") == "R" * 8
    assert sticking(playing, "snare") == "LL"
    assert sticking(playing, "kick") == "KKK"
    assert playing.limb_names()["0/snare@1/4"] == "left hand"


def test_even_sixteenths_alternate_where_one_hand_would_be_too_tight(played, sticking):
    assert sticking(played('snare = "oooooooooooooooo"', 120)) == "RL" * 8


def test_the_example_has_three_lefts_in_a_row(slack_tide):
    stage = grow(slack_tide)[2]
    playing = play(slack_tide, stage)
    lefts = [s.at // 2520 for s in stage.beat.strokes if playing.limbs[s.id] == 1]
    assert lefts == [1, 3, 5, 9, 11, 12, 13]
    row = [step for step in playing.steps if step.limb == 1 and step.before.at // 2520 in (11, 12)]
    assert [round(step.gap) for step in row] == [163, 163]
    assert all(step.comfortable for step in row)


def test_a_left_handed_player_is_the_mirror_of_a_right_handed_one(slack_tide):
    mirrored = {"": "", "R": "L", "L": "R"}
    for stage in grow(slack_tide):
        pinned = [replace(s, hand="R" if s.at == 10080 and s.surface == "snare" else "") for s in stage.beat.strokes]
        beat = replace(stage.beat, strokes=tuple(pinned))
        other = replace(beat, strokes=tuple(replace(s, hand=mirrored[s.hand]) for s in beat.strokes))
        right = play_beat(beat, stage.feel, ("hi-hat",), 9200, 10080, Player())
        left = play_beat(other, stage.feel, ("hi-hat",), 9200, 10080, Player(left_handed=True))
        assert right.limbs == left.limbs and right.cost == left.cost
        for name, words in right.limb_names().items():
            side = {"right": "left", "left": "right"}[words.split()[0]]
            assert left.limb_names()[name] == f"{side} {words.split()[1]}"


def test_an_open_handed_player_rides_the_hi_hat_with_the_left_and_the_ride_with_the_right(played, sticking):
    playing = played(ROCK, 120, "open-handed")
    assert (sticking(playing, "hi-hat"), sticking(playing, "snare")) == ("L" * 8, "RR")
    playing = played(ROCK.replace("hi-hat", "ride"), 120, "open-handed")
    assert (sticking(playing, "ride"), sticking(playing, "snare")) == ("R" * 8, "LL")


def test_pinned_hands_are_kept(played, sticking):
    beat = played(ROCK, 120).beat
    pinned = replace(beat, strokes=tuple(replace(s, hand="L" if s.surface == "hi-hat" else "") for s in beat.strokes))
    found = play_beat(pinned, Feel(), ("hi-hat",), 12000, 10080)
    assert sticking(found, "hi-hat") == "L" * 8 and sticking(found, "snare") == "RR"


def test_two_strokes_pinned_to_one_hand_are_one_too_many_and_the_quieter_is_dropped(played):
    beat = played(ROCK, 120).beat
    pinned = replace(beat, strokes=tuple(replace(s, hand="" if s.surface == "kick" else "R") for s in beat.strokes))
    found = play_beat(pinned, Feel(), ("hi-hat",), 12000, 10080)
    assert [(s.surface, s.at) for s, _ in found.dropped] == [("hi-hat", 10080), ("hi-hat", 30240)]
    assert not found.possible and not found.playable
    assert all(limb != 1 for limb in found.limbs.values())


def test_what_no_hand_is_left_for_is_dropped_the_quietest_first(played):
    playing = played(ROCK + '\nfloor-tom = "g---------------"\ncrash = "X---------------"', 60)
    assert [(s.surface, what) for s, what in playing.dropped] == [("floor tom", "stroke")]


def test_nothing_is_played_in_an_empty_beat():
    playing = play_beat(Beat(Meter.of("4/4")), Feel(), (), 9000, 10080)
    assert playing.playable and playing.limbs == {} and playing.steps == () and playing.cost == 0


def test_a_single_stroke_steps_to_itself_a_whole_loop_later(played):
    playing = played('snare = "o---------------"', 60)
    assert [(step.before.id, step.after.id, step.gap) for step in playing.steps] == [("0/snare@0", "0/snare@0", 4000.0)]


def test_a_swung_beat_is_judged_by_its_short_gap():
    strokes = [Stroke(place * 5040, "snare", hand="R") for place in range(8)]
    beat = base_beat(Meter.of("4/4"), 1, "eighths", strokes)
    straight = play_beat(beat, Feel(), (), 12000, 10080)
    swung = play_beat(beat, Feel("eighths", 2, 1), (), 12000, 10080)
    assert {round(step.gap, 1) for step in straight.steps} == {250.0}
    assert {round(step.gap, 1) for step in swung.steps} == {333.3, 166.7}


def test_swing_in_a_bar_of_an_odd_number_of_eighths_stays_within_the_loop():
    strokes = [Stroke(place * 2520, "snare", hand="R") for place in range(14)]
    playing = play_beat(base_beat(Meter.of("7/8"), 1, "sixteenths", strokes), Feel("eighths", 2, 1), (), 6000, 5040)
    gaps = [step.gap for step in playing.steps]
    assert all(gap > 0 for gap in gaps) and sum(gaps) == pytest.approx(7000)


def test_a_pushed_surface_comes_sooner_or_later_for_the_hand_that_plays_it():
    strokes = [Stroke(0, "snare", hand="R"), Stroke(20160, "floor tom", hand="R")]
    beat = base_beat(Meter.of("4/4"), 1, "sixteenths", strokes)
    playing = play_beat(beat, Feel("", 1, 1, (("floor tom", 20),)), (), 12000, 10080)
    assert [round(step.gap) for step in playing.steps] == [980, 1020]


DOUBLE = 'hi-hat = "x-x-x-x-x-x-x-x-"\nsnare = "----O-------O---"\nkick = "oooooooooooooooo"'


def test_a_double_pedal_shares_a_stream_of_kicks_and_the_hi_hat_rings(played, sticking):
    playing = played(DOUBLE, 120, "double pedal")
    assert sticking(playing, "kick") in ("KH" * 8, "HK" * 8)
    assert playing.playable
    assert len(playing.released) == 8 and {s.surface for s in playing.released} == {"hi-hat"}


def test_a_drop_clutch_keeps_the_hi_hat_closed(played):
    assert played(DOUBLE, 120, "double pedal; drop clutch").released == ()


def test_one_pedal_leaves_a_fast_stream_of_kicks_beyond_the_floor(played, sticking):
    playing = played(DOUBLE, 120)
    assert sticking(playing, "kick") == "K" * 16
    assert playing.possible and not playing.playable
    assert all(step.limb == 2 and step.about == "run" for step in playing.steps if not step.possible)


def test_an_open_hi_hat_between_two_kicks_of_its_foot_does_not_hide_how_close_they_are(played):
    lines = 'open-hi-hat = "x-x-x-x-x-x-x-x-x-x-x-x-x-x-x-x-"\nsecond-kick = "oooooooooooooooooooooooooooooooo"'
    playing = played(lines, 120, head='columns = "thirty-seconds"')
    assert {round(step.gap, 1) for step in playing.steps if step.limb == 3} == {62.5}
    assert not playing.playable


def test_a_foot_chick_needs_a_lift_first(played):
    lines = 'hi-hat = "xxxxxxxxxxxxxxxx"\nhi-hat-foot = "--x---x---x---x-"'
    tight = [step for step in played(lines, 120).steps if step.limb == 3 and not step.possible]
    assert tight and all(step.about == "pedal" and step.gap == pytest.approx(125) for step in tight)
    assert played(lines, 100).playable


def test_a_flam_takes_both_hands_and_its_grace_the_other_one(played):
    beat = played('snare = "o---o---o---o---"', 90).beat
    beat = replace(beat, strokes=tuple(replace(s, grace="flam" if s.at == 0 else "") for s in beat.strokes))
    found = play_beat(beat, Feel(), (), 9000, 10080)
    assert found.graces == {"0/snare@0": 1 - found.limbs["0/snare@0"]}


def test_a_flam_with_the_other_hand_busy_loses_its_grace_and_nothing_else(played):
    beat = played(ROCK, 90).beat
    strokes = tuple(replace(s, grace="flam" if s.surface == "snare" else "") for s in beat.strokes)
    found = play_beat(replace(beat, strokes=strokes), Feel(), ("hi-hat",), 9000, 10080)
    assert [(s.surface, what) for s, what in found.dropped] == [("snare", "grace")] * 2
    assert len(found.limbs) == len(strokes)


@pytest.mark.parametrize(("player", "left"), [("", ["grace"]), ("double pedal", [])])
def test_a_flam_on_the_kick_needs_two_pedals(player, left, played):
    beat = played('kick = "o---------------"', 90).beat
    beat = replace(beat, strokes=(replace(beat.strokes[0], grace="flam"),))
    found = play_beat(beat, Feel(), (), 9000, 10080, read_player(player))
    assert [what for _, what in found.dropped] == left


@pytest.mark.parametrize("grace", ["drag", "ruff"])
def test_a_foot_has_no_drags_and_ruffs(grace, played):
    beat = played('kick = "o---------------"', 90).beat
    beat = replace(beat, strokes=(replace(beat.strokes[0], grace=grace),))
    found = play_beat(beat, Feel(), (), 9000, 10080, Player(double_pedal=True))
    assert [what for _, what in found.dropped] == ["grace"]


def test_a_diddle_is_two_strokes_of_one_hand(played):
    beat = played('snare = "o---o---o---o---"', 90).beat
    strokes = tuple(replace(s, grace="diddle" if s.at == 0 else "") for s in beat.strokes)
    found = play_beat(replace(beat, strokes=strokes), Feel(), (), 9000, 10080)
    inside = [step for step in found.steps if step.about == "inside"]
    assert [(step.gap, step.floor, step.comfort) for step in inside] == [(pytest.approx(83.3, abs=0.1), 46.0, 58.0)]


def test_a_step_of_a_hand_beyond_its_floor_costs_more_than_all_points_of_a_beat():
    ring, _ = hands(trap("six over snare and hi-hat")[0], 14000)
    pair = ring.pair(0, 1)
    fast, slow = take(pair, 0, 0.01, 1.0), take(pair, 0, 1.0, 1.0)
    assert fast.points >= BEYOND > 4096 * 1000 * POINT // 16 > slow.points
