"""Choosing a stage, switching one off, and the address that follows."""

from __future__ import annotations

from pathlib import Path

import pytest
from playwright.sync_api import expect

from .conftest import OpenPage, chosen, columns, view_of

SLACK_TIDE = (Path(__file__).parents[3] / "examples" / "slack-tide.toml").read_text()


@pytest.fixture(scope="module")
def link() -> str:
    return "#" + view_of(SLACK_TIDE)["link"]


def test_the_chosen_stage_is_tall_carries_the_counts_and_says_its_sentence(open_page: OpenPage, link: str):
    page = open_page(link)
    for stage in (1, 3, 0):
        page.locator(f'gb-stages section[data-stage="{stage}"] h2 button').click()
        assert chosen(page) == str(stage)
        band = page.locator(f'gb-stages section[data-stage="{stage}"]')
        assert "".join(band.locator("text.count").all_text_contents()) == "1e&a2e&a3e&a4e&a"
        heights = page.locator("gb-stages section gb-lines").evaluate_all("(all) => all.map((one) => one.offsetHeight)")
        assert max(heights) == heights[stage] and min(heights) > 40
    assert page.locator("text.count").count() == 16


def test_a_click_on_the_lines_chooses_too(open_page: OpenPage, link: str):
    page = open_page(link)
    page.locator('gb-stages section[data-stage="2"] gb-lines').click(position={"x": 300, "y": 20})
    assert chosen(page) == "2"
    sentence = page.locator("gb-sentence .sentence")
    expect(sentence).to_have_text(view_of(SLACK_TIDE)["stages"][2]["plain"])
    assert sentence.get_by_role("button").count() >= 3
    expect(page.get_by_label("Your note")).to_have_value("Under the knuckles.")


def test_the_sentence_stands_in_the_chosen_stage_and_nowhere_else(open_page: OpenPage, link: str):
    page = open_page(link)
    for stage in (0, 2, 4):
        page.locator(f'gb-stages section[data-stage="{stage}"] h2 button').click()
        box = page.locator(f'gb-stages section[data-stage="{stage}"]').bounding_box()
        words = page.locator("gb-sentence").bounding_box()
        lines = page.locator(f'gb-stages section[data-stage="{stage}"] gb-lines').bounding_box()
        assert box and words and lines
        assert lines["y"] + lines["height"] <= words["y"] + 1
        assert words["y"] + words["height"] <= box["y"] + box["height"] + 1
        assert page.locator(".sentence").count() == 1


def test_the_arrows_of_a_word_do_not_leave_the_stage(open_page: OpenPage, link: str):
    page = open_page(link)
    page.locator('gb-stages section[data-stage="2"] h2 button').click()
    page.get_by_label("Your note").focus()
    page.keyboard.press("ArrowUp")
    page.keyboard.press("ArrowDown")
    page.locator("gb-sentence [data-setting]").first.focus()
    page.keyboard.press("ArrowUp")
    assert chosen(page) == "2"


def test_switching_a_stage_off_changes_all_below_and_the_address(open_page: OpenPage, link: str):
    page = open_page(link)
    switch = page.get_by_role("switch", name="stage 2, Embellish")
    switch.uncheck()
    expect(page.locator('section[data-stage="2"].off')).to_have_count(1)
    assert columns(page, 4, "snare") == [5, 12]
    page.wait_for_url(
        lambda url: url.endswith(
            view_of(SLACK_TIDE.replace('kind = "embellish"', 'kind = "embellish"\noff = true'))["link"]
        )
    )
    switch.check()
    expect(page.locator('section[data-stage="2"].off')).to_have_count(0)
    assert columns(page, 4, "snare") == [1, 3, 5, 9, 11, 12, 13]
    page.wait_for_url("**/" + link)


def test_quick_switches_are_all_carried_out(open_page: OpenPage, link: str):
    page = open_page(link)
    page.evaluate(
        """() => {
          for (const head of document.querySelector("gb-stages").renderRoot.querySelectorAll("gb-head"))
            head.renderRoot.querySelector("input")?.click();
        }"""
    )
    expect(page.locator("gb-stages section.off")).to_have_count(4)
    assert columns(page, 4, "hi-hat") == [0, 2, 4, 6, 8, 10, 12, 14]


def test_the_address_survives_a_reload(open_page: OpenPage, link: str):
    page = open_page(link)
    before = page.url
    page.get_by_role("switch", name="stage 1, Displace").uncheck()
    page.wait_for_url(lambda url: url != before)
    page.reload()
    expect(page.locator('section[data-stage="1"].off')).to_have_count(1)
    assert columns(page, 4, "snare") == [1, 3, 4, 5, 9, 11, 12, 13]  # the e of 2 is free now


def test_fill_tells_who_brought_a_stroke_and_edge_who_changed_it_last(open_page: OpenPage, link: str):
    page = open_page(link)
    moved = page.locator('section[data-stage="4"] g.stroke[data-id="0/snare@1/4"] path')
    assert moved.nth(0).get_attribute("class") == "f0"
    assert moved.nth(1).get_attribute("class") == "edge e1"
    brought = page.locator('section[data-stage="4"] g.stroke[data-id^="3/"] path')
    assert brought.nth(0).get_attribute("class") == "f3"
    assert brought.nth(1).get_attribute("class") == "edge e4"
    ghost = page.locator('section[data-stage="4"] g.stroke[data-dynamic="ghost"] path').first
    assert ghost.get_attribute("class") == "hollow e2"
