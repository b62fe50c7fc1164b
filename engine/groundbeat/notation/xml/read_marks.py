"""What does a note's element say about how it is struck?

One thing has many spellings in files: the open hi-hat is `technical/open` (MusicXML 4.0), `open-string` or `harmonic`
in older programs, an o as words, or a symbol by its SMuFL name; sticking is words, a lyric or a fingering. All are
accepted.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from .read_tree import Node

OPEN, HALF, CLOSED = "open", "half-open", "closed"
BUZZ = -1  # strokes of a tremolo without a measure
_OPEN_TAGS = {"open": OPEN, "open-string": OPEN, "harmonic": OPEN, "half-muted": HALF, "stopped": CLOSED}
_OPEN_WORDS = {"o": OPEN, "°": OPEN, "ø": HALF, "+": CLOSED, "open": OPEN, "half open": HALF, "closed": CLOSED}
_HANDS = {"R": "R", "L": "L", "RH": "R", "LH": "L", "B": "B", "R/L": "B", "RL": "B"}


class Marks(NamedTuple):
    """What stands at a note."""

    hat: str  # OPEN, HALF, CLOSED or ""
    accent: bool
    ghost: bool
    tremolo: int  # marks of a measured one, BUZZ, 0 none
    hand: str  # "R", "L", "B" both, "" not said
    choke: bool
    rimshot: bool
    edge: bool


def hand_of(text: str) -> str:
    """Read a letter of a sticking: "R", "L", "B" for both, "" for anything else.

    >>> hand_of("RH"), hand_of("b"), hand_of("ra")
    ('R', 'B', '')
    """
    return _HANDS.get(text.strip().strip(".()").upper(), "")


def is_mark(text: str) -> bool:
    """Tell whether words belong to one note: a sticking or a way to strike."""
    low = text.strip().lower()
    return bool(hand_of(text)) or low in _OPEN_WORDS or _choke(low) or _rimshot(low) or low == "edge"


def read_marks(note: Node, words: Sequence[str], own: bool = False) -> Marks:
    """Read the marks of a note; `words` are those of directions right before it.

    A file of ours (`own`) says of every note which hand plays it (`play/other-play`); the letters that it shows are one
    for a whole chord, and are not asked.
    """
    hat = next((found for text in words if (found := _OPEN_WORDS.get(text.strip().lower(), ""))), "")
    hand = next((found for text in words if (found := hand_of(text))), "")
    low = [text.strip().lower() for text in words]
    choke, rimshot, edge = any(map(_choke, low)), any(map(_rimshot, low)), "edge" in low
    accent, tremolo = False, 0
    head = note.find("notehead")
    ghost = head is not None and head.get("parentheses") == "yes"
    for notations in note.all("notations"):
        for group in notations.children:
            for mark in group.children:
                if mark.tag in ("accent", "strong-accent"):
                    accent = True
                elif mark.tag == "tremolo":
                    tremolo = _tremolo(mark)
                elif mark.tag == "fingering":
                    hand = hand or hand_of(mark.text)
                elif mark.tag in _OPEN_TAGS and group.tag == "technical":
                    hat = hat or _OPEN_TAGS[mark.tag]
                elif mark.tag.startswith("other-"):
                    said = f"{mark.get('smufl')} {mark.text}".lower()
                    choke, rimshot = choke or "choke" in said, rimshot or "rimshot" in said.replace(" ", "")
                    hat = hat or _symbol(said)
    for lyric in note.all("lyric"):
        hand = hand or hand_of(lyric.said("text"))
    if own:
        told = [other for play in note.all("play") for other in play.all("other-play") if other.get("type") == "hand"]
        hand = hand_of(told[0].text) if told else ""
    return Marks(hat, accent, ghost, tremolo, hand, choke, rimshot, edge)


def _tremolo(mark: Node) -> int:
    kind = mark.get("type") or "single"
    if kind == "unmeasured":
        return BUZZ
    if kind != "single":
        return 0  # between two notes
    text = mark.text.strip()
    return min(int(text), 8) if text.isascii() and text.isdigit() else 3  # the element's own default


def _symbol(said: str) -> str:
    if "rim" in said:
        return ""
    if "halfopen" in said or "halfclosed" in said:
        return HALF
    return OPEN if "open" in said else CLOSED if "closed" in said else ""


def _choke(text: str) -> bool:
    return text in ("choke", "choked", "grab")


def _rimshot(text: str) -> bool:
    return text in ("rs", "r.s.", "rimshot", "rim shot", "rim-shot")
