"""The keyboard does all that a hand does, and never loses its place."""

from __future__ import annotations

from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import OpenPage, chosen, columns, view_of
from tests.browser.edit.hand import EMPTY, focused, landing, picture, place, settled, stages, told

SLACK_TIDE = (Path(__file__).parents[3] / "examples" / "slack-tide.toml").read_text()


def press(page: Page, *keys: str) -> None:
    for key in keys:
        page.keyboard.press(key)


@pytest.fixture
def slack(open_page: OpenPage) -> Page:
    return open_page("#" + view_of(SLACK_TIDE)["link"])


def test_a_beat_is_entered_with_the_keyboard_alone(open_page: OpenPage):
    page = open_page("#" + view_of(EMPTY)["link"])
    page.locator("section.chosen h2 button").focus()
    for _ in range(6):
        page.keyboard.press("Tab")
        if focused(page).endswith("empty"):
            break
    assert focused(page) == "hi-hat, 1, empty"
    for _ in range(8):
        press(page, "Enter", "ArrowRight", "ArrowRight")
    press(page, "Home", "ArrowDown")
    for step in ((4, "Enter"), (8, "Space")):
        press(page, *["ArrowRight"] * step[0], step[1], "4")
    press(page, "Control+End", "Home", "Enter", *["ArrowRight"] * 7, "Enter", "ArrowRight", "Enter")
    expect(told(page)).to_have_text("kick, 3, added")
    entered = EMPTY.replace('hi-hat = "----------------"', 'hi-hat = "x-x-x-x-x-x-x-x-"')
    entered = entered.replace('snare  = "----------------"', 'snare = "----O-------O---"')
    settled(page, entered.replace('kick   = "----------------"', 'kick = "o------oo-------"'))


def test_shift_and_arrows_carry_a_stroke_and_letting_shift_go_drops_it(slack: Page):
    page = slack
    page.locator('section[data-stage="2"] h2 button').click()
    place(page, "snare", 5).focus()
    page.keyboard.down("Shift")
    press(page, "ArrowRight", "ArrowRight")
    assert landing(page) == ("snare", 7)
    expect(told(page)).to_have_text("snare: e of 2 to a of 2")
    page.keyboard.up("Shift")
    stages(page, 6)
    expect(told(page)).to_have_text("Displace added: Move the first backbeat of the backbeat voice an eighth later.")
    expect(place(page, "snare", 7)).to_be_focused()
    assert chosen(page) == "3"
    press(page, "Shift+ArrowLeft")  # again: the same variation, another amount
    expect(told(page)).to_contain_text("a sixteenth later")
    stages(page, 6)
    expect(place(page, "snare", 6)).to_be_focused()
    press(page, "Shift+ArrowUp")
    stages(page, 7)
    expect(told(page)).to_contain_text("Orchestrate added")
    expect(place(page, "hi-hat", 6)).to_be_focused()


def test_escape_and_a_lost_window_put_a_carried_stroke_back(slack: Page):
    page = slack
    before = picture(page)
    place(page, "kick", 0).focus()
    for end in ("Escape", "blur"):
        page.keyboard.down("Shift")
        press(page, "ArrowRight", "ArrowUp")
        assert landing(page) == ("snare", 1)
        if end == "blur":
            page.evaluate("dispatchEvent(new Event('blur'))")
        else:
            press(page, "Escape")
        expect(page.locator("g.landing")).to_have_count(0)
        page.keyboard.up("Shift")
    expect(place(page, "kick", 0)).to_be_focused()
    assert picture(page) == before


def test_carrying_home_changes_nothing(slack: Page):
    page = slack
    before = picture(page)
    place(page, "kick", 7).focus()
    page.keyboard.down("Shift")
    press(page, "ArrowRight", "ArrowLeft")
    page.keyboard.up("Shift")
    expect(page.locator("g.landing")).to_have_count(0)
    assert picture(page) == before
    settled(page, SLACK_TIDE)


def test_the_keyboard_stays_on_its_place_whatever_is_done_there(slack: Page):
    page = slack
    place(page, "kick", 10).focus()
    press(page, "Enter")
    stages(page, 6)
    expect(place(page, "kick", 10)).to_be_focused()
    press(page, "1")
    expect(place(page, "kick", 10)).to_have_accessible_name("kick, ghost, & of 3, added by Touch-up")
    expect(place(page, "kick", 10)).to_be_focused()
    press(page, "Delete")
    stages(page, 5)
    expect(place(page, "kick", 10)).to_be_focused()
    press(page, "Control+z")
    stages(page, 6)
    expect(place(page, "kick", 10)).to_be_focused()
    press(page, "PageUp", "PageUp")
    expect(page.locator("section.chosen")).to_have_attribute("data-stage", "3")
    expect(place(page, "kick", 10)).to_be_focused()
    press(page, "PageDown")
    expect(page.locator("section.chosen")).to_have_attribute("data-stage", "4")


