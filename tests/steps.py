"""How many steps does a piece of work take? A clock would measure the machine."""

from __future__ import annotations

import sys
from collections.abc import Callable


def steps_of(work: Callable[[], object]) -> int:
    """Count the calls of a piece of work, those into the interpreter's own functions too."""
    calls = 0

    def count(frame: object, event: str, arg: object) -> None:
        nonlocal calls
        calls += event in ("call", "c_call")

    sys.setprofile(count)
    try:
        work()
    finally:
        sys.setprofile(None)
    return calls
