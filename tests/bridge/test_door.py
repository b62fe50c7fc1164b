"""Whatever a page sends, the door answers: with a view, a timeline or a link, or with a refusal for a person."""

from __future__ import annotations

import base64
import json
import random
from pathlib import Path
from typing import Any

import pytest

from groundbeat.bridge import door
from groundbeat.bridge.door import answer
from groundbeat.bridge.messages import MAX_MESSAGE
from groundbeat.codec.groove_read import MAX_FILE, read_groove
from groundbeat.codec.link import MAX_LINK, write_link
from groundbeat.model.groove import Groove, Variation
from tests.steps import steps_of

ROOT = Path(__file__).resolve().parents[2]
SLACK_TIDE = (ROOT / "examples/slack-tide.toml").read_text(encoding="utf-8")
LANTERN_WALK = (ROOT / "examples/lantern-walk.toml").read_text(encoding="utf-8")
PLAIN = 'groundbeat = 1\n[base]\nsnare = "----O-------O---"\n'
MOST_WORDS = 1000  # characters of a message that a person may be asked to read


def ask(ask: str, **rest: Any) -> dict[str, Any]:
    reply = json.loads(answer(json.dumps({"ask": ask, **rest})))
    assert isinstance(reply, dict)
    return reply


def refused(text: str) -> dict[str, Any]:
    """Send raw text that must be refused, and see that the refusal is fit for a person."""
    reply = json.loads(answer(text))
    assert set(reply) == {"refused"}, text[:200]
    told = reply["refused"]
    assert set(told) == {"code", "message", "field"}
    assert told["message"] and told["code"]
    assert "Traceback" not in told["message"] and "groundbeat/" not in told["message"]
    assert told["field"] is None or told["field"]
    assert isinstance(told, dict)
    return told


