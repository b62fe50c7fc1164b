"""What share of its time does the audio thread's program take, at the densest groove?

Sixteen bars of thirty-seconds on every surface of the kit at the fastest tempo: all 64 voices ring all the time. A block of 128
frames must be ready within 2.9 ms at 44.1 kHz. Real Chromium, real kit. Whole: the program in an OfflineAudioContext, on the
thread that renders there, its time over all blocks; the reference is a processor that does nothing, in the same run. By block:
the same program in the page's own thread, because no worklet has a clock; that of a page goes in steps of 0.1 ms. 50 and 99 of 100 blocks are faster.

    python3 engine bench worklet_load
"""

from __future__ import annotations

import json
import os
import sys
import tempfile
from pathlib import Path
from typing import Any

from playwright.sync_api import sync_playwright

from groundbeat.model.kit import SURFACES
from groundbeat.site.tools import ROOT

sys.path.insert(0, str(ROOT))  # for the tests' own page
from tests.browser.audio.conftest import open_page, sound_site
from tests.browser.audio.timelines import QUARTER, event, timeline

FLAGS = ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking"]
RATES = (44100, 48000)
SECONDS = 4
EMPTY = 'registerProcessor("empty", class extends AudioWorkletProcessor { process() { return true; } });'

OFFLINE = """async ([line, seconds, rate]) => {
  const times = { ours: [], empty: [] };
  const commands = [{ kind: "play", frame: 0, programme: { entries: [{ timeline: 0, passes: 0, tag: 0 }], then: "stay" } }];
  await bench.render("warm", [line], commands, rate, rate); // decodes the kit
  for (let n = 0; n < 3; n += 1) {
    times.ours.push(await bench.timed([line], commands, seconds * rate, rate));
    const context = new OfflineAudioContext(2, seconds * rate, rate);
    await context.audioWorklet.addModule("empty.js");
    new AudioWorkletNode(context, "empty", { numberOfInputs: 0, outputChannelCount: [2] }).connect(context.destination);
    const begun = performance.now();
    await context.startRendering();
    times.empty.push(performance.now() - begun);
  }
  return { ours: Math.min(...times.ours), empty: Math.min(...times.empty) };
}"""

BLOCKS = """async ([line, seconds, rate]) => {
  const commands = await bench.commandsFor([line], [{ kind: "play",
    programme: { entries: [{ timeline: 0, passes: 0, tag: 0 }], then: "stay" } }], rate);
  globalThis.sampleRate = rate;
  globalThis.currentFrame = 0;
  globalThis.AudioWorkletProcessor ??= class { port = { postMessage() {} }; };
  let Program = null;
  globalThis.registerProcessor = (_, kind) => { Program = kind; };
  await import(`./processor.js?${rate}`);
  const program = new Program({ processorOptions: { commands } });
  const output = [[new Float32Array(128), new Float32Array(128)]];
  const times = [];
  for (let k = 0; k < (seconds * rate) / 128; k += 1) {
    const begun = performance.now();
    program.process([], output);
    times.push(performance.now() - begun);
    globalThis.currentFrame += 128;
  }
  return times.slice(times.length / 4); // while few ring yet, and before it is compiled
}"""


def densest() -> dict[str, Any]:
    """Every surface on every thirty-second of sixteen bars."""
    row = [event(k * QUARTER // 8, one.name, "accent") for k in range(16 * 32) for one in SURFACES]
    return timeline(row, loop=16 * 4 * QUARTER, tempo=300)


def main() -> None:
    """Print all figures as JSON."""
    line, told = densest(), {}
    with tempfile.TemporaryDirectory() as scratch, sync_playwright() as playwright, sound_site(Path(scratch)) as site:
        (site.folder / "empty.js").write_text(EMPTY)
        chromium = Path("/usr/bin/chromium")
        path = str(chromium) if chromium.exists() else None
        browser = playwright.chromium.launch(executable_path=path, args=FLAGS)
        for rate in RATES:
            page = open_page(browser, site)
            whole = page.evaluate(OFFLINE, [line, SECONDS, rate])
            blocks = sorted(page.evaluate(BLOCKS, [line, SECONDS, rate]))
            page.close()
            deadline = 128000 / rate
            told[f"{rate} Hz"] = {
                "deadline of a block, ms": round(deadline, 2),
                "whole, percent of the deadline": round(whole["ours"] / SECONDS / 10, 2),
                "a processor that does nothing, percent": round(whole["empty"] / SECONDS / 10, 2),
                "ratio": round(whole["ours"] / whole["empty"], 1),
                "block, p50, percent": round(100 * blocks[len(blocks) // 2] / deadline, 1),
                "block, p99, percent": round(100 * blocks[len(blocks) * 99 // 100] / deadline, 1),
                "strokes a second": round(len(line["events"]) / (64 * 60 / 300)),
            }
        browser.close()
    print(json.dumps({"worklet_load": told | {"load": [round(load, 1) for load in os.getloadavg()]}}, indent=1))


if __name__ == "__main__":
    main()
