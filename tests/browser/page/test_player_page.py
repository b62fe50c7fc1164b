"""Who plays: said on the page, kept in the browser, never in a link; and the test of the own hands and feet."""

from __future__ import annotations

import json
from typing import Any

import pytest
from playwright.sync_api import Locator, Page, expect

from groundbeat.bridge.door import answer
from tests.browser.words.conftest import SLACK_TIDE, choose, focused, tab_to

from .conftest import OpenPage, in_both_schemes, view_of
from .test_plan_page import small

KEY = "groundbeat.player"
CLOCK = """
(() => {
  let ahead = 0;
  const now = performance.now.bind(performance);
  performance.now = () => now() + ahead;
  const stamp = Object.getOwnPropertyDescriptor(Event.prototype, "timeStamp").get;
  Object.defineProperty(Event.prototype, "timeStamp", { get() { return stamp.call(this) + ahead; } });
  window.later = (ms) => { ahead += ms; };
})();
"""
"""Lets a test go on in time, for the strokes as for the clock: `later(ms)`."""


@pytest.fixture(scope="module")
def link() -> str:
    return "#" + view_of(SLACK_TIDE)["link"]


def playing(player: str, stage: int = 2) -> dict[str, Any]:
    """Ask the engine itself, outside the browser."""
    question = {"ask": "playing", "document": view_of(SLACK_TIDE)["document"], "stage": stage, "player": player}
    reply: dict[str, Any] = json.loads(answer(json.dumps(question)))
    assert reply.get("answer") == "playing", reply
    return reply


def who_plays(page: Page, stage: int = 2) -> Locator:
    choose(page, stage)
    page.get_by_role("button", name="Who plays").click()
    dialog = page.get_by_role("dialog", name="Who plays")
    expect(dialog.get_by_role("radio").first).to_be_visible()
    return dialog


def stored(page: Page) -> str | None:
    kept: str | None = page.evaluate(f"localStorage.getItem('{KEY}')")
    return kept


def summed(player: str) -> str:
    told = playing(player)
    return f"comfortable to {told['comfortable']['bpm']}, possible to {told['fastest']['bpm']}"


def test_what_is_said_is_kept_and_played_by(open_page: OpenPage, link: str):
    page = open_page(link, own_engine=True)
    dialog = who_plays(page)
    expect(dialog.get_by_role("status").last).to_contain_text(f"The usual player. Stage 2: {summed('')}.")
    dialog.get_by_role("radio", name="left-handed").check()
    dialog.get_by_role("radio", name="double pedal").check()
    expect(dialog.get_by_text("What it changes.")).to_be_visible()
    page.wait_for_function(f"() => localStorage.getItem('{KEY}') === 'left-handed; double pedal'")
    dialog.get_by_role("button", name="Done").click()
    expect(page.get_by_role("button", name="Who plays: you")).to_be_visible()
    assert page.url.endswith(link), "no link knows of it"
    page.reload()
    page.locator("gb-starting").wait_for(state="detached", timeout=30_000)
    dialog = who_plays(page)
    expect(dialog.get_by_role("radio", name="left-handed")).to_be_checked()
    expect(dialog.get_by_role("radio", name="one pedal")).not_to_be_checked()
    dialog.get_by_role("button", name="All as usual").click()
    expect(dialog.get_by_role("radio", name="right-handed")).to_be_checked()
    expect(dialog.get_by_role("button", name="All as usual")).to_be_disabled()
    assert stored(page) is None


def test_a_number_is_written_and_the_words_say_what_it_changes(open_page: OpenPage, link: str):
    page = open_page(link)
    dialog = who_plays(page)
    field = dialog.get_by_label("Strokes of the right hand in 10 seconds")
    field.fill("40")
    field.press("Tab")
    expect(dialog.get_by_text("256 ms from stroke to stroke; the usual limit is 100")).to_be_visible()
    expect(dialog.get_by_role("status").last).to_have_text(
        f"What it changes. Stage 2: {summed('right hand 40')}. For the usual player: {summed('')}."
    )
    assert summed("right hand 40") != summed("")
    field.fill("3")
    field.press("Tab")
    expect(dialog.get_by_role("alert")).to_contain_text("3 strokes in 10 seconds")
    expect(field).to_have_value("40")
    assert stored(page) == "right hand 40"
    field.fill("")
    field.press("Tab")
    expect(dialog.get_by_role("status").last).to_contain_text("The usual player.")
    expect(dialog.locator(".trouble")).to_have_text("")
    assert stored(page) is None


