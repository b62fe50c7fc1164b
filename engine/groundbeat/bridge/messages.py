"""Which questions may a page ask, and what must each carry?

Every request is a frozen dataclass; its fields with their types are the protocol. `read_request` says which field is
wrong. Types for the page are generated from these classes (see `types`), committed, and checked for staleness.
Defining a dataclass takes a browser 1.5 ms, so the questions about playing and about files wait: see `on_use`.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, fields
from typing import Any

from ..errors import RequestError
from .on_use import (
    ALL_ON_USE,
    AskOnUse,
    BringOnUse,
    EditOnUse,
    MidiOnUse,
    PaperOnUse,
    ScoreOnUse,
    StaffOnUse,
    questions_on_use,
)

# Longest message that is read: a groove file at its limit, or a MIDI file at its limit in base64, and its wrapping.
MAX_MESSAGE = 4_000_000


@dataclass(frozen=True, slots=True)
class Hello:
    """Ask for the versions."""


@dataclass(frozen=True, slots=True)
class Open:
    """Open a link, a groove file's text, or tablature, of it only `bars` ("A-B", "" all); `name` is for errors."""

    text: str
    name: str = ""
    bars: str = ""


@dataclass(frozen=True, slots=True)
class OpenMidi:
    """Make a base beat of a MIDI file (`base64`); `bars` is "A-B", "" for the first bar with strokes."""

    name: str
    base64: str
    bars: str = ""


@dataclass(frozen=True, slots=True)
class View:
    """See a document again."""

    document: str


@dataclass(frozen=True, slots=True)
class Switch:
    """Switch the variation with a key off or on."""

    document: str
    key: int
    on: bool


@dataclass(frozen=True, slots=True)
class Timeline:
    """Ask when the strokes of a stage sound; from tick `start` to before tick `end`, 0 and 0 for the whole cycle.
    `clicks` and `count_in` (bars): see timeline/clicks; `part`: timeline/part; `loose`, `seed`: timeline/hand."""

    document: str
    stage: int
    start: int = 0
    end: int = 0
    clicks: str = "beats"
    count_in: int = 0
    part: str = ""
    loose: int = 0
    seed: int = 1


@dataclass(frozen=True, slots=True)
class Link:
    """Ask for the link of a document."""

    document: str


@dataclass(frozen=True, slots=True)
class New:
    """Begin with an empty beat: one bar of 4/4 in sixteenths with lines for hi-hat, snare and kick."""


@dataclass(frozen=True, slots=True)
class Tap:
    """Add a stroke on a line of a stage, or take out the one that stands there; `at` in ticks."""

    document: str
    stage: int
    surface: str
    at: int


@dataclass(frozen=True, slots=True)
class Shape:
    """Change one quality of a stroke: "dynamic", "grace" or "hand"; "" takes a grace or a hand away."""

    document: str
    stage: int
    surface: str
    at: int
    quality: str
    value: str


@dataclass(frozen=True, slots=True)
class Drag:
    """Move a stroke of a stage to another place, another line, or both; past the ends of the loop `to_at` runs on."""

    document: str
    stage: int
    surface: str
    at: int
    to_surface: str
    to_at: int


@dataclass(frozen=True, slots=True)
class Add:
    """Add a variation of a kind, with the settings that a new one begins with, behind the one with key `after`."""

    document: str
    kind: str
    after: int


@dataclass(frozen=True, slots=True)
class Word:
    """Change one setting of a variation, as text ("then.at" inside a group; commas in a list); "" is the default."""

    document: str
    key: int
    setting: str
    value: str


@dataclass(frozen=True, slots=True)
class Name:
    """Give a variation its name and the teacher's note."""

    document: str
    key: int
    name: str
    note: str


@dataclass(frozen=True, slots=True)
class Remove:
    """Take a variation out."""

    document: str
    key: int


