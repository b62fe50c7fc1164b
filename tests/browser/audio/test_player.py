"""The Player as the page uses it, in a real Chromium: gestures, loading, swaps, queues, and what it says of trouble."""

from __future__ import annotations

import json
from dataclasses import replace
from fractions import Fraction
from typing import Any

import numpy as np
import pytest
from playwright.sync_api import Browser, Page

from groundbeat.sound.encode import decode

from .conftest import Site
from .reference import RATE, Kit, compare, pace, passes, place
from .timelines import QUARTER, event, rich, sevens, timeline

# The slider in the middle, and a quarter of its way from an end: powers that add up to one.
ROOT_HALF, QUIETER, LOUDER = (float(np.float32(power**0.5)) for power in (0.5, 0.15625, 0.84375))


def arrange(page: Page, **setting: Any) -> None:
    page.evaluate("(setting) => bench.arrange(setting)", setting)


def recorded(page: Page, site: Site, frames: int) -> tuple[np.ndarray, dict[str, Any]]:
    page.evaluate("(frames) => bench.recorded(frames)", frames)
    about = page.evaluate("() => bench.deliver('sound')")
    return site.stereo("sound").astype(np.float64), about


def told(page: Page, kind: str) -> list[dict[str, Any]]:
    return [one for one in page.evaluate("() => bench.heard.events") if one["kind"] == kind]


def test_no_sound_device_is_touched_before_a_gesture(page: Page) -> None:
    arrange(page, timeline=rich())
    assert page.evaluate("() => bench.player().state") == "idle"
    assert page.evaluate("() => bench.player().position()") is None
    assert page.evaluate("() => bench.heard.context === undefined")
    page.click("#play")
    page.evaluate("() => bench.event('state', {state: 'playing'})")
    assert [one["state"] for one in told(page, "state")] == ["loading", "playing"]


def test_only_the_parts_a_timeline_needs_come_first(page: Page, site: Site) -> None:
    fetched: list[str] = []
    page.on("request", lambda request: fetched.append(request.url.rsplit("/", 1)[-1]))
    arrange(page, timeline=timeline([event(0, "cowbell")]))
    page.click("#play")
    page.evaluate("() => bench.event('state', {state: 'playing'})")
    parts = json.loads((site.folder / "kit" / "kit.json").read_text())["parts"]
    fetched_all = "performance.getEntriesByType('resource').filter(({name}) => name.endsWith('.ogg')).length === count"
    page.evaluate(f"(count) => bench.until(() => {fetched_all})", len(parts))
    names = [name.split(".")[0] for name in fetched if name.endswith(".ogg")]
    assert set(names[:2]) == {"extras", "click"}
    assert sorted(names) == sorted(parts)


def test_the_player_swaps_at_the_loop_point_and_stops(page: Page, site: Site, kit: Kit) -> None:
    a = timeline([event(k * QUARTER, "snare") for k in range(4)], tempo=240)
    b = timeline([event(k * QUARTER, "cowbell", layer="stage", added=True) for k in range(4)], tempo=240, stage=2)
    arrange(page, timeline=a, player={"click": 0.5})
    page.click("#play")
    page.evaluate("() => bench.event('stage', {stage: 0})")
    page.evaluate("(b) => bench.player().swap(b)", b)
    page.evaluate("() => bench.event('stage', {stage: 2})")
    sound, about = recorded(page, site, 3 * RATE)
    loop = 4 * QUARTER * pace(a, 240)
    start = Fraction(about["begun"])
    sounds = passes(kit, a, 240, start, 1) + passes(kit, b, 240, start + loop, 4)
    assert compare(sound, place(kit, sounds, {"click": 0.5}), about["start"]) == []
    page.evaluate("() => bench.player().stop()")
    assert page.evaluate("() => [bench.player().state, bench.player().position()]") == ["stopped", None]


def test_a_queue_tells_its_stages_and_its_end(page: Page) -> None:
    lines = [timeline([event(0, "kick")], tempo=300, stage=k) for k in range(3)]
    arrange(page)
    page.evaluate(
        "(lines) => bench.player().queue(bench.upAndBack(lines.map((timeline) => ({timeline, passes: 1}))))", lines
    )
    page.click("#play")
    page.evaluate("() => bench.event('state', {state: 'stopped'})")
    assert [(one["stage"], one["index"]) for one in told(page, "stage")] == [(0, 0), (1, 1), (2, 2), (1, 3), (0, 4)]
    assert [one["state"] for one in told(page, "state")] == ["loading", "playing", "stopped"]


