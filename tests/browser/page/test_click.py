"""The click and the count-in as a person sets them: words, keyboard, a phone, and the next visit."""

from __future__ import annotations

from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from groundbeat.timeline.clicks import KINDS

from .conftest import OpenPage, in_both_schemes, view_of

SLACK_TIDE = (Path(__file__).parents[3] / "examples" / "slack-tide.toml").read_text()
STORED = "JSON.parse(localStorage.getItem('groundbeat.click'))"


@pytest.fixture(scope="module")
def link() -> str:
    return "#" + view_of(SLACK_TIDE)["link"]


def lit(page: Page) -> int:
    return page.locator("gb-stages .light.on").count()


def test_the_click_is_set_in_words_and_kept_on_the_device_alone(open_page: OpenPage, link: str):
    page = open_page(link)
    before = page.url
    kind = page.get_by_role("combobox", name="Where the click falls")
    assert kind.locator("option").evaluate_all("(all) => all.map(({ value }) => value)") == list(KINDS)
    expect(page.get_by_role("slider", name="click volume")).to_have_count(0)
    for value in ("off-beats", "shrinking"):
        kind.select_option(value)
        assert page.evaluate(STORED)["kind"] == value
    page.get_by_role("combobox", name="Count-in").select_option("two bars")
    page.get_by_role("slider", name="click volume").fill("40")
    page.get_by_role("slider", name="click: left, right").fill("-50")
    said = page.get_by_role("slider", name="click: left, right").get_attribute("aria-valuetext")
    assert said == "50 of 100 to the left"
    page.get_by_role("combobox", name="Sound of the click").select_option("a spoken count")
    page.get_by_label("click", exact=True).check()
    kept = {"on": True, "kind": "shrinking", "countIn": 2, "loud": 0.4, "pan": -0.5, "counted": "spoken"}
    assert page.evaluate(STORED) == kept
    assert page.url == before
    expect(page.get_by_role("button", name="Undo")).to_be_disabled()
    page.reload()
    expect(page.get_by_role("slider", name="click volume")).to_have_value("40")
    expect(kind).to_have_value("shrinking")
    expect(page.get_by_label("click", exact=True)).to_be_checked()


def test_what_is_stored_and_not_known_is_the_usual_click(open_page: OpenPage, link: str):
    page = open_page(link, script='localStorage.setItem(\'groundbeat.click\', \'{"kind":"bells","countIn":9}\');')
    expect(page.get_by_role("combobox", name="Where the click falls")).to_have_value("beats")
    expect(page.get_by_role("button", name="Play", exact=True)).to_be_enabled()


def test_a_phone_shows_it_whole_and_the_keyboard_and_a_reader_have_it(open_page: OpenPage, link: str):
    page = open_page(link, width=360)
    box = page.get_by_label("click", exact=True)
    box.focus()
    page.keyboard.press(" ")
    expect(box).to_be_checked()
    page.keyboard.press("Tab")
    page.keyboard.press("End")
    expect(page.get_by_role("combobox", name="Where the click falls")).to_have_value("shrinking")
    page.keyboard.press("Tab")
    page.keyboard.press("ArrowDown")
    expect(page.get_by_role("combobox", name="Count-in")).to_have_value("1")
    page.keyboard.press("Tab")
    page.keyboard.press("ArrowDown")
    expect(page.get_by_role("combobox", name="Sound of the click")).to_have_value("pitched")
    page.keyboard.press("Tab")
    page.keyboard.press("ArrowLeft")
    expect(page.get_by_role("slider", name="click volume")).to_have_attribute("aria-valuetext", "99 of 100")
    page.keyboard.press("End")
    expect(page.get_by_role("slider", name="click volume")).to_have_attribute(
        "aria-valuetext", "200 of 100, louder than usual"
    )
    page.keyboard.press("Tab")
    page.keyboard.press("ArrowRight")
    expect(page.get_by_role("slider", name="click: left, right")).to_have_attribute(
        "aria-valuetext", "10 of 100 to the right"
    )
    assert page.evaluate("document.documentElement.scrollWidth") <= 360
    small = page.locator("gb-click").evaluate(
        "(one) => [...one.shadowRoot.querySelectorAll('select, label')].filter((part) => part.getBoundingClientRect().height < 43).length"
    )
    assert small == 0
    assert in_both_schemes(page) == []


def test_a_count_in_shows_no_place_and_then_the_music_goes_on_through_changes(open_page: OpenPage, link: str):
    page = open_page(link)
    page.get_by_role("spinbutton", name="Tempo").fill("150")
    page.get_by_role("spinbutton", name="Tempo").press("Enter")
    page.get_by_role("combobox", name="Count-in").select_option("one bar")
    page.get_by_role("button", name="Play", exact=True).click()
    expect(page.get_by_role("button", name="Stop")).to_be_visible(timeout=15_000)
    assert lit(page) == 0
    expect(page.locator("gb-stages .light.on")).to_have_count(1)
    page.get_by_role("combobox", name="Where the click falls").select_option("every other bar")
    page.get_by_role("combobox", name="Count-in").select_option("none")
    page.get_by_label("click", exact=True).check()
    with page.expect_response(lambda response: "/kit/count/spoken" in response.url):
        page.get_by_role("combobox", name="Sound of the click").select_option("a spoken count")
    expect(page.get_by_role("button", name="Stop")).to_be_visible()
    assert lit(page) == 1
    page.get_by_role("button", name="Stop").click()
    page.get_by_role("button", name="Play", exact=True).click()
    expect(page.locator("gb-stages .light.on")).to_have_count(1)
