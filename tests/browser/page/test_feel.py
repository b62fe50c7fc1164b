"""How it is played, and the feel of the base beat, as a person sets them: words, undo, link, a phone, the next visit."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from groundbeat.codec.groove_read import read_groove
from groundbeat.codec.link import write_link
from groundbeat.model.feel import Feel

from .conftest import OpenPage, in_both_schemes, view_of

SLACK_TIDE = (Path(__file__).parents[3] / "examples" / "slack-tide.toml").read_text()
STORED = "localStorage.getItem('groundbeat.loose')"
POSTS = """
const post = MessagePort.prototype.postMessage;
window.lines = [];
MessagePort.prototype.postMessage = function (message, ...rest) {
  if (message?.programme) window.lines.push(message.programme.entries[0].line);
  return post.call(this, message, ...rest);
};
"""
"""Keeps what the audio thread is to play."""
PLAYED = """(rounds) => new Promise((told) => {
  const look = () => {
    const line = window.lines.findLast((one) => one.rounds === rounds);
    if (line) told(Math.max(...Array.from(line.level, (level) => Math.abs(20 * Math.log10(level)))));
    else requestAnimationFrame(look);
  };
  look();
})"""
"""Waits for a line of so many rounds, and says by how many decibels a stroke of it is off its level at most."""


@pytest.fixture(scope="module")
def link() -> str:
    return "#" + view_of(SLACK_TIDE)["link"]


def test_a_steady_hand_plays_until_it_is_said_otherwise_and_the_device_alone_remembers(open_page: OpenPage, link: str):
    page = open_page(link, script=POSTS)
    before = page.url
    played = page.get_by_role("combobox", name="How it is played")
    expect(played).to_have_value("20")
    page.get_by_role("button", name="Play", exact=True).click()
    steady = page.evaluate(PLAYED, 8)
    assert 0 < steady <= 0.8
    page.evaluate("window.lines.length = 0")
    played.select_option("by a loose hand")
    assert steady < page.evaluate(PLAYED, 8) <= 4
    played.select_option("exactly as written")
    assert page.evaluate(PLAYED, 1) == 0
    assert page.evaluate(STORED) == "0"
    assert page.url == before
    expect(page.get_by_role("button", name="Undo")).to_be_disabled()
    page.reload()
    expect(played).to_have_value("0")


def test_the_feel_of_the_beat_is_set_in_native_fields_and_is_in_the_link(open_page: OpenPage, link: str):
    page = open_page(link)
    page.get_by_text("The beat", exact=True).click()
    part = page.locator("gb-feel")
    facts = page.locator("header .facts")
    legend = part.locator("legend")
    expect(legend).to_have_text("Feel: Straight, everything in time.")
    expect(facts).to_have_text("4/4 · sixteenths · 1 bar")
    part.get_by_label("Swing", exact=True).select_option("eighths 2:1")
    expect(facts).to_contain_text("the eighths swung 2 : 1, everything in time")
    part.get_by_label("What is early or late").select_option("snare")
    part.get_by_label("by ms").fill("12")
    part.get_by_label("by ms").press("Enter")
    expect(legend).to_have_text("Feel: The eighths swung 2 : 1, the snare 12 ms late.")
    part.get_by_label("Early or late", exact=True).select_option("early")
    expect(legend).to_contain_text("the snare 12 ms early")
    part.get_by_label("Swing", exact=True).select_option("another")
    part.get_by_label("Swing, such as").fill("sixteenths 4:3")
    part.get_by_label("Swing, such as").press("Enter")
    expect(facts).to_contain_text("sixteenths swung 4 : 3, the snare 12 ms early")
    feel = Feel("sixteenths", 4, 3, (("snare", -12),))
    now = write_link(replace(read_groove(SLACK_TIDE), feel=feel))
    expect(page).to_have_url(re.compile(f"#{re.escape(now)}$"))
    part.get_by_label("Swing, such as").fill("bouncy")
    part.get_by_label("Swing, such as").press("Enter")
    expect(page.locator('gb-notice[data-topic="edit"] [role="alert"]')).to_contain_text("is not a swing")
    expect(part.get_by_label("Swing, such as")).to_have_value("sixteenths 4:3")
    for _ in range(4):
        page.get_by_role("button", name="Undo").click()
    expect(legend).to_have_text("Feel: Straight, everything in time.")
    expect(page.get_by_role("button", name="Undo")).to_be_disabled()


@pytest.mark.parametrize("width", [360, 1440])
def test_a_phone_shows_it_whole_and_a_reader_has_it(open_page: OpenPage, link: str, width: int):
    page = open_page(link, width=width)
    page.get_by_text("The beat", exact=True).click()
    page.locator("gb-feel").get_by_label("Swing", exact=True).select_option("another")
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    for name in ("gb-loose", "gb-feel"):
        assert low_parts(page, name) == []
    assert in_both_schemes(page) == []


def low_parts(page: Page, name: str) -> list[str]:
    found: list[str] = page.locator(name).evaluate(
        """(one) => [...one.shadowRoot.querySelectorAll('select, input')]
          .filter((part) => { const box = part.getBoundingClientRect(); return box.height < 43.5 || box.width < 43.5; })
          .map((part) => part.name)"""
    )
    return found
