"""What does the engine answer to a page?

`answer(text) -> text` is a function of its text alone: every request carries the document, so a worker that dies
loses nothing. What was worked out is kept by the document's text. Every question gets an answer or a refusal with a
code, a message for people and the field at fault; nothing is raised.
"""

from __future__ import annotations

import json
import sys
from functools import lru_cache
from typing import Any

from .. import __version__
from ..codec.groove_read import read_groove
from ..codec.groove_write import write_groove
from ..codec.link import looks_like_link, read_link, write_link
from ..errors import GroundbeatError, LinkError, RequestError
from ..model.groove import Groove
from ..timeline.unroll import unroll
from ..variation import stack
from .edits import edit, empty
from .messages import (
    MAX_MESSAGE,
    Choices,
    Hello,
    Kinds,
    Link,
    New,
    Open,
    OpenMidi,
    Timeline,
    View,
    read_request,
)
from .views import choices_view, kinds_view, timeline_view, view

NEWER = "made with a newer Groundbeat; the stages below it are shown, and nothing is rewritten"


def answer(text: str) -> str:
    """Answer one question, JSON in and JSON out."""
    try:
        reply = _answer(text)
    except GroundbeatError as error:
        reply = _refused(error.code, error.message, error.field)
    except RecursionError:
        reply = _refused("request", "the message is nested too deep", "")
    return json.dumps(reply, separators=(",", ":"), ensure_ascii=False)


def _refused(code: str, message: str, field: str) -> dict[str, Any]:
    return {"refused": {"code": code, "message": message, "field": field or None}}


def _answer(text: str) -> dict[str, Any]:
    if len(text) > MAX_MESSAGE:
        raise RequestError(f"the message has {len(text)} characters; at most {MAX_MESSAGE} are read")
    try:
        message = json.loads(text)
    except ValueError:
        raise RequestError("the message is not JSON") from None
    request = read_request(message)
    if isinstance(request, Hello):
        return {"answer": "hello", "version": __version__, "python": sys.version.split()[0]}
    if isinstance(request, Open):
        return _open(request)
    if isinstance(request, OpenMidi):
        return _open_midi(request)
    if isinstance(request, View):
        return _view(_groove(request.document))
    if isinstance(request, New):
        return _view(empty())
    if isinstance(request, Timeline):
        groove = _groove(request.document)
        return timeline_view(groove, request.stage, unroll(groove, _stages(groove), request.stage))
    if isinstance(request, Link):
        fragment = write_link(_groove(request.document))
        return {"answer": "link", "fragment": fragment, "length": len(fragment)}
    if isinstance(request, Choices):
        return _choices(request)
    if isinstance(request, Kinds):
        return kinds_view()
    groove = _groove(request.document)
    edited = edit(request, groove, _stages(groove))
    return _view(edited.groove, edited.says) | {"select": edited.select if edited.select >= 0 else None}


def _choices(request: Choices) -> dict[str, Any]:
    from ..variation.choices import choices  # asked for when a word is opened

    stages = _stages(_groove(request.document))
    stage = next((stage for stage in stages if stage.key == request.key and stage.number), None)
    if stage is None or stage.variation is None:
        raise RequestError(f"there is no variation with key {request.key}", field="key")
    return choices_view(choices(stage.variation, request.setting, stages[stage.number - 1]))


@lru_cache(maxsize=16)
def _groove(document: str) -> Groove:
    return read_groove(document)


@lru_cache(maxsize=16)
def _stages(groove: Groove) -> tuple[stack.Stage, ...]:
    return stack.grow(groove)


def _open(request: Open) -> dict[str, Any]:
    if not request.text.strip():
        raise RequestError("there is nothing to open; paste a link or the text of a groove file", field="text")
    if not looks_like_link(request.text):
        return _view(read_groove(request.text, request.name))
    reading = read_link(request.text)
    if reading.newer is None:
        return _view(reading.groove)
    newer = {"stage": reading.newer, "message": f"stage {reading.newer}: {NEWER}" if reading.newer else NEWER}
    groove = reading.groove
    return view(
        groove, stack.grow(groove), document=write_groove(groove), link=reading.fragment, link_trouble=None, newer=newer
    )


def _open_midi(request: OpenMidi) -> dict[str, Any]:
    from .midi_file import groove_of  # most pages never open a MIDI file

    groove, says = groove_of(request.name, request.base64, request.bars)
    return _view(groove, says)


def _view(groove: Groove, says: tuple[str, ...] = ()) -> dict[str, Any]:
    link: str | None = None
    trouble: str | None = None
    try:
        link = write_link(groove)
    except LinkError as error:
        trouble = error.message
    return view(groove, _stages(groove), document=write_groove(groove), link=link, link_trouble=trouble, says=says)
