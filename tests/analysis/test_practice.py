"""A practice plan has the steps that have something to do, in their order, at tempos that follow the rules."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from groundbeat.analysis.limbs import play
from groundbeat.analysis.passes import ladder
from groundbeat.analysis.player import read_player
from groundbeat.analysis.practice import ADVICE, BREAKS, HEARING, PAIN, Plan, plan, plan_all
from groundbeat.analysis.practice_parts import around
from groundbeat.analysis.spots import Spot
from groundbeat.analysis.tempo import fastest
from groundbeat.codec.groove_read import read_groove
from groundbeat.errors import RequestError, VariationError
from groundbeat.model.groove import Groove
from groundbeat.variation.stack import grow, switch
from tests.strategies import grooves


def groove_of(text: str, tempo: float = 90, head: str = "") -> Groove:
    return read_groove(f'groundbeat = 1\ntitle = "Test"\ntempo = {tempo}\n{head}\n[base]\n{text}\n')


def plan_of(groove: Groove, number: int = 0, clean: float = 0, player: str = "") -> Plan:
    return plan(groove, grow(groove), number, read_player(player), clean)


def titles(found: Plan) -> list[str]:
    return [step.title for step in found.steps]


ROCK = 'hi-hat = "x-x-x-x-x-x-x-x-"\nsnare = "----o-------o---"\nkick = "o-------o-------"'


def test_slack_tide_stage_2_has_every_step_but_the_ghosts_that_meet(slack_tide):
    found = plan_of(slack_tide, 2)
    assert found.title == "Slack Tide: stage 2, embellish"
    assert (found.stage, found.start, found.goal) == (2, 55, 92)
    assert titles(found) == [
        "Count aloud",
        "Riding hand and kick",
        "The backbeat",
        "Hands alone: high and low strokes",
        "Ghosts that fall alone",
        "The hardest spot",
        "The spot and on",
        "The whole beat",
        "The goal without ghosts",
        "In turn with the stage before",
        "Trading",
    ]
    count, ride, back, hands, alone, spot, on, whole, goal, turn, _ = found.steps
    assert '"1 e & a 2 e & a 3 e & a 4 e & a"' in count.do
    assert ride.ids is not None and {name.split("@")[0] for name in ride.ids} == {"0/hi-hat", "0/kick"}
    assert ride.listen == "One sound, not two, where they meet: 1, 3."
    assert back.ids is not None and set(back.ids) - set(ride.ids) == {"0/snare@1/4", "0/snare@3/4"}
    assert back.do == "Add the backbeat: e of 2, 4. Nothing else changes."
    assert hands.ids is not None and not any("kick" in name for name in hands.ids)
    assert "right hand all high; left hand high on e of 2, 4" in hands.do
    assert alone.do.startswith("Add the ghosts that fall alone: e of 1, a of 1, e of 3, a of 3, e of 4.")
    assert (spot.start, spot.end) == (20160, 40320), "3 and 4"
    assert (on.start, on.end) == (None, None), "behind 4 comes 1: the whole loop"
    assert spot.do.startswith("The left hand plays three in a row: a of 3, 4, e of 4")
    assert whole.ids is None and whole.tempos == tuple(tempo // 100 for tempo in ladder(9200))
    assert "From 82 on, every 4th pass at 92" in whole.do, "85 % of 92 is 78.2"
    assert goal.ids == found.reduced and goal.tempos == (92,)
    assert len(found.reduced) == 13 and not any("2/snare" in name for name in found.reduced)
    assert (turn.against, turn.stage) == (1, 2)


def test_a_plain_beat_has_no_step_for_ghosts_spots_or_the_stage_before():
    found = plan_of(groove_of(ROCK))
    assert titles(found) == ["Count aloud", "Riding hand and kick", "The whole beat", "Trading"]
    assert found.reduced == ()
    assert "ghost" not in " ".join(step.do + step.listen for step in found.steps)


def test_ghosts_that_meet_another_stroke_come_after_those_alone():
    text = 'hi-hat = "x-x-x-x-x-x-x-x-"\nsnare = "--g-O--g----O---"\nkick = "o-------o-------"'
    found = plan_of(groove_of(text))
    alone, met = (step for step in found.steps if step.title.startswith("Ghosts"))
    assert alone.do.startswith("Add the ghosts that fall alone: a of 2.")
    assert met.do.startswith("Add the ghosts that fall together with something: & of 1.")
    assert alone.ids is not None and "0/snare@1/8" not in alone.ids and "0/snare@7/16" in alone.ids
    assert met.ids is None, "with them all strokes sound"


def test_without_a_riding_hand_or_feet_only_what_there_is_is_named():
    assert "The kick" in titles(plan_of(groove_of('snare = "----o---"\nkick = "o-o-----"', head='meter = "2/4"')))
    text = 'ride = "x-x-x-x-"\nsnare = "----g---"'
    assert "The riding hand" in titles(plan_of(groove_of(text, head='meter = "2/4"')))
    assert "Riding hand and feet" in titles(plan_of(groove_of(ROCK + '\nhi-hat-foot = "----x-------x---"')))


def test_an_empty_beat_has_nothing_to_practise():
    found = plan_of(groove_of(""))
    assert found.steps == () and found.minutes == 0
    assert found.cautions[-4:] == (HEARING, BREAKS, PAIN, ADVICE)


def test_a_known_tempo_begins_the_day_and_bounds_it(slack_tide):
    found = plan_of(slack_tide, 2, clean=70)
    assert found.start == 70
    assert all(tempo in (70, 74, 92) for step in found.steps for tempo in step.tempos)
    whole = next(step for step in found.steps if step.title == "The whole beat")
    assert whole.tempos == (70, 74)
    assert "Not beyond 74 today" in whole.do
    near = plan_of(slack_tide, 2, clean=90)
    assert "The goal without ghosts" not in titles(near), "from 85 % on the goal is tried whole"


def test_a_goal_between_two_marks_is_reached():
    found = plan_of(groove_of(ROCK, 92.5))
    assert found.goal == 92.5
    assert found.steps[-2].tempos[-1] == 92.5


def test_the_goal_is_never_beyond_the_fastest_tempo(slack_tide):
    fast = replace(slack_tide, tempo=20000)
    found = plan_of(fast, 2)
    assert found.goal == 100, "comfortable"
    assert found.cautions[0] == (
        "At 200 this is faster than hands and feet go, 150 is the most. The plan aims at 100, which is comfortable."
    )
    tense = plan_of(replace(slack_tide, tempo=12000), 2)
    assert tense.goal == 120
    assert tense.cautions[0].startswith("Up to 100 this is comfortable")


def test_slower_limbs_have_a_slower_goal(slack_tide):
    slow = plan_of(slack_tide, 2, player="right foot 30")
    assert slow.goal < 92
    assert max(tempo for step in slow.steps for tempo in step.tempos) <= slow.goal


def test_what_nobody_can_play_has_only_the_layers_that_can_be_played():
    text = ROCK + '\nfloor-tom = "----o-----------"'
    found = plan_of(groove_of(text))
    assert titles(found) == ["Count aloud", "Riding hand and kick", "The backbeat"]
    assert "make the stage easier first" in found.cautions[0]
    assert "three things for two hands" in found.cautions[0].lower()


def test_time_is_honest(slack_tide):
    found = plan_of(slack_tide, 2)
    work = sum(step.minutes for step in found.steps)
    assert found.minutes == work + 5 * ((work - 1) // 25)
    ride = found.steps[1]
    # four bars at 55, 58 and 61 last 17.5, 16.6 and 15.7 seconds; three passes each and half a minute: 2.99 minutes
    assert (ride.tempos, ride.passes, ride.minutes) == ((55, 58, 61), 3, 3)
    whole = next(step for step in found.steps if step.title == "The whole beat")
    assert whole.minutes == 9 and "In blocks of 3 minutes" in whole.do
    assert all(1 <= step.minutes <= 4 for step in found.steps if step is not whole)


def test_all_stages_are_practised_in_order_and_nothing_twice(slack_tide):
    stages = grow(slack_tide)
    found = plan_all(slack_tide, stages)
    assert [step.stage for step in found.steps] == sorted(step.stage for step in found.steps)
    assert {step.stage for step in found.steps} == {0, 1, 2, 3, 4}
    assert titles(found).count("Base beat: Count aloud") == 1
    assert not any(title.endswith("Count aloud") for title in titles(found)[1:])
    assert not any(title.startswith("Stage 1: Riding") for title in titles(found)), "as in the base beat"
    assert any(title.startswith("Stage 3: Riding") for title in titles(found)), "another ostinato"
    assert [title for title in titles(found) if title.endswith("Trading")] == ["Stage 4: Trading"]
    assert any("more than one day's work" in text for text in found.cautions)
    off = switch(slack_tide, 2, False)
    assert 2 not in {step.stage for step in plan_all(off, grow(off)).steps}


def test_a_stage_that_is_off_is_not_played_in_turn(slack_tide):
    assert "In turn with the stage before" not in titles(plan_of(switch(slack_tide, 2, False), 2))


def test_no_plan_praises_or_grades(slack_tide, lantern_walk):
    for groove in (slack_tide, lantern_walk):
        found = plan_all(groove, grow(groove))
        text = " ".join((*found.cautions, *(f"{s.title} {s.do} {s.listen}" for s in found.steps))).lower()
        for word in ("great", "well done", "perfect", "good", "excellent", "score", "points", "level up", "beginner"):
            assert word not in text, word


@pytest.mark.parametrize(("number", "clean"), [(5, 0), (-1, 0)])
def test_a_stage_that_there_is_not_is_refused(slack_tide, number: int, clean: float):
    with pytest.raises(VariationError, match="stages 0 to 4"):
        plan_of(slack_tide, number, clean)


def test_a_tempo_that_no_groove_has_is_refused(slack_tide):
    with pytest.raises(RequestError, match="clean is 500; a tempo is 20 to 400"):
        plan_of(slack_tide, 2, clean=500)


def spot(at: int, *ids: str) -> Spot:
    return Spot("row", at, "", ids, (), "")


def test_the_loop_around_a_spot_grows_forwards_by_counted_beats():
    beat = groove_of(f"{ROCK}").base
    one = "0/hi-hat@1/8"
    assert around(spot(5040, one), beat) == ((0, 10080), (0, 20160), (0, 30240))
    assert around(spot(10080, "0/snare@1/4"), beat) == ((10080, 20160), (10080, 30240), (10080, 40320))
    assert around(spot(30240, "0/snare@3/4"), beat) == ((30240, 40320), None)
    assert around(spot(35280, "0/hi-hat@7/8", "0/kick@0"), beat) == (None,), "over the end of the loop"
    assert around(spot(0, "0/kick@0", "0/snare@3/4"), beat) == (None,)


def test_in_six_eight_the_loop_grows_by_groups():
    beat = groove_of('ride = "xxxxxx|%"\nkick = "o--o--|%"', head='meter = "6/8"\ncolumns = "eighths"').base
    assert around(spot(15120, "0/kick@3/8"), beat) == ((15120, 30240), (15120, 45360), (15120, 60480))


@settings(max_examples=30)
@given(grooves(max_variations=2, max_bars=2), st.sampled_from([0, 0, 60, 90, 133.5]))
def test_every_plan_keeps_its_rules(groove: Groove, clean: float):
    stages = grow(groove)
    number = len(stages) - 1
    found = plan(groove, stages, number, clean=clean)
    beat = stages[number].beat
    ids = {stroke.id for stroke in beat.strokes}
    most = fastest(play(groove, stages[number])).bpm
    assert found.goal <= groove.tempo / 100
    if most is not None and most >= 20:
        assert found.goal <= most
    assert set(found.reduced) < ids or not found.reduced
    for step in found.steps:
        assert step.tempos and list(step.tempos) == sorted(set(step.tempos))
        assert step.tempos[-1] <= found.goal
        if clean and step.ids != found.reduced and found.goal not in step.tempos:
            assert step.tempos[-1] <= max(clean, clean * 1.07)
        assert step.ids is None or (set(step.ids) < ids and step.ids)
        assert (step.start is None) == (step.end is None)
        if step.start is not None and step.end is not None:
            assert 0 <= step.start < step.end <= beat.cycle
        assert step.minutes >= 1 and step.passes >= 2
        assert step.title and step.do.endswith((".", "?", '"')) and step.listen.endswith(".")
    assert found.minutes >= sum(step.minutes for step in found.steps)
    assert found.cautions[-4:] == (HEARING, BREAKS, PAIN, ADVICE)


def test_only_trading_leaves_bars_for_ones_own(slack_tide):
    found = plan_of(slack_tide, 2)
    assert {step.title: step.own for step in found.steps if step.own} == {"Trading": 4}
