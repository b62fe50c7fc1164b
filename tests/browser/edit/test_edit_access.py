"""While a beat is worked on everyone keeps the page: axe, large fingers, small screens, forced colours, less motion."""

from __future__ import annotations

from pathlib import Path

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import OpenPage, in_both_schemes, view_of
from tests.browser.edit.hand import place

SLACK_TIDE = (Path(__file__).parents[3] / "examples" / "slack-tide.toml").read_text()


@pytest.fixture(scope="module")
def link() -> str:
    return "#" + view_of(SLACK_TIDE)["link"]


@pytest.mark.parametrize("width", [360, 1440])
def test_axe_finds_nothing_in_any_state_of_editing(open_page: OpenPage, link: str, width: int):
    page = open_page(link, width=width)
    page.get_by_text("The beat", exact=True).click()
    assert in_both_schemes(page) == []
    place(page, "snare", 12).focus()
    page.keyboard.down("Shift")
    page.keyboard.press("ArrowRight")
    assert in_both_schemes(page) == []
    page.keyboard.press("Escape")
    page.keyboard.up("Shift")
    for button in ("Loudness, grace, hand", "snare, this line", "Add a line"):
        page.get_by_role("button", name=button).click()
        expect(page.get_by_role("dialog")).to_have_count(1)
        assert in_both_schemes(page) == []
        page.keyboard.press("Escape")
        expect(page.get_by_role("dialog")).to_have_count(0)


@pytest.mark.parametrize("width", [360, 768])
def test_menus_and_frame_fit_and_a_finger_hits_them(open_page: OpenPage, link: str, width: int):
    page = open_page(link, width=width)
    page.get_by_text("The beat", exact=True).click()
    place(page, "snare", 12).focus()
    for button in ("Loudness, grace, hand", "snare, this line", "Add a line"):
        page.get_by_role("button", name=button).click()
        box = page.get_by_role("dialog").bounding_box()
        assert box is not None
        assert box["x"] >= 0 and box["x"] + box["width"] <= width
        assert box["y"] >= 0 and box["y"] + box["height"] <= 900
        small = page.evaluate(
            """() => {
              const found = [];
              const walk = (root) => {
                for (const one of root.querySelectorAll("*")) {
                  if (one.shadowRoot) walk(one.shadowRoot);
                  if (!one.matches("button, input, select, textarea, summary")) continue;
                  const box = (one.closest("label.tick") ?? one).getBoundingClientRect();
                  if (box.width && (box.height < 43.5 || box.width < 43.5)) found.push(`${one.localName} ${one.name ?? ""} ${box.width}x${box.height}`);
                }
              };
              for (const name of ["gb-stages", "gb-frame"]) walk(document.querySelector(name).renderRoot);
              return found;
            }"""
        )
        assert small == []
        page.keyboard.press("Escape")
    assert page.evaluate("document.documentElement.scrollWidth") <= width


def test_forced_colours_show_the_keyboard_and_where_a_stroke_would_land(open_page: OpenPage, link: str):
    page = open_page(link, forced_colors="active")
    place(page, "snare", 12).focus()
    page.keyboard.down("Shift")
    page.keyboard.press("ArrowRight")
    edge = page.locator("g.landing .edge").evaluate("(one) => getComputedStyle(one).stroke")
    ground = page.evaluate("getComputedStyle(document.body).backgroundColor")
    assert edge not in (ground, "none")
    page.keyboard.press("Escape")
    page.keyboard.up("Shift")
    ring = place(page, "snare", 12).evaluate(
        "(one) => [getComputedStyle(one).outlineStyle, getComputedStyle(one).outlineColor]"
    )
    assert ring[0] == "solid"
    assert ring[1] not in (ground, "rgba(0, 0, 0, 0)")


def test_an_empty_place_shows_itself_under_the_hand_and_the_keyboard(open_page: OpenPage, link: str):
    page = open_page(link)
    free = place(page, "snare", 0)
    mark = "(one) => Number(getComputedStyle(one, '::after').opacity)"
    assert free.evaluate(mark) == 0
    free.hover()
    assert free.evaluate(mark) > 0
    page.mouse.move(0, 0)
    place(page, "snare", 1).focus()
    page.keyboard.press("ArrowLeft")
    assert free.evaluate(mark) > 0
    assert free.evaluate("(one) => getComputedStyle(one, '::before').borderTopWidth") != "0px"
