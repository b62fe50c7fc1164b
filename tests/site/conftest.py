"""What the tests of the built folder share: the folder itself, a real Chromium, and Node."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, sync_playwright

from groundbeat.site.build import DIST, build_if_stale
from groundbeat.site.tools import node

FLAGS = [
    *("--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking"),
    *("--disable-component-update", "--disable-sync"),
]


@pytest.fixture(scope="session")
def dist() -> Path:
    """The built page, made anew if anything has changed."""
    build_if_stale(DIST)
    return DIST


@pytest.fixture(scope="session")
def node_program() -> str:
    """A Node that is new enough."""
    return node()


@pytest.fixture(scope="module")
def chromium() -> Iterator[Browser]:
    """A real browser: Debian's where it is, else Playwright's own."""
    debian = Path("/usr/bin/chromium")
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=str(debian) if debian.exists() else None, args=FLAGS)
        yield browser
        browser.close()
