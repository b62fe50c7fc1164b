"""The help opens beside the beat, by button and by key, and gives the keyboard back."""

from __future__ import annotations

from playwright.sync_api import expect

from .conftest import OpenPage, choose, focused, tab_to


def test_the_help_opens_and_closes_by_the_keyboard(open_page: OpenPage, link: str):
    page = open_page(link)
    tab_to(page, "Help")
    page.keyboard.press("Enter")
    panel = page.get_by_role("dialog", name="Help")
    expect(panel).to_be_visible()
    assert focused(page) == "Help"
    page.keyboard.press("Tab")
    assert focused(page) == "Close"
    page.keyboard.press("Escape")
    expect(panel).to_have_count(0)
    assert focused(page) == "Help"
    page.keyboard.press("?")
    expect(panel).to_be_visible()
    page.keyboard.press("?")
    expect(panel).to_have_count(0)


def test_a_question_mark_in_a_text_is_a_question_mark(open_page: OpenPage, link: str):
    page = open_page(link)
    choose(page, 2)
    field = page.get_by_role("textbox", name="Name")
    field.press_sequentially("Why?")
    expect(field).to_have_value("Why?")
    expect(page.get_by_role("dialog", name="Help")).to_have_count(0)


def test_beside_the_help_the_beat_can_be_used(open_page: OpenPage, link: str):
    page = open_page(link, width=1440)
    page.get_by_role("button", name="Help").click()
    left = page.get_by_role("dialog", name="Help").bounding_box()
    share = page.get_by_role("button", name="Share").bounding_box()
    assert left and share and share["x"] + share["width"] <= left["x"]
    choose(page, 1)
    expect(page.get_by_role("dialog", name="Help")).to_be_visible()


def test_on_a_phone_the_help_fills_the_screen_and_closes(open_page: OpenPage, link: str):
    page = open_page(link, width=360)
    page.get_by_role("button", name="Help").click()
    panel = page.get_by_role("dialog", name="Help")
    box = panel.bounding_box()
    assert box and box["width"] == 360
    panel.get_by_role("button", name="Close").click()
    expect(panel).to_have_count(0)
