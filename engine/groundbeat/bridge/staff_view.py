"""How does a stage go to a page as drum notation, or as tablature?"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any

from ..errors import RequestError
from ..model.groove import Groove
from ..variation.stack import Stage
from .on_use import StaffOnUse
from .staff_messages import ExportTab, Staff

NARROW, WIDE = 20, 400  # staff spaces: less holds no beat, more is wider than any screen. Our choice
SMALL, LARGE = 2, 40  # pixels of a staff space: less is not read, more fills a screen with one note. Our choice


def staff_view(groove: Groove, stages: Sequence[Stage], request: StaffOnUse, player: str) -> dict[str, Any]:
    """Make the reply with the drawing or the text that is asked for; RequestError where it cannot be had."""
    assert isinstance(request, Staff | ExportTab)
    if not 0 <= request.stage < len(stages):
        raise RequestError(f"there are stages 0 to {len(stages) - 1}, not {request.stage}", field="stage")
    if isinstance(request, ExportTab):
        return _tab(groove, stages, request)
    if request.voices not in (1, 2):
        raise RequestError(f"there are 1 or 2 voices, not {request.voices}", field="voices")
    _between(request.width, NARROW, WIDE, "a line is {} to {} staff spaces wide, not {:g}", "width")
    _between(request.space, SMALL, LARGE, "a staff space is {} to {} pixels, not {:g}", "space")
    from ..analysis.player import read_player  # tablature needs neither of these rooms
    from ..notation.sheet import Wish, staff

    wish = Wish(
        voices=request.voices,
        counts=request.counts,
        sticking=request.sticking,
        width=request.width,
        player=read_player(player),
        marks=False,
    )
    drawn, says = staff(groove, stages, request.stage, wish)
    return {"answer": "staff", "stage": request.stage, "svg": drawn.svg("staff", request.space), "says": list(says)}


def _between(value: float, low: int, high: int, told: str, field: str) -> None:
    if not (math.isfinite(value) and low <= value <= high):
        raise RequestError(told.format(low, high, value), field=field)


def _tab(groove: Groove, stages: Sequence[Stage], request: ExportTab) -> dict[str, Any]:
    from ..codec.tab_text import not_in_tab, tab_text

    text = tab_text(groove, stages, -1 if request.through else request.stage)
    lost = () if request.through else not_in_tab(groove, stages[request.stage])
    says = [f"Not read back from the text: {'; '.join(lost)}."] if lost else []
    return {"answer": "export_tab", "text": text, "says": says}
