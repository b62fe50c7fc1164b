"""What the page asks about playing is answered, is a function of the question alone, and holds on a student's kit."""

from __future__ import annotations

import json
from typing import Any

import pytest

from groundbeat.analysis import limbs
from groundbeat.bridge import door, playing_shapes
from groundbeat.bridge.door import answer
from tests.conftest import EXAMPLES
from tests.structure.test_protocol import misfits
from tests.wire.corpus import documents

SLACK_TIDE = (EXAMPLES / "slack-tide.toml").read_text()
LEFT_OF_STAGE_2 = ["1/16", "3/16", "1/4", "9/16", "11/16", "3/4", "13/16"]  # the third now stands at 5/16
KITS = ("pad", "kick, snare, hi-hat", "kick, snare, high tom, floor tom, ride", "crash")


def ask(question: str, **given: Any) -> dict[str, Any]:
    return json.loads(answer(json.dumps({"ask": question, **given})))


@pytest.fixture
def document() -> str:
    return ask("open", text=SLACK_TIDE)["document"]


def limbs_of(told: dict[str, Any]) -> dict[str, str]:
    return {row["id"]: row["limb"] for row in told["limbs"]}


def test_slack_tide_is_played_as_a_drummer_would(document):
    told = ask("playing", document=document, stage=2)
    assert (told["stage"], told["tempo"], told["player"]) == (2, 92, "")
    left = [name for name, limb in limbs_of(told).items() if limb == "left hand"]
    assert [name.split("@")[1] for name in left] == LEFT_OF_STAGE_2
    assert told["verdict"] == {"playable": True, "kind": "playable", "text": ""}
    assert (told["fastest"]["bpm"], told["comfortable"]["bpm"]) == (150, 100)
    assert "left hand" in told["fastest"]["because"] and "4" in told["fastest"]["because"]
    assert [part["part"] for part in told["demand"]] == [
        "density", "independence", "syncopation", "speed", "reach", "dynamics", "newness",
    ]  # fmt: skip
    assert [row["stage"] for row in told["home"]] == [0, 1, 2, 3, 4]
    assert [row["distance"] for row in told["home"]][0] == 0


def test_letters_are_those_of_the_limbs(document):
    told = ask("playing", document=document, stage=2)
    assert {(row["limb"], row["letter"]) for row in told["limbs"]} == {
        ("right hand", "R"), ("left hand", "L"), ("right foot", "R"),
    }  # fmt: skip
    strokes = ask("view", document=document)["stages"][2]["strokes"]
    assert [row["id"] for row in told["limbs"]] == [stroke["id"] for stroke in strokes]


def test_too_fast_is_told_with_the_tempo_at_which_it_becomes_possible(document):
    told = ask("playing", document=document, stage=2, tempo=160.5)
    assert told["tempo"] == 160.5
    assert told["verdict"]["kind"] == "beyond" and not told["verdict"]["playable"]
    assert {trouble["possible_at"] for trouble in told["troubles"]} == {150}
    first = told["troubles"][0]
    assert (first["at"], first["bar"], first["count"]) == (27720, 1, "3a")
    assert told["fastest"]["bpm"] == 150


def test_what_needs_a_third_hand_is_told_and_not_refused(document):
    crowded = document
    for surface in ("hi-hat", "floor tom", "ride"):
        crowded = ask("tap", document=crowded, stage=0, surface=surface, at=2520)["document"]
    told = ask("playing", document=crowded, stage=0)
    assert told["verdict"]["kind"] == "impossible"
    assert told["fastest"]["bpm"] is None and told["comfortable"]["bpm"] is None
    assert told["troubles"][0]["kind"] == "impossible" and told["troubles"][0]["possible_at"] is None
    played = limbs_of(told)
    assert len([name for name in played if name.endswith("@1/16")]) == 2


def test_the_base_beat_has_no_stage_before_it(document):
    assert {part["before"] for part in ask("playing", document=document, stage=0)["demand"]} == {None}
    one, two = (ask("playing", document=document, stage=stage)["demand"] for stage in (1, 2))
    assert [part["before"] for part in two] == [part["value"] for part in one]


def test_a_left_handed_player_is_the_mirror(document):
    right = limbs_of(ask("playing", document=document, stage=3))
    left = ask("playing", document=document, stage=3, player=" Left-handed ")
    assert left["player"] == "left-handed"
    swap = {"right": "left", "left": "right"}
    assert limbs_of(left) == {
        name: f"{swap[limb.split()[0]]} {limb.split()[1]}" for name, limb in right.items()
    }  # fmt: skip


def test_own_limits_make_it_slower(document):
    usual = ask("playing", document=document, stage=2)
    own = ask("playing", document=document, stage=2, player="left hand 45; right foot 40")
    assert own["player"] == "left hand 45; right foot 40"
    assert own["fastest"]["bpm"] < usual["fastest"]["bpm"]


