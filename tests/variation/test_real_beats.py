"""Beats that people played carry Slack Tide's variations, and no stroke is lost on the way."""

from __future__ import annotations

from groundbeat.bridge.midi_file import groove_of_bytes
from groundbeat.codec.groove_read import read_groove
from groundbeat.codec.groove_write import write_groove
from groundbeat.codec.link import read_link, write_link
from groundbeat.midi.base_beat import BaseBeatError
from groundbeat.variation.stack import grow, onto


def test_bars_of_all_performances_carry_the_variations(real_inputs, slack_tide):
    files = sorted((real_inputs / "drum_midi").glob("*.mid"))
    assert len(files) == 48
    changed = 0
    for file in files:
        data = file.read_bytes()
        try:
            base, _ = groove_of_bytes(file.name, data, "3-4")
        except BaseBeatError:  # a fill of a bar or two
            base, _ = groove_of_bytes(file.name, data)
        groove = onto(base, slack_tide)
        stages = grow(groove)
        for before, after in zip(stages, stages[1:], strict=False):
            change = after.change
            moved = {move.id for move in change.moved} | set(change.altered)
            fates = [set(change.kept), moved, set(change.left_out), set(change.absorbed())]
            assert set().union(*fates) == {stroke.id for stroke in before.beat.strokes}, file.name
            assert sum(map(len, fates)) == len(before.beat.strokes), file.name
        assert read_link(write_link(groove)).groove == groove, file.name
        assert read_groove(write_groove(groove)) == groove, file.name
        changed += stages[-1].beat != stages[0].beat
    assert changed >= 40, "most of these beats have a riding hand and a backbeat"


def test_a_funk_beat_from_a_file_takes_slack_tide_along(real_inputs, slack_tide):
    file = real_inputs / "drum_midi" / "drummer1__1_funk-groove1_138_beat_4-4.mid"
    base, says = groove_of_bytes(file.name, file.read_bytes(), "3-4")
    assert says[0].startswith("Read bars 3-4")
    stages = grow(onto(base, slack_tide))
    assert [len(stage.says) for stage in stages[:2]] == [0, 0], "it has a backbeat to move"
    assert {stroke.surface for stroke in stages[-1].beat.strokes} >= {"ride bell", "ride"}
