"""A timeline played to the end stands on exact frames, takes its alternates in turn, and counts in before it begins."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from groundbeat.codec.groove_read import read_groove
from groundbeat.errors import TimelineError
from groundbeat.model.meter import QUARTER
from groundbeat.sound import stage
from groundbeat.timeline.clicks import QUIET, Click, Count
from groundbeat.timeline.unroll import BASE, BOTH, STAGE, Event, Timeline, unroll
from groundbeat.variation.stack import grow

ROOT = Path(__file__).resolve().parents[2]
RATE = 44100


def event(at: int, surface: str = "snare", dynamic: str = "normal", us: int = 0, layer: str = BOTH, **more: bool):
    flags = {"added": False, "grace": False, "stop": False} | more
    return Event(at, us, surface, dynamic, f"0/{surface}@{at}", layer, **flags)


def timeline(*events: Event, loop: int = 4 * QUARTER, parts: int = 1) -> Timeline:
    clicks = tuple(Click(at, at == 0) for at in range(0, loop, QUARTER * parts))
    return Timeline(0, loop, parts, events, clicks)


def frames(line: Timeline, tempo: int, passes: int = 1) -> list[int]:
    laid = stage.lay([stage.Part(line, passes)], tempo, QUARTER, stage.Heard())
    return [hit.frame for hit in laid.hits]


def test_every_stroke_of_a_thousand_rounds_is_on_the_nearest_frame():
    line = timeline(event(0), event(2521, us=4000), event(QUARTER * 3 + 7), loop=4 * QUARTER)
    exact = []
    for turn in range(1000):
        for at, us in ((0, 0), (2521, 4000), (QUARTER * 3 + 7, 0)):
            time = Fraction((turn * 4 * QUARTER + at) * RATE * 6000, 9201 * QUARTER)
            late = Fraction(us * RATE, 10**6)
            exact.append((time + Fraction(1, 2)).__floor__() + (late + Fraction(1, 2)).__floor__())
    assert frames(line, 9201, 1000) == exact


def test_a_grace_before_the_first_pass_moves_all_of_it_behind_frame_0():
    line = timeline(event(0), event(0, dynamic="soft", us=-30000, grace=True))
    laid = stage.lay([stage.Part(line, 2)], 12000, QUARTER, stage.Heard())
    early = 1323  # 30 ms
    assert [hit.frame for hit in laid.hits] == [0, early, 88200, 88200 + early]
    assert (laid.start, laid.ends) == (early, (2 * 88200 + early,))


def test_alternates_take_turns_by_surface_and_dynamic_also_while_nobody_hears_them():
    line = timeline(event(0), event(QUARTER, layer=BASE), event(2 * QUARTER, "snare", "ghost"), event(3 * QUARTER))
    laid = stage.lay([stage.Part(line, 2)], 12000, QUARTER, stage.Heard())
    assert [(hit.dynamic, hit.alternate) for hit in laid.hits] == [
        ("normal", 0), ("ghost", 0), ("normal", 2), ("normal", 3), ("ghost", 1), ("normal", 1),
    ]  # fmt: skip
    again = stage.lay([stage.Part(line, 2)], 12000, QUARTER, stage.Heard(), rewind=1)
    assert [hit.alternate for hit in again.hits] == [0, 0, 2, 0, 0, 2]


@pytest.mark.parametrize(
    ("heard", "gains"),
    [
        (stage.Heard(), {STAGE: 1, BOTH: 1}),
        (stage.Heard(mix=0), {BASE: 1, BOTH: 1}),
        (stage.Heard(mix=0.5), {BASE: pytest.approx(2**-0.5), STAGE: pytest.approx(2**-0.5), BOTH: 1}),
        (stage.Heard(mix=0.75), {BASE: pytest.approx(0.15625**0.5), STAGE: pytest.approx(0.84375**0.5), BOTH: 1}),
        (stage.Heard(only_added=True, mix=0), {STAGE: 1}),
    ],
)
def test_layers_are_as_loud_as_the_slider_says(heard: stage.Heard, gains: dict[str, float]):
    line = timeline(event(0, layer=BASE), event(1, "kick"), event(2, "ride", layer=STAGE, added=True))
    names = {"snare": BASE, "kick": BOTH, "ride": STAGE}
    laid = stage.lay([stage.Part(line, 1)], 12000, QUARTER, heard)
    assert {names[hit.surface]: hit.gain for hit in laid.hits} == gains


def test_a_count_in_is_heard_without_a_click_and_the_loop_begins_behind_it():
    counted = tuple(Click(at * QUARTER, at % 4 == 0, at == 1) for at in range(8))
    line = timeline(event(0))._replace(count_in=Count(8 * QUARTER, counted))
    parts = [*stage.count_in(line), stage.Part(line, 1)]
    laid = stage.lay(parts, 12000, QUARTER, stage.Heard())
    assert [(hit.surface, hit.frame // 22050, hit.dynamic) for hit in laid.hits] == [
        *(("click", beat, stage.WEAK if beat % 4 else stage.STRONG) for beat in range(8)),
        ("snare", 8, "normal"),
    ]
    assert [hit.gain for hit in laid.hits[:3]] == [1, pytest.approx(QUIET), 1]
    with_click = stage.lay(parts, 12000, QUARTER, stage.Heard(click=1))
    assert sum(hit.surface == "click" for hit in with_click.hits) == 12


def test_clicks_that_differ_from_round_to_round_come_in_turn():
    clicks = (Click(0, True), Click(QUARTER, False), Click(4 * QUARTER, True))  # the second round has one only
    line = timeline(event(0))._replace(clicks=clicks, rounds=2)
    laid = stage.lay([stage.Part(line, 5)], 12000, QUARTER, stage.Heard(click=1))
    found = [hit.frame // 22050 for hit in laid.hits if hit.surface == "click"]
    assert found == [0, 1, 4, 8, 9, 12, 16, 17]


def test_a_tempo_that_no_groove_can_have_is_refused():
    with pytest.raises(TimelineError, match="20 to 400 beats a minute, not 10"):
        frames(timeline(event(0)), 1000)


def test_a_swung_stage_keeps_its_parts_and_its_clicks():
    groove = read_groove((ROOT / "examples/beats/09-late-ferry.toml").read_text(encoding="utf-8"))
    line = unroll(groove, grow(groove), 0)
    unit = groove.base.meter.tempo_unit[1]
    laid = stage.lay([stage.Part(line, 1)], groove.tempo, unit, stage.Heard(click=1))
    scale = Fraction(RATE * 6000, groove.tempo * unit * line.parts)
    assert laid.ends == (laid.start + line.loop * scale,)
    assert sum(hit.surface == "click" for hit in laid.hits) == len(line.clicks)
