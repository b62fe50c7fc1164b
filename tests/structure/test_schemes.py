"""Light and dark differ in colours alone: so sizes and names need to be tested in one of them only."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

DARK = re.compile(r"@media \(prefers-color-scheme: dark\) \{\s*:root \{(?P<sheet>[^{}]*)\}\s*\}")
COLOUR = re.compile(r"#[0-9a-f]{6}|rgb\([\d. /]+\)")


def test_only_colours_change_in_the_dark(root: Path, ours: tuple[Path, ...], text_of: Callable[[Path], str]):
    asking = {
        path.relative_to(root).as_posix(): text_of(path).count("prefers-color-scheme")
        for path in ours
        if path.is_relative_to(root / "web") and "prefers-color-scheme" in text_of(path)
    }
    assert asking == {"web/style.css": 1, "web/index.html": 2}
    page = text_of(root / "web" / "index.html")
    assert (
        len(re.findall(r'<meta name="theme-color" content="#\w{6}" media="\(prefers-color-scheme: \w+\)" />', page))
        == 2
    )
    dark = DARK.search(text_of(root / "web" / "style.css"))
    assert dark
    for line in filter(None, map(str.strip, dark["sheet"].split(";"))):
        name, value = re.fullmatch(r"(--[\w-]+): (.+)", line, re.DOTALL).groups()
        # A shadow takes no room, and a blend none.
        assert COLOUR.fullmatch(value) or name in ("--lift", "--lamp-blend"), line
