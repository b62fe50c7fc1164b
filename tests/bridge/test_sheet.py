"""A sheet as the page gets it: ready to draw, and not giving away what it asks for."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from groundbeat.bridge.door import answer, forget
from groundbeat.bridge.sheet_shapes import SheetReply
from tests.structure.test_protocol import misfits

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
SLACK_TIDE = (EXAMPLES / "slack-tide.toml").read_text(encoding="utf-8")


def ask(ask: str, **rest: Any) -> dict[str, Any]:
    reply = json.loads(answer(json.dumps({"ask": ask, **rest})))
    assert isinstance(reply, dict)
    return reply


def sheet(name: str, stage: int = 1, document: str = SLACK_TIDE, **rest: Any) -> dict[str, Any]:
    reply = ask("sheet", document=document, sheet=name, stage=stage, **rest)
    assert list(misfits(reply, SheetReply)) == []
    return reply


@pytest.mark.parametrize("path", sorted(EXAMPLES.rglob("*.toml")), ids=lambda path: path.stem)
def test_every_sheet_of_every_example_has_its_shape(path: Path):
    document = path.read_text(encoding="utf-8")
    stages = len(ask("open", text=document)["stages"])
    for name in ("turns", "count", "hear"):
        reply = ask("sheet", document=document, sheet=name, stage=stages - 1)
        if "refused" in reply:  # a base beat alone has nothing to be told apart
            assert name == "hear" and stages == 1 and reply["refused"]["field"] == "stage"
        else:
            assert list(misfits(reply, SheetReply)) == []


def test_a_sheet_says_what_it_is_and_what_to_do():
    reply = sheet("count")
    assert [reply[key] for key in ("heading", "title", "facts", "task")] == [
        "Write the count",
        "Slack Tide",
        ["4/4", "sixteenths", "quarter = 92"],
        "Write on each blank what is counted where something sounds.",
    ]
    (item,) = reply["items"]
    assert [(blank["at"], blank["answer"], blank["words"]) for blank in item["blanks"]][3:5] == [
        (12600, "e", "e of 2"),
        (15120, "&", "& of 2"),
    ]


def test_a_beat_is_drawn_on_its_own_frame():
    longer = SLACK_TIDE + '[[variation]]\nkind = "length"\nbars = "2"\n'
    items = sheet("hear", document=longer)["items"]
    assert sorted((item["frame"]["bars"], len(item["frame"]["grid"])) for item in items) == [(1, 16)] * 5 + [(2, 32)]
    facts = sheet("hear", document=longer)["facts"]
    assert facts == ["4/4", "sixteenths", "quarter = 92"]


def test_a_stroke_to_be_told_apart_does_not_tell_which_stage_brought_it():
    for item in sheet("hear")["items"]:
        assert [stroke["id"] for stroke in item["strokes"]] == [str(n) for n in range(len(item["strokes"]))]
        assert all(
            set(stroke) == {"id", "at", "surface", "dynamic", "grace", "hand", "figure"} for stroke in item["strokes"]
        )
        assert not item["sentence"] and not item["begins"]
        assert not any(stroke["figure"] for stroke in item["strokes"])
        assert "Embellish" not in json.dumps(item) and "stage" not in json.dumps(item)


def test_what_is_read_aloud_is_the_beat_but_not_the_counts_that_are_asked_for():
    turned = sheet("turns", stage=0)["items"][1]["spoken"]
    assert turned == (
        "hi-hat: 1, & of 1, 2, & of 2, 3, & of 3, 4, & of 4; "
        "snare: e of 2 (accent), e of 4 (accent); kick: 1, a of 2, 3"
    )
    assert sheet("count", stage=0)["items"][0]["spoken"] == "hi-hat: 8 strokes; snare: 2 strokes; kick: 3 strokes"


def test_lines_stand_as_they_do_on_the_page():
    (item,) = sheet("count", stage=4)["items"]
    assert item["lanes"] == ask("open", text=SLACK_TIDE)["stages"][4]["lanes"]
    assert item["labels"] == item["lanes"]


def test_on_a_kit_lines_are_called_as_the_student_calls_them():
    view = ask("open", text=SLACK_TIDE, kit="pad")
    (item,) = sheet("count", kit="pad")["items"]
    assert item["lanes"] == list(view["surfaces"])
    assert item["labels"] == [info["label"] for info in view["surfaces"].values()]


def test_the_answer_is_the_same_whatever_was_asked_before():
    first = sheet("hear", seed=12)
    sheet("turns", of="kick")
    ask("switch", document=SLACK_TIDE, key=2, on=False)
    assert sheet("hear", seed=12) == first
    forget()
    assert sheet("hear", seed=12) == first


@pytest.mark.parametrize(
    ("wrong", "field"),
    [
        ({"sheet": "quiz"}, "sheet"),
        ({"stage": 9}, "stage"),
        ({"of": "china"}, "of"),
        ({"seed": -3, "sheet": "hear"}, "seed"),
    ],
)
def test_what_cannot_be_is_refused_by_its_field(wrong: dict[str, Any], field: str):
    reply = ask("sheet", **{"document": SLACK_TIDE, "sheet": "count", "stage": 0, **wrong})
    assert reply["refused"]["field"] == field
