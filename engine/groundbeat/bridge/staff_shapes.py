"""What are answers about staffs and tablature made of? Read by the tests and the types; never in a browser."""

from __future__ import annotations

from typing import Literal, TypedDict


class StaffReply(TypedDict):
    """A stage as SVG, in which each stroke is a group with `data-id`; and what is to be told about that."""

    answer: Literal["staff"]
    stage: int
    svg: str
    says: list[str]


class ExportTabReply(TypedDict):
    """Tablature as text, and what is to be told about it."""

    answer: Literal["export_tab"]
    text: str
    says: list[str]


REPLIES = (StaffReply, ExportTabReply)
SHAPES = (*REPLIES,)
