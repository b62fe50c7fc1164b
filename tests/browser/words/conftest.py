"""The page as a hand finds it: what has the keyboard, what was written to the address, and what the engine itself says."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from groundbeat.bridge.door import answer
from tests.browser.conftest import READY, OpenPage, columns, view_of

__all__ = ["READY", "OpenPage", "columns", "view_of"]

EXAMPLES = Path(__file__).parents[3] / "examples"
SLACK_TIDE = (EXAMPLES / "slack-tide.toml").read_text()
KINDS = ("displace", "embellish", "ostinato", "orchestrate", "touch-up")

WRITES = """
window.writes = [];
const replace = history.replaceState.bind(history);
history.replaceState = (state, title, url) => { window.writes.push(String(url)); replace(state, title, url); };
"""
"""Keeps a list of all that was written to the address, in `writes`."""


@pytest.fixture(scope="session")
def link() -> str:
    return "#" + view_of(SLACK_TIDE)["link"]


def asked(**question: Any) -> dict[str, Any]:
    """Ask the engine itself, outside the browser."""
    reply: dict[str, Any] = json.loads(answer(json.dumps(question)))
    assert "refused" not in reply, reply
    return reply


def edited(document: str, *changes: dict[str, Any]) -> dict[str, Any]:
    """Give the view after some changes, one after the other; texts and links are read first."""
    view = view_of(document)
    for change in changes:
        view = asked(document=view["document"], **change)
    return view


def choose(page: Page, stage: int) -> None:
    """Choose a stage with the mouse."""
    page.locator(f'section[data-stage="{stage}"] h2 button').click()
    expect(page.locator("section.chosen")).to_have_attribute("data-stage", str(stage))


def sentence(page: Page) -> str:
    """Read the sentence as it stands in the panel."""
    return page.locator("gb-sentence .sentence").inner_text()


def focused(page: Page) -> str:
    """Name what has the keyboard."""
    name: str = page.evaluate(
        """() => {
          let one = document.activeElement;
          while (one.shadowRoot?.activeElement) one = one.shadowRoot.activeElement;
          return (one.ariaLabel || one.labels?.[0]?.textContent || one.textContent || "").trim();
        }"""
    )
    return name


def tab_to(page: Page, name: str) -> None:
    """Press Tab until something with this text in its name has the keyboard."""
    passed = []
    for _ in range(150):
        page.keyboard.press("Tab")
        passed.append(focused(page))
        if name in passed[-1]:
            return
    raise AssertionError(f"Tab never came to {name}, only to {passed}")


def address_is(page: Page, view: dict[str, Any]) -> None:
    """Wait until the address holds the link of a view."""
    page.wait_for_url(lambda url: url.endswith("#" + view["link"]))