def columns(view: dict[str, Any], stage: int, surface: str) -> list[int]:
    return [s["at"] // 2520 for s in view["stages"][stage]["strokes"] if s["surface"] == surface]


# ---- open ------------------------------------------------------------------------------------------------------------


def test_a_groove_file_opens_with_all_its_stages():
    view = ask("open", text=SLACK_TIDE)
    assert (view["answer"], view["title"], view["meter"], view["tempo"]) == ("view", "Slack Tide", "4/4", 92)
    assert (view["bars"], view["bar_ticks"], view["cycle"]) == (1, 40320, 40320)
    assert [stage["kind"] for stage in view["stages"]] == ["base", "displace", "embellish", "ostinato", "orchestrate"]
    assert columns(view, 1, "snare") == [5, 12]
    assert columns(view, 2, "snare") == [1, 3, 5, 9, 11, 12, 13]
    assert columns(view, 3, "hi-hat") == [0, 1, 2, 4, 5, 6, 8, 9, 10, 12, 13, 14]
    assert columns(view, 4, "ride bell") == [0, 4, 8, 12]
    assert "hi-hat" not in view["stages"][4]["lanes"]
    assert [columns(view, stage, "kick") for stage in range(5)] == [[0, 7, 8]] * 5
    assert view["newer"] is None and view["link_trouble"] is None and view["says"] == []


def test_the_grid_says_the_counts():
    grid = ask("open", text=SLACK_TIDE)["grid"]
    assert " ".join(place["count"] for place in grid) == "1 e & a 2 e & a 3 e & a 4 e & a"
    assert [place["weight"] for place in grid] == [2, 0, 1, 0] * 4
    assert [place["at"] for place in grid] == list(range(0, 40320, 2520))


@pytest.mark.parametrize(
    "shape",
    [
        "#{}", "{}", " {}\n", "https://workshop.example/lessons/#{}", "http://127.0.0.1:8614/?a=b#{}", "<#{}>", "#{}.",
    ],
)  # fmt: skip
def test_a_link_opens_however_it_was_pasted(shape: str):
    from_file = ask("open", text=SLACK_TIDE)
    from_link = ask("open", text=shape.format(from_file["link"]))
    assert from_link == from_file


def test_the_document_of_a_view_gives_the_same_view():
    for text in (SLACK_TIDE, LANTERN_WALK, PLAIN):
        view = ask("open", text=text)
        assert ask("view", document=view["document"]) == view
        assert ask("open", text=view["document"]) == view


@pytest.mark.parametrize(
    ("text", "code", "told"),
    [
        ("", "request", "nothing to open"),
        (" \n\t ", "request", "nothing to open"),
        ("hello", "groove-file", "line 1"),
        ("hello world, this is a letter", "groove-file", "line 1, column"),
        ('{"ask": "open"}', "groove-file", "line 1, column 1"),
        ("#", "link.not-one", "not a Groundbeat link"),
        ("#2abc", "link.newer", "newer Groundbeat"),
        ("#xyz", "link.not-one", "not a Groundbeat link"),
        ("#1", "link.cut-short", "cut short"),
        ("https://workshop.example/#", "link.not-one", "not a Groundbeat link"),
        ("#1AFw q0w", "groove-file", "line 1"),
        ("#1" + "A" * MAX_LINK, "link.too-long", str(MAX_LINK)),
        ("x" * (MAX_FILE + 1), "groove-file", str(MAX_FILE)),
        ("groundbeat = 2\n", "groove-file", "version 2"),
        ("MThd\x00\x00\x00\x06", "groove-file", "line 1"),
    ],
)
def test_what_is_no_groove_is_refused(text: str, code: str, told: str):
    reply = refused(json.dumps({"ask": "open", "text": text}))
    assert reply["code"] == code
    assert told in reply["message"]


def test_an_error_in_a_file_names_the_file():
    reply = ask("open", text="groundbeat = 1\ntempo = 9", name="mine.toml")["refused"]
    assert reply["message"].startswith("mine.toml, line 2, column 9: the tempo is 9")
    assert reply["field"] == "tempo"


def test_a_link_that_lost_or_changed_a_letter_is_refused_as_cut_short():
    link = ask("open", text=LANTERN_WALK)["link"]
    for end in range(2, len(link)):
        assert refused(json.dumps({"ask": "open", "text": "#" + link[:end]}))["code"] == "link.cut-short"
    for at in range(1, len(link)):
        changed = link[:at] + ("A" if link[at] != "A" else "B") + link[at + 1 :]
        assert refused(json.dumps({"ask": "open", "text": "#" + changed}))["code"] == "link.cut-short"


# ---- switch, timeline, link ------------------------------------------------------------------------------------------


def test_switching_off_leaves_the_other_stages_and_switching_on_restores():
    view = ask("open", text=SLACK_TIDE)
    off = ask("switch", document=view["document"], key=2, on=False)
    assert [stage["on"] for stage in off["stages"]] == [True, True, False, True, True]
    assert off["stages"][2]["summary"] == "off"
    assert {thread["fate"] for thread in off["stages"][2]["threads"]} == {"kept"}
    assert columns(off, 4, "snare") == [5, 12]
    assert ask("switch", document=off["document"], key=2, on=True) == view
    assert ask("switch", document=view["document"], key=2, on=True) == view


@pytest.mark.parametrize("key", [0, 5, -1, 10**9])
def test_switching_what_is_not_there_is_refused(key: int):
    reply = refused(json.dumps({"ask": "switch", "document": SLACK_TIDE, "key": key, "on": True}))
    assert (reply["code"], reply["field"]) == ("variation", "key")
    assert str(key) in reply["message"]


def test_a_timeline_has_every_stroke_of_the_stage_and_the_base_beat():
    view = ask("open", text=SLACK_TIDE)
    reply = ask("timeline", document=view["document"], stage=4)
    assert (reply["loop"], reply["parts"], reply["tempo"], reply["tempo_unit_ticks"]) == (40320, 1, 92, 10080)
    heard = {(e["id"], e["at"], e["surface"]) for e in reply["events"] if e["layer"] in ("stage", "both")}
    assert heard == {(s["id"], s["at"], s["surface"]) for s in view["stages"][4]["strokes"]}
    under = {(e["id"], e["at"], e["surface"]) for e in reply["events"] if e["layer"] in ("base", "both")}
    assert under == {(s["id"], s["at"], s["surface"]) for s in view["stages"][0]["strokes"]}
    added = {e["id"] for e in reply["events"] if e["added"]}
    assert added == {s["id"] for s in view["stages"][4]["strokes"] if s["origin"]}
    assert [(click["at"], click["strong"]) for click in reply["clicks"]] == [
        (0, True), (10080, False), (20160, False), (30240, False),
    ]  # fmt: skip


@pytest.mark.parametrize("stage", [-1, 5, 10**12])
def test_a_stage_that_is_not_there_cannot_be_played(stage: int):
    reply = refused(json.dumps({"ask": "timeline", "document": SLACK_TIDE, "stage": stage}))
    assert (reply["code"], reply["field"]) == ("timeline", "stage")
    assert "0 to 4" in reply["message"]


def test_the_link_is_that_of_the_view():
    view = ask("open", text=SLACK_TIDE)
    reply = ask("link", document=view["document"])
    assert reply == {"answer": "link", "fragment": view["link"], "length": len(view["link"])}
    assert reply["fragment"] == write_link(read_groove(SLACK_TIDE))


def test_a_groove_too_long_for_a_link_is_shown_and_says_so():
    notes = "".join(
        f'[[variation]]\nkind = "displace"\nby = "1/8 later"\nnote = "{"water " * 300}"\n' for _ in range(8)
    )
    view = ask("open", text=PLAIN + notes)
    assert view["link"] is None
    assert "send the groove file" in view["link_trouble"]
    assert len(view["stages"]) == 9
    assert refused(json.dumps({"ask": "link", "document": view["document"]}))["code"] == "link.too-long"


# ---- open_midi -------------------------------------------------------------------------------------------------------


def midi(*events: tuple[int, int, int]) -> str:
    """A format 0 file with 96 ticks to the quarter, hits on channel 10: (delta, key, velocity)."""
    body = b"".join(bytes((delta, 0x99, key, velocity, 0, 0x89, key, 0)) for delta, key, velocity in events)
    body += bytes((0, 0xFF, 0x2F, 0))
    head = b"MThd" + bytes((0, 0, 0, 6, 0, 0, 0, 1, 0, 96))
    return base64.b64encode(head + b"MTrk" + len(body).to_bytes(4, "big") + body).decode("ascii")


def test_a_midi_file_becomes_a_base_beat():
    view = ask("open_midi", name="evening.mid", base64=midi((0, 36, 100), (96, 38, 100), (96, 36, 100), (96, 38, 100)))
    assert view["title"] == "evening"
    assert (columns(view, 0, "kick"), columns(view, 0, "snare")) == ([0, 8], [4, 12])
    assert len(view["stages"]) == 1
    assert view["link"] and view["says"]
    again = ask("view", document=view["document"])
    assert again["stages"] == view["stages"]


@pytest.mark.parametrize(
    ("name", "data", "bars", "code", "field"),
    [
        ("a.mid", "", "", "midi", None),
        ("a.mid", "not base64!", "", "request", "base64"),
        ("a.mid", "TVRoZA", "", "request", "base64"),
        ("a.mid", "é", "", "request", "base64"),
        ("a.mid", base64.b64encode(b"MThd").decode(), "", "midi", None),
        ("a.mid", base64.b64encode(b"a letter to the class").decode(), "", "midi", None),
        ("a.mid", midi(), "", "midi", None),
        ("a.mid", midi((0, 36, 100)), "x", "request", "bars"),
        ("a.mid", midi((0, 36, 100)), "0", "request", "bars"),
        ("a.mid", midi((0, 36, 100)), "3-2", "request", "bars"),
        ("a.mid", midi((0, 36, 100)), "1-17", "request", "bars"),
        ("a.mid", midi((0, 36, 100)), "900-901", "midi", None),
    ],
)
def test_a_midi_file_that_does_not_read_is_refused(name: str, data: str, bars: str, code: str, field: str | None):
    reply = refused(json.dumps({"ask": "open_midi", "name": name, "base64": data, "bars": bars}))
    assert reply["code"].split(".")[0] == code
    if field:
        assert reply["field"] == field


# ---- hostile messages ------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "text",
    [
        "", " ", "null", "1", '"open"', "[]", "{}", "{", "nan", '{"ask": 1}', '{"ask": null}', '{"ask": ["open"]}',
        '{"ask": "OPEN", "text": ""}', '{"ask": "open"}', '{"ask": "open", "text": ["a"]}', '{"ask": "__class__"}',
        '{"ask": "timeline", "document": "", "stage": 1.5}', '{"ask": "timeline", "document": "", "stage": 1e999}',
        '{"ask": "timeline", "document": "", "stage": ' + "9" * 5000 + "}", "\x00", "\ud800", '{"ask": "\\ud800"}',
    ],
)  # fmt: skip
def test_what_is_no_question_is_refused(text: str):
    assert refused(text)["code"] == "request"


