"""How is a range of bars written?"""

from __future__ import annotations

import re

from ..errors import RequestError
from ..model.beat import MAX_BARS

_BARS = re.compile(r"(\d{1,5})(?:-(\d{1,5}))?\Z", re.ASCII)


def read_bars(text: str) -> tuple[int, int] | None:
    """Read "A-B" or "A" as a range of bars; None for "".

    >>> read_bars("3-4"), read_bars("7"), read_bars("")
    ((3, 4), (7, 7), None)
    """
    if not text.strip():
        return None
    found = _BARS.match(text.replace(" ", ""))
    first, last = (int(found[1]), int(found[2] or found[1])) if found else (0, 0)
    if not 1 <= first <= last:
        raise RequestError(f'"{text}" is not a range of bars; write it like "3-4"', field="bars")
    if last - first + 1 > MAX_BARS:
        raise RequestError(f'"{text}" is {last - first + 1} bars; a beat has at most {MAX_BARS}', field="bars")
    return first, last
