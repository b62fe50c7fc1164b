"""What the tests of the built folder share besides the folder itself: Node, and Chromium by its own name."""

from __future__ import annotations

import pytest
from playwright.sync_api import Browser

from groundbeat.site.tools import node


@pytest.fixture(scope="session")
def node_program() -> str:
    """A Node that is new enough."""
    return node()


@pytest.fixture
def chromium(browser: Browser) -> Browser:
    """The Chromium of the run."""
    return browser
