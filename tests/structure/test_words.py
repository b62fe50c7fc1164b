"""The tree holds no paths of a machine, no marks of unfinished work, and nothing about how it was ordered."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

import pytest

# Put together from pieces, so that this file does not find itself. /home/pyodide is a folder inside Pyodide's own
# file system, the same on every machine.
BANNED = {
    "a path of a machine": re.compile(
        r"""(?<![\w.\-/])/(?:wo"""
        + r"""rk|ho"""
        + r"""me(?!/pyodide\b)|ro"""
        + r"""ot|Us"""
        + r"""ers)/[\w.]|[A-Z]:\\Us"""
        + r"""ers"""
    ),
    "unfinished work": re.compile(r"\b(?:TO" + r"DO|FIX" + r"ME|XX" + r"X)\b"),
    "a word of the order": re.compile(r"trans" + r"cript", re.IGNORECASE),
}


def found_in(text: str) -> list[str]:
    """What a text must not hold, with its line."""
    return [
        f"line {text.count(chr(10), 0, match.start()) + 1}: {what} ({match[0]})"
        for what, pattern in BANNED.items()
        for match in pattern.finditer(text)
    ]


def test_no_file_holds_a_banned_word(ours: tuple[Path, ...], root: Path, text_of: Callable[[Path], str]):
    found = {path.relative_to(root).as_posix(): found_in(text_of(path)) for path in ours}
    assert {name: rows for name, rows in found.items() if rows} == {}


def test_no_file_has_a_banned_name(ours: tuple[Path, ...], root: Path):
    assert [path.name for path in ours if found_in(path.relative_to(root).as_posix())] == []


@pytest.mark.parametrize(
    "text",
    ["see /wo" + "rk/main/x", "# TO" + "DO: later", "the Trans" + "cript says", '"/ro' + 'ot/x"', "C:\\Us" + "ers\\me"],
)
def test_a_planted_word_is_found(text: str):
    assert len(found_in(f"one\n{text}\n")) == 1
    assert found_in(f"one\n{text}\n")[0].startswith("line 2")


@pytest.mark.parametrize(
    "text", ["node_modules/workbox-build", "lessons/work/a", "todo", "/usr/bin/chromium", "/home/pyodide/a"]
)
def test_ordinary_words_pass(text: str):
    assert found_in(text) == []