@pytest.mark.parametrize("depth", [50, 500, 1000, 3000, 100_000])
@pytest.mark.parametrize("pair", ["[]", "{}"])
def test_deep_nesting_is_refused(depth: int, pair: str):
    inner = pair[0] if pair == "[]" else '{"a":'
    message = f'{{"ask": "open", "text": {inner * depth}1{pair[1] * depth}}}'
    assert refused(message)["code"] == "request"
    assert refused(inner * depth)["code"] == "request"


@pytest.mark.parametrize("depth", [50, 500, 1000, 3000, 50_000])
def test_deep_nesting_in_a_document_is_refused(depth: int):
    for value in ("[" * depth, "[" * depth + "]" * depth, "{a=" * depth + "1" + "}" * depth):
        for line in (f"note = {value}", f'[[variation]]\nkind = "touch-up"\nchanges = {value}'):
            reply = refused(json.dumps({"ask": "open", "text": f"groundbeat = 1\n{line}\n"}))
            assert reply["code"] in ("groove-file", "request")


def test_a_huge_message_is_refused_before_it_is_parsed():
    reply = refused('{"ask": "open", "text": "' + "x" * MAX_MESSAGE + '"}')
    assert reply["code"] == "request"
    assert str(MAX_MESSAGE) in reply["message"]
    assert refused("[" * (MAX_MESSAGE + 1))["message"] == reply["message"].replace(
        str(MAX_MESSAGE + len('{"ask": "open", "text": ""}')), str(MAX_MESSAGE + 1)
    )


