"""My kit: the beat as it looks and sounds on what a student owns; the document stays the teacher's."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Locator, Page, expect

from groundbeat.bridge.door import answer
from tests.browser.edit.hand import tap
from tests.browser.words.conftest import choose, focused, tab_to

from .conftest import OpenPage, columns, view_of, violations

SLACK_TIDE = (Path(__file__).parents[3] / "examples" / "slack-tide.toml").read_text()
STACKED = """groundbeat = 1
title = "Stacked"
[base]
stack-cymbal = "x-x-x-x-x-x-x-x-"
snare  = "----O-------O---"
kick   = "o-------o-------"
[[variation]]
kind = "displace"
surface = "snare"
by = "1/16 later"
"""
NONE = "The stack cymbal is played on the hi-hat: your kit does not have it."
KEEPS_NOTHING = """
Object.defineProperty(window, 'localStorage', { get() { throw new DOMException('no', 'SecurityError'); } });
"""


@pytest.fixture(scope="module")
def link() -> str:
    return "#" + view_of(STACKED)["link"]


def on(kit: str, text: str = STACKED) -> dict[str, Any]:
    """Ask the engine itself for the view on a kit."""
    view: dict[str, Any] = json.loads(answer(json.dumps({"ask": "open", "text": text, "kit": kit})))
    return view


def my_kit(page: Page) -> Locator:
    page.get_by_role("button", name="My kit", exact=True).click()
    found = page.get_by_role("dialog", name="My kit")
    expect(found).to_be_visible()
    return found


def pick(page: Page, name: str) -> None:
    box = my_kit(page)
    box.get_by_role("radio", name=name).check()
    expect(box.get_by_role("radio", name=name)).to_be_checked()
    box.get_by_role("button", name="Done").click()


def line(page: Page) -> Locator:
    return page.get_by_role("complementary", name="My kit")


def lanes(page: Page, stage: int) -> list[str]:
    return page.locator(f'section[data-stage="{stage}"] gb-lines .label').all_inner_texts()


def test_a_missing_cymbal_is_drawn_on_another_and_that_is_said(open_page: OpenPage, link: str):
    page = open_page(link)
    assert lanes(page, 0) == ["stack cymbal", "snare", "kick"]
    pick(page, "everything but a stack cymbal")
    expect(line(page)).to_contain_text("not as written")
    expect(line(page)).to_contain_text(NONE)
    assert lanes(page, 0) == ["hi-hat", "snare", "kick"]
    assert columns(page, 0, "hi-hat") == [0, 2, 4, 6, 8, 10, 12, 14]
    line(page).get_by_role("button", name="As written").click()
    expect(line(page)).to_have_count(0)
    assert lanes(page, 0) == ["stack cymbal", "snare", "kick"]


def test_neither_link_nor_file_knows_of_the_kit(open_page: OpenPage, link: str):
    page = open_page(link)
    pick(page, "a practice pad only")
    expect(line(page)).to_contain_text("Feet tap the floor")
    assert page.url.endswith(link)
    page.get_by_role("button", name="Share").click()
    expect(page.get_by_role("textbox", name="Link")).to_have_value(page.url)
    saved = page.locator("gb-share").evaluate("(share) => share.document")
    assert saved == view_of(STACKED)["document"]
    page.keyboard.press("Escape")
    expect(page.get_by_role("button", name="Undo")).to_be_disabled()


HEARS = """
const post = Worker.prototype.postMessage;
window.asked = [];
Worker.prototype.postMessage = function (message, ...rest) {
  window.asked.push(message.text ?? "");
  return post.call(this, message, ...rest);
};
"""
"""Keeps a list of all that the engine is asked, in `asked`."""
LAST_TIMELINE = """() => new Promise((done) => {
  const look = () => {
    const found = asked.filter((text) => text.includes('"timeline"') && text.includes('"kit":"pad"'));
    if (found.length) done(found[found.length - 1]);
    else requestAnimationFrame(look);
  };
  look();
})"""


def test_what_is_played_is_what_is_drawn(open_page: OpenPage, link: str):
    page = open_page(link, script=HEARS)
    pick(page, "a practice pad only")
    expect(line(page)).to_be_visible()
    question = json.loads(page.evaluate(LAST_TIMELINE))
    del question["have"]
    assert question["document"] == view_of(STACKED)["document"]
    played = {event["id"] for event in json.loads(answer(json.dumps(question)))["events"]}
    assert len(on("pad")["stages"][1]["strokes"]) == page.locator('section[data-stage="1"] g.stroke').count()
    assert {stroke["id"] for stroke in on("pad")["stages"][1]["strokes"]} <= played
    page.get_by_role("button", name="Play", exact=True).click()
    expect(page.get_by_role("button", name="Stop")).to_be_visible(timeout=15_000)


def test_the_kit_is_chosen_by_keyboard_alone(open_page: OpenPage, link: str):
    page = open_page(link)
    tab_to(page, "My kit")
    page.keyboard.press("Enter")
    box = page.get_by_role("dialog", name="My kit")
    tab_to(page, "everything, as written")
    page.keyboard.press("ArrowDown")
    expect(box.get_by_role("radio", name="a practice pad only")).to_be_checked()
    expect(line(page)).to_contain_text("a practice pad only")
    page.keyboard.press("ArrowUp")
    page.keyboard.press("ArrowUp")  # round to the last
    expect(box.get_by_role("radio", name="what I tick here")).to_be_checked()
    tab_to(page, "stack cymbal")
    page.keyboard.press(" ")
    expect(line(page)).to_contain_text(NONE)
    expect(box.get_by_role("checkbox", name="stack cymbal")).not_to_be_checked()
    page.keyboard.press("Escape")
    expect(box).to_be_hidden()
    assert focused(page) == "My kit"
    tab_to(page, "As written")
    page.keyboard.press("Enter")
    expect(line(page)).to_have_count(0)


def test_a_kit_without_anything_is_not_one(open_page: OpenPage, link: str):
    page = open_page(link, script="localStorage.setItem('groundbeat.kit', 'snare');")
    expect(line(page)).to_be_visible()
    box = my_kit(page)
    expect(box.get_by_role("radio", name="what I tick here")).to_be_checked()
    box.get_by_role("checkbox", name="snare").click()
    expect(box.get_by_role("status")).to_have_text("Keep at least one thing to play on.")
    expect(box.get_by_role("checkbox", name="snare")).to_be_checked()


def test_what_is_picked_stays_picked_whatever_was_ticked_before(open_page: OpenPage, link: str):
    page = open_page(link)
    box = my_kit(page)
    box.get_by_role("radio", name="what I tick here").check()
    box.get_by_role("checkbox", name="crash", exact=True).uncheck()
    for name in ("a practice pad only", "what I tick here", "one cymbal", "everything, as written"):
        box.get_by_role("radio", name=name).check()
        expect(box.get_by_role("radio", name=name)).to_be_checked()
        expect(box.get_by_role("radio", checked=True)).to_have_count(1)
    expect(line(page)).to_have_count(0)


def test_the_browser_remembers_the_kit(open_page: OpenPage, link: str):
    page = open_page(link)
    pick(page, "a practice pad only")
    expect(line(page)).to_be_visible()
    page.reload()
    page.locator("gb-starting").wait_for(state="detached", timeout=30_000)
    expect(line(page)).to_contain_text("a practice pad only")
    assert lanes(page, 0) == ["pad"]
    line(page).get_by_role("button", name="As written").click()
    expect(line(page)).to_have_count(0)
    page.reload()
    page.locator("gb-starting").wait_for(state="detached", timeout=30_000)
    expect(page.locator("gb-next button").first).to_be_visible()
    assert lanes(page, 0) == ["stack cymbal", "snare", "kick"]


@pytest.mark.parametrize("stored", ["gong, snare", "", "PAD", "{}"])
def test_what_is_stored_and_no_kit_is_as_written(open_page: OpenPage, link: str, stored: str):
    page = open_page(link, script=f"localStorage.setItem('groundbeat.kit', {json.dumps(stored)});")
    expect(page.locator("gb-next button").first).to_be_visible()
    assert lanes(page, 0) == ["stack cymbal", "snare", "kick"]
    expect(line(page)).to_have_count(0)


def test_without_storage_the_kit_holds_until_the_page_is_left(open_page: OpenPage, link: str):
    page = open_page(link, script=KEEPS_NOTHING)
    pick(page, "everything but a stack cymbal")
    expect(line(page)).to_contain_text(NONE)
    page.get_by_role("switch", name="stage 1").uncheck()
    expect(page.locator("section.off")).to_have_count(1)
    expect(line(page)).to_contain_text(NONE)
    assert page.locator("gb-notice .note").count() == 0


def test_on_lines_that_mean_something_else_the_hand_is_told_why(open_page: OpenPage, link: str):
    page = open_page(link)
    pick(page, "everything but a stack cymbal")
    choose(page, 0)
    url = page.url
    tap(page, "hi-hat", 0)
    expect(page.locator('gb-notice[data-topic="edit"]')).to_contain_text("also plays what is written on other surfaces")
    expect(page.locator('gb-notice[data-topic="edit"]')).to_contain_text(
        "Show the beat as written to change it by hand."
    )
    assert page.url == url
    assert columns(page, 0, "hi-hat") == [0, 2, 4, 6, 8, 10, 12, 14]


def test_sentences_and_other_lines_change_as_ever_and_undo_keeps_the_kit(open_page: OpenPage, link: str):
    page = open_page(link)
    pick(page, "everything but a stack cymbal")
    page.get_by_role("switch", name="stage 1").uncheck()
    expect(page.locator("section.off")).to_have_count(1)
    assert lanes(page, 0) == ["hi-hat", "snare", "kick"]
    page.wait_for_url(lambda url: not url.endswith(link))
    page.get_by_role("button", name="Undo").click()
    expect(page.locator("section.off")).to_have_count(0)
    expect(line(page)).to_contain_text(NONE)
    assert lanes(page, 1) == ["hi-hat", "snare", "kick"]


def test_another_beat_comes_on_the_kit_too(open_page: OpenPage, link: str):
    page = open_page(link)
    pick(page, "a practice pad only")
    expect(line(page)).to_be_visible()
    page.get_by_role("button", name="Open a beat").first.click()
    page.get_by_role("textbox", name="From a link").fill(SLACK_TIDE)
    page.get_by_role("button", name="Open text").click()
    expect(page.locator("h1")).to_have_text("Slack Tide")
    assert lanes(page, 0) == ["pad"]
    told = on("pad", SLACK_TIDE)["stages"][4]["says"]
    assert told
    for text in told:
        expect(page.locator("section.chosen gb-head")).to_contain_text(text)


def test_what_is_tried_stays_tried_on_another_kit(open_page: OpenPage, link: str):
    page = open_page(link)
    page.locator('gb-next button[data-kind="embellish"]').click()
    expect(page.get_by_role("button", name="Keep", exact=True)).to_be_focused()
    pick(page, "a practice pad only")
    expect(line(page)).to_be_visible()
    expect(page.get_by_role("button", name="Keep", exact=True)).to_be_visible()
    page.get_by_role("button", name="Undo").click()
    expect(page.locator("gb-stages section")).to_have_count(2)
    assert lanes(page, 0) == ["pad"]
    assert page.url.endswith(link)


@pytest.mark.parametrize("width", [1280, 360])
def test_nobody_is_kept_out(open_page: OpenPage, link: str, width: int):
    page = open_page(link, width=width)
    my_kit(page).get_by_role("radio", name="what I tick here").check()
    assert violations(page) == []
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
    page.get_by_role("dialog", name="My kit").get_by_role("checkbox", name="stack cymbal").uncheck()
    page.get_by_role("dialog", name="My kit").get_by_role("button", name="Done").click()
    expect(line(page)).to_be_visible()
    assert violations(page) == []
