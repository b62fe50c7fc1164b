"""The page is told what becomes of the variations on another beat, and the result as a document of its own."""

from __future__ import annotations

import json

import pytest

from groundbeat.bridge.door import answer
from groundbeat.codec.groove_read import read_groove
from groundbeat.codec.groove_write import write_groove
from groundbeat.variation.stack import onto
from tests.conftest import EXAMPLES

SLACK_TIDE = (EXAMPLES / "slack-tide.toml").read_text()
LATE_FERRY = (EXAMPLES / "beats" / "09-late-ferry.toml").read_text()


def ask(question: str, **given) -> dict:
    return json.loads(answer(json.dumps({"ask": question, **given})))


@pytest.fixture
def document() -> str:
    return ask("open", text=SLACK_TIDE)["document"]


def test_a_link_a_file_and_a_document_tell_the_same(document: str):
    base = ask("open", text=LATE_FERRY)
    told = [ask("carry", document=document, onto=text) for text in (LATE_FERRY, "#" + base["link"], base["document"])]
    assert told[0] == told[1] == told[2]
    assert (told[0]["here"], told[0]["there"]) == ("Slack Tide", "Late Ferry")
    assert told[0]["told"] == "Of 4 variations: 2 carried over, 2 found nothing."


def test_the_result_is_what_the_command_line_makes(document: str):
    told = ask("carry", document=document, onto=LATE_FERRY)
    made = write_groove(onto(read_groove(LATE_FERRY), read_groove(SLACK_TIDE)))
    assert told["view"] == ask("open", text=made)
    assert told["view"]["title"] == "Slack Tide on Late Ferry"


def test_every_variation_has_its_row_with_both_sides(document: str):
    rows = ask("carry", document=document, onto=LATE_FERRY)["rows"]
    assert [row["stage"] for row in rows] == [1, 2, 3, 4]
    assert (rows[0]["here"], rows[0]["there"], rows[0]["verdict"]) == ("1 moved", "nothing changed", "found nothing")
    assert rows[0]["why"] == "Found no backbeat." and rows[0]["says"] == ["found no backbeat"]
    assert rows[2]["plain"].startswith("Let the riding hand repeat")


def test_what_cannot_be_read_is_refused_and_nothing_comes_of_it(document: str):
    assert ask("carry", document=document, onto=" ")["refused"]["field"] == "onto"
    assert ask("carry", document=document, onto="#1nolink")["refused"]["code"].startswith("link")
    refused = ask("carry", document=document, onto="groundbeat = 1\nmeter = 7", name="evening.toml")["refused"]
    assert "evening.toml" in refused["message"]


def test_a_kit_is_kept_while_another_beat_is_tried(document: str):
    told = ask("carry", document=document, onto=LATE_FERRY, kit="pad")
    assert told["view"]["kit"]["text"] == "pad"
    assert told["view"]["document"] == ask("carry", document=document, onto=LATE_FERRY)["view"]["document"]
