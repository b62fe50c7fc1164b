"""What a hand does to a timeline: it strays, within bounds, and the music stays where it is."""

from __future__ import annotations

import hashlib
import json
import os
import subprocess
import sys
from collections import defaultdict
from decimal import Decimal, localcontext

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from groundbeat.codec.groove_read import read_groove
from groundbeat.errors import TimelineError
from groundbeat.model.kit import BY_NAME
from groundbeat.timeline import hand
from groundbeat.timeline.clicks import KINDS
from groundbeat.timeline.unroll import Timeline, unroll
from groundbeat.variation.stack import grow
from tests.strategies import grooves

LOOSE = st.integers(1, 100)
SEEDS = st.integers(0, hand.MOST_SEED)
SLACK_TIDE = """groundbeat = 1
title = "Slack Tide"
meter = "4/4"
columns = "sixteenths"
tempo = 92
[base]
hi-hat = "x-x-x-x-x-x-x-x-"
snare  = "----O--g-g--O--g"
kick   = "o------oo-------"
snare graces = "----1-------2---"
"""


def pair(groove, loose: int, seed: int = 1, **more) -> tuple[Timeline, Timeline]:
    """The last stage exactly, and by a hand."""
    stages = grow(groove)
    number = len(stages) - 1
    return unroll(groove, stages, number, **more), unroll(groove, stages, number, **more, loose=loose, seed=seed)