HUGE = {
    "a whole number of 5,000 digits": "tempo = " + "1" * 5000,
    "a hexadecimal number of 5,000 digits": "bars = 0x" + "f" * 5000,
    "a hexadecimal version": "groundbeat = 0x" + "f" * 5000,
    "a huge exponent": "tempo = 1e9999999999999999999",
    "a tiny exponent": "tempo = 1e-9999999999999999999",
    "a huge number as a setting": '[[variation]]\nkind = "displace"\nby = 0x' + "f" * 5000,
    "a huge key of a variation": '[[variation]]\nkind = "displace"\nkey = 0x' + "f" * 5000,
    "infinity": "tempo = inf",
    "no number": "tempo = nan",
}


@pytest.mark.parametrize("line", HUGE.values(), ids=HUGE.keys())
def test_a_monstrous_number_in_a_document_is_refused(line: str):
    head = "" if line.startswith("groundbeat") else "groundbeat = 1\n"
    reply = refused(json.dumps({"ask": "open", "text": f"{head}{line}\n"}))
    assert reply["code"] == "groove-file"


LONG = "x" * 50_000
LONG_WORDS = {
    "a key": f"{LONG} = 1",
    "a string where a meter is meant": f'meter = "{LONG}"',
    "a kind": f'[[variation]]\nkind = "{LONG}"',
    "a place": f'[[variation]]\nkind = "displace"\nat = "{LONG}"\nby = "1/8 later"',
    "a surface": f'[base]\n{LONG} = "x-x-"',
    "a setting": f'[[variation]]\nkind = "displace"\nby = "1/8 later"\n{LONG} = 1',
    "a list": '[[variation]]\nkind = "displace"\nby = [' + "1," * 4_000 + "]",
    "a cell": f'[[variation]]\nkind = "ostinato"\ncell = "{LONG}"',
    "a change": f'[[variation]]\nkind = "touch-up"\nchanges = ["+ {LONG}"]',
}


