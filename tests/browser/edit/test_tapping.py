"""A tap on a line adds a stroke or takes one out; on the base beat in the beat, at a later stage in a touch-up."""

from __future__ import annotations

from pathlib import Path

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import OpenPage, chosen, columns, view_of
from tests.browser.edit.hand import EMPTY, place, point, settled, stages, tap, told

SLACK_TIDE = (Path(__file__).parents[3] / "examples" / "slack-tide.toml").read_text()


@pytest.fixture(scope="module")
def empty() -> str:
    return "#" + view_of(EMPTY)["link"]


@pytest.fixture(scope="module")
def slack() -> str:
    return "#" + view_of(SLACK_TIDE)["link"]


def test_taps_fill_the_base_beat_and_the_address_follows(open_page: OpenPage, empty: str):
    page = open_page(empty)
    for surface, where in (("hi-hat", range(0, 16, 2)), ("snare", (4, 12)), ("kick", (0, 7, 8))):
        for column in where:
            tap(page, surface, column)
    expect(place(page, "kick", 8)).to_have_accessible_name("kick, 3")
    filled = EMPTY.replace('hi-hat = "----------------"', 'hi-hat = "x-x-x-x-x-x-x-x-"')
    filled = filled.replace('snare  = "----------------"', 'snare = "----o-------o---"')
    filled = filled.replace('kick   = "----------------"', 'kick = "o------oo-------"')
    settled(page, filled)
    tap(page, "kick", 7)
    expect(told(page)).to_have_text("kick, a of 2, taken out")
    settled(page, filled.replace("o------oo", "o-------o"))
    stages(page, 1)


def test_a_tap_between_two_columns_means_the_nearer_one(open_page: OpenPage, empty: str):
    page = open_page(empty)
    x, y = point(page, "snare", 5)
    width = place(page, "snare", 5).evaluate("(one) => one.offsetWidth")
    page.mouse.click(x + width * 0.4, y)
    page.mouse.click(x - width * 0.6, y)
    expect(place(page, "snare", 5)).to_have_accessible_name("snare, e of 2")
    expect(place(page, "snare", 4)).to_have_accessible_name("snare, 2")
    assert columns(page, 0, "snare") == [4, 5]


def test_a_press_that_trembles_is_a_tap(open_page: OpenPage, empty: str):
    page = open_page(empty)
    x, y = point(page, "snare", 4)
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + 2, y - 2)
    page.mouse.up()
    expect(place(page, "snare", 4)).to_have_accessible_name("snare, 2")


def test_single_additions_at_a_later_stage_collect_in_one_touch_up(open_page: OpenPage, slack: str):
    page = open_page(slack)
    page.locator('section[data-stage="2"] h2 button').click()
    tap(page, "kick", 10)
    stages(page, 6)
    assert chosen(page) == "3"
    expect(told(page)).to_contain_text("Touch-up added: By hand: ")
    tap(page, "kick", 14)
    tap(page, "snare", 1)
    expect(page.locator('section[data-stage="3"] .summary')).to_have_text("2 added, 1 left out")
    stages(page, 6)
    assert columns(page, 3, "kick") == [0, 7, 8, 10, 14]
    assert columns(page, 2, "kick") == [0, 7, 8]
    changes = '[[variation]]\nkind = "touch-up"\nchanges = ["+ kick 3&", "+ kick 4&", "- snare 1e"]\n\n'
    third = SLACK_TIDE.index('[[variation]]\nkind = "ostinato"')
    settled(page, SLACK_TIDE[:third] + changes + SLACK_TIDE[third:])


def test_undoing_all_of_a_touch_up_by_hand_leaves_no_stage_behind(open_page: OpenPage, slack: str):
    page = open_page(slack)
    tap(page, "kick", 10)
    stages(page, 6)
    tap(page, "kick", 10)
    stages(page, 5)
    expect(told(page)).to_have_text("Touch-up taken away")
    settled(page, SLACK_TIDE)


def test_a_tap_on_another_stage_only_chooses_it(open_page: OpenPage, slack: str):
    page = open_page(slack)
    box = page.locator('section[data-stage="1"] gb-lines').bounding_box()
    assert box is not None
    page.mouse.click(box["x"] + 300, box["y"] + 20)
    assert chosen(page) == "1"
    stages(page, 5)
    settled(page, SLACK_TIDE)


def test_silent_lines_stay_and_can_be_played_at_a_later_stage(open_page: OpenPage):
    page = open_page("#" + view_of(SLACK_TIDE.replace("kick   =", 'crash = "----------------"\nkick   ='))["link"])
    tap(page, "crash", 0)
    stages(page, 6)
    assert columns(page, 5, "crash") == [0]
    assert page.locator('section[data-stage="2"] .labels').inner_text().split() == ["hi-hat", "snare", "kick"]
