"""What can a word of a sentence be changed to?

For every type of setting the usual values, each as it reads in the sentence; the value that stands there now is always
among them. Which values are usual is our choice; anything that a groove file may say can be written in as text where
`free` is true.
"""

from __future__ import annotations

from typing import NamedTuple

from ..errors import VariationError
from ..model.groove import Settings, Value, Variation
from ..model.kit import BY_NAME, DYNAMICS, GRACE_WORDS, GRACES, SURFACES
from ..model.roles import BACKBEAT_VOICE, RIDING
from . import setting as types
from .catalogue import kind
from .notes import amount_words, read_amount
from .setting import EVERYTHING, Setting, full
from .stack import Stage
from .words import STROKES, cell_words, places_words, target_words

PLACES = "every place"
_AMOUNTS = ("1/32", "1/16", "1/12", "1/8", "1/6", "3/16", "1/4", "3/8", "1/2")
_CELLS = (
    "quarter", "eighth", "sixteenth", "dotted eighth", "sixteenth sixteenth eighth", "eighth sixteenth sixteenth",
    "sixteenth eighth sixteenth", "dotted eighth sixteenth", "dotted eighth dotted eighth eighth", "eighth rest eighth",
    "quarter rest quarter", "eighth triplet", "quarter triplet eighth triplet",
)  # fmt: skip
_FIRST = ("snare", "kick", "hi-hat", "open hi-hat", "ride", "ride bell", "floor tom", "cross-stick", "rimshot")


class Option(NamedTuple):
    """A value and how it reads."""

    value: str
    text: str


class Choices(NamedTuple):
    """What a word can be: `control` is "one" of the options or "many" of them; `free` values may be written as text.

    `value` is what stands there now, for "many" with commas between.
    """

    control: str
    value: str
    options: tuple[Option, ...]
    free: bool
    optional: bool


def choices(variation: Variation, path: str, before: Stage) -> Choices:
    """List what the setting at `path` ("by", "then.at") of a variation can be; `before` is the stage it works on."""
    found = kind(variation.kind)
    name, _, inner = path.partition(".")
    setting, value = _pick(found.settings, variation.settings, name)
    if inner:
        given = value if isinstance(value, tuple) else ()
        setting, value = _pick(setting.inner, given, inner)  # type: ignore[arg-type]
    elif setting.type is types.GROUP:
        raise VariationError(f'"{path}" is a group; name one of its settings, such as "{path}.{setting.inner[0].name}"')
    every = PLACES if variation.kind == "embellish" else STROKES
    options = _options(setting, before, every)
    text = ", ".join(str(part) for part in value) if isinstance(value, tuple) else str(value or "")
    many = setting.type in (types.TARGETS, types.CHANGES)
    if text and not many and text not in {option.value for option in options}:
        options = (*options, Option(text, _said(setting, text, every)))
    return Choices("many" if many else "one", text, options, _is_free(setting), setting.default is not None)


def _pick(settings: tuple[Setting, ...], given: Settings, name: str) -> tuple[Setting, Value | None]:
    for setting in settings:
        if setting.name == name:
            return setting, full(settings, given)[name]
    raise VariationError(f'there is no setting "{name}" here', field="setting")


def _is_free(setting: Setting) -> bool:
    return setting.type in (types.PLACES, types.AMOUNT, types.CELL, types.CHANGES)


def _said(setting: Setting, value: str, every: str) -> str:
    if setting.type in (types.TARGET, types.SURFACE, types.TARGETS):
        return target_words(value)
    if setting.type is types.PLACES:
        return places_words(value, every) if value else "nothing"
    if setting.type is types.AMOUNT:
        return amount_words(read_amount(value))
    if setting.type is types.CELL:
        return cell_words(value)
    return value


def _options(setting: Setting, before: Stage, every: str) -> tuple[Option, ...]:
    values: list[str]
    if setting.type in (types.TARGET, types.TARGETS):
        values = [EVERYTHING, RIDING, BACKBEAT_VOICE, *_surfaces(before)]
        if setting.type is types.TARGETS:
            values = values[1:]
    elif setting.type is types.SURFACE:
        values = _surfaces(before)
    elif setting.type is types.PLACES:
        values = ([""] if setting.default == "" else []) + _places(before)
    elif setting.type is types.AMOUNT:
        values = [f"{amount} {way}" for way in ("later", "earlier") for amount in _AMOUNTS]
    elif setting.type is types.CELL:
        values = list(_CELLS)
    elif setting.type is types.DYNAMIC:
        return tuple(Option(name, name) for name in DYNAMICS)
    elif setting.type is types.GRACE:
        return (Option("none", "no grace"), *(Option(name, GRACE_WORDS[name]) for name in GRACES[1:]))
    elif setting.type is types.CHOICE:
        values = list(setting.words)
    else:
        values = []
    return tuple(Option(value, _said(setting, value, every)) for value in values)


def _surfaces(before: Stage) -> list[str]:
    """All surfaces: those that sound first, then the usual ones, then the rest of the kit."""
    sounding = sorted({s.surface for s in before.beat.strokes}, key=lambda name: BY_NAME[name].row)
    rest = [row.name for row in sorted(SURFACES, key=lambda row: row.row)]
    return list(dict.fromkeys([*sounding, *_FIRST, *rest]))


def _places(before: Stage) -> list[str]:
    meter = before.beat.meter
    numbers = [str(number) for number in range(1, meter.count + 1)]
    words = ["all", "beats", "upbeats", "ones", "backbeats", "first backbeat", "last backbeat"]
    syllables = ["&"] if meter.unit > 4 else ["trip let", "trip", "let"] if "triplet" in before.beat.columns else []
    if not syllables:
        syllables = ["e a", "e", "&", "a"]
    pairs = ["2 4", "1 3"] if meter.unit <= 4 and meter.count >= 4 else []
    ends = [f"{number}{syllables[-1]}" for number in numbers]
    return [*words, *syllables, *pairs, *numbers, *ends]
