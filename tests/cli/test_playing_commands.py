"""`check`, `plan` and `suggest` tell what the page tells, as text for people and as JSON for programs."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from groundbeat.bridge.door import answer
from tests.cli.conftest import failed

ROOT = Path(__file__).resolve().parents[2]
SLACK_TIDE = ROOT / "examples/slack-tide.toml"
EXAMPLES = sorted((ROOT / "examples").rglob("*.toml"))
COMMANDS = ["check", "plan", "suggest"]


def page(question: str, **given: Any) -> dict[str, Any]:
    text = SLACK_TIDE.read_text(encoding="utf-8")
    return json.loads(answer(json.dumps({"ask": question, "document": text, **given})))


def test_check_reads_as_a_teacher_would_say_it(run):
    ran = run("check", SLACK_TIDE, "--stage", 2)
    assert (ran.status, ran.err) == (0, "")
    assert ran.out.startswith(
        "2 Embellish at 92\n"
        "  Add ghost notes on the snare at every e and a, clear of the kick, except the a of 4.\n"
        "\n"
        "                1e&a2e&a3e&a4e&a\n"
        "    hi-hat     |x-x-x-x-x-x-x-x-|\n"
        "    snare      |-g-g-O---g-gOg--|\n"
        "    kick       |o------oo-------|\n"
        "    right hand  R R R R R R R R\n"
        "    left hand    L L L   L LLL\n"
        "    feet        R      RR\n"
        "\n"
        "Playable.\n"
        "Comfortable up to 100: the left hand"
    )
    lines = ran.out.split("\n")
    assert [line for line in lines if line.startswith("Fastest up to 150: the left hand at a of 3, 4, e of 4")]
    spots = lines[lines.index("Before you play it:") + 1 :]
    assert spots[0] == ("  The left hand plays three in a row: a of 3, 4, e of 4: ghost, accent, ghost, 163 ms apart.")
    assert spots[1].startswith("    Leave out the ") and spots[1].endswith(".")
    names = [line.split()[0] for line in lines if line.startswith("  ") and line[2:15].strip().isalpha()]
    assert [name for name in names if name in PARTS] == PARTS
    assert lines[-2] == "From home: 20 of 100. 12 of 13 strokes of the base beat sound where they stood; 1 moved."
    assert max(map(len, lines)) <= 100


PARTS = ["density", "independence", "syncopation", "speed", "reach", "dynamics", "newness"]


def test_check_json_has_the_keys_that_programs_rely_on(run):
    told = json.loads(run("check", SLACK_TIDE, "--stage", 2, "--json").out)
    assert (told["tempo"], told["playable"]) == (92, True)
    for name, bpm in (("fastest", 150), ("comfortable", 100)):
        assert told[name]["bpm"] == bpm
        assert told[name]["because"].startswith("the left hand at a of 3, 4, e of 4")
    left = [name for name, limb in told["limbs"].items() if limb == "left hand"]
    assert left == [f"{name}" for name in (
        "2/snare@1/16", "2/snare@3/16", "0/snare@1/4", "2/snare@9/16", "2/snare@11/16", "0/snare@3/4", "2/snare@13/16",
    )]  # fmt: skip
    assert set(told["limbs"].values()) == {"right hand", "left hand", "right foot"}
    first = told["spots"][0]
    assert (first["count"], first["bar"]) == ("3a", 1)
    assert set(first) >= {"count", "bar", "kind", "text", "leave_out"}
    assert set(first["leave_out"]) <= set(told["limbs"])
    assert told["types"]["2/snare@11/16"] == "up"
    assert told["verdict"] == {"kind": "playable", "text": ""}
    assert [part["part"] for part in told["demand"]] == PARTS
    assert told["home"]["stage"] == 2


def test_check_tells_what_the_page_tells(run):
    for more, given in (([], {}), (["--tempo", 171.5, "--left-handed"], {"tempo": 171.5, "player": "left-handed"})):
        told = json.loads(run("check", SLACK_TIDE, "--json", *more).out)
        reply = page("playing", stage=4, **given)
        for key in ("tempo", "player", "troubles", "fastest", "comfortable", "spots", "demand"):
            assert told[key] == reply[key], key
        assert told["playable"] == reply["verdict"]["playable"]
        assert told["limbs"] == {row["id"]: row["limb"] for row in reply["limbs"]}


def test_plan_and_suggest_tell_what_the_page_tells(run):
    told = json.loads(run("plan", SLACK_TIDE, "--json", "--stage", 2, "--clean", 70).out)
    reply = page("plan", stage=2, clean=70)
    assert told == {key: value for key, value in reply.items() if key != "answer"}
    every = json.loads(run("plan", SLACK_TIDE, "--json", "--stage", 2, "--all").out)
    assert len(every["steps"]) > len(told["steps"])
    arguments = ["--stage", 1, "--wish", "a little busier", "--keep", "backbeats, kick", "--seed", 5]
    told = json.loads(run("suggest", SLACK_TIDE, "--json", *arguments).out)
    reply = page("suggest", stage=1, wish="a little busier", keep="backbeats kick", seed=5)
    assert [row["plain"] for row in told["suggestions"]] == [row["plain"] for row in reply["suggestions"]]
    assert [json.dumps(row["settings"]) for row in told["suggestions"]] == [
        json.dumps(json.loads(row["settings"])) for row in reply["suggestions"]
    ]


def test_a_plan_reads_step_by_step(run):
    ran = run("plan", SLACK_TIDE, "--stage", 2)
    assert (ran.status, ran.err) == (0, "")
    reply = page("plan", stage=2)
    for number, step in enumerate(reply["steps"], 1):
        assert f"\n{number} {step['title']} ({step['minutes']} min)\n" in ran.out
    assert "hearing" in " ".join(reply["cautions"]) and reply["cautions"][-1].split()[0] in ran.out
    assert max(map(len, ran.out.split("\n"))) <= 100


def test_suggestions_read_with_sentence_and_reason(run):
    ran = run("suggest", SLACK_TIDE, "--stage", 2, "--wish", "easier")
    assert (ran.status, ran.err) == (0, "")
    reply = page("suggest", stage=2, wish="easier")
    assert reply["suggestions"]
    told = " ".join(ran.out.split())
    for number, row in enumerate(reply["suggestions"], 1):
        assert f"\n{number} {row['heading']}" in ran.out
        assert row["plain"] in told


def test_the_last_stage_is_meant_if_none_is_named(run):
    assert run("check", SLACK_TIDE).out == run("check", SLACK_TIDE, "--stage", 4).out
    assert run("check", SLACK_TIDE).out != run("check", SLACK_TIDE, "--stage", 0).out


def test_switches_and_text_make_one_player(run):
    switches = ["--left-handed", "--open-handed", "--double-pedal", "--drop-clutch"]
    told = json.loads(run("check", SLACK_TIDE, "--json", *switches, "--player", "right foot 48").out)
    assert told["player"] == "left-handed; open-handed; double pedal; drop clutch; right foot 48"
    assert json.loads(run("check", SLACK_TIDE, "--json", "--player", "Left-handed").out)["player"] == "left-handed"


def test_what_cannot_be_played_is_told_and_is_no_error(run):
    ran = run("check", SLACK_TIDE, "--stage", 2, "--tempo", 200)
    assert (ran.status, ran.err) == (0, "")
    assert "Too fast at 200: " in ran.out and "possible up to 150" in ran.out
    rows = "".join(
        f'{name} = "{letter}-------"\n' for name, letter in (("hi-hat", "x"), ("snare", "o"), ("floor tom", "o"))
    )
    three = f'groundbeat = 1\nmeter = "2/4"\n[base]\n{rows}'
    ran = run("check", "-", data=three)
    assert ran.status == 0
    assert "Impossible: three things for two hands on 1: hi-hat, snare and floor tom." in ran.out
    told = json.loads(run("check", "-", "--json", data=three).out)
    assert (told["playable"], told["verdict"]["kind"], told["fastest"]["bpm"]) == (False, "impossible", None)


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_every_example_is_checked(run, path: Path):
    ran = run("check", path)
    assert (ran.status, ran.err) == (0, "")
    assert "Fastest " in ran.out and "From home: " in ran.out


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (["check", "--stage", "9"], "there are stages 0 to 4, not 9"),
        (["check", "--stage", "-2"], "there are stages 0 to 4, not -2"),
        (["check", "--tempo", "500"], "the tempo is 500; it may be 20 to 400"),
        (["check", "--tempo", "nan"], "the tempo is nan; it may be 20 to 400"),
        (["check", "--player", "three-handed"], '"three-handed" says nothing of a player'),
        (["check", "--bars", "1-2"], "--bars is for MIDI and MusicXML files"),
        (["plan", "--clean", "5"], "the tempo is 5; it may be 20 to 400"),
        (["suggest", "--wish", "purple"], "purple"),
        (["suggest", "--keep", "elbow"], '"elbow" cannot be kept'),
        (["suggest", "--seed", "x"], "Invalid value for '--seed'"),
    ],
)
def test_a_wrong_question_is_one_line_of_error(run, arguments: list[str], told: str):
    command, *rest = arguments
    assert told in failed(run(command, SLACK_TIDE, *rest))


@pytest.mark.parametrize("command", COMMANDS)
def test_errors_of_a_groove_are_one_line_here_too(run, command: str):
    assert "the tempo is 9" in failed(run(command, "-", data="groundbeat = 1\ntempo = 9\n"))