@pytest.mark.parametrize("line", LONG_WORDS.values(), ids=LONG_WORDS.keys())
def test_a_refusal_never_throws_a_whole_file_back_at_a_person(line: str):
    reply = refused(json.dumps({"ask": "open", "text": f"groundbeat = 1\n{line}\n"}))
    assert len(reply["message"]) <= MOST_WORDS
    assert len(reply["field"] or "") <= MOST_WORDS


def test_reading_a_line_takes_steps_in_proportion_to_its_length():
    def steps(repeats: int) -> int:
        text = f'groundbeat = 1\n[base]\nhi-hat = "x-x-x-x-x-x-x-x-{"%" * repeats}"\n'
        message = json.dumps({"ask": "open", "text": text})
        assert "16 bars" in refused(message)["message"]
        return steps_of(lambda: answer(message))

    assert steps(600) < 5 * steps(150)  # 4 times the line; reading with the square takes 16 times


@pytest.mark.parametrize("seed", range(20))
def test_a_damaged_document_is_answered_or_refused(seed: int):
    chance = random.Random(seed)
    letters = "[]{}\"'=.,#|%-\\\n xog0e&\u00e9\ud800\u2028\x00"
    for _ in range(15):
        text = list(SLACK_TIDE)
        for _ in range(chance.randint(1, 4)):
            at = chance.randrange(len(text))
            text[at : at + chance.randint(0, 3)] = chance.choices(letters, k=chance.randint(0, 3))
        message = json.dumps({"ask": "open", "text": "".join(text)})
        if "refused" in json.loads(answer(message)):
            refused(message)


# ---- text stays text, and the same question has the same answer ------------------------------------------------------

HOSTILE = """<img src=x onerror=alert(1)> & "quoted" </script> ${x} {{y}} 'z' \u202e rtl"""


def test_hostile_markup_in_a_document_stays_text():
    groove = f"groundbeat = 1\ntitle = {json.dumps(HOSTILE)}\nnote = {json.dumps(HOSTILE)}\n"
    groove += f'[[variation]]\nkind = "displace"\nby = "1/8 later"\nname = {json.dumps(HOSTILE[:60])}\n'
    view = ask("open", text=groove + f"note = {json.dumps(HOSTILE)}\n")
    assert (view["title"], view["note"]) == (HOSTILE, HOSTILE)
    stage = view["stages"][1]
    assert (stage["name"], stage["heading"], stage["note"]) == (HOSTILE[:60], HOSTILE[:60], HOSTILE)
    again = ask("open", text="#" + view["link"])
    assert again["title"] == HOSTILE and again["document"] == view["document"]
    reply = refused(json.dumps({"ask": "open", "text": f'groundbeat = 1\nmeter = "{HOSTILE[:30]}"', "name": "<b>"}))
    assert "<img src=x onerror=alert(1)>" in reply["message"] and reply["message"].startswith("<b>, line 2")


