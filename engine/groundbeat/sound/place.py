"""Where does each surface stand between left and right, as the drummer hears it?"""

from __future__ import annotations

from ..model.kit import BY_NAME

WIDTH = 125.0  # centimetres from the middle that would be hard left or right, our choice
CENTRED = ("kick", "snare")  # families that stand in the middle whatever their seat


def pan(surface: str) -> float:
    """Place a surface between -1 (left) and 1, as the drummer hears it."""
    row = BY_NAME[surface]
    if row.family in CENTRED:
        return 0.0
    return round(max(-1.0, min(1.0, row.seat[0] / WIDTH)), 2)
