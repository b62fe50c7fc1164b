"""Does a change while it plays click? The largest step from one frame to the next, against that of the plain sound.

The audio thread's program in real Chromium with the real kit, without a device. Two kinds of sound are changed on the same frame, a
whole block. Ringing: cymbals half a second after their stroke, with nothing struck after it; told are the largest step within
30 ms after the change and within 30 ms before it, and their ratio: above 1 it would click. Groove: a dense bar that goes
on; the largest step from the change to one second after it, against the largest of the same groove that is left alone and
that of what it is changed to. Steps are in decibels of full scale. The reference, in the same run: the ringing sound cut off.
The limiter does nothing at these levels. tests/browser/audio/test_steps.py holds the same by test.

    python3 engine bench largest_step
"""

from __future__ import annotations

import json
import math
import os
import sys
import tempfile
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray
from playwright.sync_api import Page, sync_playwright

from groundbeat.site.tools import ROOT

sys.path.insert(0, str(ROOT))  # for the tests' own page and cases
from tests.browser.audio.conftest import Site, open_page, sound_site
from tests.browser.audio.reference import RATE
from tests.browser.audio.test_processor import gains, play
from tests.browser.audio.test_steps import AROUND, AT, CHANGES, CYMBALS, TOMS, largest
from tests.browser.audio.timelines import Timeline, rich, sevens

FLAGS = ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking"]
UNTIL = 3 * RATE
CHANGED = 450 * 128  # frame of the change in the groove
GROOVE: dict[str, list[dict[str, Any]]] = {
    "swap at once": [play((1, 0), kind="programme", at="now", frame=CHANGED)],
    "swap at the loop point": [play((1, 0), kind="programme", at="loop", frame=CHANGED)],
    "another tempo": [{"kind": "retime", "frame": CHANGED, "bpm": 97.3}],
    "a drag of the tempo": [{"kind": "retime", "frame": CHANGED + 768 * k, "bpm": 104 + 4 * k} for k in range(49)],
    "a line muted": [gains(crash=0.0) | {"frame": CHANGED}],
    "the hi-hat muted": [gains(**{"hi-hat": 0.0}) | {"frame": CHANGED}],
    "the slider dragged": [gains(stage=1 - k / 40) | {"frame": CHANGED + 256 * k} for k in range(41)],
    "only what was added": [gains(only=1) | {"frame": CHANGED}],
    "stop": [{"kind": "stop", "frame": CHANGED}],
}


class Desk:
    """Renders commands in the page."""

    def __init__(self, page: Page, site: Site) -> None:
        self._page, self._site = page, site

    def render(self, lines: list[Timeline], commands: list[dict[str, Any]], frames: int) -> NDArray[np.float64]:
        """Give two rows of frames."""
        told = [lines, commands, frames]
        self._page.evaluate("([lines, commands, frames]) => bench.render('sound', lines, commands, frames)", told)
        return self._site.stereo("sound").astype(np.float64)


def decibels(step: float) -> float:
    """Tell a size in decibels of full scale."""
    return round(20 * math.log10(step), 1) if step else -math.inf


def ringing(desk: Desk) -> dict[str, object]:
    """Change what only rings."""
    told: dict[str, object] = {}
    for name, commands in CHANGES.items():
        sound = desk.render([CYMBALS, TOMS], [play((0, 0)), *commands], AT + 2 * AROUND)
        before, after = largest(sound, AT - AROUND, AT), largest(sound, AT, AT + AROUND)
        told[name] = {"before": decibels(before), "after": decibels(after), "ratio": round(after / before, 3)}
    alone = desk.render([CYMBALS], [play((0, 0))], AT + 2 * AROUND)
    left = largest(alone, AT, AT + AROUND)
    loud = AT + int(np.abs(alone[:, AT : AT + AROUND]).max(axis=0).argmax())
    cut = float(np.abs(alone[:, loud]).max())
    before = largest(alone, AT - AROUND, AT)
    told["left alone"] = {"before": decibels(before), "after": decibels(left), "ratio": round(left / before, 3)}
    told["reference: cut off"] = {"before": decibels(before), "after": decibels(cut), "ratio": round(cut / before, 3)}
    return told


def groove(desk: Desk) -> dict[str, object]:
    """Change what goes on sounding."""
    lines = [rich(), sevens() | {"tempo": 104}]
    plain = [largest(desk.render([line], [play((0, 0))], UNTIL), 1, UNTIL) for line in lines]
    told: dict[str, object] = {"left alone": {"first": decibels(plain[0]), "second": decibels(plain[1])}}
    for name, commands in GROOVE.items():
        sound = desk.render(lines, [play((0, 0)), *commands], UNTIL)
        step = largest(sound, CHANGED, CHANGED + RATE)
        most = max(plain) if "swap" in name else plain[0]
        told[name] = {"after": decibels(step), "ratio": round(step / most, 3)}
    return told


def main() -> None:
    """Print all figures as JSON."""
    with tempfile.TemporaryDirectory() as scratch, sync_playwright() as playwright, sound_site(Path(scratch)) as site:
        chromium = Path("/usr/bin/chromium")
        path = str(chromium) if chromium.exists() else None
        browser = playwright.chromium.launch(executable_path=path, args=FLAGS)
        desk = Desk(open_page(browser, site), site)
        told = {"ringing": ringing(desk), "groove": groove(desk), "load": [round(load, 1) for load in os.getloadavg()]}
        browser.close()
    print(json.dumps({"largest_step": told}, indent=1))


if __name__ == "__main__":
    main()
