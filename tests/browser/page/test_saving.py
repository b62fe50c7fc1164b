"""The sound that the page saves is what the command line writes, sample by sample, from the same voices."""

from __future__ import annotations

import base64
import json
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from playwright.sync_api import Page, expect

from groundbeat.codec.groove_read import read_groove
from groundbeat.sound import encode, file, stage, takealong
from groundbeat.variation.stack import grow

from .conftest import OpenPage, view_of

SLACK_TIDE = (Path(__file__).parents[3] / "examples/slack-tide.toml").read_text(encoding="utf-8")
# A page decodes its files of voices; so the desk is given what this browser makes of them.
DECODE = """async (address) => {
  const manifest = await (await fetch(address)).json();
  const context = new OfflineAudioContext(1, 1, manifest.rate);
  const text = (bytes) => new Promise((done) => {
    const reader = new FileReader();
    reader.onload = () => done(reader.result.split(",")[1]);
    reader.readAsDataURL(new Blob([bytes]));
  });
  const parts = {};
  for (const part of ["click", "kick", "snare", "hi-hat", "ride"]) {
    const bytes = await (await fetch(new URL(manifest.parts[part].ogg, new URL(address, document.baseURI)))).arrayBuffer();
    parts[part] = await text((await context.decodeAudioData(bytes)).getChannelData(0));
  }
  return { manifest, parts };
}"""


def in_the_browser(page: Page) -> takealong.Known:
    told = page.evaluate(DECODE, "kit/kit.json")
    rows = {part: np.frombuffer(base64.b64decode(text), dtype="<f4") for part, text in told["parts"].items()}
    return cut(told["manifest"], rows)


def on_the_desk(folder: Path) -> takealong.Known:
    manifest = json.loads((folder / "kit.json").read_text())
    rows = {part: encode.decode((folder / names["ogg"]).read_bytes()) for part, names in manifest["parts"].items()}
    return cut(manifest, rows)


def cut(manifest: dict[str, Any], rows: dict[str, np.ndarray]) -> takealong.Known:
    """Cut the voices of a kit out of its parts; the click is a surface of its own."""
    clicks = {stage.STRONG: "strong", stage.WEAK: "weak"}
    pieces = {(v["surface"], v["dynamic"], v["alternate"]): v for v in manifest["voices"] if v["part"] in rows}
    pieces |= {(stage.CLICK, level, 0): manifest["clicks"][name] for level, name in clicks.items()}
    return {name: rows[p["part"]][p["start"] : p["start"] + p["frames"]] for name, p in pieces.items()}


def saved(page: Page, rounds: int) -> tuple[str, bytes]:
    page.get_by_role("button", name="Share").click()
    page.get_by_role("spinbutton", name="Rounds", exact=True).fill(str(rounds))
    page.get_by_role("spinbutton", name="Rounds", exact=True).press("Tab")
    with page.expect_download() as download:
        page.get_by_role("button", name="Save the sound").click()
    expect(page.get_by_role("dialog").get_by_role("status")).to_contain_text("Saved: ")
    return download.value.suggested_filename, download.value.path().read_bytes()


def test_the_page_and_the_command_line_make_the_same_file(open_page: OpenPage, dist: Path):
    page = open_page("#" + view_of(SLACK_TIDE)["link"])
    page.locator('section[data-stage="4"] h2 button').click()
    page.get_by_role("checkbox", name="Click").check()
    name, data = saved(page, 3)
    assert name == "slack-tide-stage-4-at-92.wav"
    groove = read_groove(SLACK_TIDE)
    wish = takealong.Wish(4, 9200, 3, stage.Heard(click=1.0), loose=20)
    voices = in_the_browser(page)
    known = len(voices)
    made = takealong.make(groove, grow(groove), wish, voices)
    assert len(voices) == known  # none was rendered anew
    assert np.abs(made.numbers).max() > file.FULL / 10
    assert data == file.wav(made.numbers, 44100)
    # Decoded on the desk the voices differ in the last places: by no more than one step of 24 bit in the end.
    other = takealong.make(groove, grow(groove), wish, on_the_desk(dist / "kit"))
    assert len(other.numbers) == pytest.approx(len(made.numbers), abs=64)
    both = min(len(other.numbers), len(made.numbers))
    assert np.abs(other.numbers[:both] - made.numbers[:both]).max() <= 1
    # All stages one after the other, as they are played through: to the last and back.
    dialog = page.get_by_role("dialog")
    dialog.get_by_role("spinbutton", name="Rounds", exact=True).fill("1")
    dialog.get_by_role("spinbutton", name="Rounds", exact=True).press("Tab")
    dialog.get_by_role("checkbox", name="all stages, one after the other").check()
    expect(dialog).to_contain_text(
        "From the base beat to stage 4 and back, each stage as you hear it now, at 92, with the click"
    )
    with page.expect_download() as download:
        dialog.get_by_role("button", name="Save the sound").click()
    assert download.value.suggested_filename == "slack-tide-there-and-back-at-92.wav"
    way = takealong.way_through(grow(groove), 4, True)
    assert way == (0, 1, 2, 3, 4, 3, 2, 1, 0)
    made = takealong.make(groove, grow(groove), wish._replace(loops=1, through=way), voices)
    assert len(voices) == known
    assert download.value.path().read_bytes() == file.wav(made.numbers, 44100)
