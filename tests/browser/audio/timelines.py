"""Timelines for the sound tests, in the form of the engine's `timeline` answer, written by hand."""

from __future__ import annotations

from typing import Any

Timeline = dict[str, Any]
QUARTER = 10080


def event(at: int, surface: str, dynamic: str = "normal", **more: Any) -> dict[str, Any]:
    """Return a stroke; `more`: us, layer, added, grace, stop."""
    plain = {"us": 0, "layer": "both", "added": False, "grace": False, "stop": False}
    return {"at": at, "surface": surface, "dynamic": dynamic, "id": f"0/{surface}@{at}"} | plain | more


def timeline(events: list[dict[str, Any]], **more: Any) -> Timeline:
    """Return a timeline of one bar of 4/4 with a click on the quarters; `more` says otherwise."""
    row = {"answer": "timeline", "stage": 0, "loop": 4 * QUARTER, "parts": 1, "tempo_unit_ticks": QUARTER}
    row |= {"tempo": 104, "events": events} | more
    beats = range(0, row["loop"], QUARTER * row["parts"])
    return {"clicks": [{"at": at, "us": 0, "strong": at == 0} for at in beats]} | row


def rich() -> Timeline:
    """A bar with ghosts, chokes, graces before the loop point, strokes behind it and swung sixteenths (parts 5)."""
    parts = 5
    sixteenth = QUARTER * parts // 4
    late = QUARTER * parts // 100 * 4  # a swung second sixteenth: whole numbers of 1/5 tick, no whole tick
    row = []
    for k in range(16):
        at = k * sixteenth + (late + 3 if k % 2 else 0)
        if k == 14:
            row.append(event(at, "open hi-hat", "accent", us=900))
        else:
            row.append(event(at, "hi-hat", ("accent", "ghost", "soft", "normal")[k % 4]))
    row += [event(k * sixteenth, "kick", "normal") for k in (0, 6, 10)]
    row += [event(k * sixteenth, "snare", "accent", us=4000) for k in (4, 12)]
    row += [event(k * sixteenth + 1, "snare", "ghost", layer="stage", added=True) for k in (7, 9, 15)]
    row += [event(0, "snare", "accent"), event(0, "snare", "soft", us=-28000, grace=True)]
    row += [event(8 * sixteenth, "crash", "normal"), event(11 * sixteenth + 2, "crash", stop=True)]
    row += [event(16 * sixteenth - 1, "ride bell", "soft", us=12000)]
    return timeline(row, loop=16 * sixteenth, parts=parts)


def sevens() -> Timeline:
    """Two bars of 7/8, with toms, ride, cross-stick, hi-hat foot and base-only strokes."""
    eighth = QUARTER // 2
    row = [event(k * eighth, "ride", "accent" if k % 7 in (0, 4) else "normal") for k in range(14)]
    row += [event(k * eighth, "hi-hat foot", "soft") for k in (2, 9)]
    row += [event(k * eighth, "kick", "accent") for k in (0, 3, 7, 11)]
    row += [event(k * eighth, "cross-stick", "normal", us=-6000) for k in (4, 11)]
    row += [event(13 * eighth + k * 1680, tom, "normal") for k, tom in enumerate(("high tom", "low tom", "floor tom"))]
    row += [event(5 * eighth, "half-open hi-hat", "accent", layer="base"), event(6 * eighth, "hi-hat", layer="base")]
    row += [event(7 * eighth, "rimshot", "accent"), event(7 * eighth, "snare", "soft", us=-15000, grace=True)]
    return timeline(row, loop=14 * eighth, stage=3)
