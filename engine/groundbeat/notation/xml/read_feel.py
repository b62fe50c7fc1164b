"""How is a score played, apart from what is written?

`sound/swing` of MusicXML 4.0 says long, short and which notes. A file of ours says more: feel with its pushes, and the
columns of each stage, as `miscellaneous-field`s.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from math import gcd
from typing import NamedTuple

from ...model.feel import MAX_PUSH, MAX_SHARE, SWUNG, Feel
from ...model.kit import BY_NAME
from ...model.place import COLUMNS
from .read_tree import Node
from .read_walk import Walk

_SWING = re.compile(r"swing (\w+) (\d{1,2}):(\d{1,2})\Z")
_PUSH = re.compile(r"push ([a-z -]+) (-?\d{1,3})\Z")
_STAGE = re.compile(r"stage (\d{1,3}) (columns|feel)\Z")
_TYPES = {"eighth": "eighths", "16th": "sixteenths"}


class Own(NamedTuple):
    """What a file of ours says of a stage; `known` where it is one."""

    known: bool = False
    columns: str = ""
    feel: Feel | None = None
    note: str = ""


def own_of(root: Node, section: int) -> Own:
    """Read what a file of ours says of its stage number `section`, counted from 0 in the order of the file."""
    fields = [node for part in root.all("identification") for node in part.below() if node.tag == "miscellaneous-field"]
    said: dict[str, dict[str, str]] = {}
    note = ""
    for field in fields:
        found = _STAGE.match(field.get("name"))
        if found:
            said.setdefault(found[1], {})[found[2]] = field.text.strip()
        elif field.get("name") == "note":
            note = field.text
    stages = list(said.values())
    if not 0 <= section < len(stages):
        return Own()
    stage = stages[section]
    columns = stage.get("columns", "")
    return Own(True, columns if columns in COLUMNS else "", _feel(stage.get("feel", "")), note)


def _feel(text: str) -> Feel:
    feel = Feel()
    pushes: list[tuple[str, int]] = []
    for words in filter(None, (part.strip() for part in text.split(";"))):
        swing, push = _SWING.match(words), _PUSH.match(words)
        if swing and swing[1] in SWUNG and _can_be(int(swing[2]), int(swing[3])):
            feel = Feel(swing[1], int(swing[2]), int(swing[3]))  # as it was, 4:2 and all
        elif push and (push[1] == "all" or push[1] in BY_NAME) and abs(int(push[2])) <= MAX_PUSH:
            pushes.append((push[1], int(push[2])))
    return Feel(feel.swung, feel.long, feel.short, tuple(pushes))


def _can_be(long: int, short: int) -> bool:
    return min(long, short) >= 1 and max(long, short) <= MAX_SHARE


def _swung(swung: str, long: int, short: int) -> Feel | None:
    shared = gcd(long, short)
    if not long or not short:
        return None
    long, short = long // shared, short // shared
    return Feel(swung, long, short) if _can_be(long, short) else None


def feel_of(walks: Sequence[Walk], start: int, own: Own) -> tuple[Feel, list[str]]:
    """The feel at a measure, and what is to be told about it."""
    if own.known and own.feel is not None:
        return own.feel, []
    swing, words = None, False
    for walk in walks:
        for measure in walk.measures[: start + 1]:
            swing = measure.swing or swing
            words = words or "swing words" in measure.marks
    if swing is None:
        says = ["The score says swing in words alone; it was taken straight. Choose the feel."] if words else []
        return Feel(), says
    kind, long, short = swing
    if long == short:
        return Feel(), []
    feel = _swung(_TYPES.get(kind, ""), long, short) if kind in _TYPES else None
    if feel is None:
        return Feel(), [
            f"The score's swing ({kind} {long}:{short}) is none that a beat can have; it was taken straight."
        ]
    return feel, [feel.said()]