def test_tempo_lines_and_slider_can_be_set_before_the_first_play(page: Page, site: Site, kit: Kit) -> None:
    row = [event(0, "kick", layer="base"), event(QUARTER, "snare", layer="stage"), event(2 * QUARTER, "cowbell")]
    line = timeline(row)
    arrange(page, timeline=line, player={"tempo": 211.456, "mix": 0.25})
    page.evaluate("() => bench.player().mute('cowbell', true)")
    page.click("#play")
    sound, about = recorded(page, site, 2 * RATE)
    assert page.evaluate("() => bench.player().tempo") == 211.46
    sounds = passes(kit, line, 211.46, Fraction(about["begun"]), 3)
    gains = {"base": LOUDER, "stage": QUIETER, "cowbell": 0.0, "click": 0.0}
    assert compare(sound, place(kit, sounds, gains), about["start"]) == []


def test_a_tempo_change_while_playing_keeps_the_place(page: Page, site: Site, kit: Kit) -> None:
    line = sevens()
    arrange(page, timeline=line, player={"mix": 0.5})
    page.click("#play")
    page.evaluate("() => bench.until(() => (bench.player().position()?.ticks ?? 0) > 15000)")
    page.evaluate("() => { bench.player().tempo = 181.25; }")
    sound, about = recorded(page, site, 4 * RATE)
    changed = next(note for note in about["notes"] if note[2] != about["notes"][0][2])
    since, start, begun = round(changed[6]), round(changed[1]), about["begun"]
    old, new = (float(line["loop"] * pace(line, bpm)) for bpm in (104, 181.25))
    assert (since - start) / new == pytest.approx((since - begun) / old, abs=0.5 / new)
    sounds = [s for s in passes(kit, line, 104, Fraction(begun), 1) if s.frame < since]
    sounds += [s for s in passes(kit, line, 181.25, Fraction(start), 4) if s.frame >= since]
    gains = {"base": ROOT_HALF, "stage": ROOT_HALF, "click": 0.0}
    assert compare(sound, place(kit, sounds, gains), about["start"]) == []


def test_a_count_in_comes_once_and_the_click_has_its_own_loudness_and_place(page: Page, site: Site, kit: Kit) -> None:
    beats = [{"at": k * QUARTER, "us": 0, "strong": k == 0, "quiet": k % 2 == 1} for k in range(4)]
    line = timeline(
        [event(0, "kick")], tempo=300, rounds=2, clicks=beats, count_in={"loop": 4 * QUARTER, "clicks": beats}
    )
    arrange(page, timeline=line, player={"click": 0.5, "count": 0.25, "clickPan": -1})
    page.click("#play")
    page.evaluate("() => bench.until(() => bench.heard.begun !== null)")
    assert page.evaluate("() => bench.player().position()") is None
    sound, about = recorded(page, site, 3 * RATE)
    count = line | {"loop": 4 * QUARTER, "events": [], "rounds": 1, "counting": True}
    begun = Fraction(about["begun"])
    start = begun + 4 * QUARTER * pace(line, 300)
    sounds = passes(kit, count, 300, begun, 1) + passes(kit, line, 300, start, 5)
    pans = replace(kit, pans=(*kit.pans[:-1], (1.0, float(np.float32(np.cos(np.pi / 2))))))
    assert compare(sound, place(pans, sounds, {"click": 0.5, "count": 0.25}), about["start"]) == []
    assert {note[4] for note in about["notes"] if note[5] > 0} >= {0, 1}
    assert page.evaluate("() => bench.player().position()") is not None


def test_warming_fetches_what_is_needed_before_any_gesture(page: Page) -> None:
    arrange(page, timeline=timeline([event(0, "cowbell")]))
    page.evaluate("() => bench.player().warm()")
    ask = "() => performance.getEntriesByType('resource').map(({name}) => name.split('/').at(-1).split('.')[0])"
    assert {"extras", "click"} <= set(page.evaluate(ask))
    assert "snare" not in page.evaluate(ask)
    assert page.evaluate("() => [bench.player().state, bench.heard.context === undefined]") == ["idle", True]


