"""Share: the link as the command line writes it, how long it is, the QR code, and the groove file."""

from __future__ import annotations

import contextlib
import io
from pathlib import Path

import pytest
import segno
from playwright.sync_api import Page, expect

from groundbeat.cli import main

from .conftest import SLACK_TIDE, OpenPage, choose, view_of


def share(page: Page) -> None:
    page.get_by_role("button", name="Share").click()
    expect(page.get_by_role("dialog", name="Share")).to_be_visible()


def printed(*arguments: str) -> str:
    """What the command line prints."""
    out = io.StringIO()
    with contextlib.redirect_stdout(out), pytest.raises(SystemExit) as end:
        main(list(arguments))
    assert end.value.code == 0
    return out.getvalue().strip()


def test_the_copied_link_is_what_the_command_line_writes(open_page: OpenPage, link: str, tmp_path: Path):
    page = open_page(link, permissions=["clipboard-read", "clipboard-write"])
    file = tmp_path / "beat.toml"
    file.write_text(SLACK_TIDE)
    share(page)
    page.get_by_role("button", name="Copy").click()
    expect(page.get_by_text("Copied.")).to_be_visible()
    address = page.url.partition("#")[0] + printed("link", str(file))
    assert page.evaluate("navigator.clipboard.readText()") == address
    expect(page.get_by_role("textbox", name="Link")).to_have_value(address)
    expect(page.get_by_text(f"{len(address)} characters; fits a chat message.")).to_be_visible()


def test_without_the_clipboard_the_link_is_selected_or_copied_all_the_same(open_page: OpenPage, link: str):
    page = open_page(link, script="Object.defineProperty(navigator, 'clipboard', {value: undefined});")
    share(page)
    page.get_by_role("button", name="Copy").click()
    expect(page.get_by_role("dialog").get_by_role("status")).not_to_be_empty()
    field = page.get_by_role("textbox", name="Link")
    expect(field).to_be_focused()
    assert field.evaluate("(field) => field.selectionEnd - field.selectionStart === field.value.length")


def test_the_qr_code_is_that_of_the_link(open_page: OpenPage, link: str):
    page = open_page(link)
    share(page)
    code = page.get_by_role("img", name="QR code of the link")
    expect(code).to_be_visible(timeout=20_000)
    rows = code.evaluate(
        """(svg) => {
          const path = svg.querySelector("path");
          const [from, , side] = svg.getAttribute("viewBox").split(" ").map(Number);
          const size = side + 2 * from;
          const dark = (x, y) => path.isPointInFill(new DOMPoint(x + 0.5, y + 0.5)) ? 1 : 0;
          return Array.from({ length: size }, (_, y) => Array.from({ length: size }, (_, x) => dark(x, y)));
        }"""
    )
    made = segno.make(page.url, error="m", mode="byte", encoding="utf-8", micro=False, boost_error=False)
    assert rows == [list(row) for row in made.matrix]
    look = code.evaluate(
        "(svg) => [getComputedStyle(svg).backgroundColor, getComputedStyle(svg.querySelector('path')).fill]"
    )
    assert look == ["rgb(255, 255, 255)", "rgb(0, 0, 0)"]


def test_a_long_link_is_told_and_has_no_code(open_page: OpenPage):
    notes = [f"{n} " + "A calm left hand, low and loose. " * 12 for n in range(7)]
    text = SLACK_TIDE + "".join(f'[[variation]]\nkind = "touch-up"\nchanges = []\nnote = "{note}"\n' for note in notes)
    view = view_of(text)
    assert view["link"] and len(view["link"]) > 2000
    page = open_page("#" + view["link"])
    share(page)
    expect(page.get_by_text("over 1,800, some chat programs cut it")).to_be_visible()
    if len(page.url) > 2953:
        expect(page.get_by_text("No QR code: the text is too long")).to_be_visible()


def test_what_is_only_tried_is_not_shared(open_page: OpenPage, link: str):
    page = open_page(link)
    choose(page, 2)
    page.locator('gb-next button[data-kind="displace"]').click()
    expect(page.get_by_role("button", name="Keep", exact=True)).to_be_focused()
    share(page)
    expect(page.get_by_role("textbox", name="Link")).to_have_value(page.url)
    assert page.url.endswith(link)


def test_branches_are_said_to_stay_in_the_groove_file(open_page: OpenPage):
    page = open_page()
    branch = '[[branch]]\nname = "other"\nafter = 1\n[[branch.variation]]\nkind = "displace"\nby = "1/8 later"\n'
    page.get_by_role("button", name="Open a beat").first.click()
    page.get_by_role("textbox", name="From a link").fill(SLACK_TIDE + branch)
    page.get_by_role("button", name="Open text").click()
    expect(page.locator("h1")).to_have_text("Slack Tide")
    share(page)
    expect(page.get_by_text("One other way stays in the groove file only.")).to_be_visible()


def test_the_groove_file_is_saved_as_it_is(open_page: OpenPage, link: str):
    page = open_page(link)
    expect(page.locator("gb-sentence .sentence")).to_be_visible()
    share(page)
    with page.expect_download() as saved:
        page.get_by_role("link", name="Save the groove file").click()
    assert saved.value.suggested_filename == "slack-tide.toml"
    assert Path(saved.value.path()).read_text() == view_of(SLACK_TIDE)["document"]


@pytest.mark.parametrize("outcome", ["sent", "refused"])
def test_the_systems_own_sharing_is_used_where_there_is_one(open_page: OpenPage, link: str, outcome: str):
    deed = "window.sent = data" if outcome == "sent" else "throw new DOMException('no', 'NotAllowedError')"
    page = open_page(link, script=f"navigator.share = async (data) => {{ {deed}; }};")
    share(page)
    page.get_by_role("button", name="Send it with an app").click()
    if outcome == "sent":
        assert page.evaluate("sent") == {"title": "Slack Tide", "url": page.url}
    else:
        expect(page.get_by_text("Copy the link instead.")).to_be_visible()
