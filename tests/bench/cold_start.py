"""How long from nothing to the first answer, against Pyodide as it comes?

Real Chromium, one server, alternating runs, each in a fresh browser with an empty cache. Bare: a module
worker that calls loadPyodide() on npm's own files and one runPython. Ours: the page's worker, from its start
to the answer of a first question (hello), and on to the example opened with all its stages. Times are
milliseconds in the page.

    python3 engine bench cold_start
"""

from __future__ import annotations

import json
import shutil
import statistics
import sys
import tempfile
from pathlib import Path

from playwright.sync_api import sync_playwright

from groundbeat.site.build import DIST, build_if_stale
from groundbeat.site.server import serving
from groundbeat.site.tools import ROOT, packages

RUNS = 7
FLAGS = [
    *("--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking"),
    *("--disable-component-update", "--disable-sync"),
]
BARE_FILES = ("pyodide.mjs", "pyodide.asm.mjs", "pyodide.asm.wasm", "python_stdlib.zip", "pyodide-lock.json")

PAGE = """<!doctype html>
<html><head><meta charset="utf-8"><title>{name}</title>
<script type="module" src="{name}.js"></script></head></html>
"""

BARE_PAGE = """
window.run = () => new Promise((resolve) => {
  const started = performance.now();
  const worker = new Worker("bare-worker.js", { type: "module" });
  worker.onmessage = (event) => resolve({ answered: performance.now() - started, reply: event.data });
});
"""

BARE_WORKER = """
import { loadPyodide } from "./bare/pyodide.mjs";
const python = await loadPyodide();
self.postMessage(python.runPython("6 * 7"));
"""

OUR_PAGE = """
window.run = ({ worker: url, runtime, example }) => new Promise((resolve, reject) => {
  const started = performance.now();
  const since = () => performance.now() - started;
  const times = {};
  const worker = new Worker(url, { type: "module" });
  worker.postMessage({ start: { runtime: new URL(runtime, location).href } });
  worker.onmessage = ({ data }) => {
    if (data.failed) reject(new Error(data.failed.message));
    else if (data.progress?.stage === "ready") worker.postMessage({ n: 1, text: '{"ask":"hello"}' });
    else if (data.progress) times[data.progress.stage] ??= since();
    else if (data.n === 1) {
      times.answered = since();
      worker.postMessage({ n: 2, text: JSON.stringify({ ask: "open", text: example }) });
    } else resolve({ ...times, opened: since(), reply: data.text });
  };
});
"""


def make_folder(folder: Path) -> dict[str, str]:
    """Copy the built page into `folder`, put the bare one beside it, and tell where our parts are."""
    shutil.copytree(DIST, folder, dirs_exist_ok=True)
    bare = folder / "bare"
    bare.mkdir()
    for name in BARE_FILES:
        shutil.copyfile(packages(ROOT / "web") / "pyodide" / name, bare / name)
    for name, text in {"bare-page": BARE_PAGE, "bare-worker": BARE_WORKER, "our-page": OUR_PAGE}.items():
        (folder / f"{name}.js").write_text(text)
        (folder / f"{name}.html").write_text(PAGE.format(name=name))
    (runtime,) = (path for path in (folder / "py").iterdir() if path.is_dir())
    (worker,) = (folder / "app").glob("worker-*.js")
    return {"worker": f"app/{worker.name}", "runtime": f"py/{runtime.name}/"}


def measure() -> dict[str, object]:
    """Run both in turn and return medians, their ratio, and every run."""
    build_if_stale(DIST)
    example = (ROOT / "examples" / "slack-tide.toml").read_text()
    chromium = Path("/usr/bin/chromium")
    path = str(chromium) if chromium.exists() else None
    runs: dict[str, list[dict[str, float]]] = {"bare": [], "ours": []}
    with tempfile.TemporaryDirectory() as scratch, sync_playwright() as playwright:
        folder = Path(scratch) / "dist-bench"
        parts = make_folder(folder)
        with serving(folder) as address:
            for number in range(RUNS + 1):
                for kind in ("bare", "ours"):
                    browser = playwright.chromium.launch(executable_path=path, args=FLAGS)
                    page = browser.new_page()
                    page.goto(address + ("bare-page.html" if kind == "bare" else "our-page.html"))
                    page.wait_for_load_state("load")
                    times = page.evaluate("(given) => window.run(given)", {**parts, "example": example})
                    browser.close()
                    reply = times.pop("reply")
                    if kind == "bare":
                        assert reply == 42, reply
                    else:
                        assert "refused" not in json.loads(reply), reply
                    # The first round of each warms the server's memory and the disk, and does not count.
                    if number:
                        runs[kind].append({key: round(value) for key, value in times.items()})
    medians = {
        kind: {key: statistics.median(run[key] for run in kept) for key in kept[0]} for kind, kept in runs.items()
    }
    ratio = medians["ours"]["answered"] / medians["bare"]["answered"]
    return {"cold_start_ms": medians, "ratio_ours_to_bare": round(ratio, 3), "runs": runs}


if __name__ == "__main__":
    json.dump(measure(), sys.stdout, indent=1)
    print()
