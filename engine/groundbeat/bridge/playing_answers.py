"""Which view answers which question about playing?"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from ..analysis.player import read_player
from ..errors import RequestError, shown
from ..model.groove import MAX_TEMPO, MIN_TEMPO, Groove
from ..variation.stack import Stage
from .on_use import AskOnUse
from .playing_messages import Plan, Playing, Suggest
from .playing_view import playing_view


def answer_of(
    request: AskOnUse, groove: Groove, written: Sequence[Stage], stages: Sequence[Stage], player: str
) -> dict[str, Any]:
    """Answer a question about playing; `written` are the document's stages, `stages` those on the student's kit."""
    who = read_player(player)
    if isinstance(request, Suggest):
        from .suggest_view import suggest_view

        number = stage_of(request.stage, written)
        return suggest_view(groove, written, number, who, wish=request.wish, keep=request.keep, seed=request.seed)
    if isinstance(request, Plan):
        from .plan_view import plan_view

        number, clean = stage_of(request.stage, stages), hundredths(request.clean, "clean")
        return plan_view(groove, stages, number, who, clean, request.every)
    assert isinstance(request, Playing)
    number = stage_of(request.stage, stages)
    return playing_view(groove, written, stages, number, who, hundredths(request.tempo, "tempo"))


def stage_of(number: int, stages: Sequence[Stage]) -> int:
    """Give the number of a stage back; RequestError where there is no such stage."""
    if not 0 <= number < len(stages):
        raise RequestError(f"there are stages 0 to {len(stages) - 1}, not {number}", field="stage")
    return number


def hundredths(bpm: float, field: str) -> int:
    """Turn beats a minute into the hundredths that the engine counts in; 0 stays, it stands for what is not said.

    >>> hundredths(92.5, "tempo")
    9250
    """
    low, high = MIN_TEMPO // 100, MAX_TEMPO // 100
    if bpm != 0 and not low <= bpm <= high:
        found = f"{bpm:g}" if isinstance(bpm, float) else shown(bpm)
        raise RequestError(f"the tempo is {found}; it may be {low} to {high}, or 0 for none", field=field)
    return round(bpm * 100)
