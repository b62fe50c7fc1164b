"""Scores as MusicXML come in by every way that a file comes: chosen, packed, pasted, dropped, and as another beat."""

from __future__ import annotations

import base64
import json
from pathlib import Path
from typing import Any

from playwright.sync_api import Page, expect

from groundbeat.bridge.door import answer

from .conftest import OpenPage, columns

EXAMPLES = Path(__file__).parents[3] / "examples"
SLACK_TIDE = (EXAMPLES / "slack-tide.toml").read_text()
SAID = 'gb-notice[data-topic="open"] [role="alert"] p'


def score(stage: int, form: str = "musicxml", through: bool = False) -> bytes:
    """Write a stage of Slack Tide as the engine writes scores."""
    asked = {"ask": "export_score", "document": SLACK_TIDE, "stage": stage, "form": form, "through": through}
    told: dict[str, Any] = json.loads(answer(json.dumps(asked)))
    return base64.b64decode(told["base64"]) if form == "mxl" else told["text"].encode()


def choose(page: Page, name: str, data: bytes, bars: str = "") -> None:
    page.get_by_role("button", name="Open a beat").first.click()
    page.locator("gb-opener input[name=bars]").fill(bars)
    field = page.locator('gb-opener input[type="file"]')
    field.set_input_files({"name": name, "mimeType": "", "buffer": data})
    page.get_by_role("button", name="Open file").click()


def test_a_score_opens_plain_packed_and_pasted_and_by_its_bytes_not_its_name(open_page: OpenPage):
    page = open_page()
    choose(page, "low-water.bin", b"\xff\xfe" + score(1).decode().replace("UTF-8", "UTF-16").encode("utf-16-le"))
    expect(page.locator("gb-stages section")).to_have_count(1)
    assert columns(page, 0, "snare") == [5, 12]
    choose(page, "all.mxl", score(3, "mxl", through=True), "3-3")
    expect(page.locator('gb-stages g.stroke[data-surface="snare"]')).to_have_count(7)
    assert columns(page, 0, "snare") == [1, 3, 5, 9, 11, 12, 13]
    page.get_by_role("button", name="Open a beat").first.click()
    page.get_by_role("textbox", name="From a link").fill(score(0).decode())
    page.get_by_role("button", name="Open text").click()
    expect(page.locator('gb-stages g.stroke[data-surface="snare"]')).to_have_count(2)
    expect(page.locator(SAID)).to_have_count(0)


def test_a_score_with_a_fault_is_refused_by_its_place(open_page: OpenPage):
    page = open_page()
    choose(page, "cut.musicxml", score(2)[:4000])
    line = score(2)[:4000].count(b"\n") + 1
    expect(page.locator(SAID)).to_contain_text(f"line {line}")
    expect(page.locator("h1")).to_have_text("Slack Tide")


def test_the_variations_can_be_tried_on_a_score(open_page: OpenPage):
    page = open_page()
    page.get_by_role("button", name="Try these variations on another beat").click()
    field = page.locator('gb-onto input[type="file"]')
    field.set_input_files({"name": "other.musicxml", "mimeType": "", "buffer": score(1)})
    expect(page.locator("gb-onto tr[data-stage]")).to_have_count(4)
