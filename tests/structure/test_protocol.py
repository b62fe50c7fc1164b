"""The types that the page is checked against are those of the engine, and the engine keeps to them without NumPy."""

from __future__ import annotations

import base64
import json
import subprocess
import sys
import types
from collections.abc import Iterator
from dataclasses import MISSING, fields
from pathlib import Path
from typing import Any, Literal, NotRequired, Union, get_args, get_origin, get_type_hints, is_typeddict

import pytest

from groundbeat.bridge import (
    midi_shapes,
    paper_shapes,
    playing_shapes,
    score_shapes,
    shapes,
    sheet_shapes,
    staff_shapes,
)
from groundbeat.bridge.door import answer
from groundbeat.bridge.messages import questions
from groundbeat.bridge.on_use import (
    ALL_ON_USE,
    BRING_ON_USE,
    MIDI_ON_USE,
    ON_USE,
    PAPER_ON_USE,
    SCORE_ON_USE,
    STAFF_ON_USE,
)
from groundbeat.bridge.types import declarations

REQUESTS = questions()
MOST_DATACLASSES = 48  # each costs about 1.5 ms to define in a browser; 40 before ways, ideas and sheets were asked for
REPLY_OF = {
    "lesson_sheet": paper_shapes.LessonSheetReply,
    "staff": staff_shapes.StaffReply, "export_tab": staff_shapes.ExportTabReply,
    "hello": shapes.HelloReply, "open": shapes.ViewReply, "open_midi": shapes.ViewReply, "open_score": shapes.ViewReply,
    "view": shapes.ViewReply,
    "switch": shapes.ViewReply, "timeline": shapes.TimelineReply, "link": shapes.LinkReply, "new": shapes.ViewReply,
    "choices": shapes.ChoicesReply, "columns": shapes.ColumnsReply, "kinds": shapes.KindsReply, "qr": shapes.QrReply,
    "carry": shapes.CarryReply, "sheet": sheet_shapes.SheetReply, "purpose": shapes.PurposeReply,
    "playing": playing_shapes.PlayingReply, "plan": playing_shapes.PlanReply, "suggest": playing_shapes.SuggestReply,
    "player": playing_shapes.PlayerReply, "export_midi": midi_shapes.ExportMidiReply,
    "export_score": score_shapes.ExportScoreReply,
} | dict.fromkeys(
    ["tap", "shape", "drag", "add", "begin", "accept", "word", "name", "remove", "move", "frame", "label", "line"]
    + ["fork", "exchange", "part", "call", "take", "leave_out"], shapes.ViewReply
)  # fmt: skip
SCORE = base64.b64encode(
    b"<measure><note><unpitched/><duration>4</duration><type>whole</type></note></measure>"
).decode()
WRONG = {str: 7, int: "7", float: True, bool: 1}  # a value of another type for each type of a field


def misfits(value: Any, shape: Any, where: str = "") -> Iterator[str]:
    """Say where plain data differs from a type."""
    origin, inside = get_origin(shape), get_args(shape)
    if is_typeddict(shape):
        if not isinstance(value, dict):
            yield f"{where}: {value!r} is no {shape.__name__}"
            return
        hints = get_type_hints(shape, include_extras=True)
        yield from (f"{where}.{key}: not in {shape.__name__}" for key in value if key not in hints)
        for key, hint in hints.items():
            optional = get_origin(hint) is NotRequired
            if key in value:
                yield from misfits(value[key], get_args(hint)[0] if optional else hint, f"{where}.{key}")
            elif not optional:
                yield f"{where}.{key}: missing"
    elif origin is Literal:
        if value not in inside or isinstance(value, bool):
            yield f"{where}: {value!r} is none of {inside}"
    elif origin is list:
        if not isinstance(value, list):
            yield f"{where}: {value!r} is no list"
            return
        for index, item in enumerate(value):
            yield from misfits(item, inside[0], f"{where}[{index}]")
    elif origin is tuple:
        if not isinstance(value, list) or len(value) != len(inside):
            yield f"{where}: {value!r} is no row of {len(inside)}"
            return
        for index, (item, hint) in enumerate(zip(value, inside, strict=True)):
            yield from misfits(item, hint, f"{where}[{index}]")
    elif origin is dict:
        if not isinstance(value, dict):
            yield f"{where}: {value!r} is no object"
            return
        for key, item in value.items():
            yield from misfits(key, inside[0], f"{where} key {key!r}")
            yield from misfits(item, inside[1], f"{where}[{key!r}]")
    elif origin in (types.UnionType, Union):
        if all(list(misfits(value, hint, where)) for hint in inside):
            yield f"{where}: {value!r} is none of {inside}"
    elif shape is float:
        if not isinstance(value, (int, float)) or isinstance(value, bool):
            yield f"{where}: {value!r} is no number"
    elif type(value) is not shape:
        yield f"{where}: {value!r} is not {shape}"


