"""Suggestions on the page: what the engine found, seen and heard before it is taken, and gone when it is left."""

from __future__ import annotations

import json
from typing import Any

import pytest
from playwright.sync_api import Locator, Page, expect

from groundbeat.bridge.door import answer
from tests.browser.words.conftest import SLACK_TIDE, address_is, choose, edited, focused, tab_to

from .conftest import OpenPage, chosen, in_both_schemes, view_of
from .test_plan_page import small

LONG = 30_000
TOO_MUCH = """groundbeat = 1
title = "Three at once"
tempo = 120
[base]
hi-hat = "x-x-x-x-x-x-x-x-"
snare = "----O-------O---"
floor-tom = "----o-----------"
kick = "o-------o-------"
"""


@pytest.fixture(scope="module")
def link() -> str:
    return "#" + view_of(SLACK_TIDE)["link"]


def told(stage: int = 2, keep: str = "backbeats", document: str = SLACK_TIDE, **rest: Any) -> dict[str, Any]:
    """Ask the engine itself, outside the browser."""
    question = {"ask": "suggest", "document": view_of(document)["document"], "stage": stage, "keep": keep, **rest}
    reply: dict[str, Any] = json.loads(answer(json.dumps(question)))
    assert reply.get("answer") == "suggest", reply
    return reply


def plains(reply: dict[str, Any]) -> list[str]:
    return [one["plain"] for one in reply["suggestions"]]


def fresh(reply: dict[str, Any]) -> list[int]:
    """Which suggestions add a stage."""
    return [i for i, one in enumerate(reply["suggestions"]) if not one["key"]]


def panel(page: Page, stage: int = 2) -> Locator:
    choose(page, stage)
    page.get_by_role("button", name="Suggestions").click()
    found = page.get_by_role("dialog", name="Suggestions")
    settled(found)
    return found


def settled(found: Locator) -> None:
    """Wait until the engine has answered."""
    expect(found.locator('.found[aria-busy="false"]')).to_have_count(1, timeout=LONG)


def shown(found: Locator) -> list[str]:
    return found.locator(".one > p:not(.soft, .where)").all_inner_texts()


def test_it_shows_what_the_engine_found_and_why(open_page: OpenPage, link: str):
    found = panel(open_page(link))
    reply = told()
    assert shown(found) == plains(reply)
    for one, row in zip(reply["suggestions"], found.locator(".one").all(), strict=True):
        expect(row.get_by_role("heading")).to_have_text(one["heading"])
        expect(row).to_contain_text(one["why"][1:])
        less = [p["part"] for p in one["parts"] if p["part"] != "newness" and p["after"] <= p["before"] - 5]
        for part in less:
            expect(row.locator(".parts")).to_contain_text(part)
        assert row.get_by_text("Less:").count() == (1 if less else 0)


def test_a_suggestion_is_seen_and_heard_and_leaving_takes_it_back(open_page: OpenPage, link: str):
    page = open_page(link)
    found = panel(page)
    url = page.url
    at = fresh(told())[0]
    first = told()["suggestions"][at]
    found.locator(".one").nth(at).get_by_role("button", name="Hear it").click()
    expect(page.locator("gb-sentence .sentence")).to_have_text(first["plain"], timeout=LONG)
    expect(found.get_by_role("button", name="Back to what was")).to_have_count(1)
    expect(page.get_by_role("button", name="Stop").first).to_be_visible(timeout=15_000)
    expect(page.locator("gb-stages section")).to_have_count(6)
    assert page.url == url, "it is only tried"
    found.get_by_role("button", name="Close").click()
    expect(page.locator("gb-stages section")).to_have_count(5)
    expect(page.locator("section.chosen")).to_have_attribute("data-stage", "2")
    assert page.url == url
    expect(page.get_by_role("button", name="Undo")).to_be_disabled()
    assert focused(page) == "Suggestions"


@pytest.mark.parametrize("heard", ["not heard", "heard", "another heard"])
def test_what_is_taken_is_exactly_what_was_suggested(open_page: OpenPage, link: str, heard: str):
    page = open_page(link)
    found = panel(page)
    other, at = fresh(told())[:2]
    if heard != "not heard":
        row = found.locator(".one").nth(at if heard == "heard" else other)
        row.get_by_role("button", name="Hear it").click()
        expect(row.get_by_role("button", name="Back to what was")).to_be_visible()
        expect(page.locator("gb-stages section")).to_have_count(6, timeout=LONG)
    found.locator(".one").nth(at).get_by_role("button", name="Take it").click()
    expect(found).to_have_count(0, timeout=LONG)
    one = told()["suggestions"][at]
    change = {"ask": "take", **{name: one[name] for name in ("key", "after", "kind", "settings")}}
    address_is(page, edited(SLACK_TIDE, change))
    assert chosen(page) == "3"
    page.get_by_role("button", name="Undo").click()
    expect(page.locator("gb-stages section")).to_have_count(5)
    page.wait_for_url(lambda url: url.endswith(link))


