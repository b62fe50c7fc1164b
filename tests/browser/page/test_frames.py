"""A stage may be longer than the beat it grew from, in another meter or other columns: it is drawn, edited and heard so."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import OpenPage, columns, view_of

BASE = """groundbeat = 1
[base]
hi-hat = "x-x-x-x-x-x-x-x-"
snare = "----O-------O---"
kick = "o------oo-------"
"""
LONGER = BASE + '[[variation]]\nkind = "length"\nbars = 2\n[[variation]]\nkind = "fill"\n'
SHORTER = BASE + '[[variation]]\nkind = "length"\nbar = "an eighth shorter"\n'
TRIPLETS = BASE + '[[variation]]\nkind = "subdivide"\ninto = "eighth triplets"\n'


def choose(page: Page, stage: int) -> None:
    page.locator(f'section[data-stage="{stage}"] h2 button').click()
    expect(page.locator(f'section.chosen[data-stage="{stage}"]')).to_be_visible()


def counts(page: Page) -> list[str]:
    return page.locator("section.chosen gb-lines text.count").all_text_contents()


def right_end(page: Page, stage: int) -> float:
    paths = page.locator(f'section[data-stage="{stage}"] gb-lines path.line').first
    box = paths.bounding_box()
    assert box
    return box["x"] + box["width"]


def test_a_longer_stage_stands_on_the_same_axis_and_goes_on(open_page: OpenPage):
    page = open_page("#" + view_of(LONGER)["link"])
    choose(page, 1)
    assert counts(page)[:16].count("1") == 1 and counts(page).count("1") == 2
    assert right_end(page, 1) > right_end(page, 0) * 1.3
    lines = page.locator('section[data-stage="0"] gb-lines g.stroke').first.bounding_box()
    below = page.locator('section[data-stage="1"] gb-lines g.stroke').first.bounding_box()
    assert lines and below and abs(lines["x"] + lines["width"] / 2 - below["x"] - below["width"] / 2) < 2
    assert columns(page, 1, "snare") == [4, 12, 20, 28]


def test_a_stroke_is_added_in_the_second_bar_of_a_longer_stage(open_page: OpenPage):
    page = open_page("#" + view_of(LONGER)["link"])
    choose(page, 1)
    page.locator('section.chosen gb-places [role="row"][data-surface="kick"] [data-at="70560"]').click()
    expect(page.locator("gb-stages section")).to_have_count(4)
    expect(page.locator("gb-sentence .sentence")).to_have_text("By hand: add a stroke on the kick at 4 in bar 2.")
    assert 28 in columns(page, 2, "kick")


@pytest.mark.parametrize(
    ("text", "wanted"),
    [(SHORTER, "1 & 2 & 3 & 4 & 5 & 6 & 7 &"), (TRIPLETS, "1 trip let 2 trip let 3 trip let 4 trip let")],
)
def test_counts_are_those_of_the_stage(open_page: OpenPage, text: str, wanted: str):
    page = open_page("#" + view_of(text)["link"])
    choose(page, 1)
    assert counts(page) == wanted.split()
    choose(page, 0)
    assert counts(page) == ["1", "e", "&", "a", "2", "e", "&", "a", "3", "e", "&", "a", "4", "e", "&", "a"]


def test_the_loop_of_a_longer_stage_can_be_chosen_in_its_second_bar(open_page: OpenPage):
    page = open_page("#" + view_of(LONGER)["link"])
    choose(page, 1)
    options = page.get_by_role("combobox", name="loop from").locator("option").all_inner_texts()
    assert "2 in bar 2" in options and len(options) == 32
    choose(page, 0)
    assert len(page.get_by_role("combobox", name="loop from").locator("option").all_inner_texts()) == 16


def test_an_edit_of_the_base_beat_goes_through_to_a_longer_stage(open_page: OpenPage):
    page = open_page("#" + view_of(LONGER)["link"])
    choose(page, 0)
    page.locator('section.chosen gb-places [role="row"][data-surface="kick"] [data-at="10080"]').click()
    expect(page.locator('gb-stages[aria-busy="false"]')).to_be_attached()
    expect(page.locator('section[data-stage="1"] gb-lines g.stroke[data-id="0/kick@1/4"]')).to_have_count(1)
    assert {4, 20} <= set(columns(page, 1, "kick"))
