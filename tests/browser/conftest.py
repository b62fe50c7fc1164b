"""The built page as at a first visit, and a test that fails if the page broke the security policy.

Most pages are given an engine that runs already: see `started`.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from typing import Any

import pytest
from playwright.sync_api import Browser, BrowserContext, Page

from groundbeat.bridge.door import answer
from groundbeat.site.tools import ROOT, packages

from .started import Engines, Started, opened_from

WATCH = """
addEventListener('securitypolicyviolation', (event) =>
  console.error(`policy broken: ${event.violatedDirective} ${event.blockedURI}`), true);
"""

READY = 30_000
"""Milliseconds for a cold start of the engine on a busy machine."""

OpenPage = Callable[..., Page]


EMULATED = ("color_scheme", "reduced_motion", "forced_colors")
"""What can be set for one page; pages of one context may differ in it."""

SHARING = {"has_touch", "is_mobile"}
"""What a context may be asked for and still be shared. One with other settings is for its test alone."""

FAILED = pytest.StashKey[bool]()


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport(item: pytest.Item) -> Iterator[Any]:
    """Remember for the fixtures whether the test has failed."""
    report = yield
    item.stash[FAILED] = item.stash.get(FAILED, False) or report.failed
    return report


@pytest.fixture(scope="session")
def engines(browser: Browser, site: str) -> Iterator[Engines]:
    """The engines that run between tests."""
    running = Engines(browser, site)
    yield running
    running.close()


@pytest.fixture
def open_page(request: pytest.FixtureRequest, browser: Browser, site: str, engines: Engines) -> Iterator[OpenPage]:
    """Give a function that opens the page as at a first visit; afterwards no policy may have been broken.

    path: what follows the address, such as "#1..."; script: runs before the page's own; address: another server;
    ready: wait until the engine answers; own_engine: the page starts its engine itself, else it is given one that
    runs. Other arguments go to the context. Where the start is watched, at another address, with settings of its own
    and for a second page the engine is always the page's own.
    """
    contexts: list[BrowserContext] = []
    borrowed: list[tuple[dict[str, Any], Started]] = []
    broken: list[str] = []

    def hear(text: str) -> None:
        if "policy broken" in text or "Content Security Policy" in text:
            broken.append(text)

    def opened(
        path: str = "",
        *,
        script: str = "",
        address: str = "",
        ready: bool = True,
        own_engine: bool = False,
        width: int = 1280,
        **settings: Any,
    ) -> Page:
        seen = {name: settings.pop(name) for name in EMULATED if name in settings}
        alone = own_engine or not ready or address or borrowed or not set(settings) <= SHARING
        settings |= {"service_workers": "block"}
        size: Any = {"width": width, "height": 900}
        if alone:
            context = browser.new_context(viewport=size, **seen, **settings)
            contexts.append(context)
            page = context.new_page()
        else:
            started = engines.take(settings)
            borrowed.append((settings, started))
            page = started.new_page()
            page.set_viewport_size(size)
            page.emulate_media(**seen)
        page.add_init_script(WATCH + script)
        page.on("console", lambda message: hear(message.text))
        page.goto((address or site) + path)
        if ready:
            page.locator("gb-starting").wait_for(state="detached", timeout=READY)
            # Without a link the example comes; its file and the common beats may be slower than an engine that runs.
            page.locator("gb-stages section, .empty" if path else "gb-stages section").first.wait_for(timeout=READY)
            page.locator("gb-opener li").first.wait_for(state="attached")
        return page

    yield opened
    for context in contexts:
        context.close()
    spoilt = broken or request.node.stash.get(FAILED, False)
    for settings, started in borrowed:
        if not spoilt and started.leave():
            engines.put_back(settings, started)
        else:
            started.close()
    assert broken == []


def another_tab(page: Page) -> Page:
    """Give an empty tab of the same browser: the same store, a session of its own. For pages with a lent engine."""
    home = page.opener()
    assert home is not None, "this page starts its engine itself"
    return opened_from(home)


def view_of(text: str) -> dict[str, Any]:
    """Ask the engine itself, outside the browser, what a groove looks like."""
    reply: dict[str, Any] = json.loads(answer(json.dumps({"ask": "open", "text": text})))
    assert reply["answer"] == "view", reply
    return reply


def columns(page: Page, stage: int, surface: str) -> list[int]:
    """Read off the page in which sixteenths of the bar a surface is struck in a stage."""
    strokes = page.locator(f'gb-stages section[data-stage="{stage}"] g.stroke[data-surface="{surface}"]')
    return sorted(int(at) // 2520 for at in strokes.evaluate_all("(all) => all.map((one) => one.dataset.at)"))


COLOURS = {"runOnly": {"type": "rule", "values": ["color-contrast", "link-in-text-block"]}}
"""The rules of axe that look at colours."""


def violations(page: Page, options: dict[str, Any] | None = None) -> list[str]:
    """Ask axe what keeps somebody out of the page as it stands."""
    if page.evaluate("typeof axe === 'undefined'"):
        page.evaluate((packages(ROOT / "web") / "axe-core" / "axe.min.js").read_text() + ";0")
    found: list[Any] = page.evaluate("async (options) => (await axe.run(document, options)).violations", options or {})
    return [f"{one['id']}: {one['nodes'][0]['html'][:100]}" for one in found]


def in_both_schemes(page: Page) -> list[str]:
    """Ask axe in the light, and in the dark for the colours, which are all that differs; the page is left in the light.

    That nothing else differs is tested in tests/structure/test_schemes.py.
    """
    found = violations(page)
    page.emulate_media(color_scheme="dark")
    found += [f"in the dark, {one}" for one in violations(page, COLOURS)]
    page.emulate_media(color_scheme="light")
    return found


def chosen(page: Page) -> str | None:
    """Name the stage that is drawn tall."""
    return page.locator("gb-stages section.chosen").get_attribute("data-stage")
