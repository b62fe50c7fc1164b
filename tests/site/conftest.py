"""What the tests of the built folder share besides the folder itself: Node, and the Chromium that people have."""

from __future__ import annotations

import pytest
from playwright.sync_api import Browser

from groundbeat.site.tools import node


@pytest.fixture(scope="session")
def node_program() -> str:
    """A Node that is new enough."""
    return node()


@pytest.fixture
def chromium(whole_chromium: Browser) -> Browser:
    """The Chromium that people have."""
    return whole_chromium
