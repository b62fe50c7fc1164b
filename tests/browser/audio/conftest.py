"""A folder with the real audio modules and the real kit, a server under the page's policy, and Chromium."""

from __future__ import annotations

import json
import shutil
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from playwright.sync_api import Browser, Page

from groundbeat.site.build import make_kits
from groundbeat.site.tools import ROOT, packages, run_node

from .reference import Kit

HERE = Path(__file__).parent
POLICY = (
    "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; worker-src 'self'; connect-src 'self'; "
    "img-src 'self' data:; style-src 'self'; font-src 'self'; media-src 'self' blob:; manifest-src 'self'; "
    "base-uri 'none'; form-action 'none'"
)


class Handler(SimpleHTTPRequestHandler):
    """Serves the folder under the policy and keeps what the page posts."""

    def __init__(self, *arguments: Any, stored: dict[str, bytes], **named: Any) -> None:
        self.stored = stored
        super().__init__(*arguments, **named)

    def end_headers(self) -> None:
        self.send_header("Content-Security-Policy", POLICY)
        super().end_headers()

    def do_POST(self) -> None:
        body = self.rfile.read(int(self.headers["Content-Length"]))
        self.stored[self.path.removeprefix("/store/")] = body
        self.send_response(204)
        self.end_headers()

    def log_message(self, *_: Any) -> None:
        pass


@dataclass(frozen=True, slots=True)
class Site:
    """Where the test page is, what it has posted, and where its files lie."""

    address: str
    folder: Path
    stored: dict[str, bytes] = field(default_factory=dict)

    def json(self, name: str) -> Any:
        return json.loads(self.stored.pop(name))

    def stereo(self, name: str) -> np.ndarray:
        """Take a recording: two rows of frames."""
        return np.frombuffer(self.stored.pop(name), dtype="<f4").reshape(2, -1)


def _put_kit(folder: Path) -> None:
    """Take the kits that a build of the page has left in the cache, if they are of these sources; else render them."""
    shutil.copytree(make_kits() / "kit", folder)


@contextmanager
def sound_site(folder: Path) -> Iterator[Site]:
    """Bundle the test page into `folder` beside the kits, and serve it."""
    esbuild = packages(ROOT / "web") / "esbuild" / "bin" / "esbuild"
    entries = [HERE / "page.js", ROOT / "web" / "audio" / "processor.js"]
    options = ["--bundle", "--format=esm", f"--outdir={folder}", "--entry-names=[name]", "--log-level=warning"]
    run_node([esbuild, *entries, *options], cwd=ROOT / "web", what="bundling the sound")
    for name in ("page.html", "recorder.js"):
        shutil.copy(HERE / name, folder)
    _put_kit(folder / "kit")
    stored: dict[str, bytes] = {}
    server = ThreadingHTTPServer(("127.0.0.1", 0), partial(Handler, directory=str(folder), stored=stored))
    threading.Thread(target=server.serve_forever, daemon=True).start()
    yield Site(f"http://127.0.0.1:{server.server_port}/page.html", folder, stored)
    server.shutdown()
    server.server_close()


@pytest.fixture(scope="session")
def site(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Site]:
    with sound_site(tmp_path_factory.mktemp("sound")) as served:
        yield served


@pytest.fixture(scope="session")
def chromium(browser: Browser) -> Browser:
    """The Chromium of the run."""
    return browser


def open_page(chromium: Browser, site: Site) -> Page:
    """Open the test page and keep every error it meets."""
    page = chromium.new_page()
    page.faults = []  # type: ignore[attr-defined]
    page.on("pageerror", lambda error: page.faults.append(str(error)))  # type: ignore[attr-defined]
    page.on(
        "console",
        lambda message: page.faults.append(message.text) if message.type == "error" else None,  # type: ignore[attr-defined]
    )
    page.goto(site.address)
    return page


@pytest.fixture
def page(chromium: Browser, site: Site) -> Iterator[Page]:
    page = open_page(chromium, site)
    yield page
    page.close()
    assert page.faults == []  # type: ignore[attr-defined]


@pytest.fixture(scope="module")
def _studio(chromium: Browser, site: Site) -> Iterator[Page]:
    page = open_page(chromium, site)
    yield page
    page.close()


@pytest.fixture
def studio(_studio: Page) -> Iterator[Page]:
    """The test page for rendering without a device: each rendering is a context of its own, so the page is kept."""
    faults: list[str] = _studio.faults  # type: ignore[attr-defined]
    faults.clear()
    yield _studio
    assert faults == []


@pytest.fixture(scope="session")
def kit(chromium: Browser, site: Site) -> Kit:
    return read_kit(chromium, site)


def read_kit(chromium: Browser, site: Site) -> Kit:
    """Read the samples as this Chromium decodes them at 44.1 kHz."""
    page = open_page(chromium, site)
    page.evaluate("() => bench.dump('samples')")
    page.close()
    listed = site.json("samples.json")
    row = np.frombuffer(site.stored.pop("samples.f32"), dtype="<f4")
    manifest = json.loads((site.folder / "kit" / "kit.json").read_text())
    return Kit.read(manifest, listed["list"], row)
