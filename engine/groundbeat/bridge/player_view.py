"""How is a player told to a page, which asks who plays and counts strokes?"""

from __future__ import annotations

from typing import Any

from ..analysis.limits import FEWEST, LIMBS, MOST, SECONDS, scale
from ..analysis.player import WORDS, Player, player_text, read_player


def player_view(text: str) -> dict[str, Any]:
    """Tell what can be said of a player, and what is said of the one with this text."""
    player = read_player(text)
    has = player_text(player).split("; ")
    counts = dict(player.counts)
    return {
        "answer": "player",
        "player": player_text(player),
        "words": list(WORDS),
        "has": [word for word in WORDS if word in has],
        "limbs": [{"limb": name, "count": counts.get(name), "text": _told(name, player, counts)} for name in LIMBS],
        "seconds": SECONDS,
        "fewest": FEWEST,
        "most": MOST,
    }


def _told(name: str, player: Player, counts: dict[str, int]) -> str:
    """What a count means: "164 ms from stroke to stroke; the usual limit is 100"."""
    if name not in counts:
        return ""
    gap = SECONDS * 1000 / (counts[name] - 1)
    usual = gap / scale(player.limbs.index(name), counts[name])
    return f"{round(gap)} ms from stroke to stroke; the usual limit is {round(usual)}"
