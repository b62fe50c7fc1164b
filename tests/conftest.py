"""Fixtures for all rooms: example grooves, real inputs where they are, and how long the laws are tried."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings
from playwright.sync_api import Browser, sync_playwright

from groundbeat.codec.groove_read import read_groove
from groundbeat.site.build import build_if_stale
from groundbeat.site.server import serving

ROOT = Path(__file__).parents[1]
EXAMPLES = ROOT / "examples"
FLAGS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--host-resolver-rules=MAP saltmarsh.test 127.0.0.1",  # by http this name is no secure context
]

settings.register_profile(
    "suite",
    deadline=None,
    max_examples=60,
    derandomize=True,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large, HealthCheck.filter_too_much],
)
settings.register_profile("long", settings.get_profile("suite"), max_examples=2000, derandomize=False)
settings.load_profile("suite")


@pytest.fixture
def slack_tide():
    return read_groove((EXAMPLES / "slack-tide.toml").read_text(), "slack-tide.toml")


@pytest.fixture
def lantern_walk():
    return read_groove((EXAMPLES / "lantern-walk.toml").read_text(), "lantern-walk.toml")


@pytest.fixture(scope="session")
def real_inputs() -> Path:
    """The folder of real drum files beside the repository; a clone without it skips, and says so."""
    folder = ROOT.parent / "shared" / "data"
    if not folder.is_dir():
        pytest.skip("the real input files are not beside this clone (../shared/data)")
    return folder


@pytest.fixture(scope="session")
def dist() -> Path:
    """The built page; built anew where a source has changed."""
    folder = ROOT / "dist"
    build_if_stale(folder)
    return folder


@pytest.fixture(scope="session")
def site(dist: Path) -> Iterator[str]:
    """The address of the built page behind its real server, ending in a slash."""
    with serving(dist) as address:
        yield address if address.endswith("/") else f"{address}/"


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """Chromium: the system's where there is one, else Playwright's own. One for the whole run: Playwright starts once."""
    with sync_playwright() as playwright:
        launched = playwright.chromium.launch(executable_path=shutil.which("chromium"), args=FLAGS)
        yield launched
        launched.close()
