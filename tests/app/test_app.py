"""What the page works out for itself, tried by Node's own test runner: it needs no browser."""

from __future__ import annotations

from pathlib import Path

import pytest

from groundbeat.site.tools import run_node

HERE = Path(__file__).parent


@pytest.mark.parametrize("room", sorted(path.name for path in HERE.glob("*.test.mjs")))
def test_it_holds(room: str):
    told = run_node(["--test", "--test-reporter=spec", HERE / room], cwd=HERE, what=f"testing {room}")
    assert "pass " in told
