"""Does every stroke sound on its frame for ten minutes, with the page blocked again and again and hidden for a while?

Real Chromium, the real player and kit, recorded by a worklet. The main thread is blocked for one second every ten, and
from the third minute on the page lies for three minutes behind another tab, with the browser's throttling of hidden
pages as it comes. The recording is compared sample by sample with the same samples mixed anew at the exact frames (up to 1e-6
of full scale), strokes and clicks alike: a stroke that is one frame off is told. `click against groove` is the largest
distance of the click and the kick that are both written on 1, over all passes, in frames. The reference is a timer of the same page
that is set for every beat: by how much it comes late.

    python3 engine bench ten_minutes [SECONDS]
"""

from __future__ import annotations

import json
import os
import sys
import tempfile
import time
from collections import Counter
from fractions import Fraction
from pathlib import Path
from typing import Any

import numpy as np
from playwright.sync_api import sync_playwright

from groundbeat.site.tools import ROOT

sys.path.insert(0, str(ROOT))  # for the tests' own page and reference
from tests.browser.audio.conftest import read_kit, sound_site
from tests.browser.audio.hideable import HideablePage
from tests.browser.audio.reference import RATE, Kit, Timeline, compare, mix, pace, passes, place
from tests.browser.audio.timelines import rich

FLAGS = ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking"]
UNTHROTTLED = [  # what Playwright adds and a person's browser has not
    "--disable-backgrounding-occluded-windows",
    "--disable-renderer-backgrounding",
    "--disable-background-timer-throttling",
]
SECONDS = 600
BPM = 104
WINDOW = 20 * RATE
RING = 8 * RATE  # longer than any sample

# A timer for every beat, set anew from the clock each time, as a page without an audio thread would do it.
TIMERS = """(() => {
  const every = 60000 / BPM, begun = performance.now();
  globalThis.late = [];
  globalThis.seen = [document.visibilityState];
  document.addEventListener("visibilitychange", () => seen.push(document.visibilityState));
  let beat = 1;
  const next = () => setTimeout(() => { late.push(performance.now() - begun - beat * every); beat += 1; next(); },
    Math.max(0, begun + beat * every - performance.now()));
  next();
})()"""


def record(page: HideablePage, seconds: int) -> dict[str, Any]:
    """Play, block and hide; return what the page tells about its recording."""
    setting = {"timeline": rich(), "player": {"tempo": BPM, "click": 1, "mix": 0.5}}
    page.evaluate(f"bench.arrange({json.dumps(setting)})")
    if not page.evaluate("bench.player().play()"):
        raise SystemExit(f"it does not play: {page.evaluate('bench.heard.events')}")
    page.evaluate(TIMERS.replace("BPM", str(BPM)))
    page.evaluate("bench.block(1000, 10000)")
    hide, show = 0.3 * seconds, 0.6 * seconds
    begun, hidden = time.monotonic(), False
    while (gone := time.monotonic() - begun) < seconds + 2:
        if not hidden and hide <= gone < show:
            page.hide()
            hidden = True
        if hidden and gone >= show:
            page.show()
            hidden = False
        time.sleep(1)
    page.evaluate(f"bench.recorded({seconds * RATE})")
    told: dict[str, Any] = page.evaluate("bench.deliver('ten')")
    return told | {"late": page.evaluate("late"), "seen": page.evaluate("seen")}


def judge(kit: Kit, sound: np.ndarray, about: dict[str, Any], line: Timeline) -> dict[str, object]:
    """Compare window by window."""
    start, begun, total = about["start"], Fraction(about["begun"]), sound.shape[1]
    loop = line["loop"] * pace(line, BPM)
    sounds = passes(kit, line, BPM, begun, int((start + total - begun) / loop) + 2)
    faults, largest, strokes, clicks = [], 0.0, 0, 0
    turns: Counter[int] = Counter()
    first = 0
    for at in range(0, total, WINDOW):
        low, high = start + at, start + min(at + WINDOW, total)
        while sounds[first].frame < low - RING:
            if not sounds[first].stop:
                turns[sounds[first].surface * 4 + sounds[first].dynamic] += 1
            first += 1
        placed = place(kit, [s for s in sounds[first:] if s.frame < high], {}, before=turns)
        part = sound[:, at : high - start].astype(np.float64)
        faults += [str(fault) for fault in compare(part, placed, low)]
        largest = max(largest, float(np.abs(part - mix(placed, low, part.shape[1])).max()))
        for p in placed:
            if low <= p.sound.frame < high:
                clicks += p.sound.layer == "click"
                strokes += p.sound.layer != "click"
    # A click and a kick are both written on 0, in every pass.
    frames = {s.where: s.frame for s in sounds if s.frame < start + total}
    pairs = [
        (f"click at 0, pass {n}", f"kick normal at 0, pass {n}") for n in range(int((start + total - begun) / loop))
    ]
    apart = [frames[click] - frames[kick] for click, kick in pairs]
    return {
        "strokes": strokes, "clicks": clicks, "passes": int((start + total - begun) / loop),
        "off by a frame or more": len(faults), "which": faults[:5], "largest difference": float(f"{largest:.2g}"),
        "click against groove, frames": max(map(abs, apart)) if not faults else None,
        "silent": bool(np.abs(sound).max() < 0.05),
    }  # fmt: skip


def main() -> None:
    """Print all figures as JSON."""
    seconds = int(sys.argv[1]) if len(sys.argv) > 1 else SECONDS
    with tempfile.TemporaryDirectory() as scratch, sync_playwright() as playwright, sound_site(Path(scratch)) as site:
        chromium = Path("/usr/bin/chromium")
        path = str(chromium) if chromium.exists() else None
        browser = playwright.chromium.launch(executable_path=path, args=FLAGS, ignore_default_args=UNTHROTTLED)
        kit = read_kit(browser, site)
        page = HideablePage(browser, site.address)
        about = record(page, seconds)
        page.close()
        browser.close()
        sound = site.stereo("ten")
        late = sorted(about["late"])
        told = {
            "seconds": round(about["frames"] / about["rate"], 1), "rate": about["rate"],
            **judge(kit, sound, about, rich()),
            "blocked for a second, times": about["blocks"], "the page was": about["seen"], "errors": page.faults,
            "a timer of the page, ms late": {
                "median": round(late[len(late) // 2], 1), "p95": round(late[int(len(late) * 0.95)], 1),
                "most": round(late[-1], 1),
            },
            "load": [round(load, 1) for load in os.getloadavg()],
        }  # fmt: skip
    print(json.dumps({"ten_minutes": told}, indent=1))


if __name__ == "__main__":
    main()
