"""Light and sound together: the correction for headphones without a wire, and what the browser remembers of hearing."""

from __future__ import annotations

from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from .conftest import OpenPage, in_both_schemes, view_of

SLACK_TIDE = (Path(__file__).parents[3] / "examples" / "slack-tide.toml").read_text()
# Two looks in one breath: as it is, and with the light a tenth of a second earlier.
LOOKS = """() => {
  const { clock } = document.querySelector("gb-stages");
  const before = clock();
  document.querySelector("gb-offset").dispatchEvent(new CustomEvent("offset", { detail: { offset: -0.1 } }));
  return [before.at, clock().at];
}"""


@pytest.fixture(scope="module")
def link() -> str:
    return "#" + view_of(SLACK_TIDE)["link"]


def opened(page: Page) -> None:
    page.get_by_text("light and sound together").click()


def test_the_light_waits_for_wireless_headphones_and_the_browser_remembers(open_page: OpenPage, link: str):
    page = open_page(link)
    before = page.url
    opened(page)
    slider = page.get_by_role("slider", name="light earlier, later")
    expect(slider).to_have_attribute("aria-valuetext", "as the browser says")
    expect(page.get_by_text("is known to the browser when it plays")).to_be_visible()
    slider.fill("230")
    expect(slider).to_have_attribute("aria-valuetext", "230 ms later")
    expect(page.get_by_text("light and sound together: light 230 ms later")).to_be_visible()
    page.get_by_role("slider", name="how loud").fill("35")
    stored = "['offset', 'volume'].map((name) => Number(localStorage.getItem(`groundbeat.${name}`)))"
    assert page.evaluate(stored) == [0.23, 0.35]
    assert page.url == before
    page.reload()
    expect(page.get_by_text("light and sound together: light 230 ms later")).to_be_visible()
    expect(page.get_by_role("slider", name="how loud")).to_have_value("35")
    opened(page)
    page.get_by_role("button", name="As the browser says").click()
    expect(slider).to_have_value("0")
    assert page.evaluate(stored) == [0, 0.35]


def test_what_is_stored_and_no_level_is_the_modest_one(open_page: OpenPage, link: str):
    wrong = "localStorage.setItem('groundbeat.volume', '7'); localStorage.setItem('groundbeat.offset', '\"x\"');"
    page = open_page(link, script=wrong)
    expect(page.get_by_role("slider", name="how loud")).to_have_value("60")
    expect(page.get_by_text("light and sound together", exact=True)).to_be_visible()


def test_while_it_plays_the_light_moves_at_once_and_the_latency_is_told(open_page: OpenPage, link: str):
    page = open_page(link)
    opened(page)
    page.get_by_role("button", name="Play", exact=True).click()
    expect(page.get_by_role("button", name="Stop", exact=True)).to_be_visible()
    expect(page.locator("gb-stages .light.on")).to_have_count(1, timeout=10_000)
    expect(page.locator("gb-offset .stated")).to_contain_text("ms to your ear")
    before, after = page.evaluate(LOOKS)
    tenth = 10080 * 92 / 60 / 10
    assert (after - before) % 40320 == pytest.approx(tenth, rel=0.05)


def test_it_has_no_fault_of_access_and_fits_a_phone(open_page: OpenPage, link: str):
    page = open_page(link, width=360)
    opened(page)
    assert page.evaluate("document.documentElement.scrollWidth") <= 360
    for selector in ("gb-offset summary", "gb-offset input"):
        box = page.locator(selector).bounding_box()
        assert box is not None
        assert box["height"] >= 44
    assert in_both_schemes(page) == []
