"""Edits from the page: each gives a new document and leaves the old one good."""

from __future__ import annotations

import json
from random import Random

import pytest

from groundbeat.bridge.door import answer
from tests.conftest import EXAMPLES

SLACK_TIDE = (EXAMPLES / "slack-tide.toml").read_text()


def ask(question: str, **given) -> dict:
    return json.loads(answer(json.dumps({"ask": question, **given})))


@pytest.fixture
def view() -> dict:
    return ask("open", text=SLACK_TIDE)


def test_an_empty_beat_has_lines_to_write_on():
    view = ask("new")
    assert (view["bars"], view["meter"], view["lines"]) == (1, "4/4", ["hi-hat", "snare", "kick"])
    assert view["stages"][0]["strokes"] == []


def test_slack_tide_is_made_from_an_empty_beat_by_edits_alone(view):
    now = ask("new")
    for surface, columns in (("hi-hat", range(0, 16, 2)), ("snare", (4, 12)), ("kick", (0, 7, 8))):
        for column in columns:
            now = ask("tap", document=now["document"], stage=0, surface=surface, at=column * 2520)
    for column in (4, 12):
        at = column * 2520
        now = ask("shape", document=now["document"], stage=0, surface="snare", at=at, quality="dynamic", value="accent")
    now = ask("label", document=now["document"], title="Slack Tide", note="", tempo="92")
    now = ask("add", document=now["document"], kind="displace", after=0)
    assert now["select"] == 1
    now = ask("add", document=now["document"], kind="embellish", after=1)
    now = ask("word", document=now["document"], key=2, setting="except", value="4a")
    now = ask("name", document=now["document"], key=2, name="", note="Under the knuckles.")
    now = ask("add", document=now["document"], kind="ostinato", after=2)
    now = ask("add", document=now["document"], kind="orchestrate", after=3)
    now = ask("word", document=now["document"], key=4, setting="then.to", value="ride bell")
    assert now["link"] == view["link"]
    assert now["document"] == view["document"]


def test_an_edit_leaves_the_old_document_as_it_was(view):
    before = view["document"]
    after = ask("remove", document=before, key=2)
    assert [stage["kind"] for stage in after["stages"]] == ["base", "displace", "ostinato", "orchestrate"]
    assert ask("view", document=before)["link"] == view["link"]
    assert after["select"] == 1


def test_words_are_changed_and_set_back(view):
    doc = view["document"]
    one = ask("word", document=doc, key=2, setting="dynamic", value="soft")
    assert one["stages"][2]["plain"].startswith("Add soft notes")
    back = ask("word", document=one["document"], key=2, setting="dynamic", value="")
    assert back["document"] == doc
    many = ask("word", document=doc, key=2, setting="clear-of", value="kick, riding")
    assert "clear of the riding hand and the kick" in many["stages"][2]["plain"]
    none = ask("word", document=doc, key=4, setting="then", value="")
    assert none["stages"][4]["plain"] == "Play every stroke of the riding hand on the ride."


@pytest.mark.parametrize(
    ("name", "given", "said"),
    [
        ("word", {"key": 2, "setting": "at", "value": "a1"}, "two ways"),
        ("word", {"key": 2, "setting": "colour", "value": "red"}, "no setting"),
        ("word", {"key": 9, "setting": "at", "value": "e"}, "no variation with key 9"),
        ("shape", {"stage": 0, "surface": "snare", "at": 0, "quality": "dynamic", "value": "ghost"}, "no snare at 1"),
        ("shape", {"stage": 0, "surface": "kick", "at": 0, "quality": "hand", "value": "R"}, "played by a foot"),
        ("shape", {"stage": 0, "surface": "kick", "at": 0, "quality": "size", "value": "big"}, "dynamic, grace, hand"),
        ("tap", {"stage": 7, "surface": "kick", "at": 0}, "stages 0 to 4"),
        ("tap", {"stage": 0, "surface": "gong", "at": 0}, "not a surface"),
        ("tap", {"stage": 0, "surface": "kick", "at": -5}, "beyond the end"),
        ("frame", {"meter": "9/4"}, "from 2 to 7"),
        ("frame", {"bars": 40}, "1 to 16 bars"),
        ("label", {"title": "", "note": "", "tempo": "fast"}, "not a tempo"),
        ("label", {"title": "", "note": "", "tempo": "nan"}, "not a tempo"),
        ("label", {"title": "a\u0007b", "note": "", "tempo": "92"}, "control character"),
        ("name", {"key": 1, "name": "x" * 61, "note": ""}, "at most 60"),
        ("name", {"key": 1, "name": "", "note": "\u0000"}, "control character"),
        ("line", {"surface": "snare", "shown": False}, "sounds in the base beat"),
        ("add", {"kind": "whirl", "after": 0}, "not a kind"),
        ("move", {"key": 1, "to": 9}, "positions 1 to 4"),
        ("choices", {"key": 2, "setting": "colour"}, "no setting"),
    ],
)
def test_an_edit_that_cannot_be_done_is_refused_in_words(view, name, given, said):
    refused = ask(name, document=view["document"], **given)["refused"]
    assert said in refused["message"]


