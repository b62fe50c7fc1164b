"""After one visit the folder opens without its server: every file that the page and its worker load is kept."""

from __future__ import annotations

import json
import re
from pathlib import Path

from playwright.sync_api import Browser

from groundbeat.site.report import MARK
from groundbeat.site.server import serving

CHOSEN = re.compile(r"kit/\w+/.*\.(ogg|mp3)$")  # sounds of the kits that have to be chosen
KEEP = "() => navigator.serviceWorker.register('./sw.js').then(() => navigator.serviceWorker.ready).then(() => true)"
FETCH = """(names) => Promise.all(names.map(async (name) => {
  const response = await fetch(name);
  return [name, (await response.arrayBuffer()).byteLength];
}))"""


def test_everything_is_there_when_the_server_is_gone(dist: Path, chromium: Browser) -> None:
    files = json.loads((dist / MARK).read_text())["report"]["files"]
    wanted = {name: sizes["raw"] for name, sizes in files.items() if name != "sw.js" and not CHOSEN.match(name)}
    chosen = sorted(name for name in files if CHOSEN.match(name))
    context = chromium.new_context()
    page = context.new_page()
    with serving(dist) as address:
        page.goto(address)
        assert page.evaluate(KEEP)
        page.goto(address)
        page.evaluate(FETCH, chosen[:2])
    # The server is gone; what answers now is the service worker.
    page.goto(address)
    assert page.title().endswith("Groundbeat")
    assert dict(page.evaluate(FETCH, list(wanted))) == wanted
    assert dict(page.evaluate(FETCH, chosen[:2])) == {name: files[name]["raw"] for name in chosen[:2]}, (
        "once they have come"
    )
    context.close()
