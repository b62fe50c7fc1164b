"""A page opens a score as it opens a MIDI file; in a browser the second zip is asked for first."""

from __future__ import annotations

import base64
import json
import sys
from typing import Any

import pytest

from groundbeat.bridge.door import answer
from tests.notation.xml.scores import score, strike

SCORE = score(strike("C5") * 4, strike("F4") * 4)


def ask(question: str, **fields: Any) -> dict[str, Any]:
    """Ask the door."""
    reply = json.loads(answer(json.dumps({"ask": question, **fields})))
    assert isinstance(reply, dict)
    return reply


def open_score(text: str, **fields: Any) -> dict[str, Any]:
    """Bring a score."""
    return ask(
        "open_score", name="C:\\Class\\Evening walk.musicxml", base64=base64.b64encode(text.encode()).decode(), **fields
    )


def test_a_score_opens_as_a_view_with_what_is_told():
    view = open_score(SCORE)
    assert (view["answer"], view["title"], view["bars"], view["meter"]) == ("view", "Evening walk", 2, "4/4")
    assert [s["surface"] for s in view["stages"][0]["strokes"]] == ["snare"] * 4 + ["kick"] * 4
    assert view["says"][0] == "Read bars 1-2 of 2."
    assert ask("view", document=view["document"])["bars"] == 2


def test_bars_are_chosen_as_for_a_midi_file():
    assert open_score(SCORE, bars="2")["stages"][0]["strokes"][0]["surface"] == "kick"
    refused = open_score(SCORE, bars="2-5")["refused"]
    assert (refused["code"], refused["field"]) == ("musicxml.bars", "bars")
    assert open_score(SCORE, bars="x")["refused"]["field"] == "bars"


def test_what_is_no_score_is_refused():
    assert open_score("<svg/>")["refused"]["code"] == "musicxml"
    assert open_score("<svg")["refused"]["code"] == "musicxml.broken"
    refused = ask("open_score", name="a", base64="?")["refused"]
    assert refused["field"] == "base64"


def test_without_the_second_zip_it_is_asked_for(monkeypatch: pytest.MonkeyPatch):
    for name in [name for name in sys.modules if name.split(".")[0] == "defusedxml"]:
        monkeypatch.delitem(sys.modules, name)
    monkeypatch.setattr(sys, "meta_path", [_Missing(), *sys.meta_path])
    assert open_score(SCORE) == {"needs": "extras"}


class _Missing:
    """Finds no defusedxml, like a browser before the second zip has come."""

    def find_spec(self, name: str, path: object = None, target: object = None) -> None:
        if name.split(".", maxsplit=1)[0] == "defusedxml":
            raise ModuleNotFoundError(name, name=name)
