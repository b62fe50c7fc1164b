"""When the engine cannot run: the page says what happened and what to do, and keeps what it can show."""

from __future__ import annotations

from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from groundbeat.site.build import DIST
from groundbeat.site.server import POLICY, serving

from .conftest import OpenPage, columns, view_of

SLACK_TIDE = (Path(__file__).parents[3] / "examples" / "slack-tide.toml").read_text()
ENGINE = 'gb-notice[data-topic="engine"] [role="alert"] p'
SOUND = 'gb-notice[data-topic="sound"] [role="alert"] p'


@pytest.fixture(scope="module")
def link() -> str:
    return "#" + view_of(SLACK_TIDE)["link"]


def example_stands(page: Page) -> None:
    expect(page.locator("gb-stages section")).to_have_count(5)
    expect(page.get_by_text("an example", exact=True)).to_be_visible()


def test_without_workers_it_says_so_and_shows_the_example(open_page: OpenPage):
    page = open_page(script="delete globalThis.Worker;", ready=False)
    expect(page.locator(ENGINE)).to_contain_text("worker")
    expect(page.locator(ENGINE)).to_contain_text("Open the page in a tab of its own")
    example_stands(page)


def test_a_link_that_cannot_be_opened_is_not_taken_for_the_example(open_page: OpenPage, link: str):
    page = open_page(link, script="delete globalThis.Worker;", ready=False)
    expect(page.locator(ENGINE)).to_contain_text("What you see is an example, not what the link holds.")
    example_stands(page)
    assert page.url.endswith(link)


@pytest.mark.usefixtures("site")
def test_where_wasm_is_blocked_it_says_so_and_what_to_do(open_page: OpenPage):
    with serving(DIST, policy=POLICY.replace(" 'wasm-unsafe-eval'", "")) as address:
        page = open_page(address=address, ready=False)
        expect(page.locator(ENGINE)).to_contain_text("WebAssembly is blocked", timeout=40_000)
        expect(page.locator(ENGINE)).to_contain_text("another browser")
        example_stands(page)


def test_where_a_part_does_not_arrive_a_second_try_opens_the_link(open_page: OpenPage, site: str, link: str):
    page = open_page(ready=False)
    page.route("**/pyodide.asm.wasm", lambda route: route.abort())
    page.goto("about:blank")
    page.goto(site + link)
    expect(page.locator(ENGINE)).to_be_visible(timeout=40_000)
    page.unroute("**/pyodide.asm.wasm")
    page.get_by_role("button", name="Try again").click()
    expect(page.get_by_text("an example", exact=True)).to_have_count(0, timeout=40_000)
    expect(page.locator("h1")).to_have_text("Slack Tide")
    assert columns(page, 2, "snare") == [1, 3, 5, 9, 11, 12, 13]
    expect(page.locator(ENGINE)).to_have_count(0)


def test_by_plain_http_from_another_machine_it_draws_and_says_why_it_is_silent(
    open_page: OpenPage, site: str, link: str
):
    page = open_page(link, address=site.replace("localhost", "saltmarsh.test").replace("127.0.0.1", "saltmarsh.test"))
    assert not page.evaluate("isSecureContext")
    expect(page.locator(SOUND)).to_contain_text("plain http")
    expect(page.locator(SOUND)).to_contain_text("https")
    assert columns(page, 2, "snare") == [1, 3, 5, 9, 11, 12, 13]


def test_the_page_before_its_program_says_what_is_missing(open_page: OpenPage):
    page = open_page(ready=False, java_script_enabled=False)
    expect(page.locator("main")).to_contain_text("allow scripts")


def test_while_the_engine_starts_progress_is_told_and_a_link_shows_no_other_beat(open_page: OpenPage, link: str):
    script = "const real = Worker; globalThis.Worker = class { constructor() {} postMessage() {} terminate() {} };"
    page = open_page(link, script=script, ready=False)
    expect(page.locator("gb-starting [role=status]")).to_contain_text("The engine is starting")
    expect(page.locator("gb-starting svg")).to_have_count(1)
    expect(page.locator("gb-stages")).to_have_count(0)
    expect(page.locator("h1")).to_have_text("Opening the beat")
