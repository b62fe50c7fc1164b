"""The variations in their order: adding each kind, reordering, taking out, names and notes, and the empty beginning."""

from __future__ import annotations

import pytest
from playwright.sync_api import expect

from .conftest import (
    KINDS,
    READY,
    SLACK_TIDE,
    WRITES,
    OpenPage,
    address_is,
    asked,
    choose,
    columns,
    edited,
    sentence,
    view_of,
)


@pytest.mark.parametrize("kind", KINDS)
def test_each_kind_can_be_added_after_the_chosen_stage(open_page: OpenPage, link: str, kind: str):
    page = open_page(link, script=WRITES)
    choose(page, 2)
    after = edited(SLACK_TIDE, {"ask": "add", "kind": kind, "after": 2})
    button = page.locator(f'gb-next button[data-kind="{kind}"]')
    told = next(row for row in asked(ask="kinds")["kinds"] if row["kind"] == kind)
    expect(button).to_have_text(f"{told['heading']} {told['sentence']}")
    button.click()
    expect(page.locator("section.chosen")).to_have_attribute("data-stage", "3")
    expect(page.locator("gb-stages section")).to_have_count(6)
    assert sentence(page) == after["stages"][3]["plain"]
    expect(page.get_by_role("button", name="Keep", exact=True)).to_be_focused()
    assert page.evaluate("writes") == []
    page.keyboard.press("Enter")
    address_is(page, after)
    page.get_by_role("button", name="Undo").click()
    address_is(page, view_of(SLACK_TIDE))
    expect(page.locator("gb-stages section")).to_have_count(5)


def test_an_added_variation_can_be_taken_back_before_it_is_kept(open_page: OpenPage, link: str):
    page = open_page(link, script=WRITES)
    choose(page, 1)
    page.locator('gb-next button[data-kind="ostinato"]').click()
    expect(page.get_by_role("button", name="Keep", exact=True)).to_be_focused()
    page.keyboard.press("Escape")
    expect(page.locator("gb-stages section")).to_have_count(5)
    expect(page.locator("section.chosen")).to_have_attribute("data-stage", "1")
    assert page.evaluate("writes") == []


def test_variations_are_reordered_and_their_strokes_follow(open_page: OpenPage, link: str):
    page = open_page(link)
    choose(page, 2)
    page.get_by_role("button", name="Move up").click()
    moved = edited(SLACK_TIDE, {"ask": "move", "key": 2, "to": 1})
    address_is(page, moved)
    expect(page.locator("section.chosen")).to_have_attribute("data-stage", "1")
    expect(page.get_by_role("button", name="Move up")).to_be_disabled()
    for stage in (1, 2):
        assert columns(page, stage, "snare") == [
            stroke["at"] // 2520 for stroke in moved["stages"][stage]["strokes"] if stroke["surface"] == "snare"
        ]
    page.get_by_role("button", name="Move down").click()
    address_is(page, view_of(SLACK_TIDE))


def test_a_variation_is_taken_out_and_comes_back_by_undo(open_page: OpenPage, link: str):
    page = open_page(link)
    choose(page, 3)
    page.get_by_role("button", name="Remove").click()
    address_is(page, edited(SLACK_TIDE, {"ask": "remove", "key": 3}))
    expect(page.locator("gb-stages section")).to_have_count(4)
    assert columns(page, 3, "ride bell") == [0, 4, 8, 12]
    page.get_by_role("button", name="Undo").click()
    address_is(page, view_of(SLACK_TIDE))


def test_one_that_is_off_keeps_its_sentence(open_page: OpenPage, link: str):
    page = open_page(link)
    choose(page, 2)
    page.get_by_role("switch", name="stage 2, Embellish").uncheck()
    address_is(page, edited(SLACK_TIDE, {"ask": "switch", "key": 2, "on": False}))
    assert sentence(page) == view_of(SLACK_TIDE)["stages"][2]["plain"]
    assert columns(page, 2, "snare") == [5, 12]


def test_name_and_note_are_written_each_as_one_change(open_page: OpenPage, link: str):
    page = open_page(link)
    choose(page, 2)
    name, note = page.get_by_role("textbox", name="Name"), page.get_by_role("textbox", name="Your note")
    expect(note).to_have_value("Under the knuckles.")
    name.fill("Whispers")
    name.press("Enter")
    named = edited(SLACK_TIDE, {"ask": "name", "key": 2, "name": "Whispers", "note": "Under the knuckles."})
    address_is(page, named)
    note.fill("Low stick.\nStay on the head.")
    choose(page, 1)  # leaving the field commits
    both = {"ask": "name", "key": 2, "name": "Whispers", "note": "Low stick.\nStay on the head."}
    address_is(page, edited(SLACK_TIDE, both))
    page.get_by_role("button", name="Undo").click()
    address_is(page, named)
    page.get_by_role("button", name="Undo").click()
    address_is(page, view_of(SLACK_TIDE))
    choose(page, 2)
    name.fill("not this")
    name.press("Escape")
    expect(name).to_have_value("")


def test_names_and_notes_are_shown_as_text(open_page: OpenPage):
    bad = "<img src=x onerror=document.title='broken'>"
    page = open_page("#" + edited(SLACK_TIDE, {"ask": "name", "key": 2, "name": bad, "note": bad})["link"])
    choose(page, 2)
    expect(page.get_by_role("textbox", name="Name")).to_have_value(bad)
    expect(page.get_by_role("textbox", name="Your note")).to_have_value(bad)
    page.get_by_role("button", name="Share").click()
    page.get_by_role("button", name="Close").last.click()
    found = "(tag) => [...document.querySelectorAll('gb-stages, gb-sentence')].flatMap((one) => [...one.renderRoot.querySelectorAll(tag)])"
    assert page.evaluate(f"({found})('img').length") == 0
    assert page.title() == "Slack Tide · Groundbeat"


def test_an_empty_page_offers_a_new_beat_and_the_common_ones(open_page: OpenPage):
    page = open_page("#1abc")
    region = page.get_by_role("region", name="Nothing is open yet.")
    assert region.get_by_role("listitem").count() >= 5
    region.get_by_role("button", name="New beat").click()
    expect(page.locator("gb-stages section")).to_have_count(1)
    address_is(page, asked(ask="new"))
    page.locator('gb-next button[data-kind="embellish"]').click()
    page.keyboard.press("Enter")
    expect(page.locator("gb-stages section")).to_have_count(2)


def test_a_new_beat_leaves_the_old_one_in_the_undo(open_page: OpenPage, link: str):
    page = open_page(link)
    page.get_by_role("button", name="New beat").click()
    address_is(page, asked(ask="new"))
    page.get_by_role("button", name="Undo").click()
    address_is(page, view_of(SLACK_TIDE))


@pytest.mark.parametrize(
    "script", ["", "Object.defineProperty(window, 'localStorage', {get() { throw new Error('none'); }});"]
)
def test_a_hint_that_was_put_away_stays_away(open_page: OpenPage, link: str, script: str):
    page = open_page(link, script=script)
    hint = page.locator("gb-hint").get_by_text("Every underlined word can be changed")
    expect(hint).to_be_visible()
    page.get_by_role("button", name="Got it: Every underlined word").click()
    expect(hint).to_have_count(0)
    choose(page, 0)
    choose(page, 1)
    expect(hint).to_have_count(0)
    page.reload()
    expect(page.locator("gb-sentence .sentence")).to_be_visible(timeout=READY)
    expect(hint).to_have_count(1 if script else 0)