@dataclass(frozen=True, slots=True)
class Move:
    """Put a variation at another position of the stack, counted from 1."""

    document: str
    key: int
    to: int


@dataclass(frozen=True, slots=True)
class Frame:
    """Change meter, bars, columns or feel of the base beat; "" and 0 stay. `push` ("10 ms late") is of a `surface`, or
    of "all"."""

    document: str
    meter: str = ""
    bars: int = 0
    columns: str = ""
    swing: str = ""
    surface: str = ""
    push: str = ""


@dataclass(frozen=True, slots=True)
class Label:
    """Change title, note and goal tempo (as text, such as "92" or "92.5")."""

    document: str
    title: str
    note: str
    tempo: str


@dataclass(frozen=True, slots=True)
class Line:
    """Show a line for a silent surface, or hide it."""

    document: str
    surface: str
    shown: bool


@dataclass(frozen=True, slots=True)
class Fork:
    """Keep what comes after the stage with key `after` as another way, and let the main way end there."""

    document: str
    after: int


@dataclass(frozen=True, slots=True)
class Exchange:
    """Make another way (by its position in `ways`) the main way; what it replaces is kept in its place."""

    document: str
    way: int


@dataclass(frozen=True, slots=True)
class Part:
    """Part with another way: delete it."""

    document: str
    way: int


@dataclass(frozen=True, slots=True)
class Call:
    """Give another way its name; "" is one by number."""

    document: str
    way: int
    name: str


@dataclass(frozen=True, slots=True)
class Begin:
    """Add the variation of an idea that serves a purpose, by its number, behind the one with key `after`."""

    document: str
    purpose: str
    number: int
    after: int


@dataclass(frozen=True, slots=True)
class Accept:
    """Take up what the stage of the variation with this key offers, by its number."""

    document: str
    key: int
    number: int


@dataclass(frozen=True, slots=True)
class Purpose:
    """Ask which variations would serve a purpose on a stage, and why."""

    document: str
    purpose: str
    stage: int


@dataclass(frozen=True, slots=True)
class Choices:
    """Ask what a word of a variation's sentence can be changed to."""

    document: str
    key: int
    setting: str


@dataclass(frozen=True, slots=True)
class Columns:
    """Ask where the places of a line lie that is written in columns of its own."""

    document: str
    columns: str


@dataclass(frozen=True, slots=True)
class Carry:
    """Ask what becomes of the variations on another beat: `onto` is a link, a groove file's text, or a document."""

    document: str
    onto: str
    name: str = ""


@dataclass(frozen=True, slots=True)
class Kinds:
    """Ask which kinds of variation can be added, each with the sentence that it begins with."""


@dataclass(frozen=True, slots=True)
class Sheet:
    """Ask for a sheet for a class, "turns", "count" or "hear", of a stage; see variation/sheets for `of` and `seed`."""

    document: str
    sheet: str
    stage: int
    of: str = ""
    seed: int = 1


@dataclass(frozen=True, slots=True)
class Qr:
    """Ask for the QR code of a text, such as the address of the page with its link."""

    text: str


OfWays = Fork | Exchange | Part | Call
OfOneWay = Tap | Shape | Drag | Add | Begin | Accept | Word | Name | Remove | Move | Switch | Frame | Label | Line
Edit = OfOneWay | OfWays | EditOnUse
FileOnUse = MidiOnUse | ScoreOnUse | PaperOnUse | StaffOnUse | BringOnUse
Inquiry = Choices | Purpose | Columns | Carry | Kinds | Sheet | Qr
Request = Hello | Open | OpenMidi | New | View | Timeline | Link | Inquiry | AskOnUse | FileOnUse | Edit
REQUESTS: dict[str, type[Request]] = {
    "hello": Hello,
    "open": Open,
    "open_midi": OpenMidi,
    "new": New,
    "view": View,
    "timeline": Timeline,
    "link": Link,
    "choices": Choices,
    "purpose": Purpose,
    "columns": Columns,
    "carry": Carry,
    "kinds": Kinds,
    "sheet": Sheet,
    "qr": Qr,
    "switch": Switch,
    "tap": Tap,
    "shape": Shape,
    "drag": Drag,
    "add": Add,
    "begin": Begin,
    "accept": Accept,
    "word": Word,
    "name": Name,
    "remove": Remove,
    "move": Move,
    "frame": Frame,
    "label": Label,
    "line": Line,
    "fork": Fork,
    "exchange": Exchange,
    "part": Part,
    "call": Call,
}
_TYPES: dict[str, Any] = {"str": str, "int": int, "float": (int, float), "bool": bool}
_WORDS = {"str": "text", "int": "a whole number", "float": "a number", "bool": "true or false"}


