"""Playing: what the ear gets is tested in tests/browser/audio; here is what the page does meanwhile."""

from __future__ import annotations

from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from .conftest import OpenPage, chosen, view_of

SLACK_TIDE = (Path(__file__).parents[3] / "examples" / "slack-tide.toml").read_text()


@pytest.fixture(scope="module")
def link() -> str:
    return "#" + view_of(SLACK_TIDE)["link"]


def start(page: Page) -> None:
    page.get_by_role("button", name="Play", exact=True).click()
    expect(page.get_by_role("button", name="Stop")).to_be_visible(timeout=15_000)


def light_at(page: Page) -> str:
    text: str = page.locator("gb-stages .light").evaluate("(light) => light.style.transform")
    return text


def test_the_light_goes_with_the_music_and_its_threads_glow(open_page: OpenPage, link: str):
    page = open_page(link)
    start(page)
    expect(page.locator("gb-stages .light.on")).to_have_count(1)
    seen: set[str] = set()
    glowed = counted = False
    for _ in range(60):
        seen.add(light_at(page))
        glowed = glowed or page.locator('gb-lines path.glow:not([d="M0 0"])').count() > 1
        counted = counted or page.locator("text.count.now").count() == 1
        if len(seen) > 10 and glowed and counted:
            break
    assert len(seen) > 10 and glowed and counted
    page.get_by_role("button", name="Stop").click()
    expect(page.locator("gb-stages .light.on")).to_have_count(0)
    expect(page.locator("text.count.now")).to_have_count(0)


def test_with_reduced_motion_the_light_steps_and_nothing_glows(open_page: OpenPage, link: str):
    page = open_page(link, reduced_motion="reduce")
    start(page)
    expect(page.locator("gb-stages .light.on")).to_have_count(1)
    seen = {light_at(page) for _ in range(80)}
    assert 1 < len(seen) <= 16
    assert page.locator('gb-lines path.glow:not([d="M0 0"])').count() == 0


def test_space_plays_and_stops(open_page: OpenPage, link: str):
    page = open_page(link)
    page.locator("h1").click()
    page.keyboard.press(" ")
    expect(page.get_by_role("button", name="Stop")).to_be_visible(timeout=15_000)
    page.keyboard.press(" ")
    expect(page.get_by_role("button", name="Play", exact=True)).to_be_visible()


def test_choosing_a_stage_while_it_plays_goes_on_playing(open_page: OpenPage, link: str):
    page = open_page(link)
    start(page)
    page.locator('section[data-stage="1"] h2 button').click()
    assert chosen(page) == "1"
    expect(page.get_by_role("button", name="Stop")).to_be_visible()
    expect(page.locator("gb-stages .light.on")).to_have_count(1)


def test_playing_through_the_stages_shows_each_in_its_turn(open_page: OpenPage, link: str):
    page = open_page(link)
    page.get_by_role("spinbutton", name="Tempo").fill("300")
    page.keyboard.press("Tab")
    page.get_by_role("spinbutton", name="each times").fill("1")
    page.keyboard.press("Tab")
    page.get_by_label("and back to the base").uncheck()
    page.get_by_role("button", name="Play through the stages").click()
    for stage in ("0", "1", "2", "3", "4"):
        expect(page.locator("gb-stages section.chosen")).to_have_attribute("data-stage", stage, timeout=15_000)
    expect(page.get_by_role("button", name="Play", exact=True)).to_be_visible(timeout=15_000)
    expect(page.get_by_role("button", name="Play through the stages")).to_have_attribute("aria-pressed", "false")


def test_the_practice_tempo_is_kept_in_range_and_out_of_the_link(open_page: OpenPage, link: str):
    page = open_page(link)
    before = page.url
    field = page.get_by_role("spinbutton", name="Tempo")
    expect(page.get_by_text("of 92 bpm")).to_be_visible()
    expect(page.get_by_text("a beat is a quarter")).to_be_visible()
    for typed, kept in (("64", "64"), ("1000", "300"), ("1", "20"), ("", "20")):
        field.fill(typed)
        field.press("Enter")
        expect(field).to_have_value(kept)
    page.get_by_role("slider", name="Tempo").first.fill("71")
    expect(field).to_have_value("71")
    page.get_by_role("switch", name="stage 1").uncheck()
    page.wait_for_url(lambda url: url != before)
    expect(field).to_have_value("71")
    assert view_of(page.url)["tempo"] == 92


def test_care_for_hearing_and_hands_stands_beside_play(open_page: OpenPage, link: str):
    page = open_page(link)
    expect(page.get_by_text("Protect your hearing, take breaks, stop if it hurts.")).to_be_visible()
