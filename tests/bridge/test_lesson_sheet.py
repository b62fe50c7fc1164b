"""The question `lesson_sheet`: what the page prints, as blocks."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pytest

from groundbeat.bridge import paper_shapes
from groundbeat.bridge.door import answer
from groundbeat.codec.groove_read import read_groove
from groundbeat.codec.link import write_link
from tests.structure.test_protocol import misfits

EXAMPLE = (Path(__file__).resolve().parents[2] / "examples/slack-tide.toml").read_text(encoding="utf-8")


def ask(**fields: Any) -> dict[str, Any]:
    reply = json.loads(answer(json.dumps({"ask": "lesson_sheet", "document": EXAMPLE, **fields})))
    assert isinstance(reply, dict)
    return reply


def test_the_reply_has_its_shape_and_all_stages():
    reply = ask()
    assert list(misfits(reply, paper_shapes.LessonSheetReply, "lesson_sheet")) == []
    assert [block["stage"] for block in reply["blocks"]] == [0, 1, 2, 3, 4, 4, -1, -1]
    assert reply["link"] == write_link(read_groove(EXAMPLE))


def test_names_inside_the_drawings_differ_from_drawing_to_drawing():
    drawn = [part["svg"] for block in ask()["blocks"] for part in block["parts"] if part["svg"]]
    names = [each.get("id") for svg in drawn for each in ElementTree.fromstring(svg).iter() if each.get("id")]
    assert len(drawn) == 6 and len(names) == len(set(names))


def test_a_player_a_kit_and_one_voice_change_what_is_drawn():
    usual = ask(stage=2)
    left = ask(stage=2, player="left-handed")
    pad = ask(stage=2, kit="pad")
    one = ask(stage=2, voices=1)
    staves = [json.dumps(reply["blocks"][0]["parts"]) for reply in (usual, left, pad, one)]
    assert len(set(staves)) == 4


@pytest.mark.parametrize(
    ("fields", "field"),
    [({"voices": 3}, "voices"), ({"width": 5}, "width"), ({"width": 1e9}, "width"), ({"stage": 9}, "stage")],
)
def test_what_cannot_be_is_refused(fields: dict[str, Any], field: str):
    assert ask(**fields)["refused"]["field"] == field
