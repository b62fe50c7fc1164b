"""Where in a TOML text does each key and value stand?

The standard library's reader tells what a file says but not where. This walk runs over text that the reader has
accepted and notes line and column (from 1) of every key and value by its path: ("variation", 1, "then", "at"), list
items and inline tables included. It checks nothing itself.
"""

from __future__ import annotations

from typing import NamedTuple

Path = tuple[str | int, ...]


class Spot(NamedTuple):
    """Line and column from 1, and whether the value there is a plain one-line string (its first letter is next)."""

    line: int
    column: int
    quoted: bool


class Places:
    """The places of keys and values in a text."""

    def __init__(self) -> None:
        self.keys: dict[Path, Spot] = {}
        self.values: dict[Path, Spot] = {}

    def find(self, path: Path, *, key: bool = False) -> Spot:
        """The place of a value (or of its key), or of the nearest table around it."""
        while path:
            found = self.keys.get(path) if key else self.values.get(path)
            found = found or self.keys.get(path) or self.values.get(path)
            if found:
                return found
            path = path[:-1]
        return Spot(1, 1, False)


def locate(text: str) -> Places:
    """Walk over a TOML text.

    >>> locate('a = 1\\n[[b]]\\nc = ["x", "y"]').values["b", 0, "c", 1]
    Spot(line=3, column=11, quoted=True)
    """
    return _Walk(text).run()


class _Walk:
    def __init__(self, text: str) -> None:
        self._text = text
        self._at = 0
        self._starts = [0] + [i + 1 for i, letter in enumerate(text) if letter == "\n"]
        self._places = Places()
        self._counts: dict[Path, int] = {}

    def run(self) -> Places:
        table: Path = ()
        while self._skip(newlines=True):
            if self._text.startswith("[[", self._at):
                start = self._at
                self._at += 2
                path = self._resolve(self._key())
                count = self._counts.get(path, 0)
                self._counts[path] = count + 1
                table = (*path, count)
                self._places.keys[table] = self._spot(start)
                self._on_the_way(path, start)
                self._at = self._text.find("]]", self._at) + 2
            elif self._text[self._at] == "[":
                start = self._at
                self._at += 1
                table = self._resolve(self._key())
                self._places.keys[table] = self._spot(start)
                self._on_the_way(table, start)
                self._at = self._text.find("]", self._at) + 1
            else:
                self._pair(table)
        return self._places

    def _on_the_way(self, path: Path, start: int) -> None:
        """Note tables that are only named as part of a longer path, where they are first named."""
        while path:
            self._places.keys.setdefault(path, self._spot(start))
            path = path[:-1]

    def _resolve(self, names: list[str]) -> Path:
        path: Path = ()
        for index, name in enumerate(names):
            path = (*path, name)
            if index < len(names) - 1 and path in self._counts:
                path = (*path, self._counts[path] - 1)
        return path

    def _pair(self, table: Path) -> None:
        start = self._at
        path: Path = (*table, *self._key())
        self._places.keys[path] = self._spot(start)
        self._on_the_way(path, start)
        self._at = self._text.find("=", self._at) + 1
        self._skip(newlines=False)
        self._value(path)

    def _value(self, path: Path) -> None:
        letter = self._text[self._at : self._at + 1]
        quoted = letter in ('"', "'") and not self._text.startswith((letter * 3,), self._at)
        self._places.values[path] = self._spot(self._at, quoted)
        if letter in ('"', "'"):
            self._string()
        elif letter == "[":
            self._list(path)
        elif letter == "{":
            self._inline(path)
        else:
            while self._at < len(self._text) and self._text[self._at] not in ",]}\n#":
                self._at += 1

    def _list(self, path: Path) -> None:
        self._at += 1
        index = 0
        while self._skip(newlines=True) and self._text[self._at] != "]":
            if self._text[self._at] == ",":
                self._at += 1
                continue
            self._value((*path, index))
            index += 1
        self._at += 1

    def _inline(self, path: Path) -> None:
        self._at += 1
        while self._skip(newlines=True) and self._text[self._at] != "}":
            if self._text[self._at] == ",":
                self._at += 1
                continue
            self._pair(path)
        self._at += 1

    def _key(self) -> list[str]:
        names = []
        while True:
            self._skip(newlines=False)
            start = self._at
            if self._text[self._at] in "\"'":
                self._string()
                names.append(self._text[start + 1 : self._at - 1])
            else:
                while self._at < len(self._text) and (self._text[self._at].isalnum() or self._text[self._at] in "-_"):
                    self._at += 1
                names.append(self._text[start : self._at])
            self._skip(newlines=False)
            if self._text[self._at : self._at + 1] != ".":
                return names
            self._at += 1

    def _string(self) -> None:
        quote = self._text[self._at]
        fence = quote * 3 if self._text.startswith(quote * 3, self._at) else quote
        self._at += len(fence)
        while self._at < len(self._text) and not self._text.startswith(fence, self._at):
            self._at += 2 if quote == '"' and self._text[self._at] == "\\" else 1
        self._at += len(fence)
        while len(fence) == 3 and self._text[self._at : self._at + 1] == quote:
            self._at += 1  # up to two quotes may stand right before the closing fence

    def _skip(self, *, newlines: bool) -> bool:
        while self._at < len(self._text):
            letter = self._text[self._at]
            if letter == "#":
                end = self._text.find("\n", self._at)
                self._at = len(self._text) if end < 0 else end
            elif letter in " \t" or (newlines and letter in "\r\n"):
                self._at += 1
            else:
                return True
        return False

    def _spot(self, at: int, quoted: bool = False) -> Spot:
        import bisect

        line = bisect.bisect_right(self._starts, at)
        return Spot(line, at - self._starts[line - 1] + 1, quoted)
