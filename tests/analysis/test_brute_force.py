"""Every complete way to play a short cycle is priced by itself: none is cheaper, or faster, than what was found.

`pricing` follows the text of `cost`, one whole loop at a time. It shares with the search only the price of a single step
and of a single choice; nothing of how loops are searched or closed.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import permutations, product
from math import prod

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from groundbeat.analysis.assign import COMFORTABLE, POSSIBLE, Ring, reach, solve, solve_within
from groundbeat.analysis.cost import POINT, choice_cost
from groundbeat.analysis.deeds import GRACE, HOLD, OPEN, Deed, Track
from groundbeat.analysis.limbs import ms_a_part, play_beat, rings_of
from groundbeat.analysis.limits import Limits
from groundbeat.analysis.player import Player
from groundbeat.analysis.tempo import comfortable, fastest
from groundbeat.model.beat import Beat, Stroke, base_beat
from groundbeat.model.feel import Feel
from groundbeat.model.kit import BY_NAME, DYNAMICS, FEET_ONLY
from groundbeat.model.meter import Meter
from groundbeat.model.place import COLUMNS
from groundbeat.model.roles import find_roles
from tests.analysis.pricing import Pricing, complete

MOST = 700  # complete assignments of a track that are priced one by one
HANDS = [
    "snare",
    "snare",
    "hi-hat",
    "hi-hat",
    "ride",
    "floor tom",
    "crash",
    "open hi-hat",
    "high tom",
    "half-open hi-hat",
]
FEET = ["kick", "kick", "kick", "hi-hat foot", "second kick", "foot splash"]
GRACES = ["", "", "", "", "", "", "flam", "drag", "ruff", "buzz", "diddle", "choke"]


@st.composite
def cycles(draw, surfaces: list[str] | None = None, most: int = 8) -> Beat:
    """A beat of at most so many moments."""
    meter = Meter.of(draw(st.sampled_from(["2/4", "3/8", "4/4", "7/8", "6/8", "2/2", "5/16"])))
    columns = draw(st.sampled_from([name for name, ticks in COLUMNS.items() if meter.bar % ticks == 0]))
    bars = draw(st.sampled_from([1, 1, 1, 2]))
    ticks = COLUMNS[columns]
    last = bars * meter.bar // ticks - 1
    near = draw(st.integers(min(3, last), last))  # strokes lie close together, or all over the cycle
    places = draw(st.lists(st.integers(0, near), min_size=1, max_size=most, unique=True))
    strokes = []
    for place in places:
        names = draw(st.lists(st.sampled_from(surfaces or HANDS + FEET), min_size=1, max_size=3, unique=True))
        taken = set()
        for name in names:
            row = BY_NAME[name]
            if row.instrument in taken:
                continue
            taken.add(row.instrument)
            hand = draw(st.sampled_from(["", "", "", "", "R", "L"])) if row.limb == "hand" else ""
            strokes.append(
                Stroke(place * ticks, name, draw(st.sampled_from(DYNAMICS)), draw(st.sampled_from(GRACES)), hand)
            )
    return base_beat(meter, bars, columns, strokes)


feels = st.sampled_from(
    [Feel(), Feel(), Feel("eighths", 2, 1), Feel("sixteenths", 3, 2), Feel("", 1, 1, (("snare", 20), ("kick", -10)))]
)
scales = st.sampled_from([1.0, 1.0, 1.0, 1.25, 1.7, 0.9])
players = st.builds(
    Player,
    *[st.booleans()] * 4,
    st.one_of(st.just(Limits()), st.builds(Limits, scales, scales, scales, scales)),
)
tempos = st.sampled_from([2000, 4000, 6000, 8000, 9200, 10000, 11000, 12800, 15000, 18000, 21000, 25000, 30000, 40000])


def few(track: Track) -> bool:
    return prod(len(moment.choices) for moment in track.moments) <= MOST


def rings(beat: Beat, feel: Feel, player: Player) -> tuple[Ring, Ring]:
    return rings_of(beat, feel, find_roles(beat).riding, player)


@settings(max_examples=100)
@given(cycles(), feels, players, tempos)
def test_no_complete_assignment_is_cheaper_than_what_was_found(beat, feel, player, tempo):
    for ring in rings(beat, feel, player):
        assume(few(ring.track))
        ms = ms_a_part(tempo, beat.meter.tempo_unit[1], ring.track)
        pricing = Pricing(ring.track, ring.slower, ms)
        found = solve(ring, ms)
        assert found.cost == pricing.cost(found.choices)
        assert found.cost == min(map(pricing.cost, complete(ring.track)))


@pytest.mark.parametrize(("meter", "places", "each"), [("2/4", 8, 2), ("5/16", 5, 3)])
def test_every_cycle_of_hi_hat_and_snare_without_a_gap_costs_as_little_as_can_be(meter, places, each):
    """All of them, not a sample: hi-hat or snare at each of eight places; or also both, at each of five."""
    for row in product(range(each), repeat=places):
        strokes = [Stroke(at * 2520, "hi-hat") for at, what in enumerate(row) if what != 1]
        strokes += [Stroke(at * 2520, "snare", "accent") for at, what in enumerate(row) if what]
        beat = base_beat(Meter.of(meter), 1, "sixteenths", strokes)
        ring = rings(beat, Feel(), Player())[0]
        ms = ms_a_part(13000, 10080, ring.track)
        pricing = Pricing(ring.track, ring.slower, ms)
        assert solve(ring, ms).cost == min(map(pricing.cost, complete(ring.track))), row


@settings(max_examples=50)
@given(cycles(["snare", "hi-hat", "floor tom"]), tempos)
def test_no_complete_assignment_of_hands_close_together_is_cheaper(beat, tempo):
    ring = rings(beat, Feel(), Player())[0]
    assume(few(ring.track))
    ms = ms_a_part(tempo, beat.meter.tempo_unit[1], ring.track)
    assert solve(ring, ms).cost == min(map(Pricing(ring.track, ring.slower, ms).cost, complete(ring.track)))


@settings(max_examples=50)
@given(cycles(["kick", "second kick", "hi-hat", "open hi-hat", "hi-hat foot"]), st.booleans(), tempos)
def test_no_complete_assignment_of_a_double_pedal_is_cheaper(beat, clutch, tempo):
    ring = rings(beat, Feel(), Player(double_pedal=True, clutch=clutch))[1]
    assume(few(ring.track))
    ms = ms_a_part(tempo, beat.meter.tempo_unit[1], ring.track)
    assert solve(ring, ms).cost == min(map(Pricing(ring.track, ring.slower, ms).cost, complete(ring.track)))


@settings(max_examples=50)
@given(cycles(), feels, players, tempos, st.sampled_from([POSSIBLE, COMFORTABLE]))
def test_a_loop_is_reached_where_some_complete_assignment_lies_within(beat, feel, player, tempo, ask):
    for ring in rings(beat, feel, player):
        assume(few(ring.track))
        ms = ms_a_part(tempo, beat.meter.tempo_unit[1], ring.track)
        pricing = Pricing(ring.track, ring.slower, ms)
        fitting = [choices for choices in complete(ring.track) if pricing.fits(choices, ask)]
        found = solve_within(ring, ms, ask)
        assert reach(ring, ms, ask) == bool(fitting) == (found is not None)
        if found is not None:
            assert found.cost == min(map(pricing.cost, fitting))


@settings(max_examples=50)
@given(cycles(), feels, players, tempos, st.sampled_from([POSSIBLE, COMFORTABLE]), st.data())
def test_no_complete_assignment_is_faster_than_the_fastest_tempo(beat, feel, player, tempo, ask, data):
    unit = beat.meter.tempo_unit[1]
    playing = play_beat(beat, feel, find_roles(beat).riding, tempo, unit, player)
    assume(all(few(ring.track) for ring in playing.rings))

    def some_fit(bpm: int) -> bool:
        for ring in playing.rings:
            pricing = Pricing(ring.track, ring.slower, ms_a_part(bpm * 100, unit, ring.track))
            if not any(pricing.fits(choices, ask) for choices in complete(ring.track)):
                return False
        return True

    found = fastest(playing) if ask == POSSIBLE else comfortable(playing)
    if found.bpm is None:
        assert playing.dropped or not some_fit(1)
        return
    assert some_fit(found.bpm)
    assert all(step.possible if ask == POSSIBLE else step.comfortable for step in found.playing.steps)
    if found.bpm < 400:
        assert not some_fit(found.bpm + 1)
        assert not some_fit(data.draw(st.integers(found.bpm + 1, 400)))
        assert found.steps, "what sets the limit is named"


@settings(max_examples=50)
@given(cycles(["snare", "hi-hat", "ride", "kick", "floor tom", "hi-hat foot"]), feels, players, st.data())
def test_slower_is_never_less_possible(beat, feel, player, data):
    unit = beat.meter.tempo_unit[1]
    slow, fast = sorted(data.draw(st.tuples(st.integers(2000, 40000), st.integers(2000, 40000))))
    for ring in rings(beat, feel, player):
        for ask in (POSSIBLE, COMFORTABLE):
            if reach(ring, ms_a_part(fast, unit, ring.track), ask):
                assert reach(ring, ms_a_part(slow, unit, ring.track), ask)
    play = lambda tempo: play_beat(beat, feel, find_roles(beat).riding, tempo, unit, player)  # noqa: E731
    if play(fast).playable:
        assert play(slow).playable


# What a moment has to choose from, worked out from the strokes alone.


def ways_by_hand(strokes: list[Stroke], limbs: tuple[int, int], player: Player) -> set[tuple[str, str]]:
    """Which stroke the first and the second limb play: as many as can be, the loudest, with their graces if they can."""

    def may(limb: int, stroke: Stroke) -> bool:
        if limb < 2:
            right = (limb == 0) != player.left_handed
            return not stroke.hand or (stroke.hand == "R") == right
        return {"kick": (2, 3) if player.double_pedal else (2,)}.get(stroke.surface, (3,)).count(limb) > 0

    best: dict[tuple[int, list[int], int], set[tuple[str, str]]] = {}
    for pair in permutations([*strokes, None, None], 2):
        if any(stroke is not None and not may(limb, stroke) for limb, stroke in zip(limbs, pair, strict=True)):
            continue
        lost = [stroke for stroke in strokes if stroke not in pair]
        single = None in pair
        graces = sum(
            stroke is not None
            and stroke.grace in ("flam", "drag", "ruff")
            and not (
                single
                and (limbs[0] == 0 or (player.double_pedal and stroke.surface == "kick" and stroke.grace == "flam"))
            )
            for stroke in pair
        )
        key = len(lost), sorted((stroke.level for stroke in lost), reverse=True), graces
        best.setdefault((key[0], tuple(key[1]), key[2]), set()).add(tuple(s.id if s else "" for s in pair))  # type: ignore[index]
    return best[min(best)]


def played_by(deed: Deed | None) -> str:
    return deed.stroke.id if deed is not None and deed.kind not in (GRACE, HOLD, OPEN) else ""


@settings(max_examples=50)
@given(cycles(most=4), players)
def test_a_moment_offers_every_way_that_loses_least(beat, player):
    hands, feet = (ring.track for ring in rings(beat, Feel(), player))
    for track, mine in ((hands, False), (feet, True)):
        for moment in track.moments:
            strokes = [s for s in beat.strokes if s.at == moment.at and (s.surface in FEET_ONLY) == mine]
            offered = {
                tuple(played_by(track.deeds[n] if n >= 0 else None) for n in (choice.first, choice.second))
                for choice in moment.choices
            }
            assert offered == (ways_by_hand(strokes, track.limbs, player) if strokes else {("", "")})


@settings(max_examples=50)
@given(cycles(most=4), players)
def test_a_choice_costs_what_the_text_says(beat, player):
    riding = find_roles(beat).riding
    for ring in rings(beat, Feel(), player):
        for moment in ring.track.moments:
            numbers = beat.meter.number
            place = moment.at % beat.meter.bar
            strong = place % numbers == 0 and place // numbers + 1 in beat.meter.beats
            for choice in moment.choices:
                both = tuple(ring.track.deeds[n] if n >= 0 else None for n in (choice.first, choice.second))
                assert choice.cost == choice_cost(
                    ring.track.limbs, both, len(choice.dropped), riding, player, strong, bool(choice.opens)
                )


# Rotation.


def rotated(beat: Beat, columns: int) -> tuple[Beat, dict[str, str]]:
    """A beat begun so many columns later, and the new name of each stroke."""
    moved = [replace(s, at=(s.at - columns * beat.column) % beat.cycle) for s in beat.strokes]
    new = base_beat(beat.meter, beat.bars, beat.columns, [replace(s, id="") for s in moved])
    at = {(s.at, s.surface): s.id for s in new.strokes}
    return new, {old.id: at[s.at, s.surface] for old, s in zip(beat.strokes, moved, strict=True)}


@settings(max_examples=50)
@given(cycles(), players, tempos, st.integers(1, 31))
def test_a_rotated_beat_costs_the_same_and_is_played_the_same_where_only_one_way_is_best(beat, player, tempo, columns):
    unit, riding = beat.meter.tempo_unit[1], find_roles(beat).riding
    other, names = rotated(beat, columns)
    before, after = (play_beat(each, Feel(), riding, tempo, unit, player) for each in (beat, other))
    assert before.cost // POINT == after.cost // POINT
    for which, ring in enumerate(before.rings):
        assume(few(ring.track))
        pricing = Pricing(ring.track, ring.slower, ms_a_part(tempo, unit, ring.track))
        prices = [pricing.cost(choices) // POINT for choices in complete(ring.track)]
        if prices.count(min(prices)) == 1:
            mine = {name: limb for name, limb in before.limbs.items() if limb in ring.track.limbs}
            assert {names[name]: limb for name, limb in mine.items()} == {
                name: limb for name, limb in after.limbs.items() if limb in after.rings[which].track.limbs
            }


@settings(max_examples=50)
@given(cycles(), cycles(), cycles(), players, tempos, st.integers(0, 2))
def test_a_beat_rotated_by_whole_bars_is_played_by_the_same_limbs(one, two, three, player, tempo, turn):
    meter = one.meter
    strokes = [
        replace(stroke, at=stroke.at % meter.bar + bar * meter.bar, id="")
        for bar, beat in enumerate((one, two, three))
        for stroke in beat.strokes
    ]
    strokes = list({(s.at, s.instrument): s for s in strokes}.values())
    columns = next((name for name, ticks in COLUMNS.items() if meter.bar % ticks == 0), "thirty-seconds")
    beat = base_beat(meter, 3, columns, strokes)
    other, names = rotated(beat, turn * meter.bar // beat.column)
    unit, riding = meter.tempo_unit[1], find_roles(beat).riding
    before, after = (play_beat(each, Feel(), riding, tempo, unit, player) for each in (beat, other))
    assert before.cost == after.cost
    if other == beat:  # the same bars in the same order
        assert before.limbs == after.limbs
        return
    assert {names[name]: limb for name, limb in before.limbs.items()} == after.limbs
    assert {names[name]: limb for name, limb in before.graces.items()} == after.graces
