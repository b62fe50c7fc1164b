"""Take the picture of the README from the real page: python tests/browser/pictures.py (after a build).

Slack Tide with its second stage chosen, as wide as a laptop, in the light scheme.
"""

from __future__ import annotations

import shutil
from pathlib import Path

from playwright.sync_api import sync_playwright

from groundbeat.codec.groove_read import read_groove
from groundbeat.codec.link import write_link
from groundbeat.site.build import DIST, build_if_stale
from groundbeat.site.server import serving

ROOT = Path(__file__).parents[2]


def main() -> None:
    """Write examples/page.png."""
    build_if_stale(DIST)
    fragment = write_link(read_groove((ROOT / "examples" / "slack-tide.toml").read_text()))
    with serving(DIST) as address, sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=shutil.which("chromium"), args=["--no-sandbox"])
        page = browser.new_page(viewport={"width": 1440, "height": 1300}, color_scheme="light")
        page.goto(f"{address}#{fragment}")
        page.locator("gb-starting").wait_for(state="detached", timeout=60_000)
        page.locator('section[data-stage="2"] h2 button').click()
        page.mouse.move(1, 1)
        page.locator('section[data-stage="2"].chosen').wait_for()
        page.get_by_text("The left hand plays three in a row").wait_for()
        page.evaluate("scrollTo(0, 0)")
        page.screenshot(path=ROOT / "examples" / "page.png")
        browser.close()


if __name__ == "__main__":
    main()