@pytest.mark.parametrize(
    ("settings", "layers"),
    [
        ({"mix": 0}, [1, 1, 0, 0, 1, 1, 0, 1]),
        ({"mix": 0.5}, [ROOT_HALF] * 4 + [1, 1, 0, 1]),
        ({"mix": 0.75, "click": 0.5}, [QUIETER, QUIETER, LOUDER, LOUDER, 1, 1, 0.5, 1]),
        ({"mix": 0, "onlyAdded": True}, [0, 1, 0, 1, 0, 1, 0, 1]),
        ({"click": 0.25, "count": 0.75}, [0, 0, 1, 1, 1, 1, 0.25, 0.75]),
        ({"mix": 7}, [0, 0, 1, 1, 1, 1, 0, 1]),
    ],
)
def test_the_slider_and_the_switch_decide_the_layers(page: Page, settings: dict[str, Any], layers: list[float]) -> None:
    arrange(page, player=settings)
    assert page.evaluate("() => Array.from(bench.player().gains([]).groups)") == layers


def test_the_only_line_wished_for_sounds_alone(page: Page) -> None:
    arrange(page)
    ask = "() => Array.from(bench.player().gains(['kick', 'snare', 'ride']).surfaces)"
    page.evaluate("() => { bench.player().mute('kick', true); }")
    assert page.evaluate(ask) == [0, 1, 1, 1]
    page.evaluate("() => { bench.player().solo('kick', true); bench.player().solo('ride', true); }")
    assert page.evaluate(ask) == [1, 0, 1, 1]
    page.evaluate("() => bench.player().clearLines()")
    assert page.evaluate(ask) == [1, 1, 1, 1]


def test_a_surface_without_a_sound_is_told_once_and_the_rest_plays(page: Page) -> None:
    arrange(page, timeline=timeline([event(0, "gong"), event(0, "kick"), event(QUARTER, "gong")]))
    page.click("#play")
    page.evaluate("() => bench.event('state', {state: 'playing'})")
    page.evaluate("() => bench.player().play()")
    assert [one["message"] for one in told(page, "problem")] == ['There is no sound for "gong"; everything else plays.']


def test_a_timeline_that_cannot_be_timed_is_told(page: Page) -> None:
    arrange(page, timeline=timeline([event(0, "kick")], loop=0))
    page.click("#play")
    problem = page.evaluate("() => bench.event('problem')")
    assert problem["code"] == "sound.timeline"
    assert "loop 0" in problem["message"]
    assert page.evaluate("() => bench.player().state") == "stopped"


@pytest.fixture
def troubled(chromium: Browser) -> Any:
    """A page whose failing requests are part of the test."""
    page = chromium.new_page()
    yield page
    page.close()


def test_plain_http_on_another_host_is_told_with_what_to_do(troubled: Page, site: Site) -> None:
    troubled.goto(site.address.replace("127.0.0.1", "saltmarsh.test"))
    assert troubled.evaluate("() => isSecureContext") is False
    arrange(troubled, timeline=rich())
    troubled.click("#play")
    problem = troubled.evaluate("() => bench.event('problem')")
    assert problem["code"] == "sound.insecure"
    assert "https" in problem["message"] and "localhost" in problem["message"]
    assert troubled.evaluate("() => bench.player().state") == "idle"


@pytest.mark.parametrize(
    ("setting", "code", "words"),
    [
        ({"kit": "nowhere/kit.json"}, "kit.missing", "nowhere/kit.json: answer 404"),
        ({"kit": "page.html"}, "kit.broken", 'page.html has no "rate"'),
        ({"processor": "nowhere.js"}, "sound.processor", "could not be loaded"),
    ],
)
def test_missing_files_are_told(troubled: Page, site: Site, setting: dict[str, str], code: str, words: str) -> None:
    troubled.goto(site.address)
    arrange(troubled, timeline=rich(), **setting)
    troubled.click("#play")
    problem = troubled.evaluate("() => bench.event('problem')")
    assert problem["code"] == code
    assert words in problem["message"]
    assert troubled.evaluate("() => bench.player().state") == "stopped"


def test_mp3_is_taken_where_vorbis_cannot_be_decoded(troubled: Page, site: Site) -> None:
    troubled.route("**/*.ogg", lambda route: route.fulfill(body=b"OggS but not sound"))
    troubled.goto(site.address)
    arrange(troubled, timeline=rich())
    troubled.click("#play")
    troubled.evaluate("() => bench.event('state', {state: 'playing'})")
    sound, _ = recorded(troubled, site, RATE)
    assert np.abs(sound).max() > 0.05


