"""What share of its time does the audio thread's program take, at the densest groove?

Sixteen bars of thirty-seconds on every surface of the kit at the fastest tempo: all 64 voices ring all the time. A block of 128
frames must be ready within 2.9 ms at 44.1 kHz; our bound is 25 % of that. Real Chromium, real kit. Whole: the program in an
OfflineAudioContext, on the thread that renders there; what a longer rendering takes more than a shorter one, so that handing over
the samples does not count. By block: the same program in the page's own thread, because no worklet has a clock. The page is
isolated from others, so that its clock goes in steps of 5 us. 50 and 99 of 100 blocks are faster. The reference is a processor
that does nothing, in the same run and timed alike. Every rendering is done several times, and of each length, and of each
block, the fastest counts: what other programs of the machine take is not the program's. `as it came` is the slowest hundredth
of the first time, with all that.

    python3 engine bench worklet_load
"""

from __future__ import annotations

import json
import os
import sys
import tempfile
from pathlib import Path
from typing import Any

from playwright.sync_api import Browser, Page, Route, sync_playwright

from groundbeat.model.kit import SURFACES
from groundbeat.site.tools import ROOT

sys.path.insert(0, str(ROOT))  # for the tests' own page
from tests.browser.audio.conftest import Site, sound_site
from tests.browser.audio.timelines import QUARTER, event, timeline

FLAGS = ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking"]
RATES = (44100, 48000)
SECONDS = (2, 5)
TIMES = 4
BOUND = 25  # percent of the deadline
ALONE = {"Cross-Origin-Opener-Policy": "same-origin", "Cross-Origin-Embedder-Policy": "require-corp"}
EMPTY = 'registerProcessor("empty", class extends AudioWorkletProcessor { process() { return true; } });'

OFFLINE = """async ([text, seconds, times, rate]) => {
  const line = JSON.parse(text);
  const commands = [{ kind: "play", frame: 0, programme: { entries: [{ timeline: 0, passes: 0, tag: 0 }], then: "stay" } }];
  const least = { ours: [Infinity, Infinity], empty: [Infinity, Infinity] };
  const keep = (who, at, took) => { least[who][at] = Math.min(least[who][at], took); };
  for (let n = 0; n < times; n += 1) {
    for (const at of [0, 1]) {
      const frames = seconds[at] * rate;
      keep("ours", at, await bench.timed([line], commands, frames, rate));
      const context = new OfflineAudioContext(2, frames, rate);
      await context.audioWorklet.addModule("empty.js");
      new AudioWorkletNode(context, "empty", { numberOfInputs: 0, outputChannelCount: [2] }).connect(context.destination);
      const begun = performance.now();
      await context.startRendering();
      keep("empty", at, performance.now() - begun);
    }
  }
  const each = ([short, long]) => (long - short) / (seconds[1] - seconds[0]);
  return { ours: each(least.ours), empty: each(least.empty) }; // milliseconds a second
}"""

BLOCKS = """async ([text, seconds, times, rate]) => {
  const commands = await bench.commandsFor([JSON.parse(text)], [{ kind: "play",
    programme: { entries: [{ timeline: 0, passes: 0, tag: 0 }], then: "stay" } }], rate);
  globalThis.sampleRate = rate;
  globalThis.AudioWorkletProcessor ??= class { port = { postMessage() {} }; };
  const found = {};
  globalThis.registerProcessor = (name, kind) => { found[name] = kind; };
  await import("./processor.js");
  await import("./empty.js");
  const output = [[new Float32Array(128), new Float32Array(128)]];
  const told = {};
  for (const [name, Program] of Object.entries(found)) {
    let least = null, first = null;
    for (let n = 0; n < times; n += 1) {
      globalThis.currentFrame = 0;
      const program = new Program({ processorOptions: { commands } });
      const took = [];
      for (let k = 0; k < (seconds * rate) / 128; k += 1) {
        const begun = performance.now();
        program.process([], output);
        took.push(performance.now() - begun);
        globalThis.currentFrame += 128;
      }
      const late = took.slice(took.length / 4); // while few ring yet, and before it is compiled
      first ??= late;
      least = least === null ? late : least.map((ms, at) => Math.min(ms, late[at]));
    }
    const at = (row, share) => [...row].sort((a, b) => a - b)[Math.floor(row.length * share)];
    told[name] = { p50: at(least, 0.5), p99: at(least, 0.99), came: at(first, 0.99), loud: output[0][0].some((x) => x !== 0) };
  }
  return { ...told, alone: crossOriginIsolated };
}"""


def densest() -> dict[str, Any]:
    """Every surface on every thirty-second of sixteen bars."""
    row = [event(k * QUARTER // 8, one.name, "accent") for k in range(16 * 32) for one in SURFACES]
    return timeline(row, loop=16 * 4 * QUARTER, tempo=300)


def isolated(browser: Browser, site: Site) -> Page:
    """Open the tests' page with the headers that give it a fine clock."""
    page = browser.new_page()

    def answer(route: Route) -> None:
        got = route.fetch()
        route.fulfill(response=got, headers=got.headers | ALONE)

    page.route("**/page.html", answer)
    page.goto(site.address)
    return page


def main() -> None:
    """Print all figures as JSON."""
    line = densest()
    text = json.dumps(line)  # as a text: so many objects one by one would take Playwright half a minute
    told: dict[str, Any] = {"strokes a second": round(len(line["events"]) / (64 * 60 / 300)), "bound, percent": BOUND}
    with tempfile.TemporaryDirectory() as scratch, sync_playwright() as playwright, sound_site(Path(scratch)) as site:
        (site.folder / "empty.js").write_text(EMPTY)
        chromium = Path("/usr/bin/chromium")
        path = str(chromium) if chromium.exists() else None
        browser = playwright.chromium.launch(executable_path=path, args=FLAGS)
        for rate in RATES:
            page = isolated(browser, site)
            whole = page.evaluate(OFFLINE, [text, SECONDS, TIMES, rate])
            blocks = page.evaluate(BLOCKS, [text, SECONDS[1], TIMES, rate])
            page.close()
            if not blocks["alone"] or not blocks["groundbeat"]["loud"]:
                raise SystemExit(f"the page has no fine clock, or nothing sounded: {blocks}")
            percent = 0.1 * rate / 128  # of the deadline, a millisecond of a block
            ours, empty = blocks["groundbeat"], blocks["empty"]
            told[f"{rate} Hz"] = {
                "deadline of a block, ms": round(100 / percent, 2),
                "whole, percent": round(whole["ours"] / 10, 2),
                "whole, a processor that does nothing, percent": round(whole["empty"] / 10, 2),
                "whole, ratio": round(whole["ours"] / whole["empty"], 1),
                "block, p50, percent": round(ours["p50"] * percent, 2),
                "block, p99, percent": round(ours["p99"] * percent, 2),
                "block, p99 as it came, percent": round(ours["came"] * percent, 2),
                "a block that does nothing, p50, p99, as it came, percent": [
                    round(empty[name] * percent, 3) for name in ("p50", "p99", "came")
                ],
            }
        browser.close()
    print(json.dumps({"worklet_load": told | {"load": [round(load, 1) for load in os.getloadavg()]}}, indent=1))


if __name__ == "__main__":
    main()
