"""What opens, and what is drawn then: links, files, common beats; and that a bad one harms nothing."""

from __future__ import annotations

import struct
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from .conftest import OpenPage, columns, view_of

EXAMPLES = Path(__file__).parents[3] / "examples"
SLACK_TIDE = (EXAMPLES / "slack-tide.toml").read_text()
LANTERN_WALK = (EXAMPLES / "lantern-walk.toml").read_text()

SAID = 'gb-notice[data-topic="open"] [role="alert"] p'


@pytest.fixture(scope="module")
def link() -> str:
    return "#" + view_of(SLACK_TIDE)["link"]


def test_a_link_is_drawn_with_the_columns_of_every_stage(open_page: OpenPage, link: str):
    page = open_page(link, own_engine=True)
    expect(page.locator("h1")).to_have_text("Slack Tide")
    assert [columns(page, stage, "snare") for stage in range(3)] == [[4, 12], [5, 12], [1, 3, 5, 9, 11, 12, 13]]
    assert columns(page, 3, "hi-hat") == [0, 1, 2, 4, 5, 6, 8, 9, 10, 12, 13, 14]
    assert columns(page, 4, "ride bell") == [0, 4, 8, 12]
    assert columns(page, 4, "ride") == [1, 2, 5, 6, 9, 10, 13, 14]
    assert all(columns(page, stage, "kick") == [0, 7, 8] for stage in range(5))
    assert page.title() == "Slack Tide · Groundbeat"


def test_threads_tell_what_each_stage_did(open_page: OpenPage, link: str):
    page = open_page(link)
    fates = [
        page.locator(f'gb-threads[data-stage="{stage}"] g').evaluate_all("(all) => all.map((one) => one.dataset.fate)")
        for stage in range(1, 5)
    ]
    assert fates == [["moved"], ["added"] * 5, ["added"] * 4, ["altered"] * 12]


def test_a_left_out_stroke_and_a_merged_one_have_threads_of_their_own(open_page: OpenPage):
    view = view_of(LANTERN_WALK)
    page = open_page("#" + view["link"])
    for stage in view["stages"][1:]:
        told = sorted(thread["fate"] for thread in stage["threads"] if thread["fate"] != "kept")
        drawn = page.locator(f'gb-threads[data-stage="{stage["stage"]}"] g')
        assert sorted(drawn.evaluate_all("(all) => all.map((one) => one.dataset.fate)")) == told
    assert page.locator('g[data-fate="left out"]').count() >= 5
    assert page.locator('g[data-fate="merged"]').count() >= 1


def test_following_a_link_on_the_open_page_opens_it(open_page: OpenPage, link: str):
    page = open_page(link)
    page.evaluate("(hash) => { location.hash = hash; }", view_of(LANTERN_WALK)["link"])
    expect(page.locator("h1")).to_have_text("Lantern Walk")


@pytest.mark.parametrize("spoilt", ["1AFwq0wEMsC4", "1", "9zzzzzzzz", "not a link at all", "%F0%9F"])
def test_a_bad_link_says_so_and_leaves_what_was_there(open_page: OpenPage, link: str, spoilt: str):
    page = open_page(link)
    before = columns(page, 2, "snare")
    page.evaluate("(hash) => { location.hash = hash; }", spoilt)
    expect(page.locator(SAID)).to_be_visible()
    assert len(page.locator(SAID).inner_text()) > 20
    expect(page.locator("h1")).to_have_text("Slack Tide")
    assert columns(page, 2, "snare") == before
    page.locator('gb-notice[data-topic="open"]').get_by_role("button", name="Dismiss").click()
    expect(page.locator(SAID)).to_have_count(0)


def test_a_bad_link_in_a_fresh_page_offers_the_ways_in(open_page: OpenPage):
    page = open_page("#1abc", own_engine=True)
    expect(page.locator(SAID)).to_be_visible()
    expect(page.locator("gb-starting svg")).to_have_count(0)
    expect(page.get_by_text("Nothing is open yet.")).to_be_visible()


def test_without_a_link_the_example_is_there_and_is_called_one(open_page: OpenPage):
    page = open_page(own_engine=True)
    expect(page.locator("gb-stages section")).to_have_count(5)
    expect(page.get_by_text("an example", exact=True)).to_be_visible()
    assert page.evaluate("location.hash") == ""


def test_a_groove_file_is_opened_by_the_button_and_its_link_is_in_the_address(open_page: OpenPage):
    page = open_page()
    choose_file(page, "walk.toml", LANTERN_WALK.encode())
    expect(page.locator("h1")).to_have_text("Lantern Walk")
    expect(page.get_by_text("an example", exact=True)).to_have_count(0)
    page.wait_for_url("**/#" + view_of(LANTERN_WALK)["link"])


