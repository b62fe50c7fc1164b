"""Fixtures for all rooms: example grooves, real inputs where they are, and how long the laws are tried."""

from __future__ import annotations

from pathlib import Path

import pytest
from groundbeat.codec.groove_read import read_groove
from hypothesis import HealthCheck, settings

ROOT = Path(__file__).parents[1]
EXAMPLES = ROOT / "examples"

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
