"""Random documents that are the same in every run, and what the engine says of them."""

from __future__ import annotations

import hashlib
import json
import sys
from pathlib import Path

from hypothesis import HealthCheck, given, settings

from groundbeat.bridge.door import answer
from groundbeat.codec.groove_read import read_groove
from groundbeat.codec.groove_write import write_groove
from groundbeat.model.groove import Groove
from tests.strategies import grooves


def documents(count: int = 100) -> list[str]:
    """Draw so many grooves and write each as a groove file."""
    found: list[str] = []

    @settings(
        max_examples=count * 2,
        derandomize=True,
        database=None,
        deadline=None,
        suppress_health_check=list(HealthCheck),
    )
    @given(grooves())
    def collect(groove: Groove) -> None:
        text = write_groove(groove)
        if text not in found:
            found.append(text)

    collect()
    return sorted(found, key=len)[-count:]


def requests(texts: list[str]) -> list[str]:
    """Ask for view, link and last timeline of each."""
    rows = []
    for text in texts:
        rows.append(json.dumps({"ask": "open", "text": text}))
        rows.append(json.dumps({"ask": "timeline", "document": text, "stage": 0}))
    return rows


PLAYERS = ("", "left-handed; double pedal", "open-handed; right foot 48; left hand 55")


def about_playing(files: list[Path]) -> list[str]:
    """Ask how the last stage of each groove file is played and practised, and of the first two what could come next."""
    rows = []
    for number, path in enumerate(files):
        text = path.read_text(encoding="utf-8")
        asked = {"document": text, "stage": len(read_groove(text).variations), "player": PLAYERS[number % len(PLAYERS)]}
        rows.append({"ask": "player", "player": asked["player"]})
        rows.append({"ask": "playing", **asked})
        if number % 4 == 1:
            rows.append({"ask": "playing", **asked, "tempo": 171.5, "kit": "kick, snare, hi-hat, ride"})
        rows.append({"ask": "plan", **asked, "every": number % 4 == 0})
        if number < 2:
            rows.append({"ask": "suggest", **asked, "wish": "a little busier", "keep": "backbeats", "seed": 3})
            rows.append({"ask": "suggest", **asked, "wish": "easier"})
    return [json.dumps(row) for row in rows]


def digests(rows: list[str]) -> list[str]:
    """What the engine answers here, one digest a request."""
    return [hashlib.sha256(answer(row).encode()).hexdigest() for row in rows]


if __name__ == "__main__":
    print(json.dumps(digests(json.load(sys.stdin))))
