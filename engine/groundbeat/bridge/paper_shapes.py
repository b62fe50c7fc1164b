"""What are answers about notation on paper made of? Read by the tests and the types; never in a browser."""

from __future__ import annotations

from typing import Literal, TypedDict


class LessonPart(TypedDict):
    """One thing on a lesson sheet: a text, or a drawing as SVG with what it shows as text ("" where there is none).
    "easier" belongs to the "spot" before it."""

    kind: Literal[
        "sentence", "note", "remark", "staff", "changed", "tempo", "spot", "easier", "fact", "step", "legend", "key",
        "caution",
    ]  # fmt: skip
    text: str
    svg: str


class LessonBlock(TypedDict):
    """What stays together on paper; `stage` is -1 where it is of none."""

    kind: Literal["stage", "plan", "legend", "cautions"]
    heading: str
    stage: int
    parts: list[LessonPart]


class LessonSheetReply(TypedDict):
    """A lesson sheet: title, facts, the note on the beat, its blocks in order, its `link` (what follows the # of an
    address, null where there is none), and what is to be told about it."""

    answer: Literal["lesson_sheet"]
    title: str
    facts: list[str]
    note: str
    blocks: list[LessonBlock]
    link: str | None
    says: list[str]


REPLIES = (LessonSheetReply,)
SHAPES = (LessonPart, LessonBlock, *REPLIES)
