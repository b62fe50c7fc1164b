"""Which strokes are the graces of a stroke, how far from it, and how loud?

A flam's grace lies 30 ms before its stroke (20 to 60 ms as played), those of drag and ruff 35 ms apart, each a little
louder than the one before. A buzz is a stick that is pressed and bounces: even, 28 ms apart, ever softer, until the
next stroke of its surface or until the stick is tired, 280 ms. The second stroke of a diddle is a little softer.
All graces are of the dynamic soft under an accent and of ghosts under the rest. Times and levels are our choice.

These times stay what they are at a slow tempo. At a quick one the stroke before comes nearer than a drag is long: then
graces come closer, so that none crosses it. So each has `lead`, its own distance from its stroke in microseconds, and
`room`, in 1/`parts` tick: at no tempo is it further away than that. The strokes of a buzz are as many as fit at the
groove's own tempo, two at least; quicker they come closer, slower they stay as dense and end before the note does.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from .unroll import Event

# microseconds from the stroke, and hundredths of a decibel
LEADS = {
    "flam": ((-30_000, 0),),
    "drag": ((-70_000, -200), (-35_000, 0)),
    "ruff": ((-105_000, -400), (-70_000, -200), (-35_000, 0)),
}
BUZZ, LONGEST = 28_000, 10  # microseconds between two bounces, and how many there are at most
LOUD, FALLS = 300, 900  # the first bounce, and by how much the last is softer
SECOND = -150  # a diddle's second stroke
UNDER_GHOST = -300  # graces of a ghost, which would be as loud as it is


def graced(strokes: Sequence[tuple[Event, str]], loop: int, pace: int) -> list[list[Event]]:
    """Give each stroke with its graces behind it.

    `strokes` are those of one loop, each with the name of its grace, "" for none. `pace` are the 1/parts ticks of a
    thousand seconds at the groove's own tempo.
    """
    rows: list[list[Event]] = []
    for stroke, grace in strokes:
        found = [stroke]
        rows.append(found)
        if grace in LEADS:
            gap = _gap(stroke, strokes, loop, before=True)
            leads = LEADS[grace]
            for place, (lead, gain) in enumerate(leads):
                room = max(1, gap * (len(leads) - place) // (len(leads) + 1))
                found.append(_grace(stroke, lead, room, gain))
        elif grace == "buzz":
            gap = _gap(stroke, strokes, loop, before=False)
            fits = gap * 1_000_000_000 // (pace * BUZZ)  # the next stroke takes the place of the last
            count = max(2, min(LONGEST, fits - (fits * pace * BUZZ == gap * 1_000_000_000)))
            for number in range(1, count + 1):
                room = max(1, gap * number // (count + 1))
                gain = LOUD - FALLS * (number - 1) // (count - 1)
                found.append(_grace(stroke, BUZZ * number, room, gain))
    return rows


def _gap(stroke: Event, strokes: Sequence[tuple[Event, str]], loop: int, *, before: bool) -> int:
    """Say how far the nearest stroke of the surface is that may be heard together with this one, around the loop."""
    apart = {"base": "stage", "stage": "base"}.get(stroke.layer)
    gaps = (
        ((stroke.at - other.at) if before else (other.at - stroke.at)) % loop
        for other, _ in strokes
        if other.surface == stroke.surface and other.layer != apart and not other.stop
    )
    return min((gap for gap in gaps if gap), default=loop)


def _grace(stroke: Event, lead: int, room: int, gain: int) -> Event:
    quiet = "soft" if stroke.dynamic == "accent" else "ghost"
    under = UNDER_GHOST if stroke.dynamic == "ghost" else 0
    us = stroke.us + lead
    return stroke._replace(us=us, dynamic=quiet, grace=True, gain=gain + under, lead=lead, room=room)
