"""The built page in contexts of its own, and a page that fails its test if the security policy was broken."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from typing import Any

import pytest
from playwright.sync_api import Browser, BrowserContext, Page

from groundbeat.bridge.door import answer

WATCH = """
addEventListener('securitypolicyviolation', (event) =>
  console.error(`policy broken: ${event.violatedDirective} ${event.blockedURI}`), true);
"""

READY = 30_000
"""Milliseconds for a cold start of the engine on a busy machine."""

OpenPage = Callable[..., Page]


@pytest.fixture
def open_page(browser: Browser, site: str) -> Iterator[OpenPage]:
    """Give a function that opens the page in a context of its own; afterwards no policy may have been broken.

    path: what follows the address, such as "#1..."; script: runs before the page's own; address: another server;
    ready: wait until the engine answers. Other arguments go to the context.
    """
    contexts: list[BrowserContext] = []
    broken: list[str] = []

    def hear(text: str) -> None:
        if "policy broken" in text or "Content Security Policy" in text:
            broken.append(text)

    def opened(
        path: str = "", *, script: str = "", address: str = "", ready: bool = True, width: int = 1280, **settings: Any
    ) -> Page:
        context = browser.new_context(
            viewport={"width": width, "height": 900}, service_workers="block", accept_downloads=False, **settings
        )
        contexts.append(context)
        page = context.new_page()
        page.add_init_script(WATCH + script)
        page.on("console", lambda message: hear(message.text))
        page.goto((address or site) + path)
        if ready:
            page.locator("gb-starting").wait_for(state="detached", timeout=READY)
            page.locator("gb-stages section, .empty").first.wait_for(timeout=READY)
        return page

    yield opened
    for context in contexts:
        context.close()
    assert broken == []


def view_of(text: str) -> dict[str, Any]:
    """Ask the engine itself, outside the browser, what a groove looks like."""
    reply: dict[str, Any] = json.loads(answer(json.dumps({"ask": "open", "text": text})))
    assert reply["answer"] == "view", reply
    return reply


def columns(page: Page, stage: int, surface: str) -> list[int]:
    """Read off the page in which sixteenths of the bar a surface is struck in a stage."""
    strokes = page.locator(f'gb-stages section[data-stage="{stage}"] g.stroke[data-surface="{surface}"]')
    return sorted(int(at) // 2520 for at in strokes.evaluate_all("(all) => all.map((one) => one.dataset.at)"))


def chosen(page: Page) -> str | None:
    """Name the stage that is drawn tall."""
    return page.locator("gb-stages section.chosen").get_attribute("data-stage")
