"""How does hand-written tablature become a groove without variations?

Shared by page and command line; imported only when something is opened that is no link and no groove file.
"""

from __future__ import annotations

from ..codec.tab_read import looks_like_tab, read_tab
from ..model.groove import MAX_TITLE, Groove
from .ranges import read_bars

__all__ = ["groove_of_tab", "looks_like_tab"]


def groove_of_tab(name: str, text: str, bars: str = "") -> tuple[Groove, tuple[str, ...]]:
    """Make a groove of tablature, and what is to be told; `bars` is "A-B", "A", or "" for all (at most sixteen)."""
    found = read_tab(text, read_bars(bars))
    stem = "" if name == "standard input" else name.replace("\\", "/").rsplit("/", 1)[-1].rsplit(".", 1)[0]
    title = found.title or "".join(letter for letter in " ".join(stem.split())[:MAX_TITLE] if letter.isprintable())
    return Groove(title=title, base=found.beat, tempo=found.tempo), found.says
