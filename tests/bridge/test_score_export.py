"""The page gets a stage as a MusicXML file, as text or packed."""

from __future__ import annotations

import base64
import io
import json
import zipfile
from pathlib import Path
from typing import Any

import pytest

from groundbeat.bridge.door import answer

SLACK_TIDE = (Path(__file__).parents[2] / "examples/slack-tide.toml").read_text(encoding="utf-8")


def ask(**fields: Any) -> dict[str, Any]:
    reply = json.loads(answer(json.dumps({"ask": "export_score", "document": SLACK_TIDE, "stage": 2, **fields})))
    assert isinstance(reply, dict)
    return reply


def test_text_and_packed_file_hold_the_same_score():
    plain, whole = ask(), ask(form="mxl")
    assert (plain["name"], whole["name"]) == ("slack-tide-stage-2.musicxml", "slack-tide-stage-2.mxl")
    assert plain["base64"] == whole["text"] == ""
    with zipfile.ZipFile(io.BytesIO(base64.b64decode(whole["base64"]))) as archive:
        assert archive.read("score.musicxml").decode() == plain["text"]


def test_what_is_chosen_is_in_the_file():
    assert ask(through=True)["text"].count("<rehearsal>") == 3
    assert "<lyric" in ask(counts=True)["text"] and "<lyric" not in ask()["text"]
    assert "<per-minute>70</per-minute>" in ask(tempo=70)["text"]
    assert "<backup>" not in ask(voices=1)["text"]


def test_on_a_student_s_kit_the_file_holds_what_the_page_shows():
    assert ask(kit="pad")["text"] != ask()["text"]


@pytest.mark.parametrize(
    ("wrong", "field"),
    [({"stage": 9}, "stage"), ({"stage": -1}, "stage"), ({"tempo": 5}, "tempo"), ({"voices": 0}, "voices"),
     ({"form": "pdf"}, "form"), ({"sticking": "x"}, "sticking")],
)  # fmt: skip
def test_a_wish_that_cannot_be_had_is_refused_by_its_field(wrong: dict[str, Any], field: str):
    assert ask(**wrong)["refused"]["field"] == field