def test_wishes_what_stays_and_others_ask_for_something_else(open_page: OpenPage, link: str):
    found = panel(open_page(link))
    found.get_by_role("button", name="a little busier", exact=True).click()
    settled(found)
    expect(found.get_by_role("button", name="a little busier", exact=True)).to_have_attribute("aria-pressed", "true")
    assert shown(found) == plains(told(wish="a little busier"))
    found.get_by_role("checkbox", name="kick").check()
    settled(found)
    assert shown(found) == plains(told(wish="a little busier", keep="backbeats kick"))
    found.get_by_role("button", name="Others").click()
    settled(found)
    assert shown(found) == plains(told(wish="a little busier", keep="backbeats kick", seed=1))
    field = found.get_by_role("textbox", name="It is to be")
    field.fill("more ghosts and quieter")
    field.press("Enter")
    settled(found)
    assert shown(found) == plains(told(wish="more ghosts and quieter", keep="backbeats kick"))
    field.fill("purple")
    field.press("Enter")
    expect(found.get_by_role("alert")).to_contain_text("purple", timeout=LONG)


def test_another_stage_makes_them_old_and_they_are_looked_for_anew(open_page: OpenPage, link: str):
    page = open_page(link)
    found = panel(page)
    page.get_by_role("button", name="Stage back").click()
    expect(found.get_by_text("The beat or the stage has changed since.")).to_be_visible()
    expect(found.locator(".one")).to_have_count(0)
    found.get_by_role("button", name="Look again").click()
    settled(found)
    expect(found.locator(".one").first).to_be_visible()
    assert shown(found) == plains(told(1))


def test_undo_takes_back_what_is_tried_here_too(open_page: OpenPage, link: str):
    page = open_page(link)
    found = panel(page)
    found.locator(".one").nth(fresh(told())[0]).get_by_role("button", name="Hear it").click()
    expect(page.locator("gb-stages section")).to_have_count(6, timeout=LONG)
    page.get_by_role("button", name="Undo").click()
    expect(page.locator("gb-stages section")).to_have_count(5)
    expect(found.get_by_role("button", name="Back to what was")).to_have_count(0)


def test_where_it_cannot_be_played_easier_ones_are_offered(open_page: OpenPage):
    page = open_page("#" + view_of(TOO_MUCH)["link"])
    page.get_by_role("button", name="Make it easier").click(timeout=LONG)
    found = page.get_by_role("dialog", name="Suggestions")
    settled(found)
    expect(found.get_by_role("button", name="easier", exact=True)).to_have_attribute("aria-pressed", "true")
    expect(found.locator(".one").first).to_be_visible()
    assert shown(found) == plains(told(0, document=TOO_MUCH, wish="easier"))


def test_it_goes_by_keyboard_alone(open_page: OpenPage, link: str):
    page = open_page(link)
    tab_to(page, "Suggestions")
    page.keyboard.press("Enter")
    found = page.get_by_role("dialog", name="Suggestions")
    settled(found)
    expect(found.locator(".one").first).to_be_visible(timeout=LONG)
    reply = told(4)  # the last stage is chosen at first
    tab_to(page, "Hear it: " + plains(reply)[fresh(reply)[0]])
    page.keyboard.press("Enter")
    expect(page.locator("gb-stages section")).to_have_count(6, timeout=LONG)
    assert focused(page).startswith("Back to what was: ")
    page.keyboard.press("Escape")
    expect(found).to_have_count(0)
    expect(page.locator("gb-stages section")).to_have_count(5)
    assert focused(page) == "Suggestions"


@pytest.mark.parametrize("width", [360, 1440])
def test_nobody_is_kept_out_and_the_tried_stage_is_in_sight(open_page: OpenPage, link: str, width: int):
    page = open_page(link, width=width, reduced_motion="reduce")
    found = panel(page)
    found.locator(".one").nth(fresh(told())[0]).get_by_role("button", name="Hear it").click()
    expect(page.locator("gb-stages section")).to_have_count(6, timeout=LONG)
    expect(found.get_by_role("button", name="Back to what was")).to_be_visible()
    assert in_both_schemes(page) == []
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
    assert small(found) == []
    page.wait_for_function("() => scrollY > 0")
    band = page.locator("section.chosen gb-lines").bounding_box()
    covered = found.bounding_box()
    assert band and covered
    free = covered["x"] if width == 1440 else covered["y"]
    assert band["y"] >= 0
    assert (band["x"] + band["width"] if width == 1440 else band["y"] + 120) <= free + 1
