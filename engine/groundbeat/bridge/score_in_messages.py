"""Which question brings a score? Read with the first of them: see `on_use`."""

from __future__ import annotations

from dataclasses import dataclass

from .on_use import BringOnUse, OnUse


@dataclass(frozen=True, slots=True)
class OpenScore(BringOnUse):
    """Make a base beat of a MusicXML file (`base64`; plain or packed); `bars` is "A-B", "" for the section in which the
    first stroke lies. The answer is a view."""

    name: str
    base64: str
    bars: str = ""


REQUESTS: dict[str, type[OnUse]] = {"open_score": OpenScore}
