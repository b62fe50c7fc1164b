"""How do written places become sounded ones, without moving a note on paper?

Swing stretches the first of each pair of eighths (or sixteenths) to long : short and lets everything between follow
in proportion. A push is a fixed time by which a surface (or all) sounds early (negative) or late, in milliseconds.
"""

from __future__ import annotations

from dataclasses import dataclass

from .meter import QUARTER

SWUNG = ("eighths", "sixteenths")
MAX_SHARE = 9  # long : short up to 9 : 1; 3 : 1 is a dotted eighth and a sixteenth. Our choice
MAX_PUSH = 100  # milliseconds; beyond that it is another place. Our choice


@dataclass(frozen=True, slots=True)
class Feel:
    """Swing of `swung` notes as `long` to `short`, and pushes in ms by surface ("all" for every surface)."""

    swung: str = ""
    long: int = 1
    short: int = 1
    pushes: tuple[tuple[str, int], ...] = ()

    def sounded(self, tick: int) -> tuple[int, int]:
        """Map a written tick to a sounded one, as a fraction of ticks (numerator, denominator)."""
        if not self.swung or self.long == self.short:
            return tick, 1
        half = QUARTER // 2 if self.swung == "eighths" else QUARTER // 4
        pair, rest = divmod(tick, 2 * half)
        total = self.long + self.short
        if rest <= half:
            return (pair * 2 * half) * total + rest * 2 * self.long, total
        return (pair * 2 * half) * total + half * 2 * self.long + (rest - half) * 2 * self.short, total

    def push(self, surface: str) -> int:
        """Milliseconds by which a surface sounds late (early when negative)."""
        pushes = dict(self.pushes)
        return pushes.get(surface, pushes.get("all", 0))
