"""A bare page around the client's own source, with the built worker and runtime, below a path of a site."""

from __future__ import annotations

import shutil
from pathlib import Path
from typing import Any

from playwright.sync_api import Page

from groundbeat.site.tools import ROOT

BELOW = "lessons/groove/"

BARE = """<!doctype html>
<html lang="en" {attributes}><head><meta charset="utf-8"><title>bare</title>
<link rel="icon" href="data:,"><script type="module" src="bare.js"></script></head><body></body></html>
"""

SCRIPT = """
import { EngineClient } from "./client.js";
window.violations = [];
document.addEventListener("securitypolicyviolation", (event) => window.violations.push(event.violatedDirective));
const { worker, runtime } = document.documentElement.dataset;
window.states = [];
window.workers = [];
window.makeClient = () => {
  const makeWorker = (url) => {
    const made = new Worker(url, { type: "module" });
    window.workers.push(made);
    return made;
  };
  const engine = new EngineClient({ worker, runtime, makeWorker });
  engine.addEventListener("state", ({ detail }) => window.states.push(detail));
  return engine;
};
window.settle = (promise) => promise.then((reply) => ({ reply }), ({ name, code, message }) => ({ name, code, message }));
window.loaded = true;
"""


def lay_out(dist: Path, root: Path) -> None:
    """Copy the built folder below a path of `root`, with the bare page in it."""
    folder = root / BELOW
    shutil.copytree(dist, folder, ignore=shutil.ignore_patterns("kit", "*.map", "sw.js"))
    attributes = (dist / "index.html").read_text().split("<html", 1)[1].split(">", 1)[0].replace(' lang="en"', "")
    (folder / "bare.html").write_text(BARE.format(attributes=attributes.strip()))
    (folder / "bare.js").write_text(SCRIPT)
    for name in ("client.js", "faults.js"):
        shutil.copy(ROOT / "web" / "engine" / name, folder / name)
    (root / "index.html").write_text("a site that has Groundbeat somewhere below")


def visit(page: Page, address: str, below: str = BELOW) -> None:
    page.goto(f"{address}{below}bare.html")
    while not page.evaluate("() => window.loaded === true"):
        pass


def ask(page: Page, request: str) -> dict[str, Any]:
    """Ask one question of a client that the page keeps, and return what became of it."""
    told: dict[str, Any] = page.evaluate(f"() => settle((window.engine ??= makeClient()).ask({request}))")
    return told
