"""A finger on a phone: it taps, carries and holds, and the page still scrolls under it."""

from __future__ import annotations

from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import OpenPage, chosen, columns, view_of
from tests.browser.edit.hand import EMPTY, Finger, landing, picture, place, point, stages, told

SLACK_TIDE = (Path(__file__).parents[3] / "examples" / "slack-tide.toml").read_text()
PHONE = {"width": 360, "has_touch": True, "is_mobile": True}


@pytest.fixture
def slack(open_page: OpenPage) -> Page:
    page = open_page("#" + view_of(SLACK_TIDE)["link"], **PHONE)
    place(page, "kick", 0).scroll_into_view_if_needed()
    return page


def middle(page: Page) -> None:
    """Let the lines of the chosen stage stand in the middle of the window, so that the page can scroll both ways."""
    page.locator("section.chosen gb-lines").evaluate("(one) => one.scrollIntoView({ block: 'center' })")


def test_a_beat_is_tapped_in_with_a_finger(open_page: OpenPage):
    page = open_page("#" + view_of(EMPTY)["link"], **PHONE)
    for surface, where in (("hi-hat", range(0, 16, 4)), ("snare", (4, 12)), ("kick", (0, 15))):
        for column in where:
            page.touchscreen.tap(*point(page, surface, column))
    expect(place(page, "kick", 15)).to_have_accessible_name("kick, a of 4")
    assert [columns(page, 0, name) for name in ("hi-hat", "snare", "kick")] == [[0, 4, 8, 12], [4, 12], [0, 15]]
    page.touchscreen.tap(*point(page, "kick", 15))
    expect(place(page, "kick", 15)).to_have_accessible_name("kick, a of 4, empty")


def test_a_finger_carries_a_stroke_sideways_at_once(slack: Page):
    page = slack
    middle(page)
    start, end = point(page, "snare", 12), point(page, "snare", 14)
    finger = Finger(page)
    finger.down(*start)
    finger.move(*end)
    assert landing(page) == ("snare", 14)
    finger.up()
    stages(page, 6)
    expect(told(page)).to_contain_text("Displace added")
    assert columns(page, 5, "snare") == [1, 3, 5, 9, 11, 13, 14]


def test_a_finger_that_goes_up_or_down_scrolls_the_page(slack: Page):
    page = slack
    middle(page)
    before, top = picture(page), page.evaluate("scrollY")
    x, y = point(page, "snare", 5)
    finger = Finger(page)
    finger.down(x, y)
    finger.move(x + 2, y - 150, steps=12)
    finger.up()
    page.wait_for_function("(top) => scrollY > top + 60", arg=top)
    assert picture(page) == before
    expect(page.locator("g.landing")).to_have_count(0)


def test_a_stroke_that_was_held_goes_to_another_line_and_the_page_stays(slack: Page):
    page = slack
    middle(page)
    start, end = point(page, "ride", 2), point(page, "ride bell", 2)
    top = page.evaluate("scrollY")
    finger = Finger(page)
    finger.down(*start)
    expect(page.locator("g.lifted")).to_have_count(1)
    finger.move(*end)
    assert landing(page) == ("ride bell", 2)
    assert page.evaluate("scrollY") == top
    finger.up()
    stages(page, 6)
    expect(told(page)).to_contain_text("Orchestrate added")


def test_a_stroke_that_is_held_and_let_go_opens_its_menu(slack: Page):
    page = slack
    middle(page)
    before = picture(page)
    finger = Finger(page)
    finger.down(*point(page, "snare", 12))
    expect(page.locator("g.lifted")).to_have_count(1)
    finger.up()
    menu = page.get_by_role("dialog", name="snare, accent, 4", exact=True)
    expect(menu).to_be_visible()
    assert picture(page) == before
    box = menu.bounding_box()
    assert box is not None
    assert box["x"] >= 0
    assert box["x"] + box["width"] <= 360
    menu.get_by_role("button", name="soft").tap()
    stages(page, 6)
    expect(page.locator('section.chosen g.stroke[data-surface="snare"][data-at="30240"]')).to_have_attribute(
        "data-dynamic", "soft"
    )


def test_a_second_finger_puts_the_stroke_back(slack: Page):
    page = slack
    middle(page)
    before = picture(page)
    finger = Finger(page)
    end = point(page, "snare", 9)
    x, y = point(page, "snare", 12)
    finger.down(x, y)
    finger.move(*end)
    assert landing(page) == ("snare", 9)
    finger.session.send("Input.dispatchTouchEvent", {
        "type": "touchStart",
        "touchPoints": [{"x": finger.at[0], "y": finger.at[1], "id": 1}, {"x": x, "y": y + 30, "id": 2}],
    })  # fmt: skip
    expect(page.locator("g.landing")).to_have_count(0)
    finger.up()
    assert picture(page) == before
    assert chosen(page) == "4"


def test_places_are_as_wide_as_a_column_and_tall_enough_for_a_finger(slack: Page):
    page = slack
    cells = page.locator("section.chosen gb-places [role=gridcell]")
    sizes = cells.evaluate_all(
        "(all) => all.map((one) => { const box = one.getBoundingClientRect(); return [box.width, box.height]; })"
    )
    assert len(sizes) == 64
    assert min(width for width, _ in sizes) >= 15
    assert min(height for _, height in sizes) >= 44
