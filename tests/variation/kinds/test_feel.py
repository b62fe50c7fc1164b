"""Feel: what is set, what stays, and that no stroke is ever touched."""

from __future__ import annotations

import pytest
from hypothesis import given

from groundbeat.codec.groove_read import read_groove
from groundbeat.codec.groove_write import write_groove
from groundbeat.errors import GroundbeatError
from groundbeat.model.feel import Feel
from groundbeat.variation.stack import add, grow, make, plain
from tests.strategies import beats, grooves, settings_of

ROCK = read_groove(
    'groundbeat = 1\n[base]\nride = "x-x-x-x-x-x-x-x-"\nride-bell = "-x--------------"\n'
    'snare = "----O-------O---"\nkick = "o-------o-------"\n'
)
SIX = read_groove('groundbeat = 1\nmeter = "6/8"\n[base]\nhi-hat = "x-x-x-x-x-x-"\ncross-stick = "------x-----"\n')
LAZY = read_groove(
    'groundbeat = 1\n[base]\nsnare = "----O-------O---"\n[feel]\nswing = "sixteenths 3:2"\n'
    'push = { all = "5 ms late", snare = "12 ms late" }\n'
)


def feel(base, *rows):
    for row in rows:
        base = add(base, "feel", row)
    return grow(base)[-1].feel


def test_a_swing_is_set_and_pushes_stay():
    assert feel(ROCK, {"swing": "eighths 2:1"}) == Feel("eighths", 2, 1)
    assert feel(LAZY, {"swing": "eighths 3:1"}) == Feel("eighths", 3, 1, (("all", 5), ("snare", 12)))


def test_straight_takes_the_swing_away():
    assert feel(LAZY, {"swing": "straight"}) == Feel(pushes=(("all", 5), ("snare", 12)))


def test_a_push_leaves_the_swing_and_the_other_surfaces():
    assert feel(LAZY, {"surface": "snare", "push": "3 ms early"}) == Feel(
        "sixteenths", 3, 2, (("all", 5), ("snare", -3))
    )
    assert feel(ROCK, {"surface": "snare", "push": "10 ms late"}, {"surface": "crash", "push": "4 ms early"}) == Feel(
        pushes=(("crash", -4), ("snare", 10))
    )


def test_a_push_of_the_whole_beat_takes_the_place_of_all_others():
    assert feel(LAZY, {"push": "7 ms early"}) == Feel("sixteenths", 3, 2, (("all", -7),))
    assert feel(LAZY, {"push": "0 ms late"}) == Feel("sixteenths", 3, 2)


def test_in_time_against_a_push_of_all_is_kept_and_without_one_is_nothing():
    late = feel(LAZY, {"surface": "snare", "push": "0 ms late"})
    assert late.pushes == (("all", 5), ("snare", 0))
    assert (late.push("snare"), late.push("kick")) == (0, 5)
    assert feel(ROCK, {"surface": "snare", "push": "9 ms late"}, {"surface": "snare", "push": "0 ms late"}) == Feel()


def test_a_push_equal_to_that_of_all_is_not_written():
    assert feel(LAZY, {"surface": "snare", "push": "5 ms late"}).pushes == (("all", 5),)


def test_a_role_is_pushed_where_it_is_played():
    assert feel(ROCK, {"surface": "riding", "push": "5 ms early"}).pushes == (("ride", -5), ("ride bell", -5))
    assert feel(SIX, {"surface": "backbeat voice", "push": "8 ms late"}).pushes == (("cross-stick", 8),)
    assert feel(ROCK, {"surface": "kick", "push": "2 ms late"}).pushes == (("kick", 2), ("second kick", 2))


def test_a_role_that_nobody_plays_is_said():
    stage = grow(add(LAZY, "feel", {"surface": "riding", "push": "5 ms early"}))[-1]
    assert stage.says == ("found no riding hand",)
    assert stage.feel == LAZY.feel


def test_it_holds_from_this_stage_on_and_not_before():
    groove = add(add(ROCK, "feel", {"swing": "eighths 2:1"}), "displace", {"by": "1/16 later"})
    assert [stage.feel.swung for stage in grow(groove)] == ["", "eighths", "eighths"]


def test_two_bars_of_seven_eight_swing_too():
    seven = read_groove('groundbeat = 1\nmeter = "7/8"\nbars = 2\n[base]\nsnare = "----O-----O-------O-----O---"\n')
    before, stage = grow(add(seven, "feel", {"swing": "sixteenths 2:1", "surface": "snare", "push": "6 ms late"}))
    assert stage.feel == Feel("sixteenths", 2, 1, (("snare", 6),))
    assert stage.beat == before.beat


def test_the_order_of_pushes_is_that_of_the_groove_file():
    found = feel(ROCK, {"surface": "snare", "push": "10 ms late"}, {"surface": "kick", "push": "5 ms early"})
    rows = ", ".join(f'"{name}" = "{abs(ms)} ms {"late" if ms > 0 else "early"}"' for name, ms in found.pushes)
    read = read_groove(f'groundbeat = 1\n[base]\nsnare = "o---------------"\n[feel]\npush = {{ {rows} }}\n')
    assert read.feel == found
    assert read_groove(write_groove(read)).feel == found


@pytest.mark.parametrize(
    ("settings", "said"),
    [
        ({}, "Play the whole beat as before."),
        ({"swing": "eighths 2:1"}, "Play the eighths swung 2 : 1."),
        ({"swing": "straight"}, "Play straight."),
        ({"surface": "snare", "push": "10 ms late"}, "Play the snare 10 ms late."),
        ({"push": "0 ms late"}, "Play the whole beat in time."),
        (
            {"swing": "eighths 2:1", "surface": "riding", "push": "5 ms early"},
            "Play the eighths swung 2 : 1, the riding hand 5 ms early.",
        ),
        ({"swing": "straight", "surface": "kick"}, "Play straight, the kick as before."),
    ],
)
def test_it_reads_as_a_teacher_says_it(settings, said):
    assert plain(make(1, "feel", settings)) == said


@pytest.mark.parametrize(
    ("settings", "match"),
    [
        ({"swing": "eighths 10:1"}, 'swing: "eighths 10:1": long and short go from 1 to 9'),
        ({"swing": "quarters 2:1"}, 'swing: "quarters 2:1" is not a swing'),
        ({"push": "101 ms late"}, 'push: "101 ms late": early or late go up to 100 ms'),
        ({"push": "late"}, 'push: "late" is not a time'),
    ],
)
def test_what_is_out_of_range_names_the_setting(settings, match):
    with pytest.raises(GroundbeatError, match=match):
        make(1, "feel", settings)


@given(grooves(max_variations=1), settings_of("feel"))
def test_a_feel_never_touches_a_stroke(groove, settings):
    before, after = grow(add(groove, "feel", settings))[-2:]
    assert after.beat == before.beat
    assert after.change.kept == tuple(stroke.id for stroke in before.beat.strokes)


@given(beats(), settings_of("feel"))
def test_the_same_feel_again_changes_nothing(beat, settings):
    from groundbeat.model.groove import Groove

    once = add(Groove(base=beat), "feel", settings)
    assert grow(add(once, "feel", settings))[-1].feel == grow(once)[-1].feel
