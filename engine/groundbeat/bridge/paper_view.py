"""How does a lesson sheet go to a page, which lays it out and prints it?

The drawings are SVG that may stand beside each other on one page: the names inside begin with "sheet" and the block's
number. The QR code is a question of its own (`qr`), for only the page knows its address.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any

from ..analysis.player import read_player
from ..codec.link import write_link
from ..errors import LinkError, RequestError
from ..model.groove import Groove
from ..notation.sheet import Block, Part, Wish, lesson
from ..variation.stack import Stage
from .on_use import PaperOnUse
from .paper_messages import LessonSheet

NARROW, WIDE = 20, 400  # staff spaces: less holds no beat, more is wider than any paper. Our choice


def sheet_view(groove: Groove, stages: Sequence[Stage], request: PaperOnUse, player: str) -> dict[str, Any]:
    """Make the reply with what stands on a lesson sheet; RequestError where it cannot be had."""
    assert isinstance(request, LessonSheet)
    if request.voices not in (1, 2):
        raise RequestError(f"there are 1 or 2 voices, not {request.voices}", field="voices")
    if not (math.isfinite(request.width) and NARROW <= request.width <= WIDE):
        raise RequestError(f"a line is {NARROW} to {WIDE} staff spaces wide, not {request.width:g}", field="width")
    wish = Wish(
        voices=request.voices,
        counts=request.counts,
        sticking=request.sticking,
        large=request.large,
        width=request.width,
        stage=request.stage,
        player=read_player(player),
        thorough=False,
    )
    made = lesson(groove, stages, wish)
    link, says = None, list(made.says)
    try:
        link = write_link(groove)
    except LinkError as error:
        says.append(f"no link: {error.message}")
    return {
        "answer": "lesson_sheet",
        "title": made.title,
        "facts": list(made.facts),
        "note": made.note,
        "blocks": [_block(block, number) for number, block in enumerate(made.blocks)],
        "link": link,
        "says": says,
    }


def _block(block: Block, number: int) -> dict[str, Any]:
    parts = [_part(part, f"sheet{number}") for part in block.parts]
    return {"kind": block.kind, "heading": block.heading, "stage": block.stage, "parts": parts}


def _part(part: Part, prefix: str) -> dict[str, Any]:
    return {"kind": part.kind, "text": part.text, "svg": part.drawing.svg(prefix) if part.drawing else ""}
