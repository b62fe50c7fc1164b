"""What are answers about MIDI files made of? Read by the tests and the types; never in a browser."""

from __future__ import annotations

from typing import Literal, TypedDict


class ExportMidiReply(TypedDict):
    """A MIDI file: a name for it, its bytes, and what is to be told about it."""

    answer: Literal["export_midi"]
    name: str
    base64: str
    says: list[str]


REPLIES = (ExportMidiReply,)
SHAPES = (*REPLIES,)
