"""A student's kit is a way of looking: the document, its link and its lineage stay what they are."""

from __future__ import annotations

import json

import pytest

from groundbeat.bridge.door import answer
from groundbeat.model.own_kit import PRESETS, THINGS
from tests.conftest import EXAMPLES

SLACK_TIDE = (EXAMPLES / "slack-tide.toml").read_text()
STACKED = (
    'groundbeat = 1\n[base]\nstack-cymbal = "x-x-x-x-x-x-x-x-"\nsnare = "----O-------O---"\nkick = "o-------o-------"\n'
)
SMALL = "kick, snare, hi-hat"


def ask(question: str, **given) -> dict:
    return json.loads(answer(json.dumps({"ask": question, **given})))


@pytest.mark.parametrize("text", [SLACK_TIDE, STACKED])
@pytest.mark.parametrize("kit", [text for _, text in PRESETS])
def test_document_and_link_are_the_same_on_every_kit(text: str, kit: str):
    written, seen = ask("open", text=text), ask("open", text=text, kit=kit)
    assert (seen["document"], seen["link"]) == (written["document"], written["link"])
    assert [stage["summary"] for stage in seen["stages"]] == [stage["summary"] for stage in written["stages"]]
    assert [stage["plain"] for stage in seen["stages"]] == [stage["plain"] for stage in written["stages"]]
    assert (seen["kit"] and seen["kit"]["text"]) == (kit or None)


def test_what_sounds_is_what_is_drawn_and_both_are_owned():
    document = ask("open", text=STACKED)["document"]
    seen = ask("view", document=document, kit=SMALL)
    assert set(seen["surfaces"]) == {"hi-hat", "snare", "kick"}
    assert seen["kit"]["says"] == ["The stack cymbal is played on the hi-hat: your kit does not have it."]
    line = ask("timeline", document=document, stage=0, kit=SMALL)
    drawn = {(stroke["id"], stroke["surface"]) for stroke in seen["stages"][0]["strokes"]}
    assert {(event["id"], event["surface"]) for event in line["events"]} == drawn
    assert {event["surface"] for event in ask("timeline", document=document, stage=0)["events"]} > {"stack cymbal"}


def test_a_pad_is_called_a_pad():
    seen = ask("open", text=SLACK_TIDE, kit="pad")
    assert seen["surfaces"] == {"snare": {"label": "pad", "row": 70}}
    assert {stage["lanes"][0] for stage in seen["stages"]} == {"snare"}
    assert seen["stages"][0]["strokes"][0]["label"].startswith("pad, ")
    events = ask("timeline", document=seen["document"], stage=4, kit="pad")["events"]
    assert {event["surface"] for event in events} == {"snare"}


def test_lines_of_things_that_are_not_owned_are_not_shown():
    text = SLACK_TIDE.replace("[base]", '[base]\ncowbell = "----------------"\nrimshot = "----------------"')
    assert ask("open", text=text)["lines"] == ["cowbell", "rimshot"]
    assert ask("open", text=text, kit=SMALL)["lines"] == ["rimshot"]


@pytest.mark.parametrize(
    ("question", "given"),
    [
        ("tap", {"stage": 0, "surface": "hi-hat", "at": 0}),
        ("shape", {"stage": 0, "surface": "hi-hat", "at": 0, "quality": "dynamic", "value": "accent"}),
        ("drag", {"stage": 0, "surface": "hi-hat", "at": 0, "to_surface": "hi-hat", "to_at": 2520}),
        ("drag", {"stage": 0, "surface": "snare", "at": 10080, "to_surface": "hi-hat", "to_at": 10080}),
        ("line", {"surface": "crash", "shown": True}),
    ],
)
@pytest.mark.parametrize("first", [True, False])
def test_by_hand_only_lines_are_edited_that_mean_what_they_show(question: str, given: dict, first: bool):
    document = ask("open", text=STACKED)["document"]
    refused = ask(question, document=document, kit=SMALL, first=first, **given)["refused"]
    assert (refused["code"], refused["field"]) == ("kit", "kit")
    assert "Show the beat as written to change it by hand." in refused["message"]


def test_other_lines_and_all_sentences_can_be_changed_on_a_kit():
    document = ask("open", text=STACKED)["document"]
    tapped = ask("tap", document=document, stage=0, surface="kick", at=5040, kit=SMALL)
    assert tapped["document"] == ask("tap", document=document, stage=0, surface="kick", at=5040)["document"]
    assert {stroke["surface"] for stroke in tapped["stages"][0]["strokes"]} == {"hi-hat", "snare", "kick"}
    added = ask("add", document=tapped["document"], kind="orchestrate", after=0, kit=SMALL)
    assert added["kit"]["text"] == SMALL
    worded = ask("word", document=added["document"], key=1, setting="to", value="stack-cymbal", kit=SMALL)
    assert 'to = "stack cymbal"' in worded["document"].replace("-cymbal", " cymbal")


def test_a_kit_that_cannot_be_read_is_refused_by_its_field():
    document = ask("open", text=STACKED)["document"]
    for kit, match in (("gong", "no part of a kit"), (7, "kit must be text")):
        refused = ask("view", document=document, kit=kit)["refused"]
        assert refused["field"] == "kit" and match in refused["message"]


def test_the_page_is_told_what_can_be_owned():
    told = ask("kinds")
    assert told["things"] == list(THINGS)
    assert [(row["name"], row["kit"]) for row in told["presets"]] == list(PRESETS)
