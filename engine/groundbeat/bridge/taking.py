"""What do the edits about playing do: a suggestion that is taken, strokes that are left out as one edit?

Settings come as JSON text, as a suggestion told them. They are read with tight limits, and then go the way of settings
in a groove file.
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from typing import Any, NamedTuple

from ..errors import RequestError, VariationError, shown
from ..model.groove import Groove
from ..variation import gesture, stack
from ..variation.catalogue import kind
from .on_use import EditOnUse
from .playing_messages import LeaveOut, Take

# Our choice: the longest touch-up with every setting written out has under 4,000 characters; a group in a list of
# settings is two deep.
MAX_SETTINGS = 8000
DEEPEST = 3
MAX_LEFT_OUT = 64


class Taken(NamedTuple):
    """The new groove, and the number of the stage to be chosen."""

    groove: Groove
    select: int


def edit_on_use(request: EditOnUse, groove: Groove, stages: Sequence[stack.Stage]) -> Taken:
    """Do one of these edits."""
    if isinstance(request, Take):
        return take(request, groove)
    assert isinstance(request, LeaveOut)
    return leave_out(request, groove, stages)


def take(request: Take, groove: Groove) -> Taken:
    """Add the variation of a suggestion, or give the one that it is about exactly these settings."""
    given = read_settings(request.settings)
    if not request.key:
        new = stack.add(groove, request.kind, given, after=request.after)
        return Taken(new, _position(new, groove.next_key))
    at = _position(groove, request.key) - 1
    if at < 0:
        raise VariationError(f"there is no variation with key {request.key}", field="key")
    variation = groove.variations[at]
    if kind(request.kind).name != variation.kind:
        raise RequestError(f"variation {request.key} is of the kind {variation.kind}, not {request.kind}", field="kind")
    gone = {name: None for name, _ in variation.settings}
    return Taken(stack.edit(groove, request.key, gone | given), at + 1)


def read_settings(text: str) -> dict[str, Any]:
    """Read settings from JSON text; RequestError says what is wrong with it.

    >>> read_settings('{"by": "1/16 later"}')
    {'by': '1/16 later'}
    """
    if len(text) > MAX_SETTINGS:
        raise RequestError(f"settings have at most {MAX_SETTINGS} characters, not {len(text)}", field="settings")
    try:
        given = json.loads(text)
    except ValueError as error:
        raise RequestError(f"the settings are not JSON: {error}", field="settings") from None
    except RecursionError:
        raise RequestError("the settings are nested too deep", field="settings") from None
    if not isinstance(given, dict):
        raise RequestError(f"settings are an object of settings by name, not {shown(given)}", field="settings")
    _check(given, DEEPEST)
    return given


def _check(value: Any, deeper: int) -> None:
    if isinstance(value, (dict, list)):
        if not deeper:
            raise RequestError(f"the settings are nested more than {DEEPEST} deep", field="settings")
        for inner in value.values() if isinstance(value, dict) else value:
            _check(inner, deeper - 1)
    elif value is None or isinstance(value, float):
        found = "null" if value is None else value
        raise RequestError(
            f"{found} is no value of a setting; text, whole numbers, true, false, lists and groups are",
            field="settings",
        )


def leave_out(request: LeaveOut, groove: Groove, stages: Sequence[stack.Stage]) -> Taken:
    """Take strokes out of a stage as a tap on each would: what that writes is one edit."""
    names = list(dict.fromkeys(name for name in request.ids.split("\n") if name))
    if not 1 <= len(names) <= MAX_LEFT_OUT:
        raise RequestError(f"1 to {MAX_LEFT_OUT} strokes can be left out at once, not {len(names)}", field="ids")
    if not 0 <= request.stage < len(stages):
        raise RequestError(f"there are stages 0 to {len(stages) - 1}, not {request.stage}", field="stage")
    done = gesture.Done(groove, request.stage)
    now = tuple(stages)
    for name in names:
        stroke = next((stroke for stroke in now[done.select].beat.strokes if stroke.id == name), None)
        if stroke is None:
            raise RequestError(f"there is no stroke {shown(name)} in stage {request.stage} to leave out", field="ids")
        new = gesture.tap(done.groove, now, done.select, stroke.surface, stroke.at)
        now = stack.grow(new.groove, (done.groove, now))
        done = new
    return Taken(done.groove, done.select)


def _position(groove: Groove, key: int) -> int:
    return next((index + 1 for index, v in enumerate(groove.variations) if v.key == key), 0)
