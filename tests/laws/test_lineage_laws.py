"""No stroke is lost on the way: laws over all kinds, all meters, all divisions."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from groundbeat.lineage.ledger import Ledger
from groundbeat.lineage.way import threads, way
from groundbeat.model.beat import MAX_BARS
from groundbeat.model.kit import LOUDNESS
from groundbeat.model.meter import Meter
from groundbeat.variation import stack
from groundbeat.variation.catalogue import kind as kind_of
from groundbeat.variation.stack import grow
from tests.strategies import KINDS, beats, grooves, settings_of, variations


def _pairs(groove):
    stages = grow(groove)
    return list(zip(stages, stages[1:], strict=False))


@given(grooves())
def test_every_stroke_that_goes_in_has_exactly_one_fate(groove):
    for before, after in _pairs(groove):
        change = after.change
        changed = {move.id for move in change.moved} | set(change.altered)
        kept, out, gone = set(change.kept), set(change.left_out), set(change.absorbed())
        fates = [kept, changed, out, gone]
        assert sum(map(len, fates)) == len(set().union(*fates)), "a stroke has two fates"
        assert set().union(*fates) == {stroke.id for stroke in before.beat.strokes}


@given(grooves())
def test_every_stroke_that_comes_out_went_in_or_was_added(groove):
    for before, after in _pairs(groove):
        went_in = {stroke.id for stroke in before.beat.strokes}
        for stroke in after.beat.strokes:
            assert (stroke.id in went_in) != (stroke.id in after.change.added)
            if stroke.id in after.change.added:
                assert stroke.origin == after.key


@given(grooves())
def test_what_a_change_says_is_what_the_beats_show(groove):
    for before, after in _pairs(groove):
        was = {stroke.id: stroke for stroke in before.beat.strokes}
        now = {stroke.id: stroke for stroke in after.beat.strokes}
        for move in after.change.moved:
            assert (was[move.id].at, now[move.id].at) == (move.start, move.end)
            assert move.start != move.end
        for name in after.change.kept:
            assert was[name] == now[name]
        for name in after.change.altered:
            a, b = was[name], now[name]
            assert (a.surface, a.dynamic, a.grace, a.hand) != (b.surface, b.dynamic, b.grace, b.hand)
        for name in [move.id for move in after.change.moved] + list(after.change.altered):
            assert now[name].changed_by[-1] == after.key


@given(grooves())
def test_one_instrument_sounds_once_at_a_place(groove):
    for stage in grow(groove):
        spots = [(stroke.at, stroke.instrument) for stroke in stage.beat.strokes]
        assert len(spots) == len(set(spots))
        assert all(0 <= stroke.at < stage.beat.cycle for stroke in stage.beat.strokes)


@given(grooves())
def test_ids_are_unique_and_tell_the_birth(groove):
    for stage in grow(groove):
        names = [stroke.id for stroke in stage.beat.strokes]
        assert len(names) == len(set(names))
        for stroke in stage.beat.strokes:
            assert stroke.id.startswith(f"{stroke.origin}/")


@given(grooves())
def test_the_louder_stays_where_strokes_merge(groove):
    for before, after in _pairs(groove):
        was = {stroke.id: stroke for stroke in before.beat.strokes}
        for merge in after.change.merged:
            assert merge.id in merge.parents
            loudest = max(LOUDNESS[was[name].dynamic] for name in merge.parents)
            assert LOUDNESS[was[merge.id].dynamic] == loudest


@given(grooves())
def test_there_is_one_thread_for_every_stroke_in_or_out(groove):
    for before, after in _pairs(groove):
        rows = threads(before.beat, after.beat, after.change)
        names = [row.id for row in rows]
        assert len(names) == len(set(names))
        assert set(names) == {s.id for s in before.beat.strokes} | {s.id for s in after.beat.strokes}


@given(grooves())
def test_every_way_ends_where_its_stroke_stands(groove):
    stages = grow(groove)
    rows = [(stage.beat, stage.change) for stage in stages]
    for stroke in stages[-1].beat.strokes:
        steps = way(rows, stroke.id)
        assert steps[-1].stroke == stroke
        assert steps[-1].stage == len(stages) - 1
        assert [step.stage for step in steps] == list(range(steps[0].stage, len(stages)))


@given(beats(), st.data())
def test_displacing_back_restores_the_beat(beat, data):
    raw = data.draw(settings_of("displace"))
    groove = stack.add(_groove(beat), "displace", raw | {"at": "all"})
    back = groove.variations[0].settings
    by = dict(back)["by"]
    flip = by.replace("later", "earlier") if by.endswith("later") else by.replace("earlier", "later")
    groove = stack.add(groove, "displace", raw | {"at": "all", "by": flip})
    base, there, again = grow(groove)
    if there.change.merged:
        return
    assert [_sound(s) for s in again.beat.strokes] == [_sound(s) for s in base.beat.strokes]


@given(grooves(), st.data())
def test_switching_a_stage_off_equals_never_having_had_it(groove, data):
    if not groove.variations:
        return
    key = data.draw(st.sampled_from([v.key for v in groove.variations]))
    without = grow(stack.remove(groove, key))
    off = grow(stack.switch(groove, key, False))
    assert off[-1].beat == without[-1].beat
    index = next(stage.number for stage in off if stage.key == key)
    assert off[index].beat == off[index - 1].beat
    assert off[index].change.kept == tuple(stroke.id for stroke in off[index].beat.strokes)


@given(grooves(), st.data())
def test_strokes_keep_their_ids_whatever_is_done_to_the_stack(groove, data):
    """A stroke present before and after an edit keeps its id: same birth, same id, and no other stroke takes it."""
    if not groove.variations:
        return
    key = data.draw(st.sampled_from([v.key for v in groove.variations]))
    deed = data.draw(st.sampled_from(["remove", "move", "off", "insert"]))
    if deed == "remove":
        edited = stack.remove(groove, key)
    elif deed == "move":
        edited = stack.move(groove, key, data.draw(st.integers(1, len(groove.variations))))
    elif deed == "off":
        edited = stack.switch(groove, key, False)
    else:
        kind, raw, _ = data.draw(variations())
        edited = stack.add(groove, kind, raw, after=0)
        assert edited.variations[0].key not in {v.key for v in groove.variations}
    births = {stroke.id: (stroke.origin, stroke.surface) for stroke in _births(groove)}
    for stroke in _births(edited):
        if stroke.id in births and stroke.origin in {v.key for v in groove.variations} | {0}:
            assert births[stroke.id] == (stroke.origin, stroke.surface)
    assert [s.id for s in grow(edited)[0].beat.strokes] == [s.id for s in grow(groove)[0].beat.strokes]


def test_keys_are_never_used_again(slack_tide):
    groove = stack.remove(slack_tide, 4)
    groove = stack.add(groove, "displace", {"by": "1/16 later"})
    assert [variation.key for variation in groove.variations] == [1, 2, 3, 5]


@given(grooves())
def test_growing_is_deterministic(groove):
    assert grow(groove) == grow(replace(groove))


@given(beats(), st.data())
@pytest.mark.parametrize("kind", KINDS)
def test_a_kind_leaves_meter_and_length_true_unless_it_says_otherwise(kind, beat, data):
    groove = stack.add(_groove(beat), kind, data.draw(settings_of(kind)))
    stage = grow(groove)[-1]
    after = stage.beat
    if kind_of(kind).reframes:
        assert after.bars <= MAX_BARS and after.meter.bar % after.column == 0
        assert Meter.of(str(after.meter), "+".join(map(str, after.meter.grouping))) == after.meter
        if any(said.endswith("nothing was changed") for said in stage.says):
            assert after == beat
    else:
        assert (after.meter, after.bars, after.columns) == (beat.meter, beat.bars, beat.columns)


@given(beats())
def test_leaving_out_and_adding_an_equal_stroke_reports_just_that(beat):
    """The change tells what was done, not how two beats differ."""
    if not beat.strokes:
        return
    stroke = beat.strokes[0]
    ledger = Ledger(beat, 7)
    ledger.leave_out(stroke)
    ledger.add(stroke.at, stroke.surface, stroke.dynamic, grace=stroke.grace, hand=stroke.hand)
    after, change = ledger.close()
    assert change.left_out == (stroke.id,)
    assert [name.split("/", 1) for name in change.added] == [["7", stroke.id.split("/", 1)[1]]]
    assert not change.moved and not change.altered and not change.merged
    assert len(change.kept) == len(beat.strokes) - 1 == len(after.strokes) - 1


def test_leaving_out_and_adding_by_touch_up_reports_just_that(slack_tide):
    groove = stack.add(
        replace(slack_tide, variations=(), next_key=1), "touch-up", {"changes": ["- snare 2", "+ snare 2 accent"]}
    )
    change = grow(groove)[1].change
    assert change.left_out == ("0/snare@1/4",)
    assert change.added == ("1/snare@1/4",)
    assert not change.moved and not change.altered and not change.merged


def _groove(beat):
    from groundbeat.model.groove import Groove

    return Groove(base=beat)


def _sound(stroke):
    return stroke.id, stroke.at, stroke.surface, stroke.dynamic, stroke.grace, stroke.hand


def _births(groove):
    return [stroke for stage in grow(groove) for stroke in stage.beat.strokes if stroke.id in stage.change.added]


@given(grooves(), st.data())
def test_growing_on_from_known_stages_gives_the_same_stages(groove, data):
    kind, raw, _ = data.draw(variations())
    after = data.draw(st.sampled_from([0, *(v.key for v in groove.variations)]))
    edited = stack.add(groove, kind, raw, after=after)
    assert grow(edited, (groove, grow(groove))) == grow(edited)
    assert grow(groove, (edited, grow(edited))) == grow(groove)
