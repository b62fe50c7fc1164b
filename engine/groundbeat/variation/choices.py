"""What can a word of a sentence be changed to?

For every type of setting the usual values, each as it reads in the sentence; the value that stands there now is always
among them. Which values are usual is our choice; anything that a groove file may say can be written in as text where
`free` is true.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from ..errors import VariationError
from ..model.groove import Settings, Value, Variation
from ..model.kit import BY_NAME, DYNAMICS, GRACE_WORDS, GRACES, SURFACES
from ..model.roles import BACKBEAT_VOICE, KICK, RIDING
from . import setting as types
from .catalogue import kind
from .notes import amount_words, read_amount
from .patterns import hands_words
from .scene import EVERYTHING
from .selection import STAGE
from .setting import Setting, full
from .stack import Stage
from .words import (
    STROKES,
    cell_words,
    grouping_words,
    note_words,
    offset_words,
    places_words,
    row_words,
    swing_words,
    target_words,
)

PLACES = "every place"
_AMOUNTS = ("1/32", "1/16", "1/12", "1/8", "1/6", "3/16", "1/4", "3/8", "1/2")
_CELLS = (
    "quarter", "eighth", "sixteenth", "dotted eighth", "sixteenth sixteenth eighth", "eighth sixteenth sixteenth",
    "sixteenth eighth sixteenth", "dotted eighth sixteenth", "dotted eighth dotted eighth eighth", "eighth rest eighth",
    "quarter rest quarter", "eighth triplet", "quarter triplet eighth triplet",
)  # fmt: skip
_NOTES = (
    "half", "quarter", "dotted eighth", "eighth", "eighth triplet", "sixteenth", "sixteenth triplet", "thirty-second",
)  # fmt: skip
_GROUPINGS = ("2", "3", "4", "5", "6", "7", "3+3+2", "3+2+3", "2+3+3", "3+3+3+3+2+2", "5+5+6", "5+3", "3+5")
# Rudiments by the names that they go by among drummers, then some rows with a kick.
_HANDS = {
    "RL": "single strokes", "RRLL": "double strokes", "RRRLLL": "triple strokes", "RLRRLRLL": "single paradiddle",
    "RLLRLRRL": "inverted paradiddle", "RRLRLLRL": "reversed paradiddle", "RLRLLRLR": "delayed paradiddle",
    "RLRLRRLRLRLL": "double paradiddle", "RLRLRLRRLRLRLRLL": "triple paradiddle", "RLRRLL": "paradiddle-diddle",
    "RRLLRLLRRL": "five-stroke roll", "RLLRRL": "six-stroke roll", "RRLLRRL": "seven-stroke roll",
    "RLK": "", "RLKK": "", "RKLK": "", "RLRLKK": "",
}  # fmt: skip
_SWINGS = ("eighths 2:1", "eighths 3:2", "eighths 3:1", "sixteenths 2:1", "sixteenths 3:2", "straight")
_OFFSETS = (
    "5 ms late",
    "10 ms late",
    "15 ms late",
    "20 ms late",
    "0 ms late",
    "5 ms early",
    "10 ms early",
    "15 ms early",
)
_ROWS = (
    ("high tom", "mid tom", "floor tom"), ("snare", "high tom", "mid tom", "floor tom"), ("snare", "floor tom"),
    ("floor tom", "mid tom", "high tom"), ("hi-hat", "ride"), ("hi-hat", "snare"), ("ride", "ride bell"),
)  # fmt: skip
MOST_NUMBERS = 33  # of a range are listed; any other is written. Our choice
_FIRST = ("snare", "kick", "hi-hat", "open hi-hat", "ride", "ride bell", "floor tom", "cross-stick", "rimshot")


class Option(NamedTuple):
    """A value and how it reads."""

    value: str
    text: str


class Choices(NamedTuple):
    """What a word can be: `control` is "one" of the options or "many" of them; `free` values may be written as text.

    `value` is what stands there now, for "many" with commas between. `label` says what the setting is about, `example`
    how a value may be written; `head` is true of the setting that makes a group: without it there is no group.
    """

    control: str
    value: str
    options: tuple[Option, ...]
    free: bool
    optional: bool
    label: str
    example: str
    head: bool


def choices(variation: Variation, path: str, below: Sequence[Stage]) -> Choices:
    """List what the setting at `path` ("by", "then.at") of a variation can be; `below` are the stages it grows on."""
    before = below[-1]
    found = kind(variation.kind)
    name, _, inner = path.partition(".")
    setting, value = _pick(found.settings, variation.settings, name)
    if inner:
        given = value if isinstance(value, tuple) else ()
        setting, value = _pick(setting.inner, given, inner)  # type: ignore[arg-type]
    elif setting.type is types.GROUP:
        raise VariationError(f'"{path}" is a group; name one of its settings, such as "{path}.{setting.inner[0].name}"')
    every = PLACES if setting.places else STROKES
    options = _options(setting, before, every)
    if setting.type is types.PLACES:
        options += tuple(
            Option(f"{STAGE} {stage.key}", places_words(f"{STAGE} {stage.number}", every))
            for stage in below
            if stage.key
        )
    text = ", ".join(str(part) for part in value) if isinstance(value, tuple) else str(value or "")
    many = setting.type in (types.TARGETS, types.CHANGES)
    if text and not many and text not in {option.value for option in options}:
        options = (*options, Option(text, _said(setting, text, every)))
    return Choices(
        "many" if many else "one",
        text,
        options,
        _is_free(setting),
        setting.default is not None,
        setting.label or path,
        setting.example,
        bool(inner) and setting.default is None,
    )


def _pick(settings: tuple[Setting, ...], given: Settings, name: str) -> tuple[Setting, Value | None]:
    for setting in settings:
        if setting.name == name:
            return setting, full(settings, given)[name]
    raise VariationError(f'there is no setting "{name}" here', field="setting")


def _is_free(setting: Setting) -> bool:
    closed = (types.TARGET, types.SURFACE, types.TARGETS, types.DYNAMIC, types.GRACE, types.CHOICE)
    if setting.type is types.NUMBER:
        return setting.high - setting.low >= MOST_NUMBERS
    return setting.type not in closed


def _said(setting: Setting, value: str, every: str) -> str:
    if setting.type in (types.TARGET, types.SURFACE, types.TARGETS):
        return target_words(value)
    if setting.type is types.PLACES:
        return places_words(value, every) if value else "nothing"
    if setting.type is types.AMOUNT:
        return amount_words(read_amount(value))
    if setting.type is types.ROW:
        return row_words(tuple(value.split(", "))) if value else "nothing"
    said = _SAID.get(setting.type.name)
    return said(value) if said and value else value


_SAID = {
    "cell": cell_words,
    "note": note_words,
    "grouping": grouping_words,
    "hands": lambda value: ", ".join(filter(None, (hands_words(value), _HANDS.get(value)))),
    "swing": swing_words,
    "offset": offset_words,
}
_USUAL = {
    "cell": _CELLS,
    "note": _NOTES,
    "grouping": _GROUPINGS,
    "hands": tuple(_HANDS),
    "swing": _SWINGS,
    "offset": _OFFSETS,
    "row": tuple(", ".join(row) for row in _ROWS),
}


def _options(setting: Setting, before: Stage, every: str) -> tuple[Option, ...]:
    values: list[str]
    if setting.type in (types.TARGET, types.TARGETS):
        values = [EVERYTHING, RIDING, BACKBEAT_VOICE, *_surfaces(before)]
        if setting.type is types.TARGETS:
            values = values[1:]
    elif setting.type is types.SURFACE:
        values = _surfaces(before)
    elif setting.type is types.PLACES:
        values = _places(before)
    elif setting.type is types.AMOUNT:
        values = [f"{amount} {way}" for way in ("later", "earlier") for amount in _AMOUNTS]
    elif setting.type is types.NUMBER:
        values = [str(number) for number in range(setting.low, min(setting.high, setting.low + MOST_NUMBERS - 1) + 1)]
    elif setting.type is types.DYNAMIC:
        return tuple(Option(name, name) for name in DYNAMICS)
    elif setting.type is types.GRACE:
        return (Option("none", "no grace"), *(Option(name, GRACE_WORDS[name]) for name in GRACES[1:]))
    elif setting.type is types.CHOICE:
        values = list(setting.words)
    else:
        values = list(_USUAL.get(setting.type.name, ()))
    if setting.default == "" and "" not in values:
        values = ["", *values]
    return tuple(Option(value, _said(setting, value, every)) for value in values)


def _surfaces(before: Stage) -> list[str]:
    """All surfaces: those that sound first, then the usual ones, then the rest of the kit."""
    sounding = sorted({s.surface for s in before.beat.strokes}, key=lambda name: BY_NAME[name].row)
    rest = [row.name for row in sorted(SURFACES, key=lambda row: row.row)]
    return list(dict.fromkeys([*sounding, *_FIRST, *rest]))


def _places(before: Stage) -> list[str]:
    meter = before.beat.meter
    numbers = [str(number) for number in range(1, meter.count + 1)]
    words = [
        "all",
        "beats",
        "upbeats",
        "ones",
        "backbeats",
        "first backbeat",
        "last backbeat",
        "accents",
        "ghosts",
        "free",
    ]
    words += [name.replace(" ", "-") for name in (KICK, *(s for s in _surfaces(before)[:6] if s != KICK))]
    words += [f"{bar}:all" for bar in range(1, before.beat.bars + 1)] if before.beat.bars > 1 else []
    syllables = ["&"] if meter.unit > 4 else ["trip let", "trip", "let"] if "triplet" in before.beat.columns else []
    if not syllables:
        syllables = ["e a", "e", "&", "a"]
    pairs = ["2 4", "1 3"] if meter.unit <= 4 and meter.count >= 4 else []
    ends = [f"{number}{syllables[-1]}" for number in numbers]
    return [*words, *syllables, *pairs, *numbers, *ends]