def ask(ask: str, **rest: Any) -> dict[str, Any]:
    reply = json.loads(answer(json.dumps({"ask": ask, **rest})))
    assert isinstance(reply, dict)
    return reply


EXAMPLES = sorted((Path(__file__).resolve().parents[2] / "examples").rglob("*.toml"))
# One hit on the snare (key 38, channel 10) in a format 0 file with 96 ticks to the quarter.
MIDI = "TVRoZAAAAAYAAAABAGBNVHJrAAAADACZJmRgiSYAAP8vAA=="


def test_the_committed_types_are_those_of_the_engine(root: Path):
    assert (root / "web/protocol/messages.d.ts").read_text(encoding="utf-8") == declarations(), (
        "stale: run python -m groundbeat.bridge.types > web/protocol/messages.d.ts"
    )


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_every_reply_for_an_example_has_its_shape(path: Path):
    view = ask("open", text=path.read_text(encoding="utf-8"), name=path.name)
    replies = [("open", view), ("view", ask("view", document=view["document"]))]
    replies += [("link", ask("link", document=view["document"])), ("open", ask("open", text="#" + view["link"]))]
    for stage in view["stages"]:
        replies.append(("timeline", ask("timeline", document=view["document"], stage=stage["stage"])))
        if stage["stage"]:
            replies.append(("switch", ask("switch", document=view["document"], key=stage["key"], on=False)))
    last = len(view["stages"]) - 1
    replies += [(name, ask(name, document=view["document"], stage=last)) for name in ("playing", "plan")]
    for name, reply in replies:
        assert list(misfits(reply, REPLY_OF[name], name)) == []
        assert list(misfits(reply, shapes.Refusal, name))  # the checker tells replies apart


def test_replies_with_everything_in_them_have_their_shape():
    text = """groundbeat = 1
note = "A note."
tempo = 92.5
[base]
hi-hat = "X-s-g-x-x-x-x-x-"
snare = "----O-------O---"
snare-graces = "----1-------#---"
snare-hands = "----R-------L---"
[[detail]]
at = "2[2/6]"
surface = "floor tom"
[feel]
swing = "sixteenths 3:2"
push = { snare = "10 ms early" }
[[variation]]
kind = "displace"
by = "1/4 later"
surface = "snare"
[[variation]]
kind = "orchestrate"
surface = "open hi-hat"
to = "crash"
off = true
name = "A name"
"""
    view = ask("open", text=text)
    assert view["tempo"] == 92.5
    assert view["stages"][1]["strokes"] and view["stages"][2]["says"] == []
    assert list(misfits(view, shapes.ViewReply)) == []
    timeline = ask("timeline", document=view["document"], stage=2)
    assert {event["stop"] for event in timeline["events"]} == {True, False}
    assert list(misfits(timeline, shapes.TimelineReply)) == []
    assert list(misfits(ask("open", text=""), shapes.Refusal)) == []


