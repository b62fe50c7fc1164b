"""In a real Chromium, from the real server: the engine starts under the policy and below a path, or says why not.

The page here is the bare one of `bare`; the real page is tested in tests/browser.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from groundbeat.site.server import POLICY, serving
from tests.site.bare import BELOW, ask, lay_out, visit


@pytest.fixture
def site(dist: Path, tmp_path: Path) -> Path:
    """A copy of the built folder below a path, with the bare page in it."""
    lay_out(dist, tmp_path)
    return tmp_path


@pytest.fixture
def page(chromium: Browser) -> Iterator[Page]:
    context = chromium.new_context()
    yield context.new_page()
    context.close()


def test_the_engine_answers_under_the_policy_and_below_a_path(site: Path, page: Page) -> None:
    with serving(site) as address:
        visit(page, address)
        told = ask(page, '{ ask: "hello" }')
        states = page.evaluate("() => states")
        violations = page.evaluate("() => violations")
    assert told["reply"]["answer"] == "hello"
    assert told["reply"]["python"].startswith("3.14.")
    assert [state["state"] for state in states][-1] == "ready"
    assert {state["stage"] for state in states} == {"runtime", "library", "engine", "ready"}
    shares = [state["done"] for state in states if state["stage"] == "runtime"]
    assert shares == sorted(shares)
    assert len(shares) > 10
    assert shares[-1] == 1
    assert violations == []


def test_blocked_webassembly_is_told_at_once(site: Path, page: Page) -> None:
    with serving(site, policy=POLICY.replace(" 'wasm-unsafe-eval'", "")) as address:
        visit(page, address)
        told = ask(page, '{ ask: "hello" }')
    assert told["code"] == "engine.wasm-blocked"
    assert "WebAssembly is blocked" in told["message"]


@pytest.mark.parametrize("part", ["pyodide.asm.wasm", "stdlib.zip", "pyodide.mjs", "pyodide.asm.mjs", "engine-*.zip"])
def test_a_missing_part_is_told_and_never_waited_for(site: Path, page: Page, part: str) -> None:
    (file,) = (site / BELOW / "py").glob(f"*/{part}")
    file.unlink()
    with serving(site) as address:
        visit(page, address)
        told = ask(page, '{ ask: "hello" }')
        tries = page.evaluate("() => states.filter(({ state, done }) => state !== 'failed' && done === 0).length")
    assert told["code"] == "engine.network", told
    assert tries >= 2


def test_a_missing_worker_is_told(site: Path, page: Page) -> None:
    (file,) = (site / BELOW / "app").glob("worker-*.js")
    file.unlink()
    with serving(site) as address:
        visit(page, address)
        told = ask(page, '{ ask: "hello" }')
    assert told["code"] == "engine.network"


def test_a_worker_that_is_gone_is_noticed_and_replaced(site: Path, page: Page) -> None:
    with serving(site) as address:
        visit(page, address)
        assert "reply" in ask(page, '{ ask: "hello" }')
        page.evaluate("() => workers[0].terminate()")
        lost = page.evaluate("() => settle(engine.ask({ ask: 'hello' }, { deadline: 1000 }))")
        told = ask(page, '{ ask: "hello" }')
        states = page.evaluate("() => states.map(({ state }) => state)")
    assert lost["code"] == "engine.too-slow"
    assert told["reply"]["answer"] == "hello"
    assert "restarting" in states
