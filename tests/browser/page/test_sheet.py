"""Sheets for a class: chosen and printed by everyone, and played without giving away what is asked for."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Locator, Page, expect
from pypdf import PdfReader

from groundbeat.bridge.door import answer
from tests.browser.words.conftest import focused, tab_to

from .conftest import OpenPage, chosen, in_both_schemes, view_of

EXAMPLES = Path(__file__).parents[3] / "examples"
SLACK_TIDE = (EXAMPLES / "slack-tide.toml").read_text()
CARE = "Protect your hearing, take breaks, stop if it hurts."


@pytest.fixture(scope="module")
def link() -> str:
    return "#" + view_of(SLACK_TIDE)["link"]


def asked(sheet: str, stage: int = 4, **rest: Any) -> dict[str, Any]:
    """Ask the engine itself, outside the browser."""
    question = {"ask": "sheet", "document": SLACK_TIDE, "sheet": sheet, "stage": stage, **rest}
    reply: dict[str, Any] = json.loads(answer(json.dumps(question)))
    assert reply.get("answer") == "sheet", reply
    return reply


def sheets(page: Page) -> Locator:
    page.get_by_role("button", name="Share").click()
    page.get_by_role("button", name="Sheets for a class").click()
    dialog = page.get_by_role("dialog", name="Sheets for a class")
    expect(dialog.get_by_role("region", name="Preview").locator("h3")).to_be_visible()
    return dialog


def preview(dialog: Locator, heading: str, name: str) -> Locator:
    """Choose a sheet, and wait until the preview shows it."""
    dialog.get_by_role("radio", name=name).check()
    paper = dialog.get_by_role("region", name="Preview")
    expect(paper.get_by_role("heading", name=heading)).to_be_visible()
    return paper


def pages_of(pdf: bytes) -> int:
    return len(re.findall(rb"/Type\s*/Page\b", pdf))


LIT = """async () => {
  const stages = document.querySelector("gb-stages").shadowRoot;
  let lit = 0;
  for (let frame = 0; frame < 60; frame += 1) {
    await new Promise(requestAnimationFrame);
    lit += stages.querySelectorAll(".light.on, .marker.on").length;
  }
  return lit;
}"""
"""Counts over 60 frames how often a light shows where the music is."""

SEEN = """() => {
  const texts = [];
  const walk = (node) => {
    if (node.nodeType === Node.TEXT_NODE) texts.push(node.data);
    else if (!(node instanceof Element) || node.checkVisibility()) {
      for (const child of (node.shadowRoot ?? node).childNodes) walk(child);
    }
  };
  walk(document.body);
  return texts.join(" ").replace(/\\s+/g, " ");
}"""
"""All text that is seen, inside elements too."""


def printed(page: Page) -> str:
    """What a printer sees of the page, as text."""
    page.emulate_media(media="print")
    text: str = page.evaluate(SEEN)
    page.emulate_media(media="null")  # "screen" would hold for the printer too
    return text


def test_it_goes_by_keyboard_alone_and_back_to_where_it_began(open_page: OpenPage, link: str):
    page = open_page(link, script="window.prints = 0; window.print = () => { window.prints += 1; };")
    tab_to(page, "Share")
    page.keyboard.press("Enter")
    tab_to(page, "Sheets for a class")
    page.keyboard.press("Enter")
    expect(page.get_by_role("dialog", name="Share")).to_be_hidden()
    tab_to(page, "Every place in turn")
    page.keyboard.press("ArrowDown")
    expect(page.get_by_role("region", name="Preview").get_by_role("heading", name="Write the count")).to_be_visible()
    tab_to(page, "Print")
    page.keyboard.press("Enter")
    assert page.evaluate("prints") == 1
    page.keyboard.press("Escape")
    expect(page.get_by_role("dialog")).to_have_count(0)
    assert focused(page) == "Share"


def test_the_preview_shows_what_the_engine_makes(open_page: OpenPage, link: str):
    dialog = sheets(open_page(link))
    told = asked("turns")
    paper = preview(dialog, told["heading"], "Every place in turn")
    expect(paper.locator("article")).to_have_count(4)
    for item, article in zip(told["items"], paper.locator("article").all(), strict=True):
        expect(article.get_by_role("heading")).to_have_text(re.compile(f"{item['label']}\\s*{item['begins']}"))
        expect(article.locator(".sentence")).to_have_text(item["sentence"])
        expect(article.locator(".stroke")).to_have_count(len(item["strokes"]))
        expect(article.locator(".stroke.figure")).to_have_count(2)
        expect(article.get_by_role("img")).to_have_accessible_name(item["spoken"])
    dialog.locator("select[name=of]").select_option("kick")
    expect(paper.locator("article")).to_have_count(16)
    dialog.locator("select[name=stage]").select_option("0")
    expect(paper.locator("article")).to_have_count(len(asked("turns", 0)["items"]))


def test_the_blanks_stand_under_the_strokes_and_the_answers_are_apart(open_page: OpenPage, link: str):
    dialog = sheets(open_page(link))
    paper = preview(dialog, "Write the count", "Write the count")
    dialog.locator("select[name=stage]").select_option("1")
    expect(paper.locator(".blank")).to_have_count(10)
    expect(paper.locator(".count, .answer")).to_have_count(0)
    dialog.get_by_text("The answers", exact=True).click()
    expect(dialog.locator("details .answer")).to_have_text([*"1&2e&a3&4&"])
    middles = """(all) => all.map((one) => { const { x, width } = one.getBoundingClientRect(); return Math.round(x + width / 2); })"""
    strokes = set(paper.locator(".pillar").evaluate_all(middles))
    blanks = paper.locator(".blank").evaluate_all(middles)
    assert all(any(abs(blank - stroke) <= 1 for stroke in strokes) for blank in blanks)
    dialog.locator("select[name=of]").select_option("snare")
    expect(paper.locator(".blank")).to_have_count(2)


def test_the_order_follows_from_its_number_and_the_key_is_not_in_sight(open_page: OpenPage, link: str):
    dialog = sheets(open_page(link))
    paper = preview(dialog, "Which stage do you hear?", "Which stage do you hear?")
    expect(paper.locator(".heard li")).to_have_count(5)
    expect(paper.locator(".label")).to_have_text([*"ABCDE"])
    expect(dialog.get_by_text("the base beat")).to_be_hidden()
    for number in (1, 2):
        told = asked("hear", seed=number)
        names = [item["spoken"] for item in told["items"]]
        expect(paper.get_by_role("img").nth(0)).to_have_accessible_name(names[0])
        assert [one.get_attribute("aria-label") for one in paper.get_by_role("img").all()] == names
        key = dialog.locator("details tbody tr")
        expect(key).to_have_count(5)
        rows = [row.locator("td").all_text_contents() for row in key.all()]
        assert rows == [[str(n), play["label"], play["told"]] for n, play in enumerate(told["plays"], 1)]
        dialog.get_by_role("button", name="Another order").click()
    field = dialog.get_by_label("Order number")
    expect(field).to_have_value("3")
    field.fill("0")
    field.press("Tab")
    expect(field).to_have_value("1")


def test_a_beat_is_played_and_nothing_shows_which(open_page: OpenPage, link: str):
    page = open_page(link)
    dialog = sheets(page)
    preview(dialog, "Which stage do you hear?", "Which stage do you hear?")
    before = chosen(page)
    for number in (1, 3):
        dialog.get_by_role("button", name=f"Play {number}", exact=True).click()
        expect(dialog.get_by_text(f"Number {number} sounds.")).to_be_visible(timeout=15_000)
        assert chosen(page) == before
        assert page.evaluate(LIT) == 0
    dialog.get_by_role("button", name="Stop").click()
    expect(dialog.get_by_text("Number 3 sounds.")).to_be_hidden()
    expect(dialog.get_by_role("button", name="Stop")).to_be_disabled()
    page.keyboard.press("Escape")
    # Afterwards the page plays the chosen stage, with its light.
    page.get_by_role("button", name="Play", exact=True).click()
    expect(page.locator("gb-stages .light.on")).to_have_count(1, timeout=15_000)
    assert chosen(page) == before


def test_closing_the_sheets_ends_what_they_play(open_page: OpenPage, link: str):
    page = open_page(link)
    dialog = sheets(page)
    preview(dialog, "Which stage do you hear?", "Which stage do you hear?")
    dialog.get_by_role("button", name="Play 2", exact=True).click()
    expect(dialog.get_by_text("Number 2 sounds.")).to_be_visible(timeout=15_000)
    page.keyboard.press("Escape")
    expect(page.get_by_role("button", name="Play", exact=True)).to_be_visible()


@pytest.mark.parametrize("name", ["turns", "count", "hear"])
def test_a_printer_sees_the_sheet_alone(open_page: OpenPage, link: str, name: str):
    page = open_page(link)
    dialog = sheets(page)
    told = asked(name)
    preview(dialog, told["heading"], told["heading"])
    text = printed(page)
    for words in (told["heading"], "Slack Tide", *told["facts"], told["task"], "Name", "Date", CARE, page.url):
        assert words in text
    for word in ("Close", "Print", "Help", "Tempo", "Undo"):
        assert word not in text
    answers = name != "turns"
    assert ("For the teacher." in text) is answers
    for paper in ("A4", "Letter"):
        assert pages_of(page.pdf(format=paper)) == (2 if answers else 1)
    if answers:
        dialog.get_by_role("checkbox", name="with the answers").uncheck()
        assert "For the teacher." not in printed(page)
        assert pages_of(page.pdf(format="A4")) == 1


def test_the_words_are_in_the_file_that_the_printer_gets(open_page: OpenPage, link: str, tmp_path: Path):
    page = open_page(link)
    dialog = sheets(page)
    preview(dialog, "Which stage do you hear?", "Which stage do you hear?")
    file = tmp_path / "sheet.pdf"
    page.pdf(path=file, format="A4")
    first, second = [" ".join(one.extract_text().split()) for one in PdfReader(file).pages]
    assert "Which stage do you hear?" in first and "Slack Tide" in first and CARE in first and "heard:" in first
    assert "stage 3" not in first and "the base beat" not in first
    assert "stage 3: Let the riding hand repeat two sixteenths and an eighth." in second and "the base beat" in second


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_no_beat_is_cut_by_the_end_of_a_page(open_page: OpenPage, link: str, paper: str):
    page = open_page(link)
    dialog = sheets(page)
    told = preview(dialog, "Every place in turn", "Every place in turn")
    dialog.locator("select[name=of]").select_option("kick")
    expect(told.locator("article")).to_have_count(16)
    assert pages_of(page.pdf(format=paper)) == 2
    page.emulate_media(media="print")
    rows = page.locator(".printed .row")
    assert rows.count() == 8
    assert set(rows.evaluate_all("(all) => all.map((one) => getComputedStyle(one).breakInside)")) == {"avoid"}
    # A row is far lower than a page, so that avoiding the break is always possible.
    assert max(rows.evaluate_all("(all) => all.map((one) => one.getBoundingClientRect().height)")) < 300
    wide = page.locator(".printed").evaluate("(one) => one.scrollWidth - one.clientWidth")
    assert wide == 0


def test_on_paper_the_sheet_is_black_on_white_in_the_dark_too(open_page: OpenPage, link: str):
    page = open_page(link, color_scheme="dark")
    sheets(page)
    page.emulate_media(media="print", color_scheme="dark")
    look = page.locator(".printed").evaluate(
        """(one) => { const inside = (name) => getComputedStyle(one.shadowRoot.querySelector(name));
          return [getComputedStyle(one).backgroundColor, getComputedStyle(one).color, inside(".figure .pillar").fill,
            inside(".stroke:not(.figure) .pillar").fill, inside(".figure .edge").stroke, getComputedStyle(document.body).backgroundColor,
            getComputedStyle(one).printColorAdjust]; }"""
    )
    black, grey, white = "rgb(17, 17, 17)", "rgb(180, 180, 180)", "rgb(255, 255, 255)"
    assert look == [white, black, black, grey, black, white, "exact"]


def test_printing_without_a_sheet_prints_the_page(open_page: OpenPage, link: str):
    page = open_page(link)
    sheets(page)
    page.keyboard.press("Escape")
    text = printed(page)
    assert "Slack Tide" in text and "For the teacher." not in text and "Displace" in text


def test_a_beat_with_nothing_to_tell_apart_says_so(open_page: OpenPage):
    base = SLACK_TIDE.partition("[[variation]]")[0]
    dialog = sheets(open_page("#" + view_of(base)["link"]))
    dialog.get_by_role("radio", name="Which stage do you hear?").check()
    expect(dialog.get_by_text("All stages sound alike: nothing to tell apart; add a variation.")).to_be_visible()
    expect(dialog.get_by_role("button", name="Print")).to_have_count(0)
    expect(dialog.get_by_role("region", name="Preview")).to_have_count(0)


@pytest.mark.parametrize("width", [360, 1280])
def test_axe_finds_nothing_and_nothing_scrolls_sideways(open_page: OpenPage, link: str, width: int):
    page = open_page(link, width=width)
    dialog = sheets(page)
    for name in ("Every place in turn", "Write the count", "Which stage do you hear?"):
        preview(dialog, name, name)
        if name != "Every place in turn":
            dialog.get_by_text("The answers", exact=True).click()
        assert in_both_schemes(page) == []
        assert page.evaluate("document.documentElement.scrollWidth") <= width
        assert dialog.evaluate("(one) => one.scrollWidth <= one.clientWidth")
        cut = """(all) => all.filter((one) => one.scrollWidth > one.clientWidth + 1).length"""
        assert dialog.locator(".paper").evaluate_all(cut) == 0