def test_a_hand_that_is_pinned_plays_and_looks_pinned(document):
    pinned = ask("shape", document=document, stage=0, surface="hi-hat", at=0, quality="hand", value="L")["document"]
    told = ask("playing", document=pinned, stage=0)
    rows = {row["id"]: row for row in told["limbs"]}
    assert rows["0/hi-hat@0"] == rows["0/hi-hat@0"] | {"limb": "left hand", "letter": "L", "pinned": True}
    assert [row["id"] for row in told["limbs"] if row["pinned"]] == ["0/hi-hat@0"]


@pytest.mark.parametrize(
    ("given", "field"),
    [
        ({"stage": 5}, "stage"), ({"stage": -1}, "stage"), ({"tempo": 19.9}, "tempo"), ({"tempo": 401}, "tempo"),
        ({"tempo": -92}, "tempo"), ({"tempo": 10**400}, "tempo"), ({"tempo": float("nan")}, "tempo"),
        ({"tempo": float("inf")}, "tempo"), ({"player": "three-handed"}, "player"), ({"player": 3}, "player"),
        ({"player": "left hand 9999"}, "player"), ({"kit": "spoons"}, "kit"),
    ],
)  # fmt: skip
@pytest.mark.parametrize("question", ["playing", "plan"])
def test_a_wrong_question_is_refused_by_its_field(document, question, given, field):
    if question == "plan" and "tempo" in given:
        given = {"clean": given["tempo"]}
        field = "clean"
    refused = ask(question, **{"document": document, "stage": 2, **given})["refused"]
    assert refused["field"] == field
    assert len(refused["message"]) < 400


def test_a_player_is_no_part_of_other_questions(document):
    assert ask("view", document=document, player="anything") == ask("view", document=document)


def test_an_answer_is_a_function_of_its_question_alone(document):
    questions = [{"stage": stage, "tempo": tempo, "player": player, "kit": kit} for stage in (2, 4)
                 for tempo in (0, 140) for player in ("", "open-handed") for kit in ("", "kick, snare, ride")]  # fmt: skip
    other = ask("tap", document=document, stage=0, surface="kick", at=2520)["document"]
    warm = []
    for question in questions:
        ask("playing", document=other, **question)
        warm.append(ask("playing", document=document, **question))
        assert ask("playing", document=document, **question) == warm[-1]
    for question, told in zip(questions, warm, strict=True):
        door.forget()
        assert ask("playing", document=document, **question) == told
    assert len({json.dumps(told) for told in warm}) > 8


def test_what_is_asked_again_is_not_worked_out_again(document, monkeypatch):
    played: list[int] = []
    real = limbs.play
    monkeypatch.setattr(
        limbs, "play", lambda groove, stage, *rest: played.append(stage.number) or real(groove, stage, *rest)
    )
    door.forget()
    ask("playing", document=document, stage=2)
    assert sorted(set(played)) == [1, 2]
    played.clear()
    ask("playing", document=document, stage=2)
    assert played == []
    above = ask("remove", document=document, key=4)["document"]
    ask("playing", document=above, stage=2)
    assert played == [], "what stands below an edit is played as it was"


def test_on_a_kit_the_beat_is_played_as_it_sounds_there(document):
    kit = "kick, snare, hi-hat"
    told = ask("playing", document=document, stage=4, kit=kit)
    view = ask("view", document=document, kit=kit)
    assert {row["id"] for row in told["limbs"]} == {stroke["id"] for stroke in view["stages"][4]["strokes"]}
    written = 'groundbeat = 1\ntempo = 92\n[base]\nhi-hat = "x-x-x-x-x-x-x-x-"\nkick = "o------oo-------"\n'
    on_ride = written.replace("hi-hat", "ride")
    one = ask("playing", document=written, stage=0)
    two = ask("playing", document=on_ride, stage=0, kit=kit)
    assert [row["limb"] for row in two["limbs"]] == [row["limb"] for row in one["limbs"]]
    assert two["fastest"] == one["fastest"]


def test_any_document_is_answered_on_any_kit():
    asked = 0
    for number, text in enumerate(documents(30)):
        view = ask("open", text=text)
        stages = len(view["stages"])
        for stage in sorted({0, stages // 2, stages - 1}):
            kit = ("", *KITS)[(number + stage) % 5]
            told = ask("playing", document=view["document"], stage=stage, tempo=(0, 60, 300)[number % 3], kit=kit)
            assert list(misfits(told, playing_shapes.PlayingReply)) == []
            plan = ask("plan", document=view["document"], stage=stage, kit=kit, every=number % 5 == 0)
            assert list(misfits(plan, playing_shapes.PlanReply)) == []
            asked += 1
    assert asked > 40
