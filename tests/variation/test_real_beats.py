"""Beats that people played carry Slack Tide's variations, and no stroke is lost on the way."""

from __future__ import annotations

import pytest

from groundbeat.bridge.midi_file import groove_of_bytes
from groundbeat.codec.groove_read import read_groove
from groundbeat.codec.groove_write import write_groove
from groundbeat.codec.link import read_link, write_link
from groundbeat.midi.base_beat import BaseBeatError
from groundbeat.model.groove import Groove
from groundbeat.variation.catalogue import ENTRIES, kind
from groundbeat.variation.stack import add, grow, onto


@pytest.fixture(scope="module")
def bases(real_inputs) -> list[tuple[str, Groove]]:
    """A base beat of every performance."""
    found = []
    for file in sorted((real_inputs / "drum_midi").glob("*.mid")):
        data = file.read_bytes()
        try:
            base, _ = groove_of_bytes(file.name, data, "3-4")
        except BaseBeatError:  # a fill of a bar or two
            base, _ = groove_of_bytes(file.name, data)
        found.append((file.name, base))
    return found


@pytest.mark.parametrize("entry", ENTRIES, ids=lambda entry: entry.name)
def test_every_kind_is_laid_over_beats_that_people_played(entry, bases):
    assert len(bases) == 48
    changed = 0
    for name, base in bases:
        groove = add(base, entry.name, kind(entry.name).start)
        before, after = grow(groove)
        change = after.change
        touched = {move.id for move in change.moved} | set(change.altered)
        fates = [set(change.kept), touched, set(change.left_out), set(change.absorbed())]
        assert set().union(*fates) == {stroke.id for stroke in before.beat.strokes}, name
        assert sum(map(len, fates)) == len(before.beat.strokes), name
        assert after.beat.cycle > 0 and all(stroke.at < after.beat.cycle for stroke in after.beat.strokes), name
        assert read_link(write_link(groove)).groove == groove, name
        changed += after.beat != before.beat or after.feel != before.feel
    assert changed >= 15 or entry.name == "touch-up", "most of these beats have a riding hand and a backbeat"


def test_bars_of_all_performances_carry_the_variations(bases, slack_tide):
    assert len(bases) == 48
    changed = 0
    for name, base in bases:
        groove = onto(base, slack_tide)
        stages = grow(groove)
        for before, after in zip(stages, stages[1:], strict=False):
            change = after.change
            moved = {move.id for move in change.moved} | set(change.altered)
            fates = [set(change.kept), moved, set(change.left_out), set(change.absorbed())]
            assert set().union(*fates) == {stroke.id for stroke in before.beat.strokes}, name
            assert sum(map(len, fates)) == len(before.beat.strokes), name
        assert read_link(write_link(groove)).groove == groove, name
        assert read_groove(write_groove(groove)) == groove, name
        changed += stages[-1].beat != stages[0].beat
    assert changed >= 40, "most of these beats have a riding hand and a backbeat"


def test_a_funk_beat_from_a_file_takes_slack_tide_along(real_inputs, slack_tide):
    file = real_inputs / "drum_midi" / "drummer1__1_funk-groove1_138_beat_4-4.mid"
    base, says = groove_of_bytes(file.name, file.read_bytes(), "3-4")
    assert says[0].startswith("Read bars 3-4")
    stages = grow(onto(base, slack_tide))
    assert [len(stage.says) for stage in stages[:2]] == [0, 0], "it has a backbeat to move"
    assert {stroke.surface for stroke in stages[-1].beat.strokes} >= {"ride bell", "ride"}
