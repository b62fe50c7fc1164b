"""What are answers about MusicXML files made of? Read by the tests and the types; never in a browser."""

from __future__ import annotations

from typing import Literal, TypedDict


class ExportScoreReply(TypedDict):
    """A MusicXML file: a name for it, its text or its bytes (the other is empty), and what is to be told about it."""

    answer: Literal["export_score"]
    name: str
    text: str
    base64: str
    says: list[str]


REPLIES = (ExportScoreReply,)
SHAPES = (*REPLIES,)