def test_every_question_is_answered():
    document = ask("open", text=EXAMPLES[0].read_text(encoding="utf-8"))["document"]
    one = 'groundbeat = 1\n[[variation]]\nkind = "displace"\nby = "1/8 later"\n'
    one += '[base]\nsnare = "----O-------O---"\n'
    given = {
        "text": one, "document": one, "name": "a.mid", "base64": MIDI, "key": 1, "on": False, "stage": 0, "at": 10080,
        "surface": "snare", "to_surface": "rimshot", "to_at": 0, "quality": "dynamic", "value": "ghost", "to": 1,
        "kind": "embellish", "after": 1, "setting": "surface", "note": "", "title": "A", "tempo": "92", "shown": True, "columns": "eighths",
        "onto": one, "way": 0, "sheet": "count", "purpose": "busier", "number": 0,
        "settings": '{"surface": "snare"}', "ids": "0/snare@1/4\n0/snare@3/4",
    }  # fmt: skip
    two = {"document": one + "[[branch]]\n"}
    by_name = {"word": {"value": "kick"}, "line": {"surface": "crash"}, "fork": {"after": 0}}
    cut = {
        "document": one.replace(
            'kind = "displace"\nby = "1/8 later"', 'kind = "ostinato"\nsurface = "snare"\ncell = "dotted eighth"'
        )
    }
    by_name["accept"] = {**cut, "number": 0}
    by_name["take"] = {"key": 0}
    by_name["open_score"] = {"base64": SCORE}
    by_name |= {"exchange": two, "part": two, "call": two}
    assert document and set(REPLY_OF) == set(REQUESTS)
    for name, made in REQUESTS.items():
        needed = {field.name: given[field.name] for field in fields(made) if field.default is MISSING}
        reply = ask(name, **needed | by_name.get(name, {}))
        assert list(misfits(reply, REPLY_OF[name], name)) == []


def _questions() -> Iterator[tuple[str, str, dict[str, Any], str]]:
    good: dict[Any, Any] = {str: "x", int: 0, float: 0.5, bool: True}
    for name, made in REQUESTS.items():
        hints = get_type_hints(made)
        full = {field.name: good[hints[field.name]] for field in fields(made)}
        yield name, "an unknown field", {**full, "colour": "red"}, "colour"
        for field in fields(made):
            yield name, f"{field.name} of a wrong type", {**full, field.name: WRONG[hints[field.name]]}, field.name
            yield name, f"{field.name} null", {**full, field.name: None}, field.name
            if field.default is MISSING:
                rest = {key: value for key, value in full.items() if key != field.name}
                yield name, f"{field.name} missing", rest, field.name


@pytest.mark.parametrize(
    ("name", "request_", "field"),
    [pytest.param(name, request, field, id=f"{name}, {what}") for name, what, request, field in _questions()],
)
def test_a_wrong_field_is_refused_by_its_name(name: str, request_: dict[str, Any], field: str):
    refused = ask(name, **request_)["refused"]
    assert refused["code"] == "request"
    assert refused["field"] == field
    assert field in refused["message"]


def test_the_checker_finds_what_does_not_fit():
    good = {"at": 0, "us": 0, "strong": True, "quiet": False, "say": "1"}
    assert list(misfits(good, shapes.ClickInfo)) == []
    for bad in (
        {**good, "at": "0"},
        {**good, "at": True},
        {**good, "more": 1},
        {"at": 0, "us": 0, "strong": True, "say": "1"},
        [good],
    ):
        assert len(list(misfits(bad, shapes.ClickInfo))) == 1
    thread = {"id": "a", "from": [0, "snare"], "to": None, "fate": "left out", "crosses": False}
    assert list(misfits(thread, shapes.ThreadInfo)) == []
    for bad in ({**thread, "from": [0]}, {**thread, "fate": "lost"}, {**thread, "to": ["0", "snare"]}):
        assert len(list(misfits(bad, shapes.ThreadInfo))) == 1