def test_a_part_that_cannot_be_read_is_told_and_can_be_tried_again(troubled: Page, site: Site) -> None:
    broken = True

    def answer(route: Any) -> None:
        if broken:
            route.fulfill(body=b"no sound")
        else:
            route.continue_()

    troubled.route("**/*.ogg", answer)
    troubled.route("**/*.mp3", answer)
    troubled.goto(site.address)
    arrange(troubled, timeline=rich())
    troubled.click("#play")
    assert troubled.evaluate("() => bench.event('problem')")["code"] == "kit.broken"
    broken = False
    troubled.click("#play")
    troubled.evaluate("() => bench.event('state', {state: 'playing'})")


def test_an_interruption_is_told_and_a_touch_brings_the_sound_back(page: Page) -> None:
    arrange(page, timeline=rich())
    page.click("#play")
    page.evaluate("() => bench.event('state', {state: 'playing'})")
    page.evaluate("() => bench.heard.context.suspend()")
    page.evaluate("() => bench.event('state', {state: 'interrupted'})")
    page.mouse.click(5, 200)
    page.evaluate("() => bench.until(() => bench.player().state === 'playing')")
    assert [one["state"] for one in told(page, "state")] == ["loading", "playing", "interrupted", "playing"]


def test_samples_are_cut_to_the_frame_at_another_rate(page: Page, site: Site) -> None:
    page.evaluate("() => bench.dump('other', 48000)")
    listed = site.json("other.json")
    site.stored.pop("other.f32")
    manifest = json.loads((site.folder / "kit" / "kit.json").read_text())
    names, dynamics = list(manifest["surfaces"]), ["ghost", "soft", "normal", "accent"]
    cut = {(p["slot"], p["alternate"]): p["frames"] for p in listed["list"]}
    for voice in manifest["voices"]:
        slot = names.index(voice["surface"]) * 4 + dynamics.index(voice["dynamic"])
        assert cut[slot, voice["alternate"]] == int(voice["frames"] * 48000 / manifest["rate"] + 0.5)
    assert len(cut) == len(manifest["voices"]) + 2


def test_another_kit_comes_in_while_playing_only_as_far_as_it_is_needed(page: Page, site: Site) -> None:
    fetched: list[str] = []
    page.on("request", lambda request: fetched.append("/".join(request.url.split("/")[-2:])))
    arrange(page, timeline=timeline([event(0, "floor tom", "accent")], tempo=180))
    page.click("#play")
    page.evaluate("() => bench.event('state', {state: 'playing'})")
    assert not any(name.startswith("hall/") for name in fetched)
    page.evaluate("() => { bench.player().kit = 'kit/hall/kit.json'; }")
    come = "performance.getEntriesByType('resource').filter(({name}) => name.includes('/hall/')).length > 3"
    page.evaluate(f"() => bench.until(() => {come})")
    assert {name.split(".")[0] for name in [n for n in fetched if n.startswith("hall/")][:3]} == {
        "hall/kit", "hall/toms", "hall/click",
    }  # fmt: skip
    sound, _ = recorded(page, site, 5 * RATE)

    def wave(folder: str, alternate: int) -> np.ndarray:
        manifest = json.loads((site.folder / folder / "kit.json").read_text())
        whole = decode((site.folder / folder / manifest["parts"]["toms"]["ogg"]).read_bytes()).astype(np.float64)
        (piece,) = (
            v
            for v in manifest["voices"]
            if (v["surface"], v["dynamic"], v["alternate"]) == ("floor tom", "accent", alternate)
        )
        return whole[piece["start"] : piece["start"] + piece["frames"]]

    def likeness(folder: str, heard: np.ndarray) -> float:
        return max(
            float(np.abs(np.correlate(heard / np.linalg.norm(heard), x / np.linalg.norm(x), "full")).max())
            for x in (wave(folder, k)[:4000] for k in range(2))
        )

    loud = np.flatnonzero(np.abs(sound[0]) > 0.02)
    starts = [int(loud[0]), *(int(b) for a, b in zip(loud, loud[1:], strict=False) if b - a > RATE // 4)]
    first, last = (
        sound[0, max(at - 200, 0) : at + 4000]
        for at in (starts[0], starts[-1 if starts[-1] + 4000 < sound.shape[1] else -2])
    )
    assert likeness("kit", first) > 0.95 > likeness("kit/hall", first)
    assert likeness("kit/hall", last) > 0.95 > likeness("kit", last)
    assert [one["state"] for one in told(page, "state")] == ["loading", "playing"]
