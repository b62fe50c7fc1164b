"""A link opens and its stages are drawn in Firefox and in WebKitGTK too.

WebKitGTK is not Safari: the same engine for pages and scripts, other sound and media. What these find is real, what
they miss may still be there.
"""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from groundbeat.codec.link import write_link
from groundbeat.site.tools import node, packages
from groundbeat.variation.stack import grow
from tests.conftest import ROOT

HERE = Path(__file__).parent
MINI_BROWSERS = list(Path("/usr/lib").glob("*/webkit2gtk-4.*/MiniBrowser"))


def needed(found: str | None, what: str, package: str) -> str:
    """Give the program; where it is missing skip and say so, but fail in CI as root, where it can be installed."""
    if found:
        return found
    if os.environ.get("CI") and os.geteuid() == 0:
        pytest.fail(f"{what} is missing though the launcher installs {package}")
    pytest.skip(f"{what} is not installed (Debian: apt-get install {package})")


def run(command: list[str | Path]) -> dict:
    done = subprocess.run([str(part) for part in command], capture_output=True, text=True, timeout=150, check=False)
    assert done.returncode == 0, done.stderr[-2000:]
    return json.loads(done.stdout.strip().splitlines()[-1])


@pytest.fixture
def link(slack_tide, site) -> str:
    return f"{site}#{write_link(slack_tide)}"


def check(seen: dict, groove) -> None:
    stages = grow(groove)
    assert seen["stages"] == len(stages)
    assert seen["strokes"] >= sum(len(stage.beat.strokes) for stage in stages)
    assert "Slack Tide" in seen["title"]


def test_a_link_opens_in_firefox(link, slack_tide):
    program = needed(shutil.which("firefox-esr") or shutil.which("firefox"), "Firefox", "firefox-esr")
    modules = packages(ROOT / "web") / "puppeteer-core" / "package.json"
    check(run([node(), HERE / "firefox.mjs", program, link, HERE / "deep.js", "5", modules]), slack_tide)


def test_a_link_opens_in_webkit(link, slack_tide):
    driver = needed(shutil.which("WebKitWebDriver"), "the WebKit driver", "webkit2gtk-driver")
    screen = needed(shutil.which("xvfb-run"), "a virtual screen", "xvfb")
    program = needed(str(MINI_BROWSERS[0]) if MINI_BROWSERS else None, "WebKitGTK's small browser", "webkit2gtk-driver")
    row = [screen, "-a", sys.executable, HERE / "webkit.py", driver, program, link, HERE / "deep.js", "5"]
    check(run(row), slack_tide)
