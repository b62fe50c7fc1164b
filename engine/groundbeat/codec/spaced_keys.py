"""How may people write `snare graces = "..."`, which TOML wants in quotes?

Keys of words with spaces at the beginning of a line are put in quotes before TOML is read, outside texts of several
lines. The shift is remembered, so that errors still name the column that a person sees.
"""

from __future__ import annotations

import re

_SPACED = re.compile(r"([ \t]*)([a-z][a-z-]*(?: [a-z-]+)+)([ \t]*=)")
_FENCES = ('"""', "'''")


def quote_keys(text: str) -> tuple[str, dict[int, tuple[int, int]]]:
    """Put keys with spaces in quotes; the text, and for each line (from 1) where its key began and ended.

    >>> quote_keys('snare graces = "1"')
    ('"snare graces" = "1"', {1: (1, 12)})
    """
    lines = text.split("\n")
    moved: dict[int, tuple[int, int]] = {}
    fence = ""
    for index, line in enumerate(lines):
        found = None if fence else _SPACED.match(line)
        if found:
            lines[index] = f'{found[1]}"{found[2]}"{line[found.end(2) :]}'
            moved[index + 1] = (found.start(2) + 1, found.end(2))
        fence = _open_fence(line, fence)
    return "\n".join(lines), moved


def seen_column(column: int, moved: tuple[int, int] | None) -> int:
    """Turn a column of the quoted text into the one that a person sees."""
    if moved is None or column <= moved[0]:
        return column
    return column - 1 if column <= moved[1] + 1 else column - 2


def _open_fence(line: str, fence: str) -> str:
    """Follow texts of several lines: the fence that is still open at the end of this line."""
    at = 0
    while at < len(line):
        if fence:
            end = line.find(fence, at)
            if fence == '"""':
                while end > 0 and (len(line[:end]) - len(line[:end].rstrip("\\"))) % 2:
                    end = line.find(fence, end + 1)
            if end < 0:
                return fence
            at, fence = end + 3, ""
        elif line[at] == "#":
            return ""
        elif line.startswith(_FENCES, at):
            fence = line[at : at + 3]
            at += 3
        elif line[at] in "\"'":
            at = _end_of_string(line, at)
        else:
            at += 1
    return fence


def _end_of_string(line: str, at: int) -> int:
    quote = line[at]
    at += 1
    while at < len(line) and line[at] != quote:
        at += 2 if quote == '"' and line[at] == "\\" else 1
    return at + 1
