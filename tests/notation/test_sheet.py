"""What stands on a lesson sheet: every stage with its sentence, what changed in words and under the notes."""

from __future__ import annotations

from pathlib import Path

import pytest

from groundbeat.codec.groove_read import read_groove
from groundbeat.errors import RequestError
from groundbeat.model.groove import Groove
from groundbeat.notation.changes import changed, told
from groundbeat.notation.sheet import Part, Wish, lesson, staff
from groundbeat.variation.stack import Stage, grow

ROOT = Path(__file__).resolve().parents[2]
FOUR_BARS = """groundbeat = 1
title = "Four"
meter = "4/4"
columns = "sixteenths"
tempo = 96
[base]
hi-hat = "x-x-x-x-x-x-x-x-|%|%|x-x-x-x-x-x-xxxx"
snare = "----O-------O---|%|%|%"
kick = "o------oo-------|%|%|%"
[[variation]]
kind = "displace"
surface = "snare"
at = "4"
by = "1/16 later"
[[variation]]
kind = "embellish"
surface = "snare"
at = "a"
dynamic = "ghost"
clear-of = ["kick"]
note = "Barely lift it."
[[variation]]
kind = "orchestrate"
surface = "riding"
to = "ride"
off = true
"""


def grown(text: str) -> tuple[Groove, tuple[Stage, ...]]:
    groove = read_groove(text)
    return groove, grow(groove)


def slack_tide() -> tuple[Groove, tuple[Stage, ...]]:
    return grown((ROOT / "examples/slack-tide.toml").read_text(encoding="utf-8"))


def texts(parts: tuple[Part, ...], kind: str) -> list[str]:
    return [part.text for part in parts if part.kind == kind]


def test_the_sheet_has_its_stages_in_order_and_then_what_belongs_to_all():
    sheet = lesson(*slack_tide())
    assert (sheet.title, sheet.facts) == ("Slack Tide", ("4/4", "1 bar of sixteenths", "quarter = 92"))
    assert [block.heading for block in sheet.blocks] == [
        "Base beat", "1 Displace", "2 Embellish", "3 Ostinato", "4 Orchestrate",
        "How to practise stage 4, Orchestrate", "Signs", "Mind",
    ]  # fmt: skip
    second = sheet.blocks[2].parts
    assert texts(second, "sentence") == [
        "Add ghost notes on the snare at every e and a, clear of the kick, except the a of 4."
    ]
    assert texts(second, "note") == ["Under the knuckles."]
    assert texts(second, "changed") == ["new: snare (ghost) on e of 1, a of 1, e of 3, a of 3, e of 4"]
    assert texts(second, "spot")[0].startswith("The left hand plays three in a row: a of 3, 4, e of 4")
    assert texts(second, "easier") == ["Leave out the hi-hat on 4; then the right hand can take the snare on 4."]
    assert len(texts(sheet.blocks[-1].parts, "caution")) == 4


def test_the_notes_that_changed_are_those_with_a_triangle():
    groove, stages = slack_tide()
    drawn, _ = staff(groove, stages, 2)
    assert sum(mark.kind == "changed" for mark in drawn.marks()) == 5 == len(changed(stages[2]))
    bare, _ = staff(groove, stages, 2, Wish(marks=False, counts=False, sticking=False))
    assert not {mark.kind for mark in bare.marks()} & {"changed", "count", "sticking"}


def test_bars_that_changed_alike_are_told_once():
    _, stages = grown(FOUR_BARS)
    assert told(stages[1], stages[0]) == ("moved: snare (accent) from 4 to e of 4 in bars 1 to 4",)
    assert told(stages[2], stages[1]) == ("new: snare (ghost) on a of 1, a of 3, a of 4 in bars 1 to 4",)


def test_moving_over_the_end_and_meeting_are_told():
    _, stages = grown((ROOT / "examples/lantern-walk.toml").read_text(encoding="utf-8"))
    assert told(stages[1], stages[0]) == (
        "moved: snare (ghost) from a of 2 to 3, from a of 4 to 1 over the end of the loop",
    )
    assert told(stages[2], stages[1]) == (
        "moved: snare (accent) from 2 to e of 3",
        "strokes meet and are one: snare (accent) on e of 3",
    )
    assert told(stages[4], stages[3])[1] == "left out: hi-hat on & of 1, 2, 3, & of 3, & of 4"


def test_a_stage_that_is_off_says_so_and_has_no_staff():
    block = lesson(*grown(FOUR_BARS)).blocks[3]
    assert [part.kind for part in block.parts] == ["sentence", "remark"]
    assert "Switched off" in block.parts[1].text


def test_one_stage_alone_has_its_own_plan_and_only_its_own_signs():
    groove, stages = slack_tide()
    sheet = lesson(groove, stages, Wish(stage=1))
    assert [block.heading for block in sheet.blocks] == [
        "1 Displace",
        "How to practise stage 1, Displace",
        "Signs",
        "Mind",
    ]
    drawing = next(part.drawing for part in sheet.blocks[2].parts if part.drawing)
    assert {mark.shape.text for mark in drawing.marks() if mark.kind == "name"} == {"hi-hat", "snare", "kick", "accent"}


def test_a_stage_that_there_is_not_is_refused():
    groove, stages = slack_tide()
    for number in (5, -2):
        with pytest.raises(RequestError, match="stages 0 to 4"):
            lesson(groove, stages, Wish(stage=number))