def test_undo_through_two_hundred_random_edits_returns_every_document():
    """Undo is a list of whole documents: each one the engine wrote opens again as the very same view."""
    dice = Random(5)
    now = ask("open", text=SLACK_TIDE)
    past = []
    for _ in range(200):
        past.append(now)
        stage = dice.randrange(len(now["stages"]))
        strokes = now["stages"][stage]["strokes"]
        at = dice.choice(now["grid"])["at"]
        surface = dice.choice(["snare", "kick", "hi-hat", "ride", "floor tom"])
        deed = dice.choice(["tap", "drag", "shape", "add", "remove", "switch"])
        given: dict = {"document": now["document"]}
        if deed == "tap":
            given |= {"stage": stage, "surface": surface, "at": at}
        elif deed in ("drag", "shape") and strokes:
            stroke = dice.choice(strokes)
            given |= {"stage": stage, "surface": stroke["surface"], "at": stroke["at"]}
            given |= (
                {"to_surface": surface, "to_at": at} if deed == "drag" else {"quality": "dynamic", "value": "ghost"}
            )
        elif deed == "add" and len(now["stages"]) < 9:
            given |= {"kind": dice.choice(["displace", "embellish", "ostinato"]), "after": now["stages"][stage]["key"]}
        elif deed in ("remove", "switch") and stage:
            given |= {"key": now["stages"][stage]["key"]} | ({"on": dice.random() < 0.7} if deed == "switch" else {})
        else:
            continue
        reply = ask(deed, **given)
        now = now if "refused" in reply else reply
    assert len({view["document"] for view in past}) > 80
    for view in reversed(past):
        again = ask("view", document=view["document"])
        assert again | {"select": None, "says": []} == view | {"select": None, "says": []}


def test_the_feel_of_the_base_beat_is_one_edit_and_moves_nothing_on_paper():
    before = ask("view", document=SLACK_TIDE)
    assert (before["swing"], before["pushes"], before["feel"]) == ("straight", {}, "Straight, everything in time.")
    swung = ask("frame", document=before["document"], swing="eighths  2:1")
    assert swung["swing"] == "eighths 2:1" and swung["select"] is None
    pushed = ask("frame", document=swung["document"], surface="all", push="10 ms late")
    snare = ask("frame", document=pushed["document"], surface="snare", push="0 ms late")
    assert snare["pushes"] == {"all": 10, "snare": 0}
    assert snare["feel"] == "The eighths swung 2 : 1, everything 10 ms late, the snare in time."
    for again in (ask("view", document=snare["document"]), ask("open", text="#" + snare["link"])):
        assert (again["document"], again["feel"]) == (snare["document"], snare["feel"])
    assert [s["strokes"] for s in snare["stages"]] == [s["strokes"] for s in before["stages"]]
    assert snare["grid"] == before["grid"]
    back = ask(
        "frame",
        document=ask("frame", document=snare["document"], surface="all", push="0 ms late")["document"],
        swing="straight",
    )
    assert back["document"] == before["document"]


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"swing": "bouncy"}, "is not a swing"),
        ({"swing": "eighths 10:1"}, "long and short go from 1 to 9"),
        ({"surface": "snare", "push": "101 ms late"}, "early or late go up to 100 ms"),
        ({"surface": "snare", "push": "late"}, "is not a time"),
        ({"surface": "drum", "push": "5 ms late"}, "drum"),
    ],
)
def test_a_feel_that_cannot_be_is_refused(change, words):
    document = ask("view", document=SLACK_TIDE)["document"]
    assert (
        words in json.loads(answer(json.dumps({"ask": "frame", "document": document, **change})))["refused"]["message"]
    )
