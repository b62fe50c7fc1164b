"""Which instruments does the part list name, and how do its notes point to them?

One score-instrument a surface that is written, named as the kit names it, so that nothing has to be guessed when the
file is read. Sounds are those of the standard's list (sounds.xml of MusicXML 4.0); a surface that the list has nothing
for has none. Keys are the kit's (General MIDI), and `midi-unpitched` counts them from 1, as the schema says.
"""

from __future__ import annotations

from collections.abc import Iterable

from ...model.kit import BY_NAME, SURFACES
from .element import Lines, leaf, node

PART = "P1"
CHANNEL, PROGRAM = 10, 1  # General MIDI: drums, standard set

_TOM, _SNARE, _HI_HAT, _RIDE, _CRASH = (
    "drum.tom-tom", "drum.snare-drum", "metal.hi-hat", "metal.cymbal.ride", "metal.cymbal.crash"
)  # fmt: skip
SOUNDS = {
    "kick": "drum.bass-drum", "second kick": "drum.bass-drum", "snare": _SNARE, "rimshot": _SNARE,
    "high tom": _TOM, "mid tom": _TOM, "low tom": _TOM, "floor tom": _TOM,
    "hi-hat": _HI_HAT, "half-open hi-hat": _HI_HAT, "open hi-hat": _HI_HAT, "hi-hat foot": _HI_HAT,
    "foot splash": _HI_HAT, "ride": _RIDE, "ride bell": _RIDE, "ride edge": _RIDE, "crash": _CRASH,
    "second crash": _CRASH, "china": "metal.cymbal.chinese", "splash": "metal.cymbal.splash",
    "cowbell": "metal.bells.cowbell", "wood block": "wood.wood-block",
}  # fmt: skip


def instrument_id(surface: str) -> str:
    """Name the instrument of a surface for the whole file.

    >>> instrument_id("hi-hat foot")
    'P1-hi-hat-foot'
    """
    return f"{PART}-{surface.replace(' ', '-')}"


def part_list(surfaces: Iterable[str]) -> Lines:
    """Write the part list of a drum part in which these surfaces sound."""
    used = set(surfaces)
    names = [surface.name for surface in SURFACES if surface.name in used]
    instruments, keys = [], []
    for name in names:
        sound = SOUNDS.get(name, "")
        instruments += node(
            "score-instrument",
            leaf("instrument-name", name),
            leaf("instrument-sound", sound) if sound else [],
            id=instrument_id(name),
        )
        keys += node(
            "midi-instrument",
            leaf("midi-channel", CHANNEL),
            leaf("midi-program", PROGRAM),
            leaf("midi-unpitched", BY_NAME[name].key + 1),
            id=instrument_id(name),
        )
    head = [leaf("part-name", "Drums"), leaf("part-abbreviation", "Dr.")]
    return node("part-list", node("score-part", *head, instruments, keys, id=PART))
