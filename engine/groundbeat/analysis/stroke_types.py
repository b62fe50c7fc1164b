"""How high does the stick start, and how high does it end?

Four strokes of the standard rudiments teaching: *full* starts high and ends high, *down* starts high and stays low,
*tap* starts low and stays low, *up* starts low and ends high. A stroke starts as high as it is loud; it ends as high as
the same hand's next stroke has to start, around the loop.

Accents are high, ghosts and soft strokes low. Normal strokes are low too in a hand that plays accents, and high in one
that plays none (our choice: it is the difference that a hand has to show). The grace notes that a hand plays for the
other one's flam, drag or ruff are low.
"""

from __future__ import annotations

from .deeds import GRACE, Deed
from .limbs import LEAD, OTHER, Playing, doing

FULL, DOWN, TAP, UP = "full", "down", "tap", "up"
_ACCENT, _NORMAL = 3, 2
_TYPES = {(True, True): FULL, (True, False): DOWN, (False, False): TAP, (False, True): UP}


def stroke_types(playing: Playing) -> dict[str, str]:
    """Give the type of every stroke that a hand plays, by its id."""
    found: dict[str, str] = {}
    for hand in (LEAD, OTHER):
        deeds = doing(playing.rings[0].track, playing.chosen[0], hand)
        high = _ACCENT if any(_level(deed) == _ACCENT for deed in deeds) else _NORMAL
        for index, deed in enumerate(deeds):
            if deed.kind != GRACE:
                after = deeds[(index + 1) % len(deeds)]
                found[deed.stroke.id] = _TYPES[_level(deed) >= high, _level(after) >= high]
    return found


def _level(deed: Deed) -> int:
    return 0 if deed.kind == GRACE else deed.stroke.level
