"""What does a student own, and what is struck in place of what is missing?

A kit is written as text: "pad" for a practice pad alone, else the things that are owned, with commas between
("kick, snare, hi-hat, ride"); "" is the beat as it is written. A thing brings all its surfaces: a drum its rim, the
hi-hat its pedal.

Which surface stands in for a missing one is our choice, in the table `_STAND_INS`: the same family first (another
tom, another cymbal to strike out on), then what is made of the same stuff and rings about as long (a stack cymbal is
as short as a closed hi-hat, a cowbell as clear as the bell of a ride), then any owned thing that a hand can strike,
metal before rims before drums for what is of metal.
A kick is only played by another kick; a foot without a pedal taps the floor, which is silent.
"""

from __future__ import annotations

from typing import NamedTuple

from ..errors import KitError
from .kit import BY_NAME, FEET_ONLY, METAL, SURFACES, nearest

PAD = "pad"
PAD_SURFACE = "snare"  # a pad is drawn and heard as the snare
PAD_CALLED = "pad"

_HIHATS = ("hi-hat", "half-open hi-hat", "open hi-hat", "hi-hat foot", "foot splash")
THINGS: dict[str, tuple[str, ...]] = {
    "kick": ("kick",),
    "second kick": ("second kick",),
    "snare": ("snare", "rimshot", "cross-stick", "snare rim"),
    "high tom": ("high tom", "high tom rim"),
    "mid tom": ("mid tom", "mid tom rim"),
    "low tom": ("low tom", "low tom rim"),
    "floor tom": ("floor tom", "floor tom rim", "shell"),
    "hi-hat": _HIHATS,
    "ride": ("ride", "ride bell", "ride edge"),
    "crash": ("crash",),
    "second crash": ("second crash",),
    "china": ("china",),
    "splash": ("splash",),
    "stack cymbal": ("stack cymbal",),
    "cowbell": ("cowbell",),
    "wood block": ("wood block",),
}
_FOUR_TOMS = "kick, snare, high tom, mid tom, low tom, floor tom, hi-hat, ride, crash"
# What is offered to begin with: name, and the kit as text. Our choice.
PRESETS: tuple[tuple[str, str], ...] = (
    ("as written", ""),
    ("a practice pad only", PAD),
    ("one cymbal beside the hi-hat", "kick, snare, high tom, floor tom, hi-hat, ride"),
    ("three toms, two cymbals", "kick, snare, high tom, mid tom, floor tom, hi-hat, ride, crash"),
    ("four toms, two cymbals", _FOUR_TOMS),
    ("everything but a stack cymbal", ", ".join(name for name in THINGS if name != "stack cymbal")),
)
# The first of these that is owned is struck instead.
_CYMBALS = ("crash", "second crash", "china", "splash")
_STAND_INS: dict[str, tuple[str, ...]] = {
    "kick": ("second kick",),
    "second kick": ("kick",),
    "hi-hat foot": (),
    "foot splash": (),
    "snare": ("high tom", "mid tom", "low tom", "floor tom"),
    "rimshot": ("high tom", "mid tom", "low tom", "floor tom"),
    "cross-stick": ("wood block", "high tom rim", "mid tom rim", "low tom rim", "floor tom rim"),
    "snare rim": ("high tom rim", "mid tom rim", "low tom rim", "floor tom rim", "wood block"),
    "high tom": ("mid tom", "low tom", "floor tom", "snare"),
    "mid tom": ("high tom", "low tom", "floor tom", "snare"),
    "low tom": ("floor tom", "mid tom", "high tom", "snare"),
    "floor tom": ("low tom", "mid tom", "high tom", "snare"),
    "high tom rim": ("mid tom rim", "low tom rim", "floor tom rim", "snare rim"),
    "mid tom rim": ("high tom rim", "low tom rim", "floor tom rim", "snare rim"),
    "low tom rim": ("floor tom rim", "mid tom rim", "high tom rim", "snare rim"),
    "floor tom rim": ("low tom rim", "mid tom rim", "high tom rim", "snare rim"),
    "shell": ("low tom rim", "mid tom rim", "high tom rim", "snare rim"),
    "hi-hat": ("ride", "stack cymbal", "cowbell"),
    "half-open hi-hat": ("ride edge", *_CYMBALS),
    "open hi-hat": ("ride edge", *_CYMBALS),
    "ride": ("hi-hat", "cowbell", *_CYMBALS),
    "ride bell": ("cowbell", "hi-hat", *_CYMBALS),
    "ride edge": (*_CYMBALS, "open hi-hat"),
    "crash": ("second crash", "china", "splash", "ride edge", "open hi-hat"),
    "second crash": ("crash", "china", "splash", "ride edge", "open hi-hat"),
    "china": ("crash", "second crash", "splash", "ride edge", "open hi-hat"),
    "splash": ("crash", "second crash", "china", "open hi-hat", "ride edge"),
    "stack cymbal": ("hi-hat", "china", "splash", "crash", "second crash", "ride edge"),
    "cowbell": ("ride bell", "wood block", "snare rim", "hi-hat"),
    "wood block": ("cowbell", "cross-stick", "ride bell"),
}
# Where none of the table is owned: metal on metal, then on a rim, then on a drum; drums the other way round.
_METAL = ("hi-hat", "ride", *_CYMBALS, "stack cymbal", "cowbell")
_RIMS = ("snare rim", "high tom rim", "mid tom rim", "low tom rim", "floor tom rim")
_DRUMS = ("snare", "high tom", "mid tom", "low tom", "floor tom")


class Kit(NamedTuple):
    """A student's kit: its text, the surfaces that are owned, and for every surface what is struck ("": nothing)."""

    text: str
    owned: frozenset[str]
    struck: dict[str, str]

    @property
    def is_pad(self) -> bool:
        """Whether it is a practice pad alone."""
        return self.text == PAD

    def called(self, surface: str) -> str:
        """How a surface of this kit is called."""
        return PAD_CALLED if self.is_pad and surface == PAD_SURFACE else surface


def read_kit(text: str) -> Kit | None:
    """Read a kit; None for "", the beat as written. KitError names what is no part of a kit.

    >>> read_kit("snare, kick").text
    'kick, snare'
    """
    names = [" ".join(part.lower().split()) for part in text.split(",") if part.strip()]
    if not names:
        return None
    if names == [PAD]:
        owned = frozenset({PAD_SURFACE})
        return Kit(PAD, owned, {row.name: "" if row.limb == "foot" else PAD_SURFACE for row in SURFACES})
    for name in names:
        if name not in THINGS:
            raise KitError(f'"{name[:40]}" is no part of a kit{nearest(name[:40], THINGS)}', field="kit")
    owned = frozenset(surface for name in names for surface in THINGS[name])
    return Kit(
        ", ".join(thing for thing in THINGS if thing in names),
        owned,
        {row.name: _stand_in(row.name, owned) for row in SURFACES},
    )


def _stand_in(surface: str, owned: frozenset[str]) -> str:
    if surface in owned:
        return surface
    first = next((name for name in _STAND_INS[surface] if name in owned), "")
    if first or surface in FEET_ONLY:
        return first
    last = (*_METAL, *_RIMS, *_DRUMS) if BY_NAME[surface].material == METAL else (*_DRUMS, *_RIMS, *_METAL)
    return next((name for name in (*last, "wood block") if name in owned), "")
