"""What can a setting of a variation hold, and how is it read?

A setting has a type; its value is text, a tuple of texts, or (for a group) a tuple of (name, value) pairs, always in
one canonical form, so that equal settings are equal values. Types are shared by all kinds: the link, the file and the
page know types, never kinds.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any, NamedTuple, cast

from ..errors import GroundbeatError, KitError, VariationError, shown
from ..model.groove import Settings, Value
from ..model.kit import BY_NAME, DYNAMICS, GRACES, nearest, surface
from ..model.roles import ROLES
from . import notes, patterns
from .scene import EVERYTHING
from .selection import GONE, STAGE, read_selection, selection_text

AT = "Such as 2 4, e a, 2:3&, first backbeat, upbeats free, accents, kick."  # how a selection may be written
UNKNOWN_SETTING = "variation.unknown-setting"  # the code of errors that are about the name, not the value
MAX_LIST = 16  # surfaces in one list; our choice


class Type(NamedTuple):
    """A type of setting: its name (the link's and the page's word for it) and how a raw value becomes canonical."""

    name: str
    read: Callable[[object], Value]


class Setting(NamedTuple):
    """One setting of a kind. `number` is its number in links: append only within the kind.

    `default` None means that it must be given. `inner` are the settings of a group. `words` are the allowed words
    of a choice, append only; `low` and `high` the range of a number, of which only `high` may ever grow.

    `places` is true of a selection of places rather than of strokes; `needs` names the setting without which this one
    does nothing.

    For the page: `label` says what the setting is about, `offer` what a button says that brings it up where the
    sentence leaves it unsaid, `example` how a value may be written.
    """

    name: str
    number: int
    type: Type
    default: Value | None = None
    inner: tuple[Setting, ...] = ()
    words: tuple[str, ...] = ()
    low: int = 0
    high: int = 0
    places: bool = False
    needs: str = ""
    label: str = ""
    offer: str = ""
    example: str = ""


def _text(raw: object, example: str) -> str:
    if not isinstance(raw, str):
        raise VariationError(f"{shown(raw)} is not text; write it like {example}")
    return raw


def _target(raw: object) -> Value:
    text = _text(raw, '"snare" or "riding"')
    word = " ".join(text.split())
    if word in ROLES or word == EVERYTHING:
        return word
    try:
        return surface(word).name
    except KitError:
        known = (*ROLES, EVERYTHING, *BY_NAME)
        raise VariationError(f'"{text}" is neither a surface nor a role{nearest(text, known)}') from None


def _each(read: Callable[[object], Value], item: object, index: int) -> Value:
    """Read one item of a list; an error names its position as field "#0", "#1" ..."""
    try:
        return read(item)
    except GroundbeatError as error:
        raise VariationError(error.message, field=f"#{index}", code=error.code) from None


def _surface(raw: object) -> Value:
    return surface(_text(raw, '"ride"')).name


def _targets(raw: object) -> Value:
    row = [raw] if isinstance(raw, str) else raw
    if not isinstance(row, (list, tuple)):
        raise VariationError(f'{shown(raw)} is not a list of surfaces; write it like ["kick", "snare"]')
    if len(row) > MAX_LIST:
        raise VariationError(f"at most {MAX_LIST} surfaces can be listed, not {len(row)}")
    known = {name: index for index, name in enumerate((EVERYTHING, *ROLES, *BY_NAME))}
    names = {cast(str, _each(_target, item, index)) for index, item in enumerate(row)}
    return tuple(sorted(names, key=known.__getitem__))


def _places(raw: object) -> Value:
    return selection_text(read_selection(_text(raw, '"e a" or "first backbeat"')))


def _amount(raw: object) -> Value:
    return notes.amount_text(notes.read_amount(_text(raw, '"1/16 later"')))


def _cell(raw: object) -> Value:
    return notes.cell_text(notes.read_cell(_text(raw, '"sixteenth sixteenth eighth"')))


def _dynamic(raw: object) -> Value:
    text = _text(raw, '"ghost"')
    if text not in DYNAMICS:
        raise VariationError(f'"{text}" is not a dynamic{nearest(text, DYNAMICS)}')
    return text


def _grace(raw: object) -> Value:
    text = _text(raw, '"flam"')
    if text not in GRACES and text != "none":
        raise VariationError(f'"{text}" is not a grace{nearest(text, (*GRACES, "none"))}')
    return "" if text == "none" else text


def _number(raw: object) -> Value:
    text = str(raw) if isinstance(raw, int) and not isinstance(raw, bool) else _text(raw, "3")
    if not (text.strip().lstrip("-").isdigit() and text.isascii() and len(text) < 8):
        raise VariationError(f'"{text}" is not a whole number; write it like 3')
    return str(int(text))


def _row(raw: object) -> Value:
    row = [raw] if isinstance(raw, str) else raw
    if not isinstance(row, (list, tuple)):
        raise VariationError(f'{shown(raw)} is not a list of surfaces; write it like ["snare", "high tom"]')
    if len(row) > MAX_LIST:
        raise VariationError(f"at most {MAX_LIST} surfaces can be listed, not {len(row)}")
    return tuple(_each(_surface, item, index) for index, item in enumerate(row))


def _note(raw: object) -> Value:
    text = _text(raw, '"sixteenth"')
    row = notes.read_cell(text)
    if len(row) != 1 or not row[0].sounds:
        raise VariationError(f'"{text}" is not one note; write a value such as "sixteenth" or "eighth triplet"')
    return notes.cell_text(row)


def _grouping(raw: object) -> Value:
    text = str(raw) if isinstance(raw, int) and not isinstance(raw, bool) else _text(raw, '"3+3+2"')
    return patterns.grouping_text(patterns.read_grouping(text))


def _hands(raw: object) -> Value:
    return patterns.read_hands(_text(raw, '"RLRR LRLL"'))


def _swing(raw: object) -> Value:
    return patterns.swing_text(*patterns.read_swing(_text(raw, '"eighths 2:1"')))


def _offset(raw: object) -> Value:
    return patterns.offset_text(patterns.read_offset(_text(raw, '"10 ms late"')))


def _changes(raw: object) -> Value:
    from . import touch  # the grammar of touch-ups stands beside its kind

    if not isinstance(raw, (list, tuple)):
        raise VariationError(f'{shown(raw)} is not a list of changes; write it like ["+ snare 3a ghost"]')
    if len(raw) > touch.MAX_CHANGES:
        raise VariationError(f"a touch-up has at most {touch.MAX_CHANGES} changes, not {len(raw)}")

    def read(item: object) -> Value:
        return touch.touch_text(touch.read_touch(_text(item, '"+ snare 3a ghost"')))

    return tuple(_each(read, item, index) for index, item in enumerate(raw))


TARGET = Type("target", _target)
SURFACE = Type("surface", _surface)
TARGETS = Type("targets", _targets)
PLACES = Type("places", _places)
AMOUNT = Type("amount", _amount)
CELL = Type("cell", _cell)
DYNAMIC = Type("dynamic", _dynamic)
GRACE = Type("grace", _grace)
CHANGES = Type("changes", _changes)
CHOICE = Type("choice", lambda raw: _text(raw, "one of its words"))
GROUP = Type("group", lambda raw: ())
NUMBER = Type("number", _number)
ROW = Type("row", _row)  # surfaces in the order in which they are played; one may come twice
NOTE = Type("note", _note)
GROUPING = Type("grouping", _grouping)
HANDS = Type("hands", _hands)
SWING = Type("swing", _swing)
OFFSET = Type("offset", _offset)
LISTS = (TARGETS, ROW, CHANGES)  # types whose values are lists of texts


def settle(settings: tuple[Setting, ...], raw: Mapping[str, object], kind: str) -> Settings:
    """Bring raw settings into their one form: known names, canonical values, defaults left out, in order.

    Raises VariationError naming the field, the value and what is allowed.
    """
    known = {setting.name: setting for setting in settings}
    for name in raw:
        if name not in known:
            raise VariationError(
                f"{kind} has no setting {shown(name)}{nearest(name, known)}", field=name, code=UNKNOWN_SETTING
            )
    settled: list[tuple[str, Value]] = []
    for setting in settings:
        if setting.name not in raw:
            if setting.default is None:
                raise VariationError(f'{kind} needs "{setting.name}"', field=setting.name)
            continue
        value = _settled(setting, raw[setting.name], kind)
        if value != setting.default:
            settled.append((setting.name, value))
    return tuple(settled)


def _settled(setting: Setting, raw: object, kind: str) -> Value:
    if setting.default is not None and (raw == setting.default or (raw == [] and setting.default == ())):
        return setting.default
    try:
        if setting.type is GROUP:
            if isinstance(raw, tuple):
                raw = dict(cast(Any, raw))
            if not isinstance(raw, Mapping):
                raise VariationError(f"{shown(raw)} is not a group of settings; write it like {{ at = ..., to = ... }}")
            return cast(Value, settle(setting.inner, raw, f"{kind}: {setting.name}"))
        value = setting.type.read(raw)
        if setting.words and value not in setting.words:
            raise VariationError(f"{shown(value)} is not one of {', '.join(setting.words)}")
        if setting.type is NUMBER and not setting.low <= int(str(value)) <= setting.high:
            raise VariationError(f"{value} is out of range; it goes from {setting.low} to {setting.high}")
        return value
    except GroundbeatError as error:
        inner = f".{error.field}" if error.field and (setting.type is GROUP or error.field[0] == "#") else ""
        raise VariationError(f"{setting.name}: {error.message}", field=setting.name + inner, code=error.code) from None


def full(settings: tuple[Setting, ...], given: Settings) -> dict[str, Any]:
    """Fill in the defaults: every setting by name, None where a needed one is missing."""
    have = dict(given)
    return {setting.name: have.get(setting.name, setting.default) for setting in settings}


def with_stages(settings: tuple[Setting, ...], given: Settings, numbers: Mapping[int, int]) -> Settings:
    """Replace the keys of the stages that selections name by their numbers; GONE where there is no such stage."""
    known = {setting.name: setting for setting in settings}

    def new(name: str, value: Value) -> Value:
        setting = known[name]
        if setting.type is GROUP:
            return cast(Value, with_stages(setting.inner, cast(Settings, value), numbers))
        if setting.type is not PLACES or STAGE not in str(value):
            return value
        selection = read_selection(str(value))
        terms = tuple(
            term._replace(of=str(numbers.get(int(term.of), GONE))) if term.word == STAGE else term
            for term in selection.terms
        )
        return selection_text(selection._replace(terms=terms))

    return tuple((name, new(name, value)) for name, value in given)
