"""The whole of Slack Tide, from an empty page, with the mouse; it is the file that a teacher would write."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from groundbeat import cli
from tests.browser.conftest import OpenPage
from tests.browser.edit.hand import place, settled, stages, tap

ROOT = Path(__file__).parents[3]
SLACK_TIDE = ROOT / "examples" / "slack-tide.toml"


def add(page: Page, kind: str, count: int) -> None:
    """Add a variation of a kind behind the chosen stage, and keep it."""
    page.locator("gb-next").get_by_role("button", name=kind).click()
    page.locator("gb-sentence").get_by_role("button", name="Keep").click()
    stages(page, count)


def shown(groove: str, capsys: pytest.CaptureFixture[str]) -> list[list[object]]:
    """Ask the command line what every stage of a groove holds."""
    with pytest.raises(SystemExit, match="0"):
        cli.main(["show", groove, "--json"])
    view = json.loads(capsys.readouterr().out)
    head: list[object] = [view[name] for name in ("title", "meter", "bars", "columns", "tempo")]
    return [head] + [[s["sentence"], s["note"], s["strokes"], s["change"]] for s in view["stages"]]


def test_slack_tide_is_built_from_an_empty_page_with_the_mouse(open_page: OpenPage, capsys: pytest.CaptureFixture[str]):
    page = open_page()
    page.get_by_role("button", name="New beat").first.click()
    expect(place(page, "kick", 0)).to_have_accessible_name("kick, 1, empty")
    page.get_by_text("The beat", exact=True).click()
    frame = page.locator("gb-frame")
    frame.get_by_label("Title").fill("Slack Tide")
    frame.get_by_label("Goal tempo").fill("92")
    page.get_by_text("The beat", exact=True).click()
    for surface, where in (("hi-hat", range(0, 16, 2)), ("snare", (4, 12)), ("kick", (0, 7, 8))):
        for column in where:
            tap(page, surface, column)
    for column in (4, 12):
        place(page, "snare", column).click(button="right")
        page.get_by_role("dialog").get_by_role("button", name="accent").click()
        page.get_by_role("dialog").get_by_role("button", name="Close").click()
    expect(place(page, "snare", 12)).to_have_accessible_name("snare, accent, 4")

    add(page, "Displace", 2)
    add(page, "Embellish", 3)
    sentence = page.locator("gb-sentence")
    sentence.locator('[data-setting="except"]').click()
    sentence.get_by_label("or write").fill("4a")
    sentence.get_by_role("button", name="Try it").click()
    sentence.get_by_role("button", name="Keep").click()
    sentence.get_by_label("Your note").fill("Under the knuckles.")
    add(page, "Ostinato", 4)
    add(page, "Orchestrate", 5)
    sentence.locator('[data-setting="then"]').click()
    sentence.locator('select[name="then.to"]').select_option("ride bell")
    sentence.locator('select[name="then.at"]').select_option("beats")
    sentence.get_by_role("button", name="Keep").click()

    settled(page, SLACK_TIDE.read_text())
    assert shown(page.url, capsys) == shown(str(SLACK_TIDE), capsys)
