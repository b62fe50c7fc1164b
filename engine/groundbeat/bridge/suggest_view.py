"""How are suggestions told, so that a page can show them, play them, and send one back to be taken?"""

from __future__ import annotations

import json
from collections.abc import Sequence
from typing import Any

from ..analysis.player import Player
from ..analysis.suggest import Suggestion, suggest
from ..analysis.wish import OFFERED
from ..model.groove import MAX_VARIATIONS, Groove
from ..variation.catalogue import kind
from ..variation.stack import Stage

NOTHING = "found nothing that fits; try another wish, keep less, or go on from another stage"
FULL = f"a groove has at most {MAX_VARIATIONS} variations; take one out first"


def suggest_view(
    groove: Groove, stages: Sequence[Stage], number: int, player: Player, *, wish: str, keep: str, seed: int
) -> dict[str, Any]:
    """Search for what could come after stage `number`; `keep` are words divided by spaces."""
    found = suggest(groove, stages, number, wish, keep.split(), seed, player)
    nothing = FULL if len(groove.variations) >= MAX_VARIATIONS else NOTHING
    return {
        "answer": "suggest",
        "wishes": list(OFFERED),
        "suggestions": [_suggestion(one) for one in found],
        "says": [] if found else [nothing],
    }


def _suggestion(one: Suggestion) -> dict[str, Any]:
    return {
        "kind": one.kind,
        "heading": kind(one.kind).heading,
        "settings": json.dumps(one.settings, ensure_ascii=False, separators=(",", ":")),
        "key": one.key,
        "after": one.after,
        "plain": one.plain,
        "why": one.why,
        "fastest": one.fastest,
        "comfortable": one.comfortable,
        "parts": [{"part": name, "before": before, "after": after} for name, before, after in one.parts],
    }