@pytest.mark.parametrize(("key", "dynamic"), [("1", "ghost"), ("2", "soft"), ("3", "normal"), ("4", "accent")])
def test_the_numbers_set_the_loudness_of_a_stroke(open_page: OpenPage, key: str, dynamic: str):
    start = "g" if key != "1" else "O"
    page = open_page("#" + view_of(EMPTY.replace('snare  = "----', f'snare  = "---{start}'))["link"])
    place(page, "snare", 3).focus()
    press(page, key)
    expect(page.locator('g.stroke[data-surface="snare"]')).to_have_attribute("data-dynamic", dynamic)
    press(page, "ArrowLeft", key)  # an empty place has no loudness
    assert columns(page, 0, "snare") == [3]


def test_space_plays_where_no_place_has_the_keyboard(slack: Page):
    page = slack
    place(page, "kick", 10).focus()
    press(page, "Space")
    stages(page, 6)
    expect(page.get_by_role("button", name="Stop")).to_have_count(0)
    page.locator("section.chosen h2 button").focus()
    press(page, "Space")
    expect(page.get_by_role("button", name="Stop")).to_be_visible(timeout=15_000)
    press(page, "Space")
    stages(page, 6)


def test_undo_and_redo_by_key_and_button_but_not_while_writing(slack: Page):
    page = slack
    undo, redo = page.get_by_role("button", name="Undo"), page.get_by_role("button", name="Redo")
    expect(undo).to_be_disabled()
    place(page, "kick", 10).focus()
    press(page, "Enter", "ArrowRight", "Enter")
    expect(page.locator("section.chosen .summary")).to_have_text("2 added")
    press(page, "Control+z")
    expect(page.locator("section.chosen .summary")).to_have_text("1 added")
    press(page, "Control+Shift+Z")
    expect(page.locator("section.chosen .summary")).to_have_text("2 added")
    press(page, "Meta+z", "Control+z")
    stages(page, 5)
    expect(undo).to_be_disabled()
    press(page, "Control+y")
    expect(page.locator('section[data-stage="5"] .summary')).to_have_text("1 added")
    page.get_by_text("The beat", exact=True).click()
    title = page.locator("gb-frame").get_by_label("Title")
    title.fill("Slacker Tide")
    press(page, "Control+z")
    stages(page, 6)
    title.fill("Slack Tide")
    undo.click()
    stages(page, 5)
    redo.click()
    stages(page, 6)


def test_places_between_two_columns_can_be_reached(open_page: OpenPage):
    text = SLACK_TIDE + '[[variation]]\nkind = "displace"\nsurface = "snare"\nat = "4"\nby = "1/24 later"\n'
    page = open_page("#" + view_of(text)["link"])
    place(page, "snare", 12).focus()
    press(page, "ArrowRight")
    name = focused(page)
    assert name.startswith("snare, accent, ")
    press(page, "ArrowRight")
    assert focused(page).startswith("snare, ghost, e of 4")
    press(page, "ArrowLeft", "ArrowDown")
    assert focused(page) == "kick, 4, empty"
    press(page, "ArrowUp", "ArrowRight", "Delete")
    stages(page, 7)
    assert columns(page, 6, "snare") == [1, 3, 5, 9, 11, 13]


def test_the_grid_is_read_as_one(slack: Page):
    page = slack
    grid = page.get_by_role("grid", name="Strokes of Orchestrate")
    assert grid.get_by_role("row").evaluate_all("(all) => all.map((one) => one.ariaLabel)") == [
        "ride bell",
        "ride",
        "snare",
        "kick",
    ]
    names = (
        grid.get_by_role("row", name="snare")
        .get_by_role("gridcell")
        .evaluate_all("(all) => all.map((one) => one.ariaLabel)")
    )
    assert len(names) == 16
    assert names[0] == "snare, 1, empty"
    assert names[10] == "snare, & of 3, empty"
    assert names[9] == "snare, ghost, e of 3, added by Embellish"
    assert grid.locator('[tabindex="0"]').count() == 1
