"""How far is what is drawn from what is heard, over one minute?

Real Chromium, the real player and kit, recorded by a worklet. At every frame of the picture the place of the light is read
as the page reads it (player.position()), with the page's clock. When a frame of the sound is heard is taken from the pairs
of times that the browser states for its device (getOutputTimestamp), as a straight line through all of them: the device
runs evenly, though single pairs do not; how far they lie from the line is told. The recording is compared with the same
sound mixed anew, so every onset is on the frame that is counted with, or the bench fails.

`light`: the place that is drawn less the one that is heard, at every frame of the picture. `strokes`: for every stroke, when
the first picture shows its place, less when it is heard: by chance up to a frame of the picture late. Positive is late. Times
are those of drawing; the screen follows, the same for all. The reference, in the same run: the context's time as it is,
without the page's smoothing and without the latency. The latency is what the browser states: with headphones without
a wire it may be wrong, for which there is the offset.

    python3 engine bench sync [SECONDS]
"""

from __future__ import annotations

import json
import os
import sys
import tempfile
import time
from fractions import Fraction
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray
from playwright.sync_api import sync_playwright

from groundbeat.site.tools import ROOT

sys.path.insert(0, str(ROOT))  # for the tests' own page and reference
from tests.browser.audio.conftest import open_page, read_kit, sound_site
from tests.browser.audio.reference import RATE, compare, pace, passes, place
from tests.browser.audio.timelines import rich

FLAGS = ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking"]
SECONDS = 60
BPM = 104

WATCH = """(() => {
  globalThis.rows = [];
  const look = () => {
    const { context } = bench.heard;
    const place = bench.player().position();
    const now = performance.now();
    if (place !== null && !place.lead) {
      const { contextTime, performanceTime } = context.getOutputTimestamp();
      rows.push([now, place.pass, place.ticks, contextTime, performanceTime, context.currentTime, context.outputLatency, context.baseLatency]);
    }
    requestAnimationFrame(look);
  };
  requestAnimationFrame(look);
})()"""


def spread(row: NDArray[np.float64]) -> dict[str, float]:
    """Mean, and the sizes that 95 of 100 do not exceed, and none; milliseconds."""
    size = np.abs(row)
    told = {"mean": row.mean(), "median": np.median(row), "p95": np.quantile(size, 0.95), "worst": size.max()}
    return {name: round(float(value), 2) for name, value in told.items()} | {"of": len(row)}


def main() -> None:
    """Print all figures as JSON."""
    seconds, line = int(sys.argv[1]) if len(sys.argv) > 1 else SECONDS, rich()
    with tempfile.TemporaryDirectory() as scratch, sync_playwright() as playwright, sound_site(Path(scratch)) as site:
        chromium = Path("/usr/bin/chromium")
        path = str(chromium) if chromium.exists() else None
        browser = playwright.chromium.launch(executable_path=path, args=FLAGS)
        kit = read_kit(browser, site)
        page = open_page(browser, site)
        page.evaluate(f"bench.arrange({json.dumps({'timeline': line, 'player': {'tempo': BPM, 'click': 1}})})")
        page.click("#play")
        page.evaluate(WATCH)
        time.sleep(seconds)
        page.evaluate(f"bench.recorded({seconds * RATE})")
        rows = np.array(page.evaluate("rows"), dtype=np.float64)
        about: dict[str, Any] = page.evaluate("bench.deliver('sync')")
        browser.close()
        sound = site.stereo("sync")
    loop = line["loop"] * pace(line, BPM)
    begun, start, frames = about["begun"], about["start"], about["frames"]
    sounds = passes(kit, line, BPM, Fraction(begun), int((start + frames - begun) / loop) + 2)
    faults = compare(sound.astype(np.float64), place(kit, sounds, {}), start)
    if faults or np.abs(sound).max() < 0.05:
        raise SystemExit(f"the recording is not what it should be: {[str(fault) for fault in faults[:5]]}")
    print(
        json.dumps(
            {"sync": figures(rows, begun, float(loop), line["loop"] / line["parts"], {s.frame for s in sounds})},
            indent=1,
        )
    )


def figures(rows: NDArray[np.float64], begun: float, loop: float, ticks: float, onsets: set[int]) -> dict[str, object]:
    """Compare what was drawn with the device's times; frames, milliseconds."""
    now, passed, place_, context, at, current, latency, base = rows.T
    stated = context > 0
    slope, rest = np.polyfit(at[stated] - now[0], context[stated] * RATE, 1)  # the frame that is heard at a time
    heard = (now - now[0]) * slope + rest
    drawn = begun + (passed + place_ / ticks) * loop
    ms = 1000 / RATE
    stray = (context[stated] * RATE - ((at[stated] - now[0]) * slope + rest)) * ms
    shown = []
    for frame in sorted(onsets):
        after = int(np.searchsorted(drawn, frame))
        if 0 < after < len(drawn) and frame > begun:
            shown.append(now[after] - now[0] - (frame - rest) / slope)
    steps = np.diff(now)
    late = (heard - drawn) * ms
    worst = int(np.abs(late).argmax())
    return {
        "seconds": round((now[-1] - now[0]) / 1000, 1),
        "light, ms late": spread(late),
        "more than 20 ms off, of 1000 frames": round(1000 * float((np.abs(late) > 20).mean()), 1),
        "the worst was at, s": round((now[worst] - now[0]) / 1000, 2),
        "after a frame of, ms": round(float(steps[worst - 1]), 1) if worst else None,
        "strokes, ms late": spread(np.array(shown)),
        "frame of the picture, ms": {"median": round(float(np.median(steps)), 1), "longest": round(float(steps.max()), 1)},
        "the context's time alone, ms late": spread((heard - current * RATE) * ms),
        "latency the browser states, ms": round(1000 * float(np.median(np.where(latency > 0, latency, base))), 1),
        "device's times off their line, ms": spread(stray),
        "device's clock against the page's": round(slope * 1000 / RATE, 6),
        "load": [round(load, 1) for load in os.getloadavg()],
    }  # fmt: skip


if __name__ == "__main__":
    main()
