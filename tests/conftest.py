"""Fixtures for all rooms: example grooves, real inputs where they are, and how long the laws are tried."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path, PurePosixPath
from typing import Any

import pytest
from hypothesis import HealthCheck, settings
from playwright.sync_api import Browser, Playwright, sync_playwright

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
    # Compile only the hottest functions of Python a second time: for a start that serves a few questions, optimising
    # takes longer than it saves. What is measured (tests/bench) runs without this.
    "--js-flags=--wasm-tiering-budget=400000000",
]

LONG = ("tests/browser/audio", "tests/browser/edit/test_undo.py", "tests/browser", "tests/wire", "tests/site")
"""What takes longest, and so begins first: then both processes end at about the same time."""

TOGETHER = ("tests/sound", "tests/browser/audio")
"""Folders that stay in one process: their voices, or their kit and its bundle, are made once."""

settings.register_profile(
    "suite",
    deadline=None,
    max_examples=60,
    derandomize=True,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large, HealthCheck.filter_too_much],
)
settings.register_profile("long", settings.get_profile("suite"), max_examples=2000, derandomize=False)
settings.load_profile("suite")


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Let the long ones begin; the order within a file stays."""
    items.sort(key=lambda item: next((at for at, name in enumerate(LONG) if item.nodeid.startswith(name)), len(LONG)))


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_make_scheduler(config: pytest.Config, log: Any) -> Any:
    """Hand out files as `--dist loadfile` does, but in the order of collection and some folders whole."""
    if config.getvalue("dist") != "loadfile":
        return None
    from xdist.scheduler import LoadFileScheduling

    class LongFirst(LoadFileScheduling):
        def _split_scope(self, nodeid: str) -> str:
            file = nodeid.split("::", 1)[0]
            return next((folder for folder in TOGETHER if PurePosixPath(file).is_relative_to(folder)), file)

    config.option.loadscopereorder = False  # by the number of tests, the longest would come last
    return LongFirst(config, log)


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
def driver() -> Iterator[Playwright]:
    """Playwright, which can be started once in a process."""
    with sync_playwright() as playwright:
        yield playwright


@pytest.fixture(scope="session")
def browser(driver: Playwright) -> Iterator[Browser]:
    """Chromium for the whole run: without windows where there is one, else the system's, else Playwright's own.

    Without windows it is the same engine of the same version, as Playwright uses it by itself. Every page then costs
    about a third less time: no bar of addresses, no menus and no frame are made for a window that nobody sees.
    """
    path = shutil.which("chromium-headless-shell") or shutil.which("chromium")
    launched = driver.chromium.launch(executable_path=path, args=FLAGS)
    yield launched
    launched.close()


@pytest.fixture(scope="session")
def whole_chromium(driver: Playwright) -> Iterator[Browser]:
    """Chromium as people have it, for what must be seen to work there: the whole job, the start, offline, the minute."""
    launched = driver.chromium.launch(executable_path=shutil.which("chromium"), args=FLAGS)
    yield launched
    launched.close()
