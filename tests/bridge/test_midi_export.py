"""The page gets a stage as a MIDI file, and what it gets reads back as that stage."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from groundbeat.bridge.door import answer

SLACK_TIDE = (Path(__file__).parents[2] / "examples/slack-tide.toml").read_text(encoding="utf-8")
SWUNG = SLACK_TIDE.replace("[base]", '[feel]\nswing = "sixteenths 2:1"\n[base]', 1)


def ask(name: str, /, **fields: Any) -> dict[str, Any]:
    reply = json.loads(answer(json.dumps({"ask": name, **fields})))
    assert isinstance(reply, dict)
    return reply


def strokes(stage: dict[str, Any]) -> list[tuple[Any, ...]]:
    return [(s["at"], s["surface"], s["dynamic"], s["grace"], s["hand"]) for s in stage["strokes"]]


@pytest.mark.parametrize("straight", [False, True])
def test_a_stage_goes_out_and_comes_back(straight: bool):
    made = ask("export_midi", document=SWUNG, stage=3, loops=2, straight=straight)
    assert made["name"] == "slack-tide-stage-3.mid"
    view = ask("open_midi", name=made["name"], base64=made["base64"])
    assert strokes(view["stages"][0]) == strokes(ask("view", document=SWUNG)["stages"][3])
    assert (view["title"], view["tempo"]) == ("Slack Tide", 92)
    assert 'swing = "sixteenths 2:1"' in view["document"]


def test_all_stages_go_out_one_after_the_other():
    made = ask("export_midi", document=SLACK_TIDE, stage=4, through=True)
    assert made["name"] == "slack-tide-stages.mid"
    for bar, stage in enumerate(ask("view", document=SLACK_TIDE)["stages"], start=1):
        view = ask("open_midi", name="a.mid", base64=made["base64"], bars=str(bar))
        assert strokes(view["stages"][0]) == strokes(stage)


def test_on_a_student_s_kit_the_file_holds_what_the_page_shows():
    kit = ask("export_midi", document=SLACK_TIDE, stage=4, kit="pad")
    assert kit["base64"] != ask("export_midi", document=SLACK_TIDE, stage=4)["base64"]


@pytest.mark.parametrize(
    ("wrong", "field"),
    [({"stage": 9}, "stage"), ({"stage": -1}, "stage"), ({"tempo": 5}, "tempo"), ({"loops": 0}, "loops"),
     ({"ticks": 7}, "ticks"), ({"profile": "x"}, "profile"), ({"rimshot": 1}, "rimshot")],
)  # fmt: skip
def test_a_wish_that_cannot_be_had_is_refused_by_its_field(wrong: dict[str, Any], field: str):
    assert ask("export_midi", **{"document": SLACK_TIDE, "stage": 1, **wrong})["refused"]["field"] == field
