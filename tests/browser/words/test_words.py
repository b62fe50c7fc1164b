"""Changing a word: tried first, then kept or taken back; by keyboard and by pointer."""

from __future__ import annotations

from typing import Any

import pytest
from playwright.sync_api import Page, expect

from .conftest import (
    SLACK_TIDE,
    WRITES,
    OpenPage,
    address_is,
    choose,
    columns,
    edited,
    focused,
    sentence,
    tab_to,
    view_of,
)


def word(key: int, setting: str, value: str) -> dict[str, Any]:
    return {"ask": "word", "key": key, "setting": setting, "value": value}


def open_word(page: Page, setting: str) -> None:
    page.locator(f'gb-sentence button[data-setting="{setting}"]').click()
    expect(page.locator("gb-word")).to_be_visible()


def test_a_word_is_changed_by_the_keyboard_alone(open_page: OpenPage, link: str):
    page = open_page(link, script=WRITES)
    before = view_of(SLACK_TIDE)["stages"][4]["plain"]
    after = edited(SLACK_TIDE, word(4, "to", "floor tom"))
    assert sentence(page) == before
    tab_to(page, "the ride: change")
    page.keyboard.press("Enter")
    expect(page.get_by_role("listbox", name="where it is played")).to_be_focused()
    page.keyboard.type("the floor")  # typing ahead in a native list
    expect(page.locator("gb-sentence .sentence")).to_have_text(after["stages"][4]["plain"])
    assert columns(page, 4, "floor tom") == [1, 2, 5, 6, 9, 10, 13, 14]
    page.keyboard.press("Enter")
    expect(page.get_by_text("Kept.")).to_be_visible()
    assert focused(page).startswith("the floor tom: change")
    address_is(page, after)
    assert page.evaluate("writes") == ["#" + after["link"]]


def test_what_is_only_tried_is_not_in_the_address(open_page: OpenPage, link: str):
    page = open_page(link, script=WRITES)
    choose(page, 2)
    open_word(page, "at")
    places = page.get_by_role("listbox", name="the places")
    for value in ("&", "all"):  # the second takes the place of the first
        places.select_option(value)
        expected = edited(SLACK_TIDE, word(2, "at", value))
        expect(page.locator("gb-sentence .sentence")).to_have_text(expected["stages"][2]["plain"])
        assert columns(page, 2, "snare") == [
            stroke["at"] // 2520 for stroke in expected["stages"][2]["strokes"] if stroke["surface"] == "snare"
        ]
    page.get_by_role("button", name="Keep", exact=True).click()
    address_is(page, expected)
    assert page.evaluate("writes") == ["#" + expected["link"]]
    page.get_by_role("button", name="Undo").click()  # one entry for the whole of it
    expect(page.locator("gb-sentence .sentence")).to_have_text(view_of(SLACK_TIDE)["stages"][2]["plain"])
    address_is(page, view_of(SLACK_TIDE))


@pytest.mark.parametrize("way", ["Escape", "Take back"])
def test_what_was_tried_can_be_taken_back(open_page: OpenPage, link: str, way: str):
    page = open_page(link, script=WRITES)
    choose(page, 1)
    before = sentence(page)
    open_word(page, "by")
    page.get_by_role("listbox", name="how far").select_option("1/8 earlier")
    expect(page.locator("gb-sentence .sentence")).to_contain_text("an eighth earlier")
    if way == "Escape":
        page.keyboard.press("Escape")
    else:
        page.get_by_role("button", name=way).click()
    expect(page.locator("gb-sentence .sentence")).to_have_text(before)
    expect(page.locator("gb-word")).to_have_count(0)
    assert columns(page, 1, "snare") == [5, 12]
    assert focused(page).startswith("a sixteenth later: change")
    expect(page.get_by_role("button", name="Undo")).to_be_disabled()
    assert page.evaluate("writes") == []


def test_beginning_another_word_keeps_what_was_tried(open_page: OpenPage, link: str):
    page = open_page(link)
    choose(page, 1)
    open_word(page, "by")
    page.get_by_role("listbox", name="how far").select_option("1/8 later")
    expect(page.locator("gb-sentence .sentence")).to_contain_text("an eighth later")
    page.locator('gb-sentence button[data-setting="at"]').click()
    address_is(page, edited(SLACK_TIDE, word(1, "by", "1/8 later")))
    page.get_by_role("listbox", name="the places").select_option("last backbeat")
    page.keyboard.press("Enter")
    address_is(page, edited(SLACK_TIDE, word(1, "by", "1/8 later"), word(1, "at", "last backbeat")))


