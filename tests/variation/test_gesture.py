"""A hand on the page writes the variation that says what it did."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from groundbeat.errors import GroundbeatError
from groundbeat.model.groove import Groove
from groundbeat.variation import gesture, reshape
from groundbeat.variation.stack import add, grow, plain
from tests.strategies import SURFACE_NAMES, grooves

S = 2520  # a sixteenth


def do(deed, groove, *rest):
    return deed(groove, grow(groove), *rest)


def said(groove):
    return [plain(variation) for variation in groove.variations]


def columns(groove, stage, surface):
    return [stroke.at // S for stroke in grow(groove)[stage].beat.strokes if stroke.surface == surface]


def test_taps_on_the_base_beat_write_the_base_beat(slack_tide):
    groove = Groove(base=slack_tide.base)
    groove = do(gesture.tap, groove, 0, "kick", 10 * S).groove
    groove = do(gesture.tap, groove, 0, "kick", 7 * S).groove
    assert columns(groove, 0, "kick") == [0, 8, 10]
    assert groove.variations == ()


def test_a_line_that_falls_silent_stays(slack_tide):
    groove = Groove(base=slack_tide.base)
    for column in (4, 12):
        groove = do(gesture.tap, groove, 0, "snare", column * S).groove
    assert groove.lines == ("snare",)


def test_an_open_hi_hat_takes_the_place_of_the_closed_one(slack_tide):
    groove = do(gesture.tap, Groove(base=slack_tide.base), 0, "open hi-hat", 14 * S).groove
    assert columns(groove, 0, "open hi-hat") == [14]
    assert 14 not in columns(groove, 0, "hi-hat")


def test_dragging_a_backbeat_sideways_says_so(slack_tide):
    done = do(gesture.drag, Groove(base=slack_tide.base, lines=()), 0, "snare", 4 * S, "snare", 5 * S)
    assert done.groove.variations == ()  # on the base beat a drag edits the base beat
    bare = add(Groove(base=slack_tide.base), "ostinato", {"cell": "eighth"})
    done = do(gesture.drag, bare, 1, "snare", 4 * S, "snare", 5 * S)
    assert done.select == 2
    assert said(done.groove)[1] == "Move the first backbeat of the backbeat voice a sixteenth later."
    assert columns(done.groove, 2, "snare") == [5, 12]


def test_dragging_again_changes_the_amount(slack_tide):
    bare = add(Groove(base=slack_tide.base), "ostinato", {"cell": "eighth"})
    one = do(gesture.drag, bare, 1, "snare", 4 * S, "snare", 5 * S)
    two = do(gesture.drag, one.groove, 2, "snare", 5 * S, "snare", 7 * S)
    assert two.select == 2
    assert said(two.groove)[1] == "Move the first backbeat of the backbeat voice a dotted eighth later."
    back = do(gesture.drag, two.groove, 2, "snare", 7 * S, "snare", 4 * S)
    assert (back.select, len(back.groove.variations)) == (1, 1)


def test_any_other_stroke_is_said_by_its_place(slack_tide):
    bare = add(Groove(base=slack_tide.base), "ostinato", {"cell": "eighth"})
    done = do(gesture.drag, bare, 1, "kick", 7 * S, "kick", 6 * S)
    assert said(done.groove)[1] == "Move the a of 2 of the kick a sixteenth earlier."


def test_dragging_all_backbeats_by_the_same_amount_says_the_backbeats(slack_tide):
    bare = add(Groove(base=slack_tide.base), "ostinato", {"cell": "eighth"})
    one = do(gesture.drag, bare, 1, "snare", 4 * S, "snare", 5 * S)
    two = do(gesture.drag, one.groove, 2, "snare", 12 * S, "snare", 13 * S)
    assert two.select == 2
    assert said(two.groove)[1:] == ["Move the backbeats of the backbeat voice a sixteenth later."]
    assert columns(two.groove, 2, "snare") == [5, 13]


@pytest.mark.parametrize(
    ("drags", "sentence"),
    [
        ([2, 6, 10, 14], "Move the upbeats of the hi-hat a sixteenth later."),
        ([2, 6], "Move the & of 1 and the & of 2 of the hi-hat a sixteenth later."),
        ([0, 2, 4, 6, 8, 10, 12, 14], "Move every stroke of the hi-hat a sixteenth later."),
    ],
)
def test_strokes_of_a_line_that_go_the_same_way_are_said_in_the_shortest_words(slack_tide, drags, sentence):
    groove = add(Groove(base=slack_tide.base), "orchestrate", {"surface": "kick", "to": "second kick"})
    number = 1
    for column in drags:
        done = do(gesture.drag, groove, number, "hi-hat", column * S, "hi-hat", (column + 1) * S)
        groove, number = done
    assert (number, said(groove)[1:]) == (2, [sentence])
    wanted = sorted(column + 1 if column in drags else column for column in range(0, 16, 2))
    assert columns(groove, 2, "hi-hat") == wanted


def test_another_amount_is_another_variation(slack_tide):
    bare = add(Groove(base=slack_tide.base), "ostinato", {"cell": "eighth"})
    one = do(gesture.drag, bare, 1, "snare", 4 * S, "snare", 5 * S)
    two = do(gesture.drag, one.groove, 2, "snare", 12 * S, "snare", 14 * S)
    assert (two.select, len(two.groove.variations)) == (3, 3)


def test_strokes_dragged_to_the_same_line_go_together(slack_tide):
    bare = add(Groove(base=slack_tide.base), "displace", {"surface": "kick", "at": "1", "by": "1/16 later"})
    one = do(gesture.drag, bare, 1, "snare", 4 * S, "rimshot", 4 * S)
    two = do(gesture.drag, one.groove, 2, "snare", 12 * S, "rimshot", 12 * S)
    assert said(two.groove)[1:] == ["Play the backbeats of the backbeat voice on the rimshot."]


@pytest.mark.parametrize(("at", "to_at", "by"), [(13, 16, "3/16 later"), (1, -2, "3/16 earlier")])
def test_dragging_over_the_end_of_the_loop_goes_the_way_of_the_hand(slack_tide, at, to_at, by):
    done = do(gesture.drag, slack_tide, 4, "snare", at * S, "snare", to_at * S)
    made = done.groove.variations[-1]
    assert (made.kind, dict(made.settings)["by"]) == ("displace", by)
    after = grow(done.groove)[done.select]
    assert [move.crosses for move in after.change.moved] == [True]
    assert to_at % 16 * S in {s.at for s in after.beat.strokes if s.surface == "snare"}


def test_on_the_base_beat_a_stroke_comes_in_at_the_other_end(slack_tide):
    done = do(gesture.drag, slack_tide, 0, "snare", 12 * S, "snare", 17 * S)
    assert [s.at // S for s in done.groove.base.strokes if s.surface == "snare"] == [1, 4]


def test_dragging_to_another_line_orchestrates(slack_tide):
    bare = add(Groove(base=slack_tide.base), "ostinato", {"cell": "eighth"})
    done = do(gesture.drag, bare, 1, "hi-hat", 14 * S, "crash", 14 * S)
    assert said(done.groove)[1] == "Play the & of 4 of the hi-hat on the crash."
    again = do(gesture.drag, done.groove, 2, "crash", 14 * S, "china", 14 * S)
    assert said(again.groove)[1] == "Play the & of 4 of the hi-hat on the china."


def test_single_additions_collect_in_one_touch_up(slack_tide):
    bare = add(Groove(base=slack_tide.base), "ostinato", {"cell": "eighth"})
    one = do(gesture.tap, bare, 1, "snare", 3 * S)
    two = do(gesture.tap, one.groove, one.select, "snare", 9 * S)
    three = do(gesture.shape, two.groove, two.select, "snare", 3 * S, {"dynamic": "ghost", "hand": "L"})
    assert (one.select, two.select, three.select) == (2, 2, 2)
    assert dict(three.groove.variations[1].settings)["changes"] == ("+ snare 1a ghost L", "+ snare 3e")
    gone = do(gesture.tap, three.groove, 2, "snare", 3 * S)
    gone = do(gesture.tap, gone.groove, 2, "snare", 9 * S)
    assert (gone.select, len(gone.groove.variations)) == (1, 1)


def test_taking_out_and_putting_back_leaves_nothing_behind(slack_tide):
    bare = add(Groove(base=slack_tide.base), "ostinato", {"cell": "eighth"})
    one = do(gesture.tap, bare, 1, "kick", 7 * S)
    assert said(one.groove)[1] == "By hand: leave out the kick at the a of 2."
    back = do(gesture.tap, one.groove, 2, "kick", 7 * S)
    assert back.groove.variations == bare.variations


def test_a_bad_drop_loses_nothing(slack_tide):
    bare = Groove(base=slack_tide.base)
    with pytest.raises(GroundbeatError, match="already sounds at 4; drop the stroke on a free place"):
        do(gesture.drag, bare, 0, "snare", 4 * S, "snare", 12 * S)
    with pytest.raises(GroundbeatError, match="more than one round away"):
        do(gesture.drag, bare, 0, "snare", 4 * S, "snare", 33 * S)
    with pytest.raises(GroundbeatError, match="no ride at 2"):
        do(gesture.drag, bare, 0, "ride", 4 * S, "snare", 5 * S)


@given(grooves(), st.data())
def test_any_gesture_gives_a_groove_or_one_error(groove, data):
    stages = grow(groove)
    number = data.draw(st.integers(0, len(stages) - 1))
    cycle = stages[number].beat.cycle
    pool = [(s.surface, s.at) for s in stages[number].beat.strokes] or [("snare", 0)]
    surface, at = data.draw(st.sampled_from(pool))
    other, to_at = data.draw(st.sampled_from(SURFACE_NAMES)), data.draw(st.integers(0, cycle - 1))
    deed = data.draw(st.sampled_from(["tap", "new", "shape", "drag"]))
    try:
        if deed == "tap":
            done = gesture.tap(groove, stages, number, surface, at)
        elif deed == "new":
            done = gesture.tap(groove, stages, number, other, to_at)
        elif deed == "shape":
            done = gesture.shape(groove, stages, number, surface, at, {"dynamic": "accent", "grace": "flam"})
        else:
            done = gesture.drag(groove, stages, number, surface, at, other, to_at)
    except GroundbeatError as error:
        assert error.message
        return
    after = grow(done.groove)
    assert 0 <= done.select < len(after)
    if deed == "tap" and number:
        assert (surface, at) not in {(s.surface, s.at) for s in after[done.select].beat.strokes}
    if deed == "new":
        there = (other, to_at) in {(s.surface, s.at) for s in stages[number].beat.strokes}
        assert ((other, to_at) in {(s.surface, s.at) for s in after[done.select].beat.strokes}) != there


def test_changing_the_frame_keeps_strokes_at_their_place_in_the_bar(slack_tide):
    groove, says = reshape.frame(slack_tide, bars=2)
    assert (groove.base.bars, groove.base.strokes, says) == (2, slack_tide.base.strokes, ())
    groove, says = reshape.frame(slack_tide, meter="3/4")
    assert says == ("3 strokes did not fit and were left out",)
    groove, says = reshape.frame(slack_tide, columns="thirty-seconds")
    assert groove.base.strokes == slack_tide.base.strokes
    with pytest.raises(GroundbeatError, match="1 to 16 bars"):
        reshape.frame(slack_tide, bars=17)


def test_title_note_and_tempo_are_checked(slack_tide):
    groove = reshape.label(slack_tide, title="  Ebb  ", tempo=101.5, note="Slowly.")
    assert (groove.title, groove.tempo, groove.note) == ("Ebb", 10150, "Slowly.")
    with pytest.raises(GroundbeatError, match="20 to 400"):
        reshape.label(slack_tide, tempo=500)
    with pytest.raises(GroundbeatError, match="at most 120"):
        reshape.label(slack_tide, title="x" * 121)


def test_a_silent_line_is_shown_and_hidden(slack_tide):
    shown = reshape.line(slack_tide, "crash", True)
    assert shown.lines == ("crash",)
    assert reshape.line(shown, "crash", False) == slack_tide
    with pytest.raises(GroundbeatError, match="sounds in the base beat"):
        reshape.line(slack_tide, "snare", False)
