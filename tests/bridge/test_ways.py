"""Other ways through the door: what a view tells of them, and that every edit carries them."""

from __future__ import annotations

import json

import pytest

from groundbeat.bridge.door import answer
from tests.conftest import EXAMPLES

SLACK_TIDE = (EXAMPLES / "slack-tide.toml").read_text()


def ask(question: str, **given) -> dict:
    return json.loads(answer(json.dumps({"ask": question, **given})))


@pytest.fixture
def view() -> dict:
    return ask("open", text=SLACK_TIDE)


@pytest.fixture
def forked(view) -> dict:
    return ask("fork", document=view["document"], after=2)


def test_a_view_tells_of_every_other_way_in_words(view, forked):
    assert view["ways"] == []
    assert forked["ways"] == [
        {
            "name": "Way 1",
            "after": 2,
            "length": 2,
            "plain": [view["stages"][3]["plain"], view["stages"][4]["plain"]],
        }
    ]
    assert [stage["key"] for stage in forked["stages"]] == [0, 1, 2]
    assert forked["select"] == 2


def test_a_long_way_tells_its_first_sentences_that_are_on(view):
    document = ask("switch", document=view["document"], key=1, on=False)["document"]
    document = ask("add", document=document, kind="displace", after=4)["document"]
    (way,) = ask("fork", document=document, after=0)["ways"]
    assert way["length"] == 5
    assert way["plain"] == [view["stages"][i]["plain"] for i in (2, 3, 4)]


def test_the_link_holds_one_way_and_the_document_all(view, forked):
    assert "[[branch]]" in forked["document"]
    opened = ask("open", text="#" + forked["link"])
    assert (opened["ways"], len(opened["stages"])) == ([], 3)
    again = ask("open", text=forked["document"])
    assert again == forked | {"select": None}
    exchanged = ask("exchange", document=forked["document"], way=0)
    assert exchanged["link"] == view["link"]
    assert exchanged["document"] == view["document"]


def test_taking_a_way_chooses_where_it_leads(forked):
    grown = ask("add", document=forked["document"], kind="displace", after=2)
    there = ask("exchange", document=grown["document"], way=0)
    assert (there["select"], [way["name"] for way in there["ways"]]) == (4, ["Way 2"])
    back = ask("exchange", document=there["document"], way=0)
    assert (back["select"], back["document"]) == (3, grown["document"])


def test_a_way_is_named_and_parted_with(forked):
    named = ask("call", document=forked["document"], way=0, name="With the ride")
    assert [way["name"] for way in named["ways"]] == ["With the ride"]
    gone = ask("part", document=named["document"], way=0)
    assert gone["ways"] == []
    assert "[[branch]]" not in gone["document"]


@pytest.mark.parametrize(
    ("question", "given", "code", "field"),
    [
        ("exchange", {"way": 1}, "variation", "way"),
        ("part", {"way": -1}, "variation", "way"),
        ("call", {"way": 0, "name": "a" * 61}, "beat", "name"),
        ("call", {"way": 0, "name": "a\nb"}, "beat", "name"),
        ("fork", {"after": 9}, "variation", "after"),
        ("fork", {"after": 2}, "variation", None),
    ],
)
def test_what_cannot_be_done_with_a_way_is_refused(forked, question, given, code, field):
    refused = ask(question, document=forked["document"], **given)["refused"]
    assert (refused["code"], refused["field"]) == (code, field)


def test_removing_the_stage_that_a_way_leaves_from_says_where_it_leaves_now(forked):
    removed = ask("remove", document=forked["document"], key=2)
    assert [way["after"] for way in removed["ways"]] == [1]
    assert removed["says"] == ["“Way 1” leaves from stage 1 now"]
    assert ask("open", text=removed["document"])["ways"] == removed["ways"]


def test_dragging_back_what_a_way_leaves_from_keeps_the_way():
    snare = {"surface": "snare", "to_surface": "snare"}
    now = ask("open", text='groundbeat = 1\n[base]\nsnare = "----o-------o---"\n')
    now = ask("add", document=now["document"], kind="displace", after=0)
    moved = next(stroke for stroke in now["stages"][1]["strokes"] if stroke["changed_by"])
    now = ask("add", document=now["document"], kind="embellish", after=1)
    now = ask("fork", document=now["document"], after=1)
    home = now["stages"][0]["strokes"][0]["at"]
    back = ask("drag", document=now["document"], stage=1, at=moved["at"], to_at=home, **snare)
    assert [stage["kind"] for stage in back["stages"]] == ["base"]  # the displace has nothing left to say
    assert [way["after"] for way in back["ways"]] == [0]
    assert back["says"] == ["“Way 1” leaves from the base beat now"]
    assert "refused" not in ask("view", document=back["document"])


def test_the_base_beat_is_edited_under_every_way(forked):
    tapped = ask("tap", document=forked["document"], stage=0, surface="crash", at=0)
    assert tapped["ways"] == forked["ways"]
    there = ask("exchange", document=tapped["document"], way=0)
    assert all(any(s["surface"] == "crash" for s in stage["strokes"]) for stage in there["stages"])
