"""The player in a real Chromium for 60 s at two tempi, its main thread blocked again and again, one page hidden for a while.

Everything it puts out is recorded by a worklet and compared, sample by sample, with the same samples mixed anew at the
exact frames.
"""

from __future__ import annotations

import json
from collections import Counter
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Any

import numpy as np
import pytest
from numpy.typing import NDArray
from playwright.sync_api import Browser

from .conftest import Site, open_page
from .hideable import HideablePage
from .reference import RATE, TOLERANCE, Kit, Placed, Timeline, compare, mix, pace, passes, place
from .timelines import rich, sevens

SECONDS = 60
TEMPI = (104, 137)
MADE = {104: rich, 137: sevens}
WATCH = """(() => {
  globalThis.seen = [document.visibilityState];
  document.addEventListener("visibilitychange", () => seen.push(document.visibilityState));
})()"""


@dataclass(frozen=True, slots=True)
class Recording:
    sound: NDArray[np.float32]
    about: dict[str, Any]
    placed: list[Placed]
    timeline: Timeline


@pytest.fixture(scope="module")
def recordings(chromium: Browser, site: Site, kit: Kit) -> dict[int, Recording]:
    """Play both tempi at the same time, each in a page of its own; the faster one lies behind another tab for a third."""
    pages: dict[int, Any] = {104: open_page(chromium, site), 137: HideablePage(chromium, site.address)}
    for bpm, page in pages.items():
        setting = {"timeline": MADE[bpm](), "player": {"tempo": bpm, "click": 1, "mix": 0.5}, "watch": True}
        page.evaluate(f"bench.arrange({json.dumps(setting)})")
        page.evaluate(WATCH)
        if bpm == 104:
            page.click("#play")
        else:
            page.evaluate("bench.player().play()")
        page.evaluate("bench.block(500, 4000)")
    for frames, act in ((20, pages[137].hide), (40, pages[137].show)):
        pages[104].evaluate(f"bench.recorded({frames * RATE})")
        act()
    made = {}
    for bpm, page in pages.items():
        page.evaluate(f"bench.recorded({SECONDS * RATE})")
        about = page.evaluate(f"bench.deliver('tempo{bpm}')") | {"seen": page.evaluate("globalThis.seen")}
        page.close()
        assert page.faults == []
        line, start = MADE[bpm](), Fraction(about["begun"])
        count = int(about["frames"] / (line["loop"] * pace(line, bpm))) + 2
        middle = float(np.float32(0.5**0.5))  # of the slider
        placed = place(kit, passes(kit, line, bpm, start, count), {"base": middle, "stage": middle})
        made[bpm] = Recording(site.stereo(f"tempo{bpm}"), about, placed, line)
    return made


@pytest.mark.parametrize("bpm", TEMPI)
def test_every_onset_is_on_its_frame_for_sixty_seconds(recordings: dict[int, Recording], bpm: int) -> None:
    made = recordings[bpm]
    start, frames = made.about["start"], made.about["frames"]
    assert made.about["rate"] == RATE
    assert made.about["blocks"] >= 10
    assert made.about["seen"] == (["visible", "hidden", "visible"] if bpm == 137 else ["visible"])
    assert frames + start - made.about["begun"] >= SECONDS * RATE
    assert [str(fault) for fault in compare(made.sound, made.placed, start)] == []
    assert np.abs(made.sound - mix(made.placed, start, frames)).max() < TOLERANCE
    strokes = [p for p in made.placed if start <= p.sound.frame < start + frames]
    assert len(strokes) > 600
    assert np.abs(made.sound).max() > 0.05


@pytest.mark.parametrize(("bpm", "surface"), [(104, "kick"), (137, "cross-stick")])
def test_a_voice_shifted_by_two_frames_is_noticed_each_time(
    recordings: dict[int, Recording], kit: Kit, bpm: int, surface: str
) -> None:
    made = recordings[bpm]
    number = kit.names.index(surface)
    shifted = [replace(p, sound=replace(p.sound, shift=2)) if p.sound.surface == number else p for p in made.placed]
    start = made.about["start"]
    part = made.sound[:, : 20 * RATE]
    found = compare(part, shifted, start, most=1000)
    there = [p for p in made.placed if p.sound.surface == number and p.sound.frame + 2 < start + part.shape[1]]
    assert len(there) > 10
    assert Counter(f.late for f in found) == {-2: len(there)}
    assert {f.where for f in found} == {p.sound.where for p in there}


@pytest.mark.parametrize("bpm", TEMPI)
def test_what_is_drawn_follows_what_is_heard(recordings: dict[int, Recording], bpm: int) -> None:
    made = recordings[bpm]
    line = made.timeline
    loop, ticks = float(line["loop"] * pace(line, bpm)), line["loop"] / line["parts"]
    row = np.array(made.about["positions"])
    assert len(row) > 1000
    drawn = row[:, 1] + row[:, 2] / ticks
    heard = np.maximum(0, (row[:, 0] - made.about["begun"]) / loop)
    assert np.diff(drawn).min() >= 0
    off = np.abs(drawn - heard) * loop / RATE
    print(f"drawn against heard at {bpm}: median {np.median(off):.4f} s, 99 of 100 {np.quantile(off, 0.99):.4f} s")
    assert np.quantile(off, 0.99) < 0.030
    assert np.median(off) < 0.015
