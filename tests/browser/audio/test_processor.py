"""The audio thread's program in an OfflineAudioContext: every frame against the sound worked out anew."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from typing import Any

import numpy as np
import pytest
from numpy.typing import NDArray
from playwright.sync_api import Page

from .conftest import Site
from .reference import CHOKE, RATE, Fault, Kit, Sound, compare, mix, pace, passes, place, sounds_of
from .timelines import QUARTER, Timeline, event, rich, sevens, timeline

BLOCK = 128
LEAD = 1764  # frames from play to the first stroke

Render = Callable[..., tuple[NDArray[np.float64], list[Any]]]


@pytest.fixture
def render(studio: Page, site: Site) -> Render:
    def run(timelines: list[Timeline], commands: list[dict[str, Any]], frames: int) -> Any:
        notes = studio.evaluate(
            "([lines, commands, frames]) => bench.render('sound', lines, commands, frames)",
            [timelines, commands, frames],
        )
        return site.stereo("sound").astype(np.float64), notes

    return run


def play(
    *entries: tuple[int, int], then: str = "stay", frame: int = 0, kind: str = "play", **more: Any
) -> dict[str, Any]:
    """Return a command that plays entries (timeline, passes); their tags count from 0."""
    listed = [{"timeline": line, "passes": count, "tag": tag} for tag, (line, count) in enumerate(entries)]
    return {"kind": kind, "frame": frame, "programme": {"entries": listed, "then": then}} | more


def all_of(kit: Kit, line: Timeline, start: Fraction | int, until: int, bpm: float | None = None) -> list[Sound]:
    """Return the sounds of a timeline that loops from `start` till it is past `until`."""
    bpm = bpm or line["tempo"]
    count = int((until - start) / (line["loop"] * pace(line, bpm))) + 2
    return passes(kit, line, bpm, Fraction(start), count)


def faults(
    recorded: NDArray[np.float64], kit: Kit, sounds: list[Sound], gains: dict[str, float] | None = None
) -> list[Fault]:
    return compare(recorded, place(kit, sorted(sounds, key=lambda s: s.frame), gains or {}), 0)


@pytest.mark.parametrize(("make", "bpm"), [(rich, 104), (sevens, 251.37)])
def test_a_timeline_sounds_on_its_frames(render: Render, kit: Kit, make: Callable[[], Timeline], bpm: float) -> None:
    line = make() | {"tempo": bpm}
    recorded, notes = render([line], [play((0, 0))], 8 * RATE)
    assert {"kind": "begun", "frame": LEAD, "lead": 0} in notes
    assert faults(recorded, kit, all_of(kit, line, LEAD, 8 * RATE)) == []
    assert np.abs(recorded).max() > 0.05


def test_a_stroke_two_frames_late_is_noticed_and_named(render: Render, kit: Kit) -> None:
    line, moved = rich(), rich()
    late = next(e for e in moved["events"] if e["surface"] == "kick" and e["at"] > 0)
    late["us"] = 45  # 2 frames: 1.98 rounded
    recorded, _ = render([moved], [play((0, 0))], 3 * RATE)
    found = faults(recorded, kit, all_of(kit, line, LEAD, 3 * RATE))
    assert [(f.where, f.late) for f in found] == [(f"kick normal at {late['at']}, pass 0", 2)]


def test_the_grace_before_the_first_stroke_sounds_in_the_first_pass(render: Render, kit: Kit) -> None:
    line = timeline([event(0, "snare"), event(0, "snare", "soft", us=-30000, grace=True)])
    recorded, _ = render([line], [play((0, 0))], RATE // 2)
    first = int(np.flatnonzero(np.abs(recorded[0]) > 0)[0])
    assert LEAD - 1323 <= first < LEAD - 1323 + 32


def test_a_swap_at_the_loop_point_leaves_no_gap_and_cuts_nothing(render: Render, kit: Kit) -> None:
    a, b = rich(), sevens()
    commands = [play((0, 0)), play((1, 0), kind="programme", at="loop", frame=RATE)]
    recorded, _ = render([a, b], commands, 7 * RATE)
    loop = a["loop"] * pace(a, 104)
    swap = LEAD + loop
    sounds = passes(kit, a, 104, Fraction(LEAD), 1) + all_of(kit, b, swap, 7 * RATE)
    assert faults(recorded, kit, sounds) == []
    # The same without the swap has no smaller step around the loop point: nothing clicks.
    alone, _ = render([a, b], [play((0, 0))], 7 * RATE)
    around = slice(int(swap) - 200, int(swap) - 30)
    assert np.abs(np.diff(recorded[:, around])).max() <= np.abs(np.diff(alone[:, around])).max() + 1e-6


def test_a_swap_just_before_the_loop_point_still_comes_there(render: Render, kit: Kit) -> None:
    a, b = rich(), sevens()
    swap = LEAD + a["loop"] * pace(a, 104)
    # The grace of a's next pass is 28 ms early and has sounded when the swap arrives 10 ms before the loop point.
    arrives = (int(swap) - 441) // BLOCK * BLOCK
    commands = [play((0, 0)), play((1, 0), kind="programme", at="loop", frame=arrives)]
    recorded, _ = render([a, b], commands, 5 * RATE)
    begun = [s for s in sounds_of(kit, a, 104, swap, 1) if s.frame < arrives]
    passed = [s for s in all_of(kit, b, swap, 5 * RATE) if s.frame >= arrives]
    assert len(begun) == 1
    assert faults(recorded, kit, passes(kit, a, 104, Fraction(LEAD), 1) + begun + passed) == []


def test_a_swap_at_once_goes_on_at_the_same_place(render: Render, kit: Kit) -> None:
    a, b = rich(), timeline([event(k * QUARTER // 2, "cowbell") for k in range(8)])
    at = 60032
    recorded, _ = render([a, b], [play((0, 0)), play((1, 0), kind="programme", at="now", frame=at)], 4 * RATE)
    before = [s for s in all_of(kit, a, LEAD, at) if s.frame < at]
    after = [s for s in all_of(kit, b, LEAD, 4 * RATE) if s.frame >= at]
    assert faults(recorded, kit, before + after) == []


def test_a_tempo_change_keeps_the_place_and_no_stroke_comes_twice(render: Render, kit: Kit) -> None:
    line = sevens()
    changes = [(70016, 90.0), (100096, 200.5), (130048, 104.0)]
    retimes = [{"kind": "retime", "frame": at, "bpm": bpm} for at, bpm in changes]
    recorded, notes = render([line], [play((0, 0)), *retimes], 8 * RATE)
    start, bpm, since, sounds = Fraction(LEAD), 104.0, 0, []
    for at, next_bpm in [*changes, (8 * RATE, 104.0)]:
        sounds += [s for s in all_of(kit, line, start, at, bpm) if since <= s.frame < at]
        loop, next_loop = (line["loop"] * pace(line, tempo) for tempo in (bpm, next_bpm))
        done = (at - start) // loop
        share = (at - start - done * loop) / loop
        start, bpm, since = Fraction(round(at - share * next_loop)), next_bpm, at
    assert faults(recorded, kit, sounds) == []
    # What is drawn does not jump either: two reports of one pass agree on the place where one tempo follows another.
    told = [n for n in notes if isinstance(n, list)]
    for one, two in zip(told, told[1:], strict=False):
        place = [(two[6] - n[1]) / n[2] for n in (one, two)]
        if one[4] == two[4] and one[2] != two[2]:
            assert abs(place[0] - place[1]) * two[2] < 1
    assert len({n[2] for n in told}) == 3


def shrinking(**more: Any) -> Timeline:
    """A bar whose clicks grow less over three rounds, with a grace before the first stroke and swung eighths."""
    places = [[0, 1, 2, 3, 4, 5, 6, 7], [0, 4], []]
    clicks = [
        {
            "at": turn * 12 * QUARTER + k * 3 * QUARTER // 2 + k % 2 * QUARTER // 2,
            "us": 0,
            "strong": k == 0,
            "quiet": k % 2 == 1,
        }
        for turn, row in enumerate(places)
        for k in row
    ]
    row = [event(0, "snare"), event(0, "snare", "soft", us=-30000, grace=True), event(4 * QUARTER, "kick")]
    return timeline(row, loop=12 * QUARTER, parts=3, clicks=clicks, rounds=3) | more


def test_clicks_of_several_rounds_come_in_turn_and_begin_again(render: Render, kit: Kit) -> None:
    line = shrinking(tempo=251.37)
    recorded, _ = render([line], [play((0, 0))], 8 * RATE)
    assert faults(recorded, kit, all_of(kit, line, LEAD, 8 * RATE)) == []
    silent = recorded[:, int(LEAD + 2.7 * line["loop"] * pace(line, 251.37)) :][:, :4000]
    assert np.abs(silent).max() < np.abs(recorded).max() / 20


def test_another_click_comes_at_the_loop_point_and_moves_no_stroke(render: Render, kit: Kit) -> None:
    """From the beats to a shrinking click: its rounds begin with the pass that it comes in."""
    line, plain = shrinking(), shrinking(clicks=[], rounds=1)
    commands = [play((0, 0)), play((1, 0), kind="programme", at="loop", frame=RATE)]
    recorded, _ = render([plain, line], commands, 12 * RATE)
    loop = line["loop"] * pace(line, 104)
    sounds = passes(kit, plain, 104, Fraction(LEAD), 1) + all_of(kit, line, LEAD + loop, 12 * RATE)
    assert faults(recorded, kit, sounds) == []


def test_a_count_in_sounds_once_and_a_tempo_change_reaches_it(render: Render, kit: Kit) -> None:
    line = shrinking()
    count = shrinking(events=[], clicks=line["clicks"][:8], rounds=1, counting=True)
    at = 60032
    command = play((0, 0))
    command["programme"]["lead"] = 1
    recorded, notes = render([line, count], [command, {"kind": "retime", "frame": at, "bpm": 180.5}], 8 * RATE)
    old, new = (line["loop"] * pace(line, bpm) for bpm in (104, 180.5))
    begun = round(at - (at - LEAD) / old * new)
    sounds = [s for s in passes(kit, count, 104, Fraction(LEAD), 1) if s.frame < at]
    sounds += [s for s in passes(kit, count, 180.5, Fraction(begun), 1) if s.frame >= at]
    sounds += all_of(kit, line, begun + new, 8 * RATE, 180.5)
    assert faults(recorded, kit, sounds) == []
    tags = [n[5] for n in notes if isinstance(n, list)]
    assert tags == sorted(tags) and set(tags) == {-1, 0}
    assert {n[4] for n in notes if isinstance(n, list) and n[5] == 0} == {0, 1, 2, 3, 4}


@pytest.mark.parametrize("how", ["loop", "now"])
def test_what_comes_during_a_count_in_waits_for_its_end(render: Render, kit: Kit, how: str) -> None:
    line, other = shrinking(), rich()
    count = shrinking(events=[], clicks=line["clicks"][:8], rounds=1, counting=True)
    command = play((0, 0))
    command["programme"]["lead"] = 2
    swap = play((1, 0), kind="programme", at=how, frame=RATE // 128 * 128)
    recorded, _ = render([line, other, count], [command, swap], 5 * RATE)
    start = LEAD + line["loop"] * pace(line, 104)
    sounds = passes(kit, count, 104, Fraction(LEAD), 1) + all_of(kit, other, start, 5 * RATE)
    assert faults(recorded, kit, sounds) == []


def test_a_click_that_is_moved_takes_no_ringing_one_along(render: Render, kit: Kit) -> None:
    line = timeline([event(0, "cowbell")], tempo=300)
    at = (LEAD + 8820 + 256) // BLOCK * BLOCK  # while the second click rings
    recorded, _ = render([line], [play((0, 0)), {"kind": "pan", "surface": -1, "pan": 1, "frame": at}], RATE)
    sounds = all_of(kit, line, LEAD, RATE)
    right = replace(kit, pans=(*kit.pans[:-1], (float(np.float32(np.cos(np.pi / 2))), 1.0)))
    before = place(kit, [s for s in sounds if s.frame < at], {})
    after = [p for p in place(right, sounds, {}) if p.sound.frame >= at]
    assert compare(recorded, sorted([*before, *after], key=lambda p: p.sound.frame), 0) == []


@pytest.mark.parametrize("how", ["closed stroke", "stop"])
def test_a_choke_is_over_within_thirty_milliseconds(render: Render, kit: Kit, how: str) -> None:
    if how == "stop":
        row = [event(0, "crash", "accent"), event(QUARTER // 4, "crash", stop=True)]
    else:
        row = [event(0, "open hi-hat", "accent"), event(QUARTER // 4, "hi-hat foot", "ghost")]
    line = timeline(row, clicks=[])
    recorded, _ = render([line], [play((0, 1), then="stop")], 2 * RATE)
    choke = int(LEAD + QUARTER // 4 * pace(line, 104) + Fraction(1, 2))
    assert faults(recorded, kit, passes(kit, line, 104, Fraction(LEAD), 1)) == []
    ringing = np.abs(recorded[:, choke - 2000 : choke]).max()
    assert ringing > 0.01
    if how == "stop":
        assert np.abs(recorded[:, choke + int(0.030 * RATE) :]).max() == 0
    else:
        foot = mix(
            place(kit, [s for s in passes(kit, line, 104, Fraction(LEAD), 1) if s.frame == choke], {}), 0, 2 * RATE
        )
        rest = (recorded - foot)[:, choke + int(0.030 * RATE) :]
        assert np.abs(rest).max() < 1e-6
    assert CHOKE <= 0.030 * RATE


def test_a_queue_goes_up_and_back_without_a_gap_and_ends(render: Render, kit: Kit) -> None:
    lines = [
        timeline([event(0, "kick"), event(k * QUARTER, surface)])
        for k, surface in enumerate(("cowbell", "shell", "snare"), 1)
    ]
    lines[1] |= {"loop": 3 * QUARTER * 7, "parts": 7, "tempo_unit_ticks": QUARTER, "clicks": []}
    for e in lines[1]["events"]:
        e["at"] *= 7
    order = [(0, 2), (1, 1), (2, 2), (1, 1), (0, 1)]
    for line in lines:
        line["tempo"] = 240.5
    recorded, notes = render(lines, [play(*order, then="stop")], 9 * RATE)
    start, sounds, starts = Fraction(LEAD), [], []
    for index, count in order:
        sounds += passes(kit, lines[index], 240.5, start, count)
        starts.append(int(start + Fraction(1, 2)))
        start += count * lines[index]["loop"] * pace(lines[index], 240.5)
    assert faults(recorded, kit, sounds) == []
    told = [n for n in notes if isinstance(n, list)]
    assert [n[5] for k, n in enumerate(told) if k == 0 or n[5] != told[k - 1][5]] == [0, 1, 2, 3, 4]
    first = {int(tag): next(n for n in told if n[5] == tag) for tag in range(5)}
    assert [round(first[tag][1]) for tag in range(5)] == pytest.approx(starts, abs=1)
    (ended,) = [n["frame"] for n in notes if isinstance(n, dict) and n["kind"] == "ended"]
    assert start - BLOCK <= ended <= start


@pytest.mark.parametrize(("then", "last"), [("again", [0, 1, 0, 1, 0]), ("stay", [0, 1, 1, 1, 1])])
def test_a_queue_goes_on_as_asked(render: Render, kit: Kit, then: str, last: list[int]) -> None:
    lines = [timeline([event(0, surface)], tempo=300) for surface in ("cowbell", "shell")]
    recorded, _ = render(lines, [play((0, 1), (1, 1), then=then)], 4 * RATE)
    loop = 4 * QUARTER * pace(lines[0], 300)
    sounds = [s for k, index in enumerate(last) for s in sounds_of(kit, lines[index], 300, LEAD + k * loop, k)]
    assert faults(recorded, kit, sounds) == []


def test_one_timeline_of_one_pass_can_go_again(render: Render, kit: Kit) -> None:
    line = timeline([event(0, "cowbell")], tempo=300)
    recorded, notes = render([line], [play((0, 1), then="again")], 3 * RATE)
    assert faults(recorded, kit, all_of(kit, line, LEAD, 3 * RATE)) == []
    assert {n[4] for n in notes if isinstance(n, list)} == {0}


def gains(**named: float) -> dict[str, Any]:
    """Return a command: groups by name (base, stage, both, click, only), surfaces by their own."""
    groups = [named.pop(layer, 1.0) for layer in ("base", "stage", "both")]
    plain = 0.0 if named.pop("only", 0) else 1.0
    row = [g * plain if k == 0 else g for g in groups for k in (0, 1)]
    return {"kind": "gains", "groups": [*row, named.pop("click", 1.0)], "surfaces": named}


def test_silent_lines_and_layers_are_silent_and_choke_nothing(render: Render, kit: Kit) -> None:
    line = sevens()
    muted = {"kick": 0.0, "ride": 0.0, "base": 0.0, "click": 0.25, "stage": 0.5}
    recorded, _ = render([line], [gains(**muted), play((0, 0))], 4 * RATE)
    assert faults(recorded, kit, all_of(kit, line, LEAD, 4 * RATE), muted) == []
    full, _ = render([line], [play((0, 0))], 4 * RATE)
    assert np.abs(full - recorded).max() > 0.1


def test_only_what_was_added_sounds_when_asked(render: Render, kit: Kit) -> None:
    line = rich()
    recorded, _ = render([line], [gains(only=1, click=0), play((0, 0))], 3 * RATE)
    added = [s for s in all_of(kit, line, LEAD, 3 * RATE) if s.added or s.stop]
    own = kit.names.index("snare")
    # Alternates take turns over all strokes, heard or not; the ghosts are a slot of their own.
    assert all(s.surface == own and s.dynamic == 0 for s in added if not s.stop)
    assert faults(recorded, kit, added) == []


def test_a_gain_goes_over_without_a_step(render: Render, kit: Kit) -> None:
    line = timeline([event(0, "ride", "accent")], clicks=[])
    at = 20096
    down = gains(ride=0.0) | {"frame": at}
    recorded, _ = render([line], [play((0, 0)), down], RATE)
    plain = mix(place(kit, passes(kit, line, 104, Fraction(LEAD), 1), {}), 0, RATE)
    ratio = recorded[0] / np.where(np.abs(plain[0]) > 1e-4, plain[0], np.nan)
    assert np.nanmax(np.abs(ratio[LEAD:at] - 1)) < 1e-3
    assert np.nanmax(np.abs(ratio[at + 1000 :])) == 0
    slope = np.diff(np.interp(np.arange(at, at + 1000), np.arange(RATE)[~np.isnan(ratio)], ratio[~np.isnan(ratio)]))
    assert slope.min() > -1 / (0.008 * RATE)
    assert slope.max() < 1e-3


def test_a_stop_is_over_within_twenty_milliseconds(render: Render, kit: Kit) -> None:
    line, at = rich(), 2 * RATE // BLOCK * BLOCK
    recorded, _ = render([line], [play((0, 0)), {"kind": "stop", "frame": at}], 4 * RATE)
    assert np.abs(recorded[:, at - 4000 : at]).max() > 0.01
    assert np.abs(recorded[:, at + int(0.020 * RATE) :]).max() == 0
    sounds = [s for s in all_of(kit, line, LEAD, at) if s.frame < at]
    assert compare(recorded, place(kit, sounds, {}, stop=at), 0) == []


def test_alternates_never_come_twice_in_a_row(render: Render, kit: Kit) -> None:
    line = timeline([event(k * QUARTER // 2, "snare") for k in range(8)], clicks=[])
    recorded, _ = render([line], [play((0, 0))], 3 * RATE)
    eighth = QUARTER // 2 * pace(line, 104)
    heads = [recorded[0, round(LEAD + k * eighth) : round(LEAD + k * eighth) + 64] for k in range(8)]
    assert kit.alternates[kit.names.index("snare") * 4 + 2] >= 3
    assert all(np.abs(a - b).max() > 1e-4 for a, b in zip(heads, heads[1:], strict=False))


def test_more_strokes_than_voices_lose_the_quietest_without_a_click(render: Render, kit: Kit) -> None:
    # 160 ride strokes that ring for seconds within 4 s: more than the 64 voices.
    row = [event(k * QUARTER // 16, "ride", "normal") for k in range(64)]
    line = timeline(row, clicks=[], tempo=300)
    recorded, _ = render([line], [play((0, 2), then="stop")], 4 * RATE)
    whole = mix(place(kit, passes(kit, line, 300, Fraction(LEAD), 2), {}), 0, 4 * RATE)
    loss = np.abs(recorded - whole).max()
    assert 0 < loss < 0.1 * np.abs(whole).max()
    assert np.abs(np.diff(recorded)).max() <= np.abs(np.diff(whole)).max() * 1.1


def test_reports_come_at_most_sixty_times_a_second(render: Render) -> None:
    line = timeline([event(0, "cowbell")], loop=QUARTER // 16, clicks=[], tempo=300)
    _, notes = render([line], [play((0, 0))], 3 * RATE)
    frames = [n[0] for n in notes if isinstance(n, list)]
    assert 30 <= len(frames) <= 3 * 60
    assert min(np.diff(frames)) >= RATE / 60
