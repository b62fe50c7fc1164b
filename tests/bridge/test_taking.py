"""Suggestions are taken and strokes left out as one edit each; settings that do not read are refused in words."""

from __future__ import annotations

import json
from typing import Any

import pytest

from groundbeat.bridge.door import answer
from groundbeat.bridge.taking import MAX_SETTINGS
from tests.conftest import EXAMPLES

SLACK_TIDE = (EXAMPLES / "slack-tide.toml").read_text()


def ask(question: str, **given: Any) -> dict[str, Any]:
    return json.loads(answer(json.dumps({"ask": question, **given})))


@pytest.fixture
def document() -> str:
    return ask("open", text=SLACK_TIDE)["document"]


def take(document: str, settings: Any, key: int = 0, after: int = 2, kind: str = "displace") -> dict[str, Any]:
    text = settings if isinstance(settings, str) else json.dumps(settings)
    return ask("take", document=document, key=key, after=after, kind=kind, settings=text)


def test_a_new_variation_stands_behind_the_one_that_is_named(document):
    view = take(document, {"surface": "kick", "by": "1/8 later"})
    assert view["select"] == 3
    assert view["stages"][3]["plain"] == "Move every stroke of the kick an eighth later."
    assert [stage["kind"] for stage in view["stages"]] == [
        "base", "displace", "embellish", "displace", "ostinato", "orchestrate",
    ]  # fmt: skip
    assert take(document, {"surface": "kick", "by": "1/8 later"}, after=0)["select"] == 1
    assert ask("view", document=document)["stages"][3]["kind"] == "ostinato"


def test_a_variation_gets_exactly_the_settings_that_are_taken(document):
    old = ask("view", document=document)
    assert "4" in old["stages"][2]["plain"]  # an exception that the new settings do not have
    view = take(document, {"dynamic": "soft"}, key=2, kind="embellish")
    assert view["select"] == 2
    added = ask("take", document=document, key=0, after=1, kind="embellish", settings='{"dynamic": "soft"}')
    assert view["stages"][2]["plain"] == added["stages"][2]["plain"]
    assert view["stages"][2]["note"] == "Under the knuckles."


def test_a_taken_variation_is_told_first_like_any_edit(document):
    settings = json.dumps({"dynamic": "soft"})
    question = {"document": document, "key": 2, "after": 0, "kind": "embellish", "settings": settings}
    glimpse = ask("take", **question, first=True)
    assert (glimpse["answer"], glimpse["stage"]) == ("glimpse", 2)
    assert ask("take", **question, have="=")["select"] == 2


@pytest.mark.parametrize(
    ("given", "field", "told"),
    [
        ({"settings": "by"}, "settings", "not JSON"),
        ({"settings": '["by"]'}, "settings", "an object of settings by name, not a list"),
        ({"settings": "[" * 3000}, "settings", ""),
        ({"settings": '{"by": ' + "[" * 2000 + "]" * 2000 + "}"}, "settings", ""),
        ({"settings": {"by": [[["1/8 later"]]]}}, "settings", "nested more than 3 deep"),
        ({"settings": {"by": 0.5}}, "settings", "0.5 is no value of a setting"),
        ({"settings": {"by": None}}, "settings", "null is no value of a setting"),
        ({"settings": '{"by": NaN}'}, "settings", "nan is no value of a setting"),
        ({"settings": {"by": "x" * MAX_SETTINGS}}, "settings", f"at most {MAX_SETTINGS} characters"),
        ({"settings": {"by": "sideways"}}, "by", "by: "),
        ({"settings": {"by": 7}}, "by", "7 is not text"),
        ({"settings": {"colour": "red", "by": "1/8 later"}}, "colour", "no setting"),
        ({"settings": {}}, "by", 'displace needs "by"'),
        ({"kind": "nonsense"}, "kind", "nonsense"),
        ({"key": 2}, "kind", "variation 2 is of the kind embellish, not displace"),
        ({"key": 77}, "key", "there is no variation with key 77"),
        ({"key": -1}, "key", "there is no variation with key -1"),
        ({"after": 77}, "key", "there is no variation with key 77"),
    ],
)
def test_what_cannot_be_taken_is_refused_in_words(document, given, field, told):
    reply = take(document, **({"settings": {"by": "1/8 later"}} | given))
    assert reply["refused"]["field"] == field, reply
    assert told in reply["refused"]["message"]
    assert len(reply["refused"]["message"]) <= 420


@pytest.mark.parametrize("wish", ["", "a little busier", "easier"])
def test_every_suggestion_can_be_taken_and_says_what_it_said(document, wish):
    told = ask("suggest", document=document, stage=2, wish=wish, seed=1)
    assert told["suggestions"] or told["says"]
    for row in told["suggestions"]:
        view = ask("take", document=document, **{name: row[name] for name in ("key", "after", "kind", "settings")})
        stage = view["stages"][view["select"]]
        assert (stage["kind"], stage["heading"]) == (row["kind"], row["heading"])
        assert stage["plain"] == row["plain"]
        playing = ask("playing", document=view["document"], stage=view["select"])
        assert playing["fastest"]["bpm"] == row["fastest"]
        assert playing["comfortable"]["bpm"] == row["comfortable"]
        assert view["link"]


def test_strokes_are_left_out_as_taps_would_do_it(document):
    ids = ["2/snare@11/16", "2/snare@13/16"]
    once = ask("leave_out", document=document, stage=2, ids="\n".join(ids))
    first = ask("tap", document=document, stage=2, surface="snare", at=11 * 2520)
    second = ask("tap", document=first["document"], stage=3, surface="snare", at=13 * 2520)
    assert once == second
    assert once["select"] == 3
    assert not set(ids) & {stroke["id"] for stroke in once["stages"][3]["strokes"]}


def test_strokes_of_the_base_beat_are_taken_out_of_it(document):
    view = ask("leave_out", document=document, stage=0, ids="0/kick@7/16\n0/hi-hat@0\n0/kick@7/16")
    assert view["select"] == 0
    now = {stroke["id"] for stroke in view["stages"][0]["strokes"]}
    assert len(now) == len(ask("view", document=document)["stages"][0]["strokes"]) - 2


@pytest.mark.parametrize(
    ("given", "field"),
    [
        ({"ids": ""}, "ids"), ({"ids": "\n"}, "ids"), ({"ids": "0/cowbell@0"}, "ids"), ({"stage": 9}, "stage"),
        ({"stage": -1}, "stage"), ({"ids": "\n".join(map(str, range(99)))}, "ids"),
    ],
)  # fmt: skip
def test_strokes_that_are_not_there_are_not_left_out(document, given, field):
    reply = ask("leave_out", **{"document": document, "stage": 2, "ids": "0/kick@0", **given})
    assert reply["refused"]["field"] == field


def test_leaving_a_spot_out_takes_it_away(document):
    told = ask("playing", document=document, stage=2)
    spot = told["spots"][0]
    view = ask("leave_out", document=document, stage=2, ids="\n".join(spot["leave_out"]))
    after = ask("playing", document=view["document"], stage=view["select"])
    assert not any(row["kind"] == spot["kind"] and set(row["ids"]) == set(spot["ids"]) for row in after["spots"])
