"""How fast do hands and feet go, and how fast is that without trouble?

All numbers are milliseconds between strokes. A *floor* is what experts reach; beyond it nobody is asked to go. A
*comfort* is what can be kept up without trouble. Between the two it is graded, never refused. Floors come from expert
players, most of them on electronic pads: a student on drums is slower, and a test of the own hands and feet replaces
these numbers (see `own_limits`).

Sources: [F] Fujii, Kudo, Ohtsuki, Oda 2009 (Neuroscience Letters 459): 5 to 7 Hz is the usual limit of one hand, the
fastest drummer reaches 10 Hz. [G] the Groove MIDI Dataset (Gillick et al. 2019; 1,150 takes of ten drummers), measured
for this project: gaps on one surface, best files and best hundredth of files, gaps at which a hand changes surface.
[T] Fitts 1954 for a reach of 40 cm to a target of 30 cm, which agrees with [G]. [O] our choice.
"""

from __future__ import annotations

from collections.abc import Mapping
from math import log2
from typing import NamedTuple

from ..errors import RequestError

LIMBS = ("right hand", "left hand", "right foot", "left foot")
RIGHT_HAND, LEFT_HAND, RIGHT_FOOT, LEFT_FOOT = range(4)

HAND_FLOOR, HAND_COMFORT = 100.0, 150.0  # one hand in a row [F]
DOUBLE_FLOOR, DOUBLE_COMFORT = 46.0, 58.0  # two strokes of one hand from a rebound, and no third [O]
TRAVEL_FLOOR, TRAVEL_COMFORT = 145.0, 176.0  # a hand changes surface [G: 1st and 5th hundredth; T]
FITTS = 94.7  # ms a bit of difficulty (MacKenzie's fit of Fitts' stylus data)
NEAR = 40.0  # cm; the comfortable change of surface holds up to here, farther reaches take longer by Fitts [O]
FOOT_FLOOR = ((2, 100.0), (8, 120.0), (16, 160.0))  # one foot, mean gap of so many strokes [G: the best file]
FOOT_COMFORT = ((2, 150.0), (4, 158.0), (8, 186.0), (16, 231.0))  # [G: the best hundredth; two strokes O]
PEDAL_FLOOR, PEDAL_COMFORT = 150.0, 200.0  # hi-hat foot, down to down [G]
HALF_FLOOR, HALF_COMFORT = 75.0, 100.0  # hi-hat foot, down to up or up to down: half of that [O]

# Leads and lengths of ornaments, in ms: as they are sounded (see the timeline); flams are 20 to 60 ms wide.
GRACE_LEAD = {"flam": 30.0, "drag": 70.0, "ruff": 105.0}  # the other hand is busy from so long before
GRACE_LAST = {"flam": 30.0, "drag": 35.0, "ruff": 35.0}  # and its last grace note is so long before
RUFF_MAIN = 70.0  # in a four-stroke ruff the main hand plays the second grace note
BUZZ_LENGTH = 140.0  # six strokes 28 ms apart [O]
CHOKE_AFTER = 150.0  # the hand that struck takes hold of the cymbal [O]

# What a long run of ten seconds is measured against: the numbers above hold for who reaches these.
_REFERENCE = (HAND_FLOOR, HAND_FLOOR, 160.0, 202.0)  # [F]; kick foot and hi-hat foot, 16 strokes [G: the best file]
SECONDS = 10  # of the test, a limb [O]
FEWEST, MOST = 10, 160  # strokes in that time that can be meant: one a second to 16 a second [O]


class Limits(NamedTuple):
    """How much slower than the numbers above each limb is, in the order of LIMBS for a right-handed player:
    leading hand, other hand, kick foot, hi-hat foot."""

    lead: float = 1.0
    other: float = 1.0
    kick: float = 1.0
    pedal: float = 1.0


def scale(limb: int, strokes: int) -> float:
    """Say how much slower a limb is that makes so many even strokes in ten seconds.

    `limb` counts leading hand, other hand, kick foot, hi-hat foot. RequestError where nobody can have counted that.

    >>> round(scale(0, 61), 2)
    1.67
    """
    if not FEWEST <= strokes <= MOST:
        raise RequestError(
            f"{strokes} strokes in {SECONDS} seconds: between {FEWEST} and {MOST} are believed; count again",
            field="player",
        )
    return SECONDS * 1000 / (strokes - 1) / _REFERENCE[limb]


def own_limits(counts: Mapping[int, int]) -> Limits:
    """Make limits of a player's own test: strokes in ten seconds by limb (0 leading hand to 3 hi-hat foot).

    A limb that was not tested keeps the usual numbers. That all numbers of a limb grow alike is our choice.

    >>> own_limits({2: 50}).kick > 1
    True
    """
    return Limits(*(scale(limb, counts[limb]) if limb in counts else 1.0 for limb in range(4)))


def travel_comfort(distance: float) -> float:
    """Say how long a hand takes comfortably to a surface so many cm away.

    >>> travel_comfort(38.0), round(travel_comfort(100.0))
    (176.0, 301)
    """
    return TRAVEL_COMFORT + (FITTS * log2(distance / NEAR) if distance > NEAR else 0.0)


def by_run(table: tuple[tuple[int, float], ...], strokes: int) -> float:
    """Find the limit for a run of so many strokes.

    >>> by_run(FOOT_COMFORT, 5)
    158.0
    """
    return next(limit for length, limit in reversed(table) if length <= strokes)
