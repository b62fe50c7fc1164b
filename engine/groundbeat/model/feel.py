"""How do written places become sounded ones, without moving a note on paper?

Swing stretches the first of each pair of eighths (or sixteenths) to long : short and lets everything between follow
in proportion. A push is a fixed time by which a surface (or all) sounds early (negative) or late, in milliseconds.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from .meter import QUARTER

ALL = "all"  # every surface
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
        return pushes.get(surface, pushes.get(ALL, 0))

    def pushed(self, names: Iterable[str], ms: int) -> Feel:
        """Push surfaces by so many milliseconds; "all" takes the place of every other push.

        Only what differs from "all" is kept, in the order of the groove file.
        """
        pushes = dict(self.pushes) | dict.fromkeys(names, ms)
        if ALL in names:
            pushes = {ALL: ms}
        every = pushes.get(ALL, 0)
        kept = sorted((name, push) for name, push in pushes.items() if push != (0 if name == ALL else every))
        return replace(self, pushes=tuple(kept))

    def said(self) -> str:
        """Say it in words.

        >>> Feel().said(), Feel("eighths", 2, 1, (("all", 5), ("snare", 0))).said()
        ('Straight, everything in time.', 'The eighths swung 2 : 1, everything 5 ms late, the snare in time.')
        """
        words = [f"The {self.swung} swung {self.long} : {self.short}" if self.swung else "Straight"]
        for name, ms in self.pushes or ((ALL, 0),):
            who = "everything" if name == ALL else f"the {name}"
            words.append(f"{who} {abs(ms)} ms {'early' if ms < 0 else 'late'}" if ms else f"{who} in time")
        return ", ".join(words) + "."