@settings(max_examples=30)
@given(grooves(), LOOSE, SEEDS, st.sampled_from(KINDS))
def test_a_hand_moves_nothing_but_time_and_level_within_its_bounds(groove, loose, seed, kind):
    exact, played = pair(groove, loose, seed, clicks=kind)
    assert (played.start, played.loop, played.parts, played.count_in) == exact[:3] + (exact.count_in,)
    assert len(played.events) == played.rounds * len(exact.events)
    length = len(exact.events)
    for index, event in enumerate(played.events):
        written = exact.events[index % length]
        assert event._replace(us=written.us, gain=written.gain, round=-1) == written
        assert event.round == (index // length if played.rounds > 1 else -1)
        assert abs(event.us - written.us) <= 500 * loose + 1
        assert abs(event.gain - written.gain) <= 4 * loose and (not event.stop or event.gain == 0)


@settings(max_examples=30)
@given(grooves(), LOOSE, st.sampled_from(KINDS))
def test_clicks_are_never_loosened_and_come_out_even(groove, loose, kind):
    exact, played = pair(groove, loose, clicks=kind)
    times = played.rounds // exact.rounds
    assert times * exact.rounds == played.rounds
    again = exact.rounds * exact.loop
    assert played.clicks == tuple(c._replace(at=c.at + k * again) for k in range(times) for c in exact.clicks)


@settings(max_examples=30)
@given(grooves(), LOOSE, SEEDS)
def test_strokes_of_one_place_stay_together(groove, loose, seed):
    exact, played = pair(groove, loose, seed)
    length = len(exact.events)
    strayed = defaultdict(set)
    for index, event in enumerate(played.events):
        strayed[event.round, event.at].add(event.us - exact.events[index % length].us)
    assert all(max(row) - min(row) <= hand.TOGETHER * loose // 100 for row in strayed.values())


@settings(max_examples=30)
@given(grooves(), SEEDS, st.sampled_from([20, 100]))
def test_strokes_of_an_instrument_keep_their_order_at_the_fastest_tempo(groove, seed, loose):
    exact, played = pair(groove, loose, seed)
    unit = groove.base.meter.tempo_unit[1]
    length = len(exact.events)
    rows = defaultdict(list)
    for index, event in enumerate(played.events):
        at = max(event.round, 0) * played.loop + event.at
        rows[BY_NAME[event.surface].instrument].append((at, event.us - exact.events[index % length].us))
    a_tick = 60e6 / (300 * unit * played.parts)  # microseconds
    for row in rows.values():
        row.sort()
        # Once more round: the loop closes too.
        for (at, late), (then, later) in zip(
            row, [*row[1:], (row[0][0] + played.rounds * played.loop, row[0][1])], strict=True
        ):
            assert then == at and later == late or (then - at) * a_tick + later - late > -3


@settings(max_examples=30)
@given(grooves(), LOOSE, SEEDS)
def test_a_grace_goes_with_its_stroke(groove, loose, seed):
    exact, played = pair(groove, loose, seed)
    length = len(exact.events)
    strayed = defaultdict(set)
    for index, event in enumerate(played.events):
        strayed[event.round, event.at, event.id, event.surface].add(event.us - exact.events[index % length].us)
    assert all(len(row) == 1 for row in strayed.values())


@settings(max_examples=30)
@given(grooves(), SEEDS)
def test_not_loose_at_all_is_exactly_as_written(groove, seed):
    exact, played = pair(groove, 0, seed)
    assert played == exact


@settings(max_examples=15)
@given(st.integers(0, 1000), st.integers(0, 1000))
def test_another_seed_is_another_hand(one, other):
    assume(one != other)
    groove = read_groove(SLACK_TIDE)
    assert pair(groove, 20, one)[1] == pair(groove, 20, one)[1] != pair(groove, 20, other)[1]


def test_an_edit_elsewhere_leaves_the_other_strokes_as_they_were_played():
    before, after = (
        {(e.round, e.at, e.surface): (e.us, e.gain) for e in pair(read_groove(text), 60)[1].events if not e.grace}
        for text in (SLACK_TIDE, SLACK_TIDE.replace('"o------oo-------"', '"o------oo-----o-"'))
    )
    assert before.items() < after.items()


def test_stages_share_the_hand():
    groove = read_groove(
        SLACK_TIDE + '[[variation]]\nkind = "displace"\nsurface = "snare"\nat = "4"\nby = "1/16 later"\n'
    )
    stages = grow(groove)
    base, stage = (unroll(groove, stages, number, loose=30) for number in (0, 1))
    played = {(e.round, e.at, e.us, e.surface, e.gain) for e in base.events}
    of_base = [e for e in stage.events if e.layer != "stage"]
    assert len(of_base) == len(base.events) and all((e.round, e.at, e.us, e.surface, e.gain) in played for e in of_base)
    # A stage of two bars is played as two rounds of one bar are.
    twice = read_groove(SLACK_TIDE + '[[variation]]\nkind = "length"\nbars = 2\n')
    long = unroll(twice, grow(twice), 1, loose=30)
    assert (base.rounds, long.rounds) == (8, 4)
    assert played == {(2 * e.round + e.at // base.loop, e.at % base.loop, e.us, e.surface, e.gain) for e in long.events}


@pytest.mark.parametrize("seed", [1, 2, 77])
def test_no_round_is_like_another_and_none_drifts(seed):
    exact, played = pair(read_groove(SLACK_TIDE), 100, seed)
    length = len(exact.events)
    late = np.array(
        [[e.us - x.us for e, x in zip(played.events[k * length :], exact.events, strict=False)] for k in range(8)]
    )
    assert len({tuple(row) for row in late.tolist()}) == 8
    # The rounds begin where they would anyway: strokes stray about their places, and the last round is no later.
    assert np.abs(late.mean(axis=1)).max() < 30_000 and 2_000 < late.std() < 20_000


def test_a_hand_strays_slowly_and_accents_vary_least():
    groove = read_groove(SLACK_TIDE)
    late, level = [], defaultdict(list)
    for seed in range(60):
        exact, played = pair(groove, 100, seed)
        late.append([e.us for e in played.events if e.surface == "hi-hat"])
        for event in played.events:
            level[event.dynamic].append(event.gain)
    rows = np.array(late, dtype=float)
    assert 8_000 < rows.std() < 11_500  # microseconds: 10 ms as the module says
    near, far = (np.mean(rows[:, :-gap] * rows[:, gap:]) / rows.var() for gap in (1, 16))
    assert near > 0.8 and 0.1 < far < 0.6  # neighbours go together, and some of it lasts for two bars
    assert np.std(level["accent"]) < 0.7 * np.std(level["normal"])
    assert 80 < np.std(level["normal"]) < 200  # hundredths of a decibel


def test_the_same_numbers_whatever_the_hash_seed():
    program = (
        "import hashlib, sys; from groundbeat.codec.groove_read import read_groove;"
        "from groundbeat.timeline.unroll import unroll; from groundbeat.variation.stack import grow;"
        "g = read_groove(sys.stdin.read()); u = unroll(g, grow(g), 0, loose=40, seed=7);"
        "print(hashlib.sha256(repr([(e.us, e.gain) for e in u.events]).encode()).hexdigest())"
    )
    found = set()
    for salt in ("0", "1234"):
        env = os.environ | {"PYTHONHASHSEED": salt, "PYTHONPATH": os.pathsep.join(sys.path)}
        command = [sys.executable, "-c", program]
        found.add(subprocess.run(command, input=SLACK_TIDE, env=env, capture_output=True, text=True, check=True).stdout)
    events = pair(read_groove(SLACK_TIDE), 40, 7)[1].events
    here = hashlib.sha256(repr([(e.us, e.gain) for e in events]).encode()).hexdigest()
    assert found == {here + "\n"}


def test_a_level_rounds_the_same_on_every_machine():
    # A power may differ in its last bit between machines: that must not decide how it rounds to 24 bits.
    with localcontext() as context:
        context.prec = 60
        for hundredths in range(-400, 401):
            exact = Decimal(10) ** (Decimal(hundredths) / 2000)
            single = Decimal(float(np.float32(10 ** (hundredths / 2000))))
            step = Decimal(float(np.spacing(np.float32(single))))
            assert abs(exact - single) < step / 2 - 8 * Decimal(float(np.spacing(float(exact))))


@pytest.mark.parametrize(("wrong", "words"), [
    ({"loose": 101}, "a hand is 0, exactly as written, to 100 loose, not 101"),
    ({"loose": -1}, "not -1"),
    ({"loose": 5, "seed": -1}, "a seed is a number from 0 to 999999, not -1"),
    ({"seed": 1_000_000}, "not 1000000"),
])  # fmt: skip
def test_there_is_no_such_hand(wrong, words):
    groove = read_groove(SLACK_TIDE)
    with pytest.raises(TimelineError, match=words):
        unroll(groove, grow(groove), 0, **wrong)


def test_the_page_is_told_in_short_what_the_rows_do_not_say_anyway():
    from groundbeat.bridge.door import answer

    def told(**more):
        return json.loads(answer(json.dumps({"ask": "timeline", "document": SLACK_TIDE, "stage": 0, **more})))

    exact, played = told(have=""), told(have="", loose=20)
    assert {(len(row), row[6] & 2) for row in exact["events"]} == {(7, 0), (11, 2)}  # a grace tells its room
    assert {(len(row), row[6] & 2) for row in played["events"]} == {(9, 0), (11, 2)}
    assert [row[7:9] for row in played["events"]] == [[e["gain"], e["round"]] for e in told(loose=20)["events"]]
