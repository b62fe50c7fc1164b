"""A page opens tablature as it opens any text, chooses bars of it, and carries variations onto it."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from groundbeat.bridge.door import answer

SLACK_TIDE = (Path(__file__).resolve().parents[2] / "examples/slack-tide.toml").read_text(encoding="utf-8")
TABLATURE = "   1e&a2e&a3e&a4e&a\nHH|x-x-x-x-x-x-x-x-|x-x-x-x-x-x-x-x-|\nSN|----o-------o---|----@-------o---|\n"


def ask(ask: str, **rest: Any) -> dict[str, Any]:
    reply = json.loads(answer(json.dumps({"ask": ask, **rest})))
    assert isinstance(reply, dict)
    return reply


def test_tablature_opens_with_the_name_of_its_file_and_tells_what_is_doubtful():
    view = ask("open", text=TABLATURE, name="saltmarsh.txt")
    assert (view["answer"], view["title"], view["meter"], view["bars"]) == ("view", "saltmarsh", "4/4", 2)
    assert view["says"] == ['"@" on SN is read as a rimshot (line 3, column 25).']
    assert view["link"] and len(view["stages"]) == 1


def test_bars_of_tablature_are_chosen_and_of_a_groove_file_refused():
    view = ask("open", text=TABLATURE, bars="2")
    assert view["bars"] == 1 and view["says"][0] == "Read bar 2 of 2."
    refused = ask("open", text=SLACK_TIDE, bars="2")["refused"]
    assert (refused["code"], refused["field"]) == ("request", "bars")
    assert ask("open", text=TABLATURE, bars="3")["refused"]["message"].endswith("but the text has 2; try 1-2")


def test_tablature_that_loses_a_stroke_is_refused_with_its_place():
    refused = ask("open", text="HH|x-x-x-x-|\nSN|--o---o-o|\nBD|o-------|")["refused"]
    assert refused["code"] == "tab" and refused["message"].startswith("tablature, line 2, column 12: SN has 9 columns")


def test_variations_are_carried_onto_tablature():
    document = ask("open", text=SLACK_TIDE)["document"]
    carried = ask("carry", document=document, onto=TABLATURE, name="saltmarsh.txt")
    assert carried["answer"] == "carry" and carried["there"] == "saltmarsh"
    assert [row["kind"] for row in carried["rows"]] == ["displace", "embellish", "ostinato", "orchestrate"]
