"""How is a practice plan told to a page, which draws its steps and plays each of them?"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from ..analysis.player import Player
from ..analysis.practice import PlanStep, plan, plan_all
from ..model.groove import Groove
from ..variation.stack import Stage


def plan_view(
    groove: Groove, stages: Sequence[Stage], number: int, player: Player, clean: int, every: bool
) -> dict[str, Any]:
    """Plan how to practise stage `number`, or every stage up to it; `clean` in hundredths of a beat a minute, 0 where
    no clean tempo is known."""
    if every:
        found = plan_all(groove, stages[: number + 1], player, clean / 100)
    else:
        found = plan(groove, stages, number, player, clean / 100)
    return {
        "answer": "plan",
        "title": found.title,
        "stage": found.stage,
        "start": found.start,
        "goal": found.goal,
        "minutes": found.minutes,
        "steps": [_step(step) for step in found.steps],
        "cautions": list(found.cautions),
        "reduced": list(found.reduced),
    }


def _step(step: PlanStep) -> dict[str, Any]:
    return step._asdict() | {"ids": None if step.ids is None else list(step.ids), "tempos": list(step.tempos)}
