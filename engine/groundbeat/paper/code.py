"""How is an address printed as a QR code?

At level M where it fits, else at L, as on the page; dark squares on white with a border of four modules, each module
at least 0.4 mm, which a phone reads from paper at arm's length (our choice). Source: ISO/IEC 18004.
"""

from __future__ import annotations

from itertools import groupby
from typing import Any, NamedTuple

import segno

from .ink import MM

BORDER = 4  # modules of white around it [ISO/IEC 18004]
SIDE = 32 * MM  # of a small code; our choice
MODULE = 0.4 * MM
MOST_AT_M, MOST = 2331, 2953  # bytes in the largest code at levels M and L [ISO/IEC 18004, table 7]


class Code(NamedTuple):
    """The modules of a code, row by row."""

    rows: tuple[tuple[int, ...], ...]

    def _module(self, scale: float) -> float:
        return max(SIDE / (len(self.rows) + 2 * BORDER), MODULE) * min(scale, 1.5)

    def side(self, scale: float) -> float:
        """How high and wide it is with its border, in points."""
        return self._module(scale) * (len(self.rows) + 2 * BORDER)

    def draw(self, canvas: Any, left: float, top: float, scale: float) -> None:
        """Draw it with its upper left corner, border and all, at (left, top)."""
        module = self._module(scale)
        path = canvas.beginPath()
        for y, row in enumerate(self.rows, BORDER):
            x = BORDER
            for dark, run in groupby(row):
                length = len(list(run))
                if dark:
                    path.rect(left + x * module, top - (y + 1) * module, length * module, module)
                x += length
        canvas.setFillGray(0)
        canvas.drawPath(path, stroke=0, fill=1)


def code_of(address: str) -> Code | None:
    """Make the code of an address, None where it is too long for any."""
    size = len(address.encode("utf-8", "surrogatepass"))
    if size > MOST:
        return None
    level = "m" if size <= MOST_AT_M else "l"
    made = segno.make(address, error=level, mode="byte", encoding="utf-8", micro=False, boost_error=False)
    return Code(tuple(tuple(int(module) for module in row) for row in made.matrix))