ALONE = """
import importlib.abc, json, sys
sys.path.insert(0, sys.argv[1])
class Refuse(importlib.abc.MetaPathFinder):
    def find_spec(self, name, path=None, target=None):
        if name.split(".")[0] not in {*sys.stdlib_module_names, "groundbeat"}:
            raise ImportError(f"{name} is not there")
sys.meta_path.insert(0, Refuse())
try:
    import numpy
except ImportError:
    pass
else:
    raise SystemExit("NumPy could be imported")
from groundbeat.bridge.door import answer
def counted():
    kinds = {made for name, module in sys.modules.items() if name.partition(".")[0] == "groundbeat"
             for made in vars(module).values() if isinstance(made, type) and "__dataclass_fields__" in vars(made)}
    return len([made for made in kinds if made.__module__.startswith("groundbeat")])
at_start = sorted(sys.modules)
kinds_at_start = counted()
view = json.loads(answer(json.dumps({"ask": "open", "text": open(sys.argv[2], encoding="utf-8").read()})))
timeline = json.loads(answer(json.dumps({"ask": "timeline", "document": view["document"], "stage": 4})))
print(json.dumps({"start": at_start, "kinds": [kinds_at_start, counted()], "stages": len(view["stages"]),
                  "events": len(timeline["events"]), "end": sorted(sys.modules)}))
"""


@pytest.fixture(scope="module")
def alone() -> dict[str, Any]:
    """What the door does in a Python of its own that has nothing but the standard library."""
    root = Path(__file__).resolve().parents[2]
    command = [sys.executable, "-I", "-S", "-c", ALONE, str(root / "engine"), str(root / "examples/slack-tide.toml")]
    done = subprocess.run(command, capture_output=True, text=True, check=False, timeout=60)
    assert done.returncode == 0, done.stderr
    report = json.loads(done.stdout)
    assert isinstance(report, dict)
    return report


def test_the_bridge_answers_without_numpy_or_anything_installed(alone: dict[str, Any]):
    assert alone["stages"] == 5
    assert alone["events"] > 20
    tops = {name.split(".")[0] for name in alone["end"]} - set(sys.stdlib_module_names)
    assert tops <= {"groundbeat", "__main__"}


def test_the_door_brings_no_room_that_most_pages_never_use(alone: dict[str, Any]):
    rooms = {name.split(".")[1] for name in alone["end"] if name.startswith("groundbeat.")}
    assert rooms.isdisjoint({"midi", "sound", "site", "cli", "notation", "take", "analysis"})
    assert {"model", "variation", "codec", "timeline", "bridge"} <= rooms
    assert "groundbeat.bridge.shapes" not in alone["end"]
    assert not [
        name
        for name in alone["end"]
        if name.startswith(("groundbeat.bridge.playing", "groundbeat.bridge.midi", "groundbeat.bridge.score"))
    ]
    kinds = {
        f"groundbeat.variation.{kind}" for kind in ("displace", "embellish", "ostinato", "orchestrate", "touch_up")
    }
    assert kinds.isdisjoint(alone["start"])  # a kind is imported when it is first asked for


def test_the_questions_that_are_defined_on_use_are_known_by_name():
    from groundbeat.bridge import (
        messages,
        midi_messages,
        paper_messages,
        playing_messages,
        score_in_messages,
        score_messages,
        staff_messages,
    )

    assert tuple(playing_messages.REQUESTS) == ON_USE
    assert tuple(midi_messages.REQUESTS) == MIDI_ON_USE
    assert tuple(score_messages.REQUESTS) == SCORE_ON_USE
    assert tuple(paper_messages.REQUESTS) == PAPER_ON_USE
    assert tuple(staff_messages.REQUESTS) == STAFF_ON_USE
    assert tuple(score_in_messages.REQUESTS) == BRING_ON_USE
    assert set(ALL_ON_USE).isdisjoint(messages.REQUESTS)
    assert set(REQUESTS) == {*messages.REQUESTS, *ALL_ON_USE}


def test_the_door_defines_few_dataclasses(alone: dict[str, Any]):
    at_start, after_first_answers = alone["kinds"]
    assert 8 < at_start <= after_first_answers <= MOST_DATACLASSES
