"""The small menus: of a stroke, of a line, and the beat's own frame."""

from __future__ import annotations

from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import OpenPage, columns, view_of
from tests.browser.edit.hand import EMPTY, focused, place, point, settled, stages, told

SLACK_TIDE = (Path(__file__).parents[3] / "examples" / "slack-tide.toml").read_text()
ONE = EMPTY.replace('snare  = "----', 'snare  = "---o')
BASE = SLACK_TIDE[: SLACK_TIDE.index("[[variation]]")]


@pytest.fixture
def one(open_page: OpenPage) -> Page:
    return open_page("#" + view_of(ONE)["link"])


@pytest.fixture
def slack(open_page: OpenPage) -> Page:
    return open_page("#" + view_of(SLACK_TIDE)["link"])


def menu_of(page: Page, name: str) -> None:
    expect(page.get_by_role("dialog", name=name, exact=True)).to_be_visible()


@pytest.mark.parametrize("how", ["right button", "long press", "key", "button"])
def test_the_menu_of_a_stroke_opens(one: Page, how: str):
    page = one
    x, y = point(page, "snare", 3)
    if how == "right button":
        page.mouse.click(x, y, button="right")
    elif how == "long press":
        page.mouse.move(x, y)
        page.mouse.down()
        expect(page.locator("g.lifted")).to_have_count(1)
        page.mouse.up()
    else:
        place(page, "snare", 3).focus()
        if how == "key":
            page.keyboard.press("Shift+F10")
        else:
            page.get_by_role("button", name="Loudness, grace, hand").click()
    menu_of(page, "snare, a of 1")
    assert columns(page, 0, "snare") == [3]
    page.keyboard.press("Escape")
    expect(page.get_by_role("dialog")).to_have_count(0)
    expect(place(page, "snare", 3)).to_be_focused()


def test_loudness_grace_and_hand_from_the_menu(one: Page):
    page = one
    place(page, "snare", 3).click(button="right")
    for word, label in (
        ("ghost", "snare, ghost, a of 1"),
        ("four-stroke ruff", "snare, ghost, four-stroke ruff, a of 1"),
        ("left", "snare, ghost, four-stroke ruff, left hand, a of 1"),
    ):
        menu = page.get_by_role("dialog")
        menu.get_by_role("button", name=word).click()
        menu_of(page, label)
        expect(menu.get_by_role("button", name=word)).to_have_attribute("aria-pressed", "true")
    assert focused(page).startswith("left")
    page.get_by_role("button", name="Close").click()
    expect(place(page, "snare", 3)).to_have_accessible_name(label)
    expect(place(page, "snare", 3)).to_be_focused()
    settled(
        page,
        ONE.replace('"---o', '"---g').replace(
            "kick ", 'snare graces = "---3------------"\nsnare hands = "---L------------"\nkick '
        ),
    )
    place(page, "snare", 3).click(button="right")
    page.get_by_role("button", name="Take the stroke out").click()
    expect(page.get_by_role("dialog")).to_have_count(0)
    assert columns(page, 0, "snare") == []
    expect(place(page, "snare", 3)).to_be_focused()


def test_at_a_later_stage_the_menu_writes_a_touch_up_and_stays_open(slack: Page):
    page = slack
    place(page, "snare", 12).click(button="right")
    page.get_by_role("button", name="flam").click()
    stages(page, 6)
    expect(told(page)).to_contain_text("Touch-up added: By hand: make the snare at 4 ")
    page.get_by_role("button", name="right", exact=True).click()
    expect(page.locator("gb-sentence .sentence")).to_contain_text("right hand")
    stages(page, 6)
    page.keyboard.press("Escape")
    expect(place(page, "snare", 12)).to_be_focused()


def test_an_empty_place_has_no_menu(one: Page):
    page = one
    place(page, "snare", 4).focus()
    page.keyboard.press("Shift+F10")
    expect(page.get_by_role("button", name="Loudness, grace, hand")).to_be_disabled()
    expect(page.get_by_role("dialog")).to_have_count(0)


def test_lines_are_added_and_taken_away(one: Page):
    page = one
    page.get_by_role("button", name="Add a line").click()
    menu_of(page, "Add a line")
    offered = page.get_by_role("dialog").get_by_role("button").all_inner_texts()
    assert "snare" not in offered and "china" in offered
    page.get_by_role("button", name="china").click()
    expect(told(page)).to_have_text("china line added")
    names = page.locator("section.chosen .labels").inner_text().split("\n")
    assert [name for name in names if name] == ["china", "hi-hat", "snare", "kick"]
    place(page, "china", 0).click()
    expect(place(page, "china", 0)).to_have_accessible_name("china, 1")
    page.get_by_role("button", name="china, this line").click()
    expect(page.get_by_role("button", name="Take the line away")).to_have_count(0)
    page.keyboard.press("Escape")
    place(page, "china", 0).click()
    page.get_by_role("button", name="china, this line").click()
    page.get_by_role("button", name="Take the line away").click()
    expect(told(page)).to_have_text("china line taken away")
    settled(page, ONE)


