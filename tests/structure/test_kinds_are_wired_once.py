"""A new kind of variation is a module and one entry of the catalogue; file, link, page and shell know it from there."""

from __future__ import annotations

import json
import sys
import types
from collections.abc import Iterator
from dataclasses import replace
from typing import Any

import pytest

from groundbeat import cli
from groundbeat.bridge import door
from groundbeat.codec.groove_read import read_groove
from groundbeat.codec.groove_write import write_groove
from groundbeat.codec.link import read_link, write_link
from groundbeat.lineage.ledger import Ledger
from groundbeat.variation import catalogue
from groundbeat.variation.kind import Kind, Scene, Word, chosen
from groundbeat.variation.setting import CHOICE, EVERYTHING, GROUP, PLACES, SURFACE, TARGET, Setting
from groundbeat.variation.stack import grow, plain

FILE = """groundbeat = 1
title = "Wired"

[base]
hi-hat = "x-x-x-x-x-x-x-x-"
snare  = "----O-------O---"

[[variation]]
kind = "half asleep"
surface = "hi-hat"
at = "upbeats"
how = "softer"
also = { to = "ride" }
"""


def _apply(scene: Scene, settings: dict[str, Any], ledger: Ledger) -> None:
    for stroke in chosen(settings["surface"], settings["at"], scene, ledger):
        ledger.alter(stroke, dynamic="ghost" if settings["how"] == "softest" else "soft")
    ledger.say("yawns")


def _sentence(settings: dict[str, Any]) -> tuple[Word, ...]:
    also = dict(settings["also"])
    return (Word("Doze over "), Word(settings["surface"], "surface"), Word(f", {settings['how']}, then {also['to']}."))


@pytest.fixture
def half_asleep() -> Iterator[None]:
    """A kind that nobody but the catalogue has heard of."""
    settings = (
        Setting("surface", 1, TARGET, EVERYTHING),
        Setting("at", 2, PLACES, "all"),
        Setting("how", 3, CHOICE, "soft", words=("soft", "softer", "softest")),
        Setting("also", 7, GROUP, (), inner=(Setting("to", 2, SURFACE),)),
    )
    module = types.ModuleType("a_kind_of_this_test")
    module.KIND = Kind("half asleep", "Half asleep", settings, _apply, _sentence, {"also": (("to", "ride"),)})  # type: ignore[attr-defined]
    sys.modules[module.__name__] = module
    entry = catalogue.Entry("half asleep", 90, module.__name__)
    catalogue.ENTRIES.append(entry)
    yield
    catalogue.ENTRIES.remove(entry)
    del sys.modules[module.__name__]
    catalogue._load.cache_clear()
    door.forget()


@pytest.mark.usefixtures("half_asleep")
def test_file_and_link_hold_the_new_kind():
    groove = read_groove(FILE)
    assert groove.variations[0].kind == "half asleep"
    assert dict(groove.variations[0].settings) == {
        "surface": "hi-hat", "at": "upbeats", "how": "softer", "also": (("to", "ride"),),
    }  # fmt: skip
    assert read_groove(write_groove(groove)) == groove
    reading = read_link(write_link(groove))
    assert (reading.groove, reading.newer) == (groove, None)


@pytest.mark.usefixtures("half_asleep")
def test_a_wrong_setting_of_the_new_kind_is_refused_at_its_place():
    reply = json.loads(door.answer(json.dumps({"ask": "open", "text": FILE.replace("softer", "loud")})))
    assert "line 12, column 7" in reply["refused"]["message"]
    assert "softest" in reply["refused"]["message"]


@pytest.mark.usefixtures("half_asleep")
def test_sentence_and_page_show_the_new_kind():
    stage = grow(read_groove(FILE))[1]
    assert stage.variation is not None
    assert plain(stage.variation) == "Doze over hi-hat, softer, then ride."
    told = json.loads(door.answer(json.dumps({"ask": "open", "text": FILE})))["stages"][1]
    assert (told["kind"], told["heading"], told["says"]) == ("half asleep", "Half asleep", ["yawns"])
    assert {"text": "hi-hat", "setting": "surface"} in told["sentence"]
    soft = [stroke["at"] for stroke in told["strokes"] if stroke["dynamic"] == "soft"]
    assert soft == [5040, 15120, 25200, 35280]


@pytest.mark.usefixtures("half_asleep")
def test_the_page_can_begin_one_change_its_words_and_carry_it_to_another_beat():
    def ask(**question: Any) -> Any:
        return json.loads(door.answer(json.dumps(question)))

    listed = ask(ask="kinds")["kinds"][-1]
    assert (listed["kind"], listed["family"]) == ("half asleep", "Others")
    assert listed["settings"][3] == {
        "name": "also",
        "label": "also",
        "offer": "also",
        "needs": "",
        "inner": ["also.to"],
    }
    document = ask(ask="open", text=FILE)["document"]
    choices = ask(ask="choices", document=document, key=1, setting="how")
    assert [option["value"] for option in choices["options"]] == ["soft", "softer", "softest"]
    changed = ask(ask="word", document=document, key=1, setting="how", value="softest")
    assert changed["stages"][1]["plain"] == "Doze over hi-hat, softest, then ride."
    assert {stroke["dynamic"] for stroke in changed["stages"][1]["strokes"]} >= {"ghost", "normal"}
    other = 'groundbeat = 1\n[base]\nride = "x-x-x-x-x-x-x-x-"\n'
    carried = ask(ask="carry", document=document, onto=other)
    assert [row["verdict"] for row in carried["rows"]] == ["found nothing"]


@pytest.mark.usefixtures("half_asleep")
def test_the_shell_shows_the_new_kind(tmp_path: Any, capsys: pytest.CaptureFixture[str]):
    path = tmp_path / "wired.toml"
    path.write_text(FILE)
    with pytest.raises(SystemExit, match="0"):
        cli.main(["show", str(path), "--stage", "1"])
    shown = capsys.readouterr().out
    assert "1 Half asleep (4 altered)\n  Doze over hi-hat, softer, then ride.\n  yawns\n" in shown
    assert "hi-hat |x-s-x-s-x-s-x-s-|" in shown


def test_without_its_entry_the_kind_is_unknown_and_a_link_of_it_is_newer(half_asleep: None):
    groove = read_groove(FILE)
    link = write_link(groove)
    entry = catalogue.ENTRIES.pop()
    try:
        reading = read_link(link)
        assert reading.newer == 1
        assert reading.groove == replace(groove, variations=())
        with pytest.raises(Exception, match='line 9, column 8: "half asleep" is not a kind of variation'):
            read_groove(FILE)
    finally:
        catalogue.ENTRIES.append(entry)


def test_nothing_of_the_planted_kind_is_left_behind():
    assert [entry.name for entry in catalogue.ENTRIES if entry.number >= 90] == []
    assert "a_kind_of_this_test" not in sys.modules
