"""In a real Chromium: what comes later comes with the first question that needs it, and only then; if not, that is told.

The page is the bare one of `bare`, under the policy.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page

from groundbeat.bridge.door import answer
from groundbeat.site.server import serving
from groundbeat.site.tools import ROOT
from tests.site.bare import BELOW, lay_out, visit
from tests.site.bare import ask as ask_text

EXAMPLE = (ROOT / "examples" / "slack-tide.toml").read_text()
QR: dict[str, Any] = {"ask": "qr", "text": "https://drums.example.org/groundbeat/#1AbCdEfgh"}


@pytest.fixture
def folder(dist: Path, tmp_path: Path) -> Path:
    """A copy of the built folder below a path, with the bare page in it."""
    lay_out(dist, tmp_path)
    return tmp_path / BELOW


@pytest.fixture
def page(chromium: Browser, folder: Path) -> Iterator[Page]:
    """The bare page, open, and at the top of its site: there the server lets browsers keep the runtime for ever."""
    context = chromium.new_context(service_workers="block")
    page = context.new_page()
    with serving(folder) as address:
        visit(page, address, "")
        yield page
    context.close()


def ask(page: Page, request: dict[str, Any]) -> dict[str, Any]:
    return ask_text(page, json.dumps(request))


def extras_of(folder: Path) -> Path:
    (file,) = (folder / "py").glob("*/extras-*.zip")
    return file


def test_the_extras_come_with_the_first_question_that_needs_them(page: Page, folder: Path) -> None:
    name, asked = extras_of(folder).name, []
    page.context.on("request", lambda request: asked.append(request.url.rsplit("/", 1)[-1]))
    assert ask(page, {"ask": "hello"})["reply"]["answer"] == "hello"
    assert "stdlib.zip" in asked and name not in asked
    assert ask(page, {"ask": "qr", "text": "x" * 3000})["code"] == "qr.too-long"
    assert name not in asked
    assert ask(page, QR)["reply"] == json.loads(answer(json.dumps(QR)))
    assert asked.count(name) == 1
    assert ask(page, {**QR, "text": "another"})["reply"]["answer"] == "qr"
    assert asked.count(name) == 1
    assert page.evaluate("() => violations") == []


def test_how_beats_are_played_comes_with_the_first_question_about_it(page: Page, folder: Path) -> None:
    (file,) = (folder / "py").glob("*/playing-*.zip")
    playing = {"ask": "playing", "document": EXAMPLE, "stage": 2}
    asked: list[str] = []
    page.context.on("request", lambda request: asked.append(request.url.rsplit("/", 1)[-1]))
    assert ask(page, {"ask": "open", "text": EXAMPLE})["reply"]["answer"] == "view"
    assert file.name not in asked
    for _ in range(2):
        assert ask(page, playing)["reply"] == json.loads(answer(json.dumps(playing)))
    assert asked.count(file.name) == 1
    assert ask(page, QR)["reply"]["answer"] == "qr"  # one part does not hide another
    assert page.evaluate("() => violations") == []


def test_a_question_may_need_two_parts_one_after_the_other(page: Page, folder: Path) -> None:
    sheet = {"ask": "lesson_sheet", "document": EXAMPLE}
    asked: list[str] = []
    page.context.on("request", lambda request: asked.append(request.url.rsplit("/", 1)[-1].split("-")[0]))
    assert ask(page, {"ask": "hello"})["reply"]["answer"] == "hello"
    assert {"playing", "notation"}.isdisjoint(asked)
    for _ in range(2):
        assert ask(page, sheet)["reply"] == json.loads(answer(json.dumps(sheet)))
    assert (asked.count("playing"), asked.count("notation")) == (1, 1)
    assert page.evaluate("() => violations") == []


def test_without_a_network_the_question_is_refused_and_a_second_try_works(page: Page) -> None:
    assert ask(page, {"ask": "hello"})["reply"]["answer"] == "hello"
    page.context.set_offline(True)
    told = ask(page, QR)
    assert (told["name"], told["code"]) == ("EngineRefusal", "engine.network")
    assert "Check the connection, then try again." in told["message"]
    assert ask(page, {"ask": "kinds"})["reply"]["answer"] == "kinds"  # the engine itself is well
    page.context.set_offline(False)
    assert ask(page, QR)["reply"]["answer"] == "qr"
    states = page.evaluate("() => states.map(({ state }) => state)")
    assert set(states) == {"starting", "ready"}  # it was never started again


@pytest.mark.parametrize("fault", ["missing", "cut short"])
def test_extras_that_do_not_come_whole_are_told_and_fetched_anew(page: Page, folder: Path, fault: str) -> None:
    """A cut file stays in the browser's cache for ever by its name: the second try must go past it."""
    file = extras_of(folder)
    whole = file.read_bytes()
    file.unlink()
    if fault == "cut short":
        file.write_bytes(whole[:1000])
    assert ask(page, QR)["code"] == "engine.network"
    file.write_bytes(whole)
    assert ask(page, QR)["reply"]["answer"] == "qr"


def test_extras_without_the_package_are_told_as_a_fault(page: Page, folder: Path) -> None:
    file = extras_of(folder)
    file.write_bytes(file.read_bytes().replace(b"segno/", b"other/"))
    told = ask(page, QR)
    assert (told["name"], told["code"]) == ("EngineRefusal", "engine.broken")
    assert ask(page, {"ask": "hello"})["reply"]["answer"] == "hello"
