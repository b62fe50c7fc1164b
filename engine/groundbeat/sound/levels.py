"""How much quieter than an accent is a ghost, a soft or a normal stroke, on each kind of surface?

A snare's ghosts almost vanish beside its backbeat, a kick or a riding hand keeps within a narrow band. How far apart
the loud and the soft strokes of a take lie was measured in 48 performances by human drummers (Groove MIDI Dataset;
Gillick et al. 2019): velocity of the 10th and the 90th of a hundred strokes of a surface, the middle one of all takes
that have 40 of them, as levels by the square of velocity (Dannenberg 2006). `MEASURED` has these decibels.

A kit needs more room below than a kick's 7 dB, or its four dynamics could not be told apart, and less than a snare's
30, or ghosts were not heard from a small loudspeaker. So a ghost lies 12 dB and a third of what was measured under an
accent; soft and normal strokes are at about 0.6 and 0.27 of that; rounded to half a decibel: our choice.
"""

from __future__ import annotations

from typing import NamedTuple

from ..model.kit import DYNAMICS

# decibels between quiet and loud strokes of one take; crashes, played seldom, over all takes. Velocities behind them:
# snare 15, 87; bell 38, 123; hi-hat 31, 93; foot 30, 80; open hi-hat 48, 112; crashes 52, 116; toms 56, 106;
# cross-stick 47, 84; ride 41, 71; kick 43, 65
MEASURED = {
    "snare": 30.5, "bell": 20.4, "hi-hat": 19.1, "foot": 17.0, "open hi-hat": 14.7, "crash": 13.9, "tom": 11.1,
    "rim": 10.1, "ride": 9.5, "kick": 7.2,
}  # fmt: skip


class Curve(NamedTuple):
    """Decibels under an accent; a field for each dynamic."""

    ghost: float
    soft: float
    normal: float
    accent: float = 0.0


CURVES = {
    "snare": Curve(-22.0, -13.0, -6.0),
    "bell": Curve(-19.0, -11.5, -5.0),
    "hi-hat": Curve(-18.5, -11.0, -5.0),
    "foot": Curve(-17.5, -10.5, -4.5),
    "open hi-hat": Curve(-17.0, -10.0, -4.5),
    "crash": Curve(-16.5, -10.0, -4.5),
    "tom": Curve(-15.5, -9.5, -4.0),
    "rim": Curve(-15.5, -9.5, -4.0),
    "ride": Curve(-15.0, -9.0, -4.0),
    "kick": Curve(-14.5, -8.5, -4.0),
    "small": Curve(-18.0, -11.0, -5.0),  # cowbell, wood block, shell: not in the recordings, our choice
}
# what kind a surface is; those with a rim of any drum are looked up by their last word
KINDS = {
    "snare": "snare", "rimshot": "snare", "cross-stick": "rim", "kick": "kick", "second kick": "kick",
    "hi-hat": "hi-hat", "half-open hi-hat": "open hi-hat", "open hi-hat": "open hi-hat", "hi-hat foot": "foot",
    "foot splash": "foot", "ride": "ride", "ride bell": "bell", "ride edge": "crash", "crash": "crash",
    "second crash": "crash", "china": "crash", "splash": "crash", "stack cymbal": "crash", "cowbell": "small",
    "wood block": "small", "shell": "small",
}  # fmt: skip


def curve(surface: str) -> Curve:
    """Give the levels of a surface of the kit.

    >>> curve("snare").ghost, curve("high tom").normal, curve("high tom rim").ghost
    (-22.0, -4.0, -15.5)
    """
    return CURVES[KINDS.get(surface) or surface.rsplit(" ", 1)[-1]]


def under(surface: str, dynamic: str) -> float:
    """Tell by how many decibels a stroke lies under an accent of its surface: 0 or less."""
    return curve(surface)[DYNAMICS.index(dynamic)]