def test_a_midi_file_becomes_a_base_beat(open_page: OpenPage):
    page = open_page(own_engine=True)  # what reads MIDI comes to the engine when it is wanted
    choose_file(page, "march.mid", midi_file())
    expect(page.locator("gb-stages section")).to_have_count(1)
    assert columns(page, 0, "snare") == [4, 12]
    assert columns(page, 0, "kick") == [0, 8]


def test_a_file_that_is_no_groove_is_refused_by_name_and_place(open_page: OpenPage, link: str):
    page = open_page(link)
    choose_file(page, "shopping.toml", b"milk\nbread\n")
    expect(page.locator(SAID)).to_contain_text("line 1")
    expect(page.locator("h1")).to_have_text("Slack Tide")


def test_a_file_dropped_anywhere_opens(open_page: OpenPage):
    page = open_page()
    transfer = page.evaluate_handle(
        """(text) => {
          const transfer = new DataTransfer();
          transfer.items.add(new File([text], "walk.toml"));
          return transfer;
        }""",
        LANTERN_WALK,
    )
    page.locator("h1").dispatch_event("dragover", {"dataTransfer": transfer})
    expect(page.get_by_text("Let go to open it")).to_be_visible()
    page.locator("h1").dispatch_event("drop", {"dataTransfer": transfer})
    expect(page.locator("h1")).to_have_text("Lantern Walk")
    expect(page.get_by_text("Let go to open it")).to_have_count(0)


def test_pasted_text_opens_whether_link_groove_or_tablature(open_page: OpenPage, link: str):
    page = open_page()
    address, tablature = f"https://beats.saltmarsh.test/x/{link}", "   1&2&3&\nHH|x-o-X-|\nTitle: Low Water\n"
    for text, title in ((LANTERN_WALK, "Lantern Walk"), (address, "Slack Tide"), (tablature, "Low Water")):
        page.get_by_role("button", name="Open a beat").first.click()
        page.get_by_role("textbox", name="From a link").fill(text)
        page.get_by_role("button", name="Open text").click()
        expect(page.locator("h1")).to_have_text(title)
    expect(page.locator(".remarks")).to_contain_text("line 2, column 8")


def test_each_common_beat_opens(open_page: OpenPage):
    page = open_page()
    names = page.locator("gb-opener li b").all_inner_texts() or page.locator("gb-opener li b").evaluate_all(
        "(all) => all.map((one) => one.textContent)"
    )
    assert len(names) >= 5
    for name in names:
        page.get_by_role("button", name="Open a beat").first.click()
        page.locator("gb-opener li button", has=page.get_by_text(name, exact=True)).click()
        expect(page.locator("h1")).to_have_text(name)
    expect(page.locator(SAID)).to_have_count(0)


def test_text_of_a_link_is_shown_as_text(open_page: OpenPage):
    title = "<img src=x onerror=alert(1)><b>Tide</b>"
    note = "<script>alert(2)</script>&amp;"
    text = SLACK_TIDE.replace('"Slack Tide"', f'"{title}"').replace("Under the knuckles.", note)
    page = open_page("#" + view_of(text)["link"])
    expect(page.locator("h1")).to_have_text(title)
    assert page.locator("h1 *").count() == 0
    assert page.title() == f"{title} · Groundbeat"
    page.locator('gb-stages section[data-stage="2"] h2 button').click()
    expect(page.get_by_label("Your note")).to_have_value(note)
    assert page.locator("gb-sentence .note textarea *").count() == 0


def test_a_title_from_right_to_left_reads_so(open_page: OpenPage):
    page = open_page("#" + view_of(SLACK_TIDE.replace("Slack Tide", "مدّ وجزر"))["link"])
    assert page.locator("h1").evaluate("(h1) => getComputedStyle(h1).direction") == "rtl"
    assert page.locator("gb-stages").evaluate("(all) => getComputedStyle(all).direction") == "ltr"


def choose_file(page: Page, name: str, content: bytes) -> None:
    page.get_by_role("button", name="Open a beat").first.click()
    page.locator('gb-opener input[type="file"]').set_input_files(
        {"name": name, "mimeType": "application/octet-stream", "buffer": content}
    )
    page.get_by_role("button", name="Open file").click()


def midi_file() -> bytes:
    """One bar of 4/4: kick (36) on 1 and 3, snare (38) on 2 and 4, on channel 10, 96 ticks a quarter."""
    track = b""
    for key in (36, 38, 36, 38):
        # note on at once, note off 48 ticks later, then 48 ticks of rest
        track += bytes([0, 0x99, key, 100, 48, 0x89, key, 0, 48, 0xB9, 7, 100])
    track += bytes([0, 0xFF, 0x2F, 0])
    return b"MThd" + struct.pack(">IHHH", 6, 0, 1, 96) + b"MTrk" + struct.pack(">I", len(track)) + track