def test_a_line_is_silent_or_the_only_one_heard(slack: Page):
    page = slack
    page.get_by_role("button", name="snare, this line").click()
    page.get_by_role("dialog").get_by_label("silent").check()
    expect(page.get_by_role("button", name="snare, not heard")).to_have_count(1)
    page.get_by_role("dialog").get_by_label("silent").uncheck()
    page.get_by_role("dialog").get_by_label("the only one heard").check()
    expect(page.locator("section.chosen .labels button.quiet")).to_have_count(3)
    page.keyboard.press("Escape")
    page.locator('section[data-stage="1"] h2 button').click()
    expect(page.locator("section.chosen .labels button.quiet")).to_have_count(2)
    settled(page, SLACK_TIDE)  # what is heard is not in the document
    expect(page.get_by_role("button", name="Undo")).to_be_disabled()


def test_the_frame_of_the_beat_is_set_in_native_fields(open_page: OpenPage):
    page = open_page("#" + view_of(BASE)["link"])
    page.get_by_text("The beat", exact=True).click()
    page.locator("gb-frame").get_by_label("Title").fill("Low Water")
    page.locator("gb-frame").get_by_label("Title").press("Enter")
    expect(page.locator("h1")).to_have_text("Low Water")
    page.locator("gb-frame").get_by_label("Goal tempo").fill("104.5")
    page.locator("gb-frame").get_by_label("Teacher's note").fill("Slow and even.")
    page.locator("gb-frame").get_by_label("Bars").fill("2")
    page.locator("gb-frame").get_by_label("Bars").press("Tab")
    expect(page.locator("section.chosen text.bars")).to_have_count(2)
    page.locator("gb-frame").get_by_label("Columns").select_option("eighth triplets")
    expect(page.locator("section.chosen text.count.strong").first).to_be_visible()
    page.locator("gb-frame").get_by_label("Meter", exact=True).select_option("3/4")
    expect(told(page)).to_contain_text("3/4, 2 bars, eighth triplets")
    page.locator("gb-frame").get_by_label("Meter", exact=True).select_option("another")
    page.locator("gb-frame").get_by_label("Meter, such as").fill("11/8")
    page.locator("gb-frame").get_by_label("Meter, such as").press("Enter")
    expect(told(page)).to_contain_text("11/8, 2 bars")
    for _ in range(7):
        page.get_by_role("button", name="Undo").click()
    expect(page.get_by_role("button", name="Undo")).to_be_disabled()
    settled(page, BASE)


def test_what_a_frame_cannot_be_is_refused_and_the_field_says_what_holds(open_page: OpenPage):
    page = open_page("#" + view_of(BASE)["link"])
    page.get_by_text("The beat", exact=True).click()
    page.locator("gb-frame").get_by_label("Bars").fill("99")
    page.locator("gb-frame").get_by_label("Bars").press("Enter")
    expect(page.locator('gb-notice[data-topic="edit"] [role="alert"]')).to_contain_text("1 to 16 bars")
    expect(page.locator("gb-frame").get_by_label("Bars")).to_have_value("1")
    page.locator("gb-frame").get_by_label("Goal tempo").fill("3")
    page.locator("gb-frame").get_by_label("Goal tempo").press("Enter")
    expect(page.locator("gb-frame").get_by_label("Goal tempo")).to_have_value("92")
    settled(page, BASE)


def test_a_line_can_be_written_in_columns_of_its_own(one: Page):
    page = one
    page.get_by_role("button", name="kick, this line").click()
    page.get_by_label("columns of this line").select_option("eighth triplets")
    page.get_by_role("button", name="Close").click()
    cells = page.locator('section.chosen gb-places [role="row"][data-surface="kick"] [role="gridcell"]')
    expect(cells).to_have_count(12)
    snares = page.locator('section.chosen gb-places [role="row"][data-surface="snare"] [role="gridcell"]')
    expect(snares).to_have_count(16)
    expect(cells.nth(1)).to_have_accessible_name("kick, trip of 1, empty")
    cells.nth(1).click()
    cells.nth(5).click()
    settled(
        page,
        ONE.replace("kick ", 'kick columns = "eighth triplets"\nkick ').replace(
            'kick   = "----------------"', 'kick   = "-o---o------"'
        ),
    )
    # What is drawn stands in the middle of its place.
    box = cells.nth(5).bounding_box()
    pillar = page.locator('section.chosen g.stroke[data-surface="kick"][data-at="16800"] path').first.bounding_box()
    assert box and pillar
    assert abs(box["x"] + box["width"] / 2 - pillar["x"] - pillar["width"] / 2) < 1.5


def test_a_line_that_comes_in_columns_of_its_own_is_shown_so(open_page: OpenPage):
    text = EMPTY.replace('hi-hat = "----------------"', 'hi-hat columns = "eighth triplets"\nhi-hat = "x-xx-xx-xx-x"')
    page = open_page("#" + view_of(text)["link"])
    cells = page.locator('section.chosen gb-places [role="row"][data-surface="hi-hat"] [role="gridcell"]')
    expect(cells).to_have_count(12)
    cells.nth(1).focus()
    page.keyboard.press("Enter")
    expect(cells.nth(1)).to_have_accessible_name("hi-hat, trip of 1")
