"""Hearing a part of the beat, and two stages in turn; what sounds then is tested in tests/timeline and tests/browser/audio."""

from __future__ import annotations

from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from .conftest import OpenPage, in_both_schemes, view_of

FRAMES = (
    "() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(() => requestAnimationFrame(done))))"
)
ON_SCREEN = """(part) => {
  const { top, bottom } = part.getBoundingClientRect();
  return top < innerHeight && bottom > 0;
}"""
SLACK_TIDE = (Path(__file__).parents[3] / "examples" / "slack-tide.toml").read_text()


@pytest.fixture(scope="module")
def link() -> str:
    return "#" + view_of(SLACK_TIDE)["link"]


def test_a_part_is_chosen_while_it_plays_and_a_part_without_strokes_is_told(open_page: OpenPage, link: str):
    page = open_page(link)
    page.get_by_role("button", name="Play", exact=True).click()
    expect(page.get_by_role("button", name="Stop")).to_be_visible(timeout=15_000)
    heard = page.get_by_role("combobox", name="What is heard")
    heard.select_option("the left hand")  # who plays what is in a zip of its own, which comes now
    expect(page.locator("gb-stages .light.on")).to_have_count(1)
    heard.select_option("the left foot")
    expect(page.get_by_text("Nothing in this stage.")).to_be_visible(timeout=15_000)
    heard.select_option("everything")
    expect(page.get_by_text("Nothing in this stage.")).to_have_count(0)
    expect(page.get_by_role("button", name="Stop")).to_be_visible()


def test_two_stages_take_turns_and_change_over_when_asked(open_page: OpenPage, link: str):
    page = open_page(link)
    page.get_by_role("spinbutton", name="Tempo").fill("300")
    page.keyboard.press("Tab")
    page.get_by_role("combobox", name="Take turns with").select_option("stage 1")
    turns = page.get_by_role("spinbutton", name="Rounds of each in turn")
    turns.fill("1")
    turns.press("Tab")
    page.get_by_role("button", name="Take turns").click()
    for stage in ("1", "4", "1"):
        expect_chosen(page, stage)
    turns.fill("16")
    turns.press("Tab")
    before = page.locator("gb-stages section.chosen").get_attribute("data-stage")
    page.get_by_role("button", name="Change over").click()
    expect_chosen(page, "4" if before == "1" else "1")
    page.locator("h1").click()
    page.keyboard.press("Shift+Space")
    expect_chosen(page, str(before))
    page.locator('section[data-stage="2"] h2 button').click()
    expect(page.get_by_role("button", name="Take turns")).to_have_attribute("aria-pressed", "false")
    expect(page.get_by_role("button", name="Stop")).to_be_visible()
    expect_chosen(page, "2")


def test_the_page_moves_only_to_a_stage_out_of_view_and_never_takes_the_change_over_away(
    open_page: OpenPage, link: str
):
    page = open_page(link, width=360)  # there the controls stand below the stages
    page.get_by_role("button", name="Take turns").click()
    over = page.get_by_role("button", name="Change over")
    before = page.locator("gb-stages section.chosen").get_attribute("data-stage")
    over.click()
    expect(page.locator("gb-stages section.chosen")).not_to_have_attribute("data-stage", str(before), timeout=15_000)
    expect(over).to_be_focused()
    page.evaluate(FRAMES)
    assert over.evaluate(ON_SCREEN)
    page.get_by_role("spinbutton", name="Rounds of each in turn").fill("1")
    page.get_by_role("spinbutton", name="Rounds of each in turn").press("Tab")
    page.evaluate("scrollTo(0, 0)")
    for stage in ("4", "0", "4"):
        expect_chosen(page, stage)
        page.evaluate(FRAMES)
        assert page.locator("gb-stages section.chosen").evaluate(ON_SCREEN)
        assert not over.evaluate(ON_SCREEN)


def expect_chosen(page: Page, stage: str) -> None:
    expect(page.locator("gb-stages section.chosen")).to_have_attribute("data-stage", stage, timeout=15_000)


def test_the_new_controls_keep_nobody_out(open_page: OpenPage, link: str):
    page = open_page(link, width=360)
    page.get_by_role("button", name="Take turns").click()
    expect(page.get_by_role("button", name="Change over")).to_be_visible(timeout=15_000)
    page.get_by_role("combobox", name="What is heard").select_option("only what this stage adds")
    assert page.evaluate("document.documentElement.scrollWidth") <= 360
    assert in_both_schemes(page) == []