def test_strokes_are_counted_for_ten_seconds_and_no_longer(open_page: OpenPage, link: str):
    page = open_page(link, script=CLOCK)
    dialog = who_plays(page)
    dialog.get_by_role("button", name="Count here: right hand").click()
    pad = dialog.get_by_role("button", name="Pad for the right hand")
    expect(pad).to_be_focused()
    for _ in range(10):
        page.keyboard.press("j")
    pad.click(position={"x": 40, "y": 40})
    page.keyboard.press("Shift")
    expect(pad).to_contain_text("11")
    page.evaluate("later(9000)")
    page.keyboard.press(" ")
    expect(pad).to_contain_text("12")
    page.evaluate("later(1100)")
    page.keyboard.press("j")
    expect(pad).to_have_attribute("aria-disabled", "true")
    page.keyboard.press("j")
    expect(dialog.get_by_text("12 strokes in 10 seconds.")).to_be_visible()
    expect(dialog.get_by_label("Strokes of the right hand in 10 seconds")).to_have_value("12")
    assert stored(page) == "right hand 12"
    dialog.get_by_role("button", name="Once more").click()
    expect(pad).to_be_focused()
    for _ in range(3):
        page.keyboard.press("j")
    page.evaluate("later(10100)")
    expect(dialog.get_by_text("3 strokes in 10 seconds. At least 10 are needed to tell anything.")).to_be_visible()
    assert stored(page) == "right hand 12"


def test_a_caution_comes_before_the_counting(open_page: OpenPage, link: str):
    dialog = who_plays(open_page(link))
    text = dialog.inner_text()
    assert text.index("Do not force speed. Stop if it hurts.") < text.index("Count here")
    assert "A foot rarely reaches a key" in text


def test_escape_ends_the_counting_and_only_then_the_dialog(open_page: OpenPage, link: str):
    page = open_page(link)
    dialog = who_plays(page)
    dialog.get_by_role("button", name="Count here: left hand").click()
    for _ in range(3):
        page.keyboard.press("j")
    page.keyboard.press("Escape")
    expect(dialog).to_be_visible()
    expect(dialog.get_by_text("The first stroke starts the 10 seconds.")).to_be_visible()
    page.keyboard.press("Escape")
    expect(page.get_by_role("dialog")).to_have_count(0)
    assert focused(page) == "Who plays"
    assert stored(page) is None


@pytest.mark.parametrize("text", ["three-handed", "right hand 9999", "{}"])
def test_what_is_stored_and_nobody_is_the_usual_player(open_page: OpenPage, link: str, text: str):
    page = open_page(link, script=f"localStorage.setItem('{KEY}', {json.dumps(text)});")
    dialog = who_plays(page)
    expect(dialog.get_by_role("radio", name="right-handed")).to_be_checked()
    expect(dialog.locator(".trouble")).to_have_text("")
    page.keyboard.press("Escape")
    expect(page.locator("gb-before")).not_to_contain_text("What is known of playing it stands here.")


def test_it_goes_by_keyboard_alone(open_page: OpenPage, link: str):
    page = open_page(link)
    tab_to(page, "Who plays")
    page.keyboard.press("Enter")
    dialog = page.get_by_role("dialog", name="Who plays")
    expect(dialog.get_by_role("radio").first).to_be_visible()
    tab_to(page, "crossed")
    page.keyboard.press("ArrowDown")
    expect(dialog.get_by_role("radio", name="open-handed")).to_be_checked()
    expect(page.get_by_role("button", name="All as usual")).to_be_enabled()
    assert stored(page) == "open-handed"
    page.keyboard.press("Escape")
    expect(page.get_by_role("dialog")).to_have_count(0)


@pytest.mark.parametrize("width", [360, 1440])
def test_nobody_is_kept_out(open_page: OpenPage, link: str, width: int):
    page = open_page(link, width=width)
    dialog = who_plays(page)
    assert in_both_schemes(page) == []
    assert small(dialog) == []
    dialog.get_by_role("button", name="Count here: right foot").click()
    page.keyboard.press("j")
    assert in_both_schemes(page) == []
    assert dialog.evaluate("(one) => one.scrollWidth <= one.clientWidth")
