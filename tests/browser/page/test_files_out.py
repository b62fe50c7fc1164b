"""The files that the page saves for other programs are those of the engine, by the name of beat and stage."""

from __future__ import annotations

import base64
import json
import math
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

from playwright.sync_api import Page, expect

from groundbeat.bridge.door import answer

from .conftest import OpenPage, view_of

DOCUMENT = view_of((Path(__file__).parents[3] / "examples/slack-tide.toml").read_text())["document"]


def of_engine(ask: str, **fields: Any) -> bytes:
    told: dict[str, Any] = json.loads(answer(json.dumps({"ask": ask, "document": DOCUMENT, **fields})))
    if told.get("base64"):
        return base64.b64decode(told["base64"])
    return str(told.get("svg") or told["text"]).encode()


def saved(page: Page, name: str) -> tuple[str, bytes]:
    with page.expect_download() as download:
        page.get_by_role("button", name=f"Save {name}", exact=True).click()
    expect(page.get_by_role("dialog").get_by_role("status")).to_contain_text("Saved.")
    return download.value.suggested_filename, download.value.path().read_bytes()


def test_each_file_is_that_of_the_engine(open_page: OpenPage):
    page = open_page("#" + view_of(DOCUMENT)["link"])
    page.locator('section[data-stage="2"] h2 button').click()
    page.get_by_role("button", name="Share").click()
    assert saved(page, "MIDI") == ("slack-tide-stage-2.mid", of_engine("export_midi", stage=2))
    page.get_by_role("combobox", name="Keys of").select_option("an electronic kit")
    assert saved(page, "MIDI")[1] == of_engine("export_midi", stage=2, profile="kit")
    score = of_engine("export_score", stage=2)
    assert saved(page, "MusicXML") == ("slack-tide-stage-2.musicxml", score)
    packed = of_engine("export_score", stage=2, form="mxl")
    assert saved(page, "MusicXML, packed") == ("slack-tide-stage-2.mxl", packed)
    assert saved(page, "Tablature") == ("slack-tide-stage-2.txt", of_engine("export_tab", stage=2))
    expect(page.get_by_role("dialog").get_by_role("status")).to_contain_text("the variations")
    name, svg = saved(page, "Staff as SVG")
    assert name == "slack-tide-stage-2.svg" and ElementTree.fromstring(svg).tag.endswith("svg")
    name, png = saved(page, "Staff as PNG")
    # Signature, then the chunk IHDR with width and height (PNG, section 11.2.1).
    size = [int.from_bytes(png[at : at + 4], "big") for at in (16, 20)]
    wide, high = (float(ElementTree.fromstring(svg).get(side, "")) for side in ("width", "height"))
    assert name == "slack-tide-stage-2.png" and png[:8] == b"\x89PNG\r\n\x1a\n"
    assert size == [math.ceil(2 * wide), math.ceil(2 * high)] and len(png) > 4000
    page.get_by_role("checkbox", name="all stages, one after the other").check()
    expect(page.get_by_role("button", name="Save Staff as SVG")).to_have_count(0)
    assert saved(page, "MIDI")[1] == of_engine("export_midi", stage=2, through=True, profile="kit")
    assert saved(page, "Tablature") == ("slack-tide-stages.txt", of_engine("export_tab", stage=2, through=True))
