"""How long from the click on Play to the first sample that is not zero?

Real Chromium, the built page. Cold: the first play of a page that has just become ready (the sound device is opened, the
sounds are fetched and decoded). Warm: every later one. The first sample is noticed on the audio thread; its time is read by
the page's clock when the news comes, and so is a little late (by a block and a message); `audio time` is from the context's
time at the click to that frame. What the device then takes to the ear is the browser's `latency`. The groove begins with a
stroke on 1 and has no grace before it; no count-in. The reference is an oscillator that is started by a click of the same page.

    python3 engine bench first_sound
"""

from __future__ import annotations

import json
import os
import statistics
import sys
import tempfile
from pathlib import Path
from typing import Any

from playwright.sync_api import Page, sync_playwright

from groundbeat.codec.groove_read import read_groove
from groundbeat.codec.link import write_link
from groundbeat.site.tools import ROOT

sys.path.insert(0, str(ROOT))  # for the tests' own listener
from tests.browser.audio.listening_in import BEFORE, tapped

FLAGS = ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking"]
PAGES = 5
AGAIN = 6

CLICKS = """addEventListener("click", () => {
  const { context } = heard;
  heard.onsets.length = 0;
  heard.click = performance.now();
  heard.time = context?.currentTime ?? null;
}, true)"""
FIRST = """async () => {
  while (heard.onsets.length === 0) await new Promise((resolve) => setTimeout(resolve, 5));
  const { context, onsets: [{ frame, lead, told }], click, time } = heard;
  return { ms: told - click, audio: time === null ? null : 1000 * ((frame + lead) / context.sampleRate - time),
    latency: 1000 * (context.outputLatency || context.baseLatency) };
}"""
OSCILLATOR = """async () => {
  const { context } = heard;
  const times = [];
  for (let n = 0; n < 6; n += 1) {
    heard.onsets.length = 0;
    const ear = new AudioWorkletNode(context, "onsets");
    ear.port.onmessage = ({ data }) => heard.onsets.push({ ...data, told: performance.now() });
    ear.connect(context.destination);
    await new Promise((resolve) => setTimeout(resolve, 300));
    const begun = performance.now();
    const tone = new OscillatorNode(context, { frequency: 100 });
    tone.connect(ear);
    tone.start();
    while (heard.onsets.length === 0) await new Promise((resolve) => setTimeout(resolve, 5));
    times.push(heard.onsets[0].told - begun);
    tone.stop();
    ear.disconnect();
  }
  return times;
}"""


def press(page: Page) -> dict[str, Any]:
    """Press Play, wait for sound, stop, and wait for silence."""
    page.get_by_role("button", name="Play", exact=True).click()
    found: dict[str, Any] = page.evaluate(FIRST)
    page.get_by_role("button", name="Stop", exact=True).click()
    page.wait_for_timeout(400)
    return found


def told(row: list[float]) -> dict[str, float]:
    """Median and longest."""
    return {"median": round(statistics.median(row), 1), "longest": round(max(row), 1), "of": len(row)}


def main() -> None:
    """Print all figures as JSON."""
    groove = read_groove((ROOT / "examples" / "slack-tide.toml").read_text())
    cold, warm, audio, latency, tones = [], [], [], 0.0, []
    with tempfile.TemporaryDirectory() as scratch, sync_playwright() as playwright, tapped(Path(scratch)) as address:
        chromium = Path("/usr/bin/chromium")
        path = str(chromium) if chromium.exists() else None
        for _ in range(PAGES):
            browser = playwright.chromium.launch(executable_path=path, args=FLAGS)
            page = browser.new_context(service_workers="block").new_page()
            page.add_init_script(BEFORE + ";" + CLICKS)
            page.goto(f"{address}#{write_link(groove)}")
            page.locator("gb-starting").wait_for(state="detached", timeout=60_000)
            page.wait_for_timeout(1500)
            cold.append(press(page)["ms"])
            for _ in range(AGAIN):
                found = press(page)
                warm.append(found["ms"])
                audio.append(found["audio"])
                latency = found["latency"]
            tones += page.evaluate(OSCILLATOR)
            browser.close()
    row = {
        "cold, ms": told(cold), "warm, ms": told(warm), "warm, audio time, ms": told(audio),
        "an oscillator, ms": told(tones), "ratio": round(statistics.median(warm) / statistics.median(tones), 2),
        "latency the browser states, ms": round(latency, 1), "load": [round(load, 1) for load in os.getloadavg()],
    }  # fmt: skip
    print(json.dumps({"first_sound": row}, indent=1))


if __name__ == "__main__":
    main()
