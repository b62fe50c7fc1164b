"""The questions `staff` and `export_tab`: a stage as the page shows it on a staff, and as text to take along."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pytest

from groundbeat.bridge import staff_shapes
from groundbeat.bridge.door import answer
from groundbeat.codec.groove_read import read_groove
from groundbeat.codec.tab_text import tab_text
from groundbeat.variation.stack import grow
from tests.structure.test_protocol import misfits

EXAMPLE = (Path(__file__).resolve().parents[2] / "examples/slack-tide.toml").read_text(encoding="utf-8")
FOUR_BARS = """groundbeat = 1
meter = "4/4"
bars = 4
columns = "eighths"
tempo = 90

[base]
hi-hat = "xxxxxxxx xxxxxxxx xxxxxxxx xxxxxxxx"
"""
GROOVE = read_groove(EXAMPLE)
SVG = "{http://www.w3.org/2000/svg}"


def ask(question: str, **fields: Any) -> dict[str, Any]:
    reply = json.loads(answer(json.dumps({"document": EXAMPLE, **fields, "ask": question})))
    assert isinstance(reply, dict)
    return reply


@pytest.mark.parametrize("stage", [0, 2, 4])
def test_every_stroke_of_the_stage_has_a_group_of_its_own(stage: int):
    reply = ask("staff", stage=stage)
    assert list(misfits(reply, staff_shapes.StaffReply, "staff")) == []
    groups = ElementTree.fromstring(reply["svg"]).iter(f"{SVG}g")
    drawn = [group.get("data-id") for group in groups if group.get("class") == "stroke"]
    assert sorted(map(str, drawn)) == sorted(stroke.id for stroke in grow(GROOVE)[stage].beat.strokes)


def test_a_drawing_is_as_wide_as_there_is_room_and_a_narrow_one_has_more_lines():
    sizes = []
    for width in (120, 44):
        svg = ElementTree.fromstring(ask("staff", stage=0, width=width, space=7, document=FOUR_BARS)["svg"])
        sizes.append((float(svg.get("width", "")), float(svg.get("height", ""))))
        assert sizes[-1][0] <= width * 7
    assert sizes[1][1] > sizes[0][1]


def test_sticking_and_counts_stand_below_where_they_are_wished_for():
    def texts(**how: bool) -> list[str]:
        root = ElementTree.fromstring(ask("staff", stage=2, **how)["svg"])
        return [text.text or "" for text in root.iter(f"{SVG}text")]

    assert "L" in texts(sticking=True, counts=False) and "&" not in texts(sticking=True, counts=False)
    assert "&" in texts(counts=True) and "L" not in texts(counts=True)


def test_tablature_is_that_of_the_command_line_and_says_what_is_not_in_it():
    reply = ask("export_tab", stage=2)
    assert list(misfits(reply, staff_shapes.ExportTabReply, "export_tab")) == []
    assert reply["text"] == tab_text(GROOVE, grow(GROOVE), 2)
    assert "the variations" in reply["says"][0]
    assert ask("export_tab", stage=2, through=True)["text"] == tab_text(GROOVE, grow(GROOVE))


@pytest.mark.parametrize(
    ("fields", "field"),
    [({"stage": 9}, "stage"), ({"width": 5}, "width"), ({"width": 1e9}, "width"), ({"space": 0}, "space")]
    + [({"voices": 3}, "voices")],
)
def test_what_cannot_be_drawn_is_refused_by_its_field(fields: dict[str, Any], field: str):
    assert ask("staff", **{"stage": 0, **fields})["refused"]["field"] == field
