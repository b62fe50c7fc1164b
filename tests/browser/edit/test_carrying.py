"""A stroke that is carried makes the variation that says it; a bad drop loses nothing."""

from __future__ import annotations

from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import OpenPage, chosen, columns, view_of
from tests.browser.edit.hand import (
    EMPTY,
    carry,
    landing,
    picture,
    place,
    point,
    settled,
    stages,
    told,
)

SLACK_TIDE = (Path(__file__).parents[3] / "examples" / "slack-tide.toml").read_text()
PLAIN = EMPTY.replace('snare  = "----------------"', 'snare = "----O-------O---"')
PLAIN = PLAIN.replace('hi-hat = "----------------"', 'hi-hat = "x-x-x-x-x-x-x-x-"')
PLAIN = PLAIN.replace('kick   = "----------------"', 'kick = "o------oo-------"')
GROWN = PLAIN + '[[variation]]\nkind = "embellish"\nsurface = "snare"\nat = "e"\ndynamic = "ghost"\n'
DISPLACE = '[[variation]]\nkind = "displace"\nsurface = "backbeat voice"\nat = "first backbeat"\nby = "1/16 later"\n'


@pytest.fixture
def grown(open_page: OpenPage) -> Page:
    page = open_page("#" + view_of(GROWN)["link"])
    assert chosen(page) == "1"
    return page


def test_carrying_a_backbeat_sideways_writes_a_displace(grown: Page):
    page = grown
    carry(page, ("snare", 4), ("snare", 6))
    stages(page, 3)
    assert chosen(page) == "2"
    expect(told(page)).to_have_text("Displace added: Move the first backbeat of the backbeat voice an eighth later.")
    settled(page, GROWN + DISPLACE.replace("1/16", "1/8"))
    assert columns(page, 1, "snare") == [1, 4, 5, 9, 12, 13]
    assert columns(page, 2, "snare") == [1, 5, 6, 9, 12, 13]
    assert page.locator('gb-threads[data-stage="2"] g[data-fate="moved"]').count() == 1


def test_carrying_again_what_a_stage_moved_changes_its_amount(grown: Page):
    page = grown
    carry(page, ("snare", 4), ("snare", 6))
    stages(page, 3)
    carry(page, ("snare", 6), ("snare", 7))
    expect(told(page)).to_have_text("Displace: Move the first backbeat of the backbeat voice a dotted eighth later.")
    stages(page, 3)
    carry(page, ("snare", 7), ("snare", 4))
    stages(page, 2)
    settled(page, GROWN)


def test_carrying_to_another_line_writes_an_orchestrate(open_page: OpenPage):
    page = open_page("#" + view_of(SLACK_TIDE)["link"])
    carry(page, ("ride", 2), ("ride bell", 2))
    stages(page, 6)
    expect(told(page)).to_contain_text("Orchestrate added: Play ")
    settled(page, SLACK_TIDE + '[[variation]]\nkind = "orchestrate"\nsurface = "ride"\nat = "1&"\nto = "ride bell"\n')
    assert 2 in columns(page, 5, "ride bell")


def test_carrying_aslant_does_both(grown: Page):
    page = grown
    carry(page, ("snare", 1), ("kick", 3))
    stages(page, 4)
    assert chosen(page) == "3"
    expect(told(page)).to_contain_text("Displace added")
    expect(told(page)).to_contain_text("Orchestrate added")
    assert columns(page, 3, "kick") == [0, 3, 7, 8]


def test_on_the_base_beat_carrying_moves_the_stroke_itself(grown: Page):
    page = grown
    page.locator('section[data-stage="0"] h2 button').click()
    carry(page, ("kick", 7), ("kick", 10))
    expect(told(page)).to_contain_text("kick, & of 3")
    stages(page, 2)
    assert columns(page, 0, "kick") == [0, 8, 10]
    settled(page, GROWN.replace("o------oo-------", "o-------o-o-----"))


def test_before_it_lands_the_stroke_is_shown_where_it_would_land(grown: Page):
    page = grown
    carry(page, ("snare", 4), ("snare", 6), drop=False)
    assert landing(page) == ("snare", 6)
    expect(page.locator("section.chosen gb-stroke-bar p")).to_have_text("snare: 2 to & of 2")
    x, y = point(page, "kick", 6)
    page.mouse.move(x + 3, y)
    assert landing(page) == ("kick", 6)
    x, y = point(page, "kick", 4)
    page.mouse.move(x + 4, y)  # hardly aslant: a trembling hand
    assert landing(page) == ("kick", 4)
    expect(page.locator("section.chosen g.lifted")).to_have_attribute("data-at", str(4 * 2520))
    page.mouse.up()
    expect(page.locator("g.landing")).to_have_count(0)


