"""A page that asks who plays is told what can be said, what is said, and what a count of strokes means."""

from __future__ import annotations

import json
from typing import Any

import pytest

from groundbeat.analysis.player import read_player
from groundbeat.bridge.door import answer


def told(player: str) -> dict[str, Any]:
    return json.loads(answer(json.dumps({"ask": "player", "player": player})))


def test_the_usual_player_is_told_what_can_be_said():
    reply = told("")
    assert (reply["player"], reply["has"]) == ("", [])
    assert [row["limb"] for row in reply["limbs"]] == ["right hand", "left hand", "right foot", "left foot"]
    assert {(row["count"], row["text"]) for row in reply["limbs"]} == {(None, "")}
    for word in reply["words"]:
        assert told(word)["has"] == [word], "each word can be said alone"


def test_a_text_comes_back_in_the_one_form_that_is_kept():
    reply = told("Right foot 51;  drop clutch; LEFT-HANDED")
    assert reply["player"] == "left-handed; drop clutch; right foot 51"
    assert reply["has"] == ["left-handed", "drop clutch"]
    assert [row["count"] for row in reply["limbs"]] == [None, None, 51, None]


def test_a_count_is_told_as_the_time_between_two_strokes():
    texts = {row["limb"]: row["text"] for row in told("right hand 51; right foot 51; left foot 51")["limbs"]}
    assert texts == {
        "right hand": "200 ms from stroke to stroke; the usual limit is 100",
        "left hand": "",
        "right foot": "200 ms from stroke to stroke; the usual limit is 160",
        "left foot": "200 ms from stroke to stroke; the usual limit is 202",
    }
    mirrored = {row["limb"]: row["text"] for row in told("left-handed; right foot 51; left foot 51")["limbs"]}
    assert mirrored["left foot"].endswith("is 160"), "it plays the kick of a left-handed player"
    assert mirrored["right foot"].endswith("is 202")


@pytest.mark.parametrize("edge", ["fewest", "most"])
def test_what_can_be_counted_ends_where_the_reply_says(edge: str):
    number = told("")[edge]
    assert read_player(f"left hand {number}").counts == (("left hand", number),)
    beyond = number + (1 if edge == "most" else -1)
    assert told(f"left hand {beyond}")["refused"]["field"] == "player"
