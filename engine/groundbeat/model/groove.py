"""What is the document: a base beat, what is known about it, and the variations on it?

A groove is what a file or a link holds. A variation is data here: its kind by name, its settings by name in the order
of the kind, defaults left out. What the kinds do stands in the room `variation`.

Keys: every variation has a small number, given when it is made and never used again in the document. `next_key`
remembers the first one that is free.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from ..errors import BeatError
from .beat import Beat
from .feel import Feel
from .meter import Meter

# Sizes are our choice: what a page can show, a student can follow, and a link or a print can carry.
MAX_TITLE = 120
MAX_NAME = 60
MAX_NOTE = 2000
MAX_VARIATIONS = 64
MAX_BRANCHES = 16
MIN_TEMPO, MAX_TEMPO = 2000, 40000  # hundredths of a beat a minute: 20 to 400
DEFAULT_TEMPO = 9000


def check_text(text: str, what: str, limit: int) -> str:
    """Give text back that a document may hold; BeatError where it is too long or holds control characters.

    A note may have lines and tabs, a title or name stands on one line.

    >>> check_text("Ebb", "title", MAX_TITLE)
    'Ebb'
    """
    if len(text) > limit:
        raise BeatError(f"a {what} has at most {limit} characters, not {len(text)}", field=what)
    allowed = "\n\t" if what == "note" else ""
    signs = (c for c in text if ord(c) < 32 or ord(c) == 127 or 0xD800 <= ord(c) < 0xE000)
    bad = next((c for c in signs if c not in allowed), "")
    if bad:
        raise BeatError(f"the {what} holds a control character (number {ord(bad)}); take it out", field=what)
    return text


Value = str | tuple["Value", ...] | bool
Settings = tuple[tuple[str, Value], ...]


@dataclass(frozen=True, slots=True)
class Variation:
    """One change to a beat: kind, settings, and perhaps a name and a teacher's note."""

    key: int
    kind: str
    settings: Settings = ()
    on: bool = True
    name: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class Branch:
    """A second way from the stage with key `after` (0: from the base beat)."""

    name: str
    after: int
    variations: tuple[Variation, ...] = ()


@dataclass(frozen=True, slots=True)
class Groove:
    """The whole document. `tempo` is the goal in hundredths of a beat a minute; `lines` are surfaces that have a
    line of their own though they are silent in the base beat."""

    title: str = ""
    note: str = ""
    base: Beat = field(default_factory=lambda: Beat(Meter.of("4/4")))
    lines: tuple[str, ...] = ()
    tempo: int = DEFAULT_TEMPO
    roles: tuple[tuple[str, str], ...] = ()
    feel: Feel = Feel()
    variations: tuple[Variation, ...] = ()
    branches: tuple[Branch, ...] = ()
    next_key: int = 1

    @property
    def tempo_text(self) -> str:
        """The tempo without needless digits: "92", "92.5".

        >>> Groove(tempo=9250).tempo_text
        '92.5'
        """
        return f"{self.tempo // 100}" if self.tempo % 100 == 0 else f"{self.tempo / 100:.2f}".rstrip("0")