def test_the_threads_keep_up_with_the_hand(open_page: OpenPage):
    page = open_page("#" + view_of(GROWN + DISPLACE)["link"])
    page.locator('section[data-stage="1"] h2 button').click()
    thread = page.locator('gb-threads[data-stage="2"] g[data-fate="moved"] path').first
    before = thread.get_attribute("d")
    carry(page, ("snare", 4), ("snare", 2), drop=False)
    expect(thread).not_to_have_attribute("d", str(before))
    page.keyboard.press("Escape")
    expect(thread).to_have_attribute("d", str(before))
    page.mouse.up()


@pytest.mark.parametrize("how", ["escape", "outside", "back", "window", "second button"])
def test_a_bad_drop_loses_nothing(grown: Page, how: str):
    page = grown
    before = picture(page)
    carry(page, ("snare", 4), ("snare", 7), drop=False)
    assert landing(page) == ("snare", 7)
    x, y = point(page, "snare", 4)
    if how == "escape":
        page.keyboard.press("Escape")
    elif how == "outside":
        page.mouse.move(x, y - 400)
        expect(page.locator("section.chosen gb-stroke-bar p")).to_have_text("Let go out here and nothing changes.")
    elif how == "back":
        page.mouse.move(x, y)
    elif how == "window":
        page.evaluate("dispatchEvent(new Event('blur'))")
    else:
        page.mouse.down(button="right")
        page.mouse.up(button="right")
        page.keyboard.press("Escape")
    page.mouse.up()
    expect(page.locator("g.landing")).to_have_count(0)
    expect(page.locator("g.lifted")).to_have_count(0)
    assert picture(page) == before
    settled(page, GROWN)
    carry(page, ("snare", 4), ("snare", 5))  # and the hand can go on
    stages(page, 3)


def test_a_drop_on_a_taken_place_of_the_base_beat_is_refused_and_loses_nothing(grown: Page):
    page = grown
    page.locator('section[data-stage="0"] h2 button').click()
    before = picture(page)
    carry(page, ("kick", 7), ("kick", 8))
    expect(page.locator('gb-notice[data-topic="edit"] [role="alert"]')).to_contain_text("free place")
    expect(page.locator("g.landing")).to_have_count(0)
    assert picture(page) == before
    expect(place(page, "kick", 7)).to_be_focused()


def test_a_long_beat_scrolls_under_a_stroke_that_is_carried_to_its_side(open_page: OpenPage):
    long = PLAIN.replace('-x-"', "-x-" + "x-" * 24 + '"').replace('O---"', "O---" + "-" * 48 + '"')
    page = open_page("#" + view_of(long.replace('oo-------"', "oo-------" + "-" * 48 + '"'))["link"], width=700)
    x, y = point(page, "snare", 12)
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(680, y)
    page.mouse.move(690, y)  # and rests there
    page.locator("gb-stages .scroller").evaluate(
        "(one) => new Promise((far) => { const look = () => one.scrollLeft > 200 ? far() : requestAnimationFrame(look); look(); })"
    )
    page.mouse.up()
    expect(place(page, "snare", 12)).to_have_accessible_name("snare, 4 in bar 1, empty")
    (moved,) = [at for at in columns(page, 0, "snare") if at != 4]
    assert moved > 30


def test_carried_past_the_end_a_stroke_comes_in_at_the_beginning(grown: Page):
    page = grown
    x, y = point(page, "snare", 12)
    wide = point(page, "snare", 13)[0] - x
    page.mouse.move(x, y)
    page.mouse.down()
    for step in range(1, 5):
        page.mouse.move(x + wide * step, y)
    assert landing(page) == ("snare", 0)
    expect(page.locator("section.chosen gb-stroke-bar p")).to_contain_text("over the end of the loop")
    page.mouse.up()
    expect(told(page)).to_contain_text("a quarter later")
    at = len(page.locator("gb-stages section").all()) - 1
    assert 0 in columns(page, at, "snare")
    assert 12 not in columns(page, at, "snare")


def test_the_keyboard_carries_over_the_start_of_the_loop(grown: Page):
    page = grown
    page.locator('section[data-stage="0"] h2 button').click()
    place(page, "kick", 0).focus()
    page.keyboard.down("Shift")
    page.keyboard.press("ArrowLeft")
    page.keyboard.press("ArrowLeft")
    page.keyboard.up("Shift")
    expect(place(page, "kick", 14)).to_be_focused()
    assert columns(page, 0, "kick") == [7, 8, 14]