# Of every question that a view or a timeline answers: what the page shows now. Then the answer comes folded.
HAVE = "have"
# Of an edit: tell the stage that was edited at once, before the stages after it have grown.
FIRST = "first"
SAME = "="
# Of every question that a view, a glimpse or a timeline answers: the student's kit (see model/own_kit).
KIT = "kit"
# Of every question about playing: who plays (see analysis/player).
PLAYER = "player"


def read_have(message: dict[str, Any]) -> str | None:
    """Take the document whose view the page has: "" for none, "=" for that of the question; None: tell all, whole."""
    have = message.get(HAVE)
    if have is not None and not isinstance(have, str):
        raise RequestError('have must be text: a document, "=" for the one of the question, or ""', field=HAVE)
    return str(message.get("document", "")) if have == SAME else have


def read_first(message: dict[str, Any]) -> bool:
    """Say whether the page wants a glimpse of the edited stage first."""
    first = message.get(FIRST, False)
    if not isinstance(first, bool):
        raise RequestError("first must be true or false", field=FIRST)
    return first


def read_kit_text(message: dict[str, Any]) -> str:
    """Take the kit on which the page shows and plays; "" for the beat as it is written."""
    kit = message.get(KIT, "")
    if not isinstance(kit, str):
        raise RequestError('kit must be text: what is owned, "pad", or ""', field=KIT)
    return kit


def read_player_text(message: dict[str, Any]) -> str:
    """Take who plays; "" for the usual player."""
    player = message.get(PLAYER, "")
    if not isinstance(player, str):
        raise RequestError('player must be text, such as "left-handed; double pedal", or ""', field=PLAYER)
    return player


def questions() -> Mapping[str, type[Any]]:
    """Every question by its name."""
    return {**REQUESTS, **questions_on_use()}


def read_request(message: Any) -> Request:
    """Make a request of a decoded message; RequestError names the field that is wrong."""
    if not isinstance(message, dict):
        raise RequestError("a question is an object with the field ask", field="ask")
    name = message.get("ask")
    known_here: Mapping[str, type[Any]] = questions() if name in ALL_ON_USE else REQUESTS
    made = known_here.get(name) if isinstance(name, str) else None
    if made is None:
        known_names = ", ".join((*REQUESTS, *ALL_ON_USE))
        raise RequestError(f"{str(name)[:40]!r} is not a question; known are {known_names}", field="ask")
    given: dict[str, Any] = {}
    known = {field.name: field for field in fields(made)}
    for key, value in message.items():
        if key in ("ask", HAVE, FIRST, KIT, PLAYER):
            continue
        if key not in known:
            raise RequestError(f'the question {name} has no field "{str(key)[:40]}"', field=str(key)[:40])
        kind = str(known[key].type)
        if not isinstance(value, _TYPES[kind]) or (kind != "bool" and isinstance(value, bool)):
            raise RequestError(f"{name}: {key} must be {_WORDS[kind]}", field=key)
        given[key] = value
    for key, field in known.items():
        if key not in given and field.default.__class__.__name__ == "_MISSING_TYPE":
            raise RequestError(f"{name} needs the field {key}", field=key)
    request: Request = made(**given)
    return request
