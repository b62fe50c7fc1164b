"""How long does a round of suggestions take, and how long making a stage easier?

Run it from the repository: `PYTHONPATH=engine python tests/bench/suggest_time.py`. Told is time of this process, for
the example beats (one bar) and for one of them laid out over 4, 8 and 16 bars. In the page it takes 3 to 5 times as
long. Nothing is asserted: clocks differ.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from pathlib import Path

from groundbeat.analysis.easier import easier
from groundbeat.analysis.suggest import suggest
from groundbeat.codec.groove_read import read_groove
from groundbeat.model.groove import Groove
from groundbeat.variation.stack import add, grow

EXAMPLES = Path(__file__).parents[2] / "examples"
WISHES = ("", "a little harder", "busier", "simpler", "for the left hand")


def took(ask: Callable[[], tuple[object, ...]]) -> tuple[float, int]:
    """Milliseconds of this process, and how many came out."""
    start = time.process_time()
    found = ask()
    return 1000 * (time.process_time() - start), len(found)


def row(name: str, groove: Groove) -> None:
    """Print one groove's line."""
    stages = grow(groove)
    last = len(stages) - 1
    told = []
    for wish in WISHES:
        ms, count = took(lambda wish=wish: suggest(groove, stages, last, wish))  # type: ignore[misc]
        told.append(f"{ms:6.0f} ({count})")
    ms, count = took(lambda: easier(groove, stages, last, tempo=min(40000, groove.tempo * 3 // 2)))
    print(f"{name:28}", *told, f"{ms:6.0f} ({count})")


def main() -> None:
    """Print the table."""
    print(f"{'ms (suggestions)':28}", *(f"{wish or 'anything':>10.10}" for wish in WISHES), f"{'easier':>10}")
    for path in sorted((EXAMPLES / "beats").glob("*.toml"))[::3]:
        row(path.stem, read_groove(path.read_text(), path.name))
    slack = read_groove((EXAMPLES / "slack-tide.toml").read_text())
    row("slack-tide", slack)
    for bars in (4, 8, 16):
        row(f"slack-tide, {bars} bars", add(slack, "length", {"bars": str(bars)}))


if __name__ == "__main__":
    main()