@pytest.mark.parametrize("sign", ["\x1b", "\x00", "\n", "\x7f", "\r"])
@pytest.mark.parametrize("part", ["title", "note", "name"])
def test_a_link_cannot_bring_signs_that_a_file_may_not_hold(sign: str, part: str):
    text = f"a{sign}[31mb"
    variation = Variation(1, "embellish", name=text if part == "name" else "")
    groove = Groove(variations=(variation,), next_key=2, **({part: text} if part != "name" else {}))
    reply = ask("open", text="#" + write_link(groove))
    if "refused" in reply:
        assert reply["refused"]["code"] == "link.damaged"
    else:  # what is shown must be a document that can be asked about again
        assert ask("view", document=reply["document"])["stages"] == reply["stages"]


def test_answers_are_equal_in_any_order_and_after_any_other():
    questions = [json.dumps({"ask": "open", "text": text}) for text in (SLACK_TIDE, LANTERN_WALK, PLAIN, "rubbish")]
    for text in (SLACK_TIDE, LANTERN_WALK):
        questions += [json.dumps({"ask": "timeline", "document": text, "stage": stage}) for stage in (0, 2, 9)]
        questions += [json.dumps({"ask": "switch", "document": text, "key": 1, "on": on}) for on in (False, True)]
        questions += [json.dumps({"ask": name, "document": text}) for name in ("view", "link")]
    door.forget()
    first = [answer(question) for question in questions]
    order = [*range(len(questions))] * 3
    random.Random(7).shuffle(order)
    assert [answer(questions[index]) for index in order] == [first[index] for index in order]
    door.forget()
    assert [answer(question) for question in reversed(questions)] == first[::-1]


def test_more_documents_than_the_caches_hold_change_nothing():
    texts = [PLAIN.replace("groundbeat = 1", f"groundbeat = 1\ntempo = {tempo}") for tempo in range(60, 100)]
    first = [answer(json.dumps({"ask": "view", "document": text})) for text in texts]
    assert [answer(json.dumps({"ask": "view", "document": text})) for text in texts] == first
    assert [json.loads(reply)["tempo"] for reply in first] == list(range(60, 100))


def test_an_answer_is_json_of_one_line():
    for question in ({"ask": "hello"}, {"ask": "open", "text": SLACK_TIDE}, {"ask": "open", "text": "\u2028 é"}):
        reply = answer(json.dumps(question))
        assert "\n" not in reply
        assert json.dumps(json.loads(reply), separators=(",", ":"), ensure_ascii=False) == reply


def test_hello_tells_the_versions():
    import platform

    import groundbeat

    expected = {"answer": "hello", "version": groundbeat.__version__, "python": platform.python_version()}
    assert json.loads(answer('{"ask":"hello"}')) == expected


# ---- columns of one line ---------------------------------------------------------------------------------------------


def test_the_places_of_a_line_with_columns_of_its_own():
    told = ask("columns", document=PLAIN, columns="eighth triplets")
    assert [(row["at"], row["place"]) for row in told["grid"][:4]] == [
        (0, "1"), (3360, "trip of 1"), (6720, "let of 1"), (10080, "2"),
    ]  # fmt: skip
    view = ask(
        "open",
        text=PLAIN
        + 'kick columns = "eighths"\nkick = "o--oo---"\nride columns = "eighth triplets"\nride = "x-xx-xx-xx-x"\n',
    )
    assert view["own"] == {"ride": "eighth triplets"}, "eighths stand on sixteenths as well"
    assert view["fits"] == ["eighths", "sixteenths", "thirty-seconds", "eighth triplets", "sixteenth triplets"]


def test_columns_that_a_bar_does_not_hold_are_refused():
    view = ask("frame", document=ask("new")["document"], meter="5/16")
    assert view["fits"] == ["sixteenths", "thirty-seconds"]
    reply = ask("columns", document=view["document"], columns="eighths")
    assert reply["refused"]["field"] == "columns"
    assert "does not hold a whole number of eighths" in reply["refused"]["message"]
    assert "not columns" in ask("columns", document=PLAIN, columns="eights")["refused"]["message"]
