"""The variations of a beat on another one: what becomes of each is shown first, and nothing changes until it is wished."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Locator, Page, expect

from groundbeat.bridge.door import answer
from tests.browser.words.conftest import address_is, focused, tab_to

from .conftest import OpenPage, columns, view_of, violations

EXAMPLES = Path(__file__).parents[3] / "examples"
SLACK_TIDE = (EXAMPLES / "slack-tide.toml").read_text()
LATE_FERRY = (EXAMPLES / "beats" / "09-late-ferry.toml").read_text()
TRY = "Try these variations on another beat"
# One hit on the snare (key 38, channel 10) in a format 0 file with 96 ticks to the quarter.
MIDI = bytes.fromhex("4d546864000000060000000100604d54726b0000000c0099266460892600 00ff2f00".replace(" ", ""))


@pytest.fixture(scope="module")
def link() -> str:
    return "#" + view_of(SLACK_TIDE)["link"]


def carried(onto: str, document: str = SLACK_TIDE) -> dict[str, Any]:
    """Ask the engine itself what becomes of the variations."""
    reply: dict[str, Any] = json.loads(answer(json.dumps({"ask": "carry", "document": document, "onto": onto})))
    assert reply["answer"] == "carry"
    return reply


def dialog(page: Page) -> Locator:
    page.get_by_role("button", name=TRY).click()
    found = page.locator("gb-onto dialog")
    expect(found).to_be_visible()
    return found


def pasted(page: Page, text: str) -> Locator:
    """Try the variations on a beat that is pasted."""
    found = dialog(page)
    found.get_by_role("textbox", name="A link").fill(text)
    found.get_by_role("button", name="Try this one").click()
    return found


def test_what_becomes_of_each_variation_is_told_as_the_engine_tells_it(open_page: OpenPage, link: str):
    page = open_page(link)
    box = dialog(page)
    box.get_by_role("button", name="Late Ferry").click()
    told = carried(LATE_FERRY)
    expect(box.get_by_role("heading", name="On Late Ferry")).to_be_visible()
    expect(box.get_by_text(told["told"])).to_be_visible()
    expect(box.get_by_role("columnheader")).to_have_text(["Variation", "Slack Tide", "Late Ferry"])
    rows = box.locator("tr[data-stage]")
    expect(rows).to_have_count(4)
    for row, one in zip(rows.all(), told["rows"], strict=True):
        expect(row.locator(".verdict")).to_have_text(one["verdict"])
        expect(row.get_by_role("rowheader")).to_contain_text(one["plain"])
        expect(row.locator(".summary")).to_have_text([one["here"], one["there"]])
        if one["why"]:
            expect(row.locator(".why")).to_have_text(one["why"])
    assert {one["verdict"] for one in told["rows"]} == {"carried over", "found nothing"}


def test_both_sides_are_drawn_as_they_are(open_page: OpenPage, link: str):
    page = open_page(link)
    box = dialog(page)
    box.get_by_role("button", name="Late Ferry").click()
    for side, view in enumerate([view_of(SLACK_TIDE), carried(LATE_FERRY)["view"]]):
        for number in (0, 4):
            cell = box.locator("tbody tr").nth(number).get_by_role("cell").nth(side)
            expect(cell.locator("g.stroke")).to_have_count(len(view["stages"][number]["strokes"]))


def test_until_it_is_taken_nothing_changes_and_undo_brings_the_beat_back(open_page: OpenPage, link: str):
    page = open_page(link)
    box = pasted(page, LATE_FERRY)
    expect(box.get_by_role("button", name="Show it")).to_be_focused()
    assert page.url.endswith(link) and page.locator("h1").inner_text() == "Slack Tide"
    box.get_by_role("button", name="Show it").click()
    expect(page.locator("h1")).to_have_text("Slack Tide on Late Ferry")
    address_is(page, carried(LATE_FERRY)["view"])
    expect(page.locator('section[data-stage="1"] gb-head')).to_contain_text("nothing changed")
    page.get_by_role("button", name="Undo").click()
    expect(page.locator("h1")).to_have_text("Slack Tide")
    page.wait_for_url(lambda url: url.endswith(link))
    assert columns(page, 1, "snare") == [5, 12]
    page.get_by_role("button", name="Redo").click()
    expect(page.locator("h1")).to_have_text("Slack Tide on Late Ferry")


def test_it_goes_by_keyboard_alone(open_page: OpenPage, link: str):
    page = open_page(link)
    tab_to(page, TRY)
    page.keyboard.press("Enter")
    tab_to(page, "Boardwalk")
    page.keyboard.press("Enter")
    expect(page.locator("gb-onto tr[data-stage]")).to_have_count(4)
    assert focused(page) == "Show it"
    page.keyboard.press("Tab")
    assert focused(page) == "Back"
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", name=TRY)).to_be_focused()
    page.keyboard.press("Escape")
    expect(page.locator("gb-onto dialog")).to_be_hidden()
    assert focused(page) == TRY
    assert page.url.endswith(link)


@pytest.mark.parametrize(
    ("text", "told"),
    [("#1cutshort", "link"), ("groundbeat = 1\nmeter = 9", "line 2"), ("nothing of the kind", "line 1")],
)
def test_what_cannot_be_read_is_said_in_the_dialog(open_page: OpenPage, link: str, text: str, told: str):
    page = open_page(link)
    box = pasted(page, text)
    expect(box.get_by_role("alert")).to_contain_text(told)
    expect(box.locator("table")).to_have_count(0)
    expect(page.locator("gb-notice .note")).to_have_count(0)
    assert page.url.endswith(link)


def test_an_empty_field_keeps_the_keyboard(open_page: OpenPage, link: str):
    page = open_page(link)
    box = dialog(page)
    box.get_by_role("button", name="Try this one").click()
    expect(box.get_by_role("textbox", name="A link")).to_be_focused()


def test_a_groove_file_and_a_midi_file_can_be_the_other_beat(open_page: OpenPage, link: str):
    page = open_page(link)
    box = dialog(page)
    box.get_by_label("Or a file").set_input_files(
        {"name": "ferry.toml", "mimeType": "text/plain", "buffer": LATE_FERRY.encode()}
    )
    expect(box.get_by_role("heading", name="On Late Ferry")).to_be_visible()
    box.get_by_role("button", name="Back").click()
    box.get_by_label("Or a file").set_input_files({"name": "hit.mid", "mimeType": "audio/midi", "buffer": MIDI})
    expect(box.locator("tr[data-stage]")).to_have_count(4)
    box.get_by_role("button", name="Back").click()
    box.get_by_label("Or a file").set_input_files({"name": "a.toml", "mimeType": "text/plain", "buffer": b"meter"})
    expect(box.get_by_role("alert")).to_contain_text("a.toml")


def test_text_from_a_link_is_only_text(open_page: OpenPage, link: str):
    title = "<img src=x onerror=alert(1)>"
    page = open_page(link)
    box = pasted(page, LATE_FERRY.replace('title = "Late Ferry"', f'title = "{title}"'))
    expect(box.get_by_role("columnheader").nth(2)).to_have_text(title)
    assert box.locator("img").count() == 0


def test_what_is_only_tried_does_not_come_along(open_page: OpenPage, link: str):
    page = open_page(link)
    page.locator('gb-next button[data-kind="displace"]').click()
    expect(page.get_by_role("button", name="Keep", exact=True)).to_be_focused()
    box = pasted(page, LATE_FERRY)
    expect(box.locator("tr[data-stage]")).to_have_count(4)


def test_a_beat_without_variations_offers_nothing_to_carry(open_page: OpenPage):
    page = open_page("#" + view_of(LATE_FERRY)["link"])
    expect(page.locator("gb-next button").first).to_be_visible()
    assert page.get_by_role("button", name=TRY).count() == 0


@pytest.mark.parametrize("width", [1280, 360])
def test_nobody_is_kept_out_and_on_a_phone_the_sides_stand_one_under_the_other(
    open_page: OpenPage, link: str, width: int
):
    page = open_page(link, width=width)
    box = pasted(page, LATE_FERRY)
    cells = box.locator('tr[data-stage="2"]').get_by_role("cell")
    expect(cells).to_have_count(2)
    here, there = (cell.bounding_box() for cell in cells.all())
    assert here and there
    if width == 360:
        assert there["y"] >= here["y"] + here["height"] and abs(there["x"] - here["x"]) < 1
        assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
    else:
        assert there["x"] >= here["x"] + here["width"] and abs(there["y"] - here["y"]) < 1
    assert violations(page) == []