def test_a_value_can_be_written_and_a_wrong_one_is_explained(open_page: OpenPage, link: str):
    page = open_page(link)
    choose(page, 2)
    before = sentence(page)
    open_word(page, "at")
    field = page.get_by_role("textbox", name="or write the places")
    expect(field).to_have_value("e a")
    field.fill("a1")
    field.press("Enter")
    told = page.locator('gb-notice[data-topic="edit"] [role="alert"] p')
    expect(told).to_contain_text("1a")
    assert sentence(page) == before
    expect(field).to_have_value("a1")  # what was written stays
    field.fill("2[3/6] 4e")
    field.press("Enter")
    after = edited(SLACK_TIDE, word(2, "at", "2[3/6] 4e"))
    expect(page.locator("gb-sentence .sentence")).to_have_text(after["stages"][2]["plain"])
    expect(told).to_have_count(0)
    field.press("Enter")  # once more, unchanged: keep it
    address_is(page, after)


def test_many_of_a_list_are_ticked(open_page: OpenPage, link: str):
    page = open_page(link)
    choose(page, 2)
    open_word(page, "clear-of")
    expect(page.get_by_role("checkbox", name="the kick", exact=True)).to_be_checked()
    page.get_by_role("checkbox", name="the riding hand").check()
    after = edited(SLACK_TIDE, word(2, "clear-of", "riding, kick"))
    expect(page.locator("gb-sentence .sentence")).to_have_text(after["stages"][2]["plain"])
    page.keyboard.press("Enter")
    address_is(page, after)


def test_what_the_sentence_leaves_unsaid_can_be_said(open_page: OpenPage, link: str):
    page = open_page(link)
    choose(page, 3)
    page.get_by_role("button", name="begin anew in every bar").click()
    page.get_by_role("listbox", name="where it begins anew").select_option("bar")
    page.keyboard.press("Enter")
    after = edited(SLACK_TIDE, word(3, "restart", "bar"))
    expect(page.locator("gb-sentence .sentence")).to_have_text(after["stages"][3]["plain"])
    expect(page.get_by_role("button", name="begin anew in every bar")).to_have_count(0)
    address_is(page, after)


def test_a_group_has_a_list_for_each_part_and_can_be_nothing(open_page: OpenPage, link: str):
    page = open_page(link)
    open_word(page, "then")
    page.get_by_role("listbox", name="where those are played").select_option("crash")
    crashed = word(4, "then.to", "crash")
    expect(page.locator("gb-sentence .sentence")).to_have_text(edited(SLACK_TIDE, crashed)["stages"][4]["plain"])
    page.get_by_role("listbox", name="which of them").select_option("ones")
    both = edited(SLACK_TIDE, crashed, word(4, "then.at", "ones"))
    expect(page.locator("gb-sentence .sentence")).to_have_text(both["stages"][4]["plain"])
    assert columns(page, 4, "crash") == [0]
    page.get_by_role("listbox", name="where those are played").select_option("nothing")
    without = edited(SLACK_TIDE, word(4, "then", ""))
    expect(page.locator("gb-sentence .sentence")).to_have_text(without["stages"][4]["plain"])
    page.get_by_role("button", name="Keep", exact=True).click()
    address_is(page, without)
    page.get_by_role("button", name="some of it elsewhere").click()
    expect(page.get_by_role("listbox", name="which of them")).to_be_disabled()  # of what, is not said yet
    page.get_by_role("listbox", name="where those are played").select_option("ride bell")
    page.get_by_role("button", name="Keep", exact=True).click()
    address_is(page, view_of(SLACK_TIDE))


def test_every_word_of_every_kind_opens_with_what_stands_there(open_page: OpenPage):
    text = SLACK_TIDE + '[[variation]]\nkind = "touch-up"\nchanges = ["+ snare 3a ghost", "- kick 2&"]\n'
    view = view_of(text)
    page = open_page("#" + view["link"])
    for stage in view["stages"][1:]:
        choose(page, stage["stage"])
        expect(page.locator("gb-sentence .sentence")).to_have_text(stage["plain"])
        for setting in dict.fromkeys(word.get("setting") for word in stage["sentence"]):
            if not setting:
                continue
            open_word(page, setting)
            said = page.locator("gb-word select option:checked, gb-word input:checked, gb-word textarea")
            expect(said.first).to_be_attached()
            page.keyboard.press("Escape")
            expect(page.locator("gb-word")).to_have_count(0)
    assert sentence(page) == view["stages"][5]["plain"]
    open_word(page, "changes")
    expect(page.get_by_role("textbox", name="the changes by hand")).to_have_value("+ snare 3a ghost\n- kick 2&")
