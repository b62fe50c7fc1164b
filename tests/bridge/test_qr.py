"""A QR code as a page draws it is the code that was made, and what no code can hold is told."""

from __future__ import annotations

import json
import re
import sys
from typing import Any

import pytest
import segno

from groundbeat.bridge.door import answer
from groundbeat.bridge.qr import MOST, MOST_AT_M, path_of

RUN = re.compile(r"M(\d+) (\d+)h(\d+)v1h-(\d+)z")
ADDRESS = "https://drums.example.org/groundbeat/#1AbCdEf_ghIJ-klMNopQRstUVwxYZ0123456789"


def ask(text: str) -> dict[str, Any]:
    reply = json.loads(answer(json.dumps({"ask": "qr", "text": text})))
    assert isinstance(reply, dict)
    return reply


def drawn(path: str, size: int) -> list[list[int]]:
    """Fill the rectangles of a path; each module at most once."""
    assert RUN.sub("", path) == ""
    rows = [[0] * size for _ in range(size)]
    for x, y, length, back in (map(int, run) for run in RUN.findall(path)):
        assert length == back
        for module in range(x, x + length):
            assert rows[y][module] == 0
            rows[y][module] = 1
    return rows


@pytest.mark.parametrize("text", ["a", "12345", ADDRESS, ADDRESS * 20, "Grüße, 太鼓 🥁", "x" * MOST])
def test_the_path_draws_the_code_of_the_text(text: str):
    reply = ask(text)
    version, level = reply["version"].split("-")
    made = segno.make(text, error=level, mode="byte", encoding="utf-8", micro=False, boost_error=False)
    assert set(reply) == {"answer", "size", "version", "path"}
    assert (reply["answer"], int(version), level) == ("qr", made.version, made.error)
    assert reply["size"] == made.symbol_size(border=0)[0] == 17 + 4 * made.version
    assert drawn(reply["path"], reply["size"]) == [list(row) for row in made.matrix]


def test_runs_of_a_row_are_joined():
    assert path_of([[1, 1, 1, 0, 1], [0] * 5, [0, 1, 0, 1, 1]]) == "M0 0h3v1h-3zM4 0h1v1h-1zM1 2h1v1h-1zM3 2h2v1h-2z"
    assert ask("a")["path"].startswith("M0 0h7v1h-7z")  # the top of the first corner mark


def test_level_m_is_kept_as_long_as_it_fits():
    assert ask("a")["version"] == "1-M"
    assert ask("a" * MOST_AT_M)["version"] == "40-M"
    assert ask("a" * (MOST_AT_M + 1))["version"] == "36-L"
    for most, level in ((MOST_AT_M, "m"), (MOST, "l")):
        with pytest.raises(segno.DataOverflowError):
            segno.make("a" * (most + 1), error=level, mode="byte", micro=False)


@pytest.mark.parametrize(("text", "bytes_"), [("a" * (MOST + 1), 2954), ("7" * 7000, 7000), ("é" * 1477, 2954)])
def test_a_text_that_no_code_holds_is_refused_with_the_limit(text: str, bytes_: int):
    told = ask(text)["refused"]
    assert (told["code"], told["field"]) == ("qr.too-long", "text")
    assert f"takes {bytes_} bytes" in told["message"] and "at most 2953 fit" in told["message"]


@pytest.mark.parametrize(("text", "said"), [("", "no text"), ("\ud83e", "half a character")])
def test_what_no_code_can_say_is_refused(text: str, said: str):
    told = ask(text)["refused"]
    assert (told["code"], told["field"]) == ("qr", "text")
    assert said in told["message"]


def test_without_the_package_the_worker_is_told_what_to_fetch(monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setitem(sys.modules, "segno", None)  # as where it can't be imported
    assert answer(json.dumps({"ask": "qr", "text": ADDRESS})) == '{"needs":"extras"}'
    assert ask("a" * (MOST + 1))["refused"]["code"] == "qr.too-long"  # this much is known without
    monkeypatch.undo()
    assert ask(ADDRESS)["answer"] == "qr"
