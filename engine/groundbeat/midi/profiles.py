"""Which key of a sound module does a surface sound on, and what does a key of our own files mean?

Two profiles. "gm": General MIDI percussion (RP-003, RP-024), as the kit's table has it. "kit": what electronic kits
mostly have: toms 48 45 43 41, each with a key for its rim (the keys of the public performances that the reader was
tried on); what such a kit lacks goes to the key of General MIDI.

Some surfaces share a key: half-open and open hi-hat, the foot splash and the foot, the snare's rim and the
cross-stick, with "gm" the rims and their toms. `meanings` gives the one that stands for itself; the others are named
by a text beside the note (see `naming`). A rimshot is 40, or 38 by wish: 40 is the electric snare of General MIDI, and
head and rim together on most kits; there is no key that is a rimshot everywhere.

Velocities are our choice, after the two humps of snare strokes in 446,000 strokes of performances: 17 to 48, and
113 to 127. With "kit" the pedal (controller 4) is written too, at the medians measured there: closed 90, open 33, half
way 62.
"""

from __future__ import annotations

from ..errors import RequestError
from ..model.kit import BY_NAME, DYNAMICS, SURFACES
from ..model.kit import nearest as nearest_word

GENERAL, ELECTRONIC = "gm", "kit"
PROFILES = (GENERAL, ELECTRONIC)
RIMSHOTS = (40, 38)
VELOCITIES = {"ghost": 32, "soft": 56, "normal": 84, "accent": 112}
PEDAL_AT = {"hi-hat": 90, "half-open hi-hat": 62, "open hi-hat": 33}
_ON_KITS = {
    "high tom": 48, "mid tom": 45, "low tom": 43, "floor tom": 41,
    "high tom rim": 50, "mid tom rim": 47, "low tom rim": 58, "floor tom rim": 39,
}  # fmt: skip
Keys = dict[str, int]


def keys_of(profile: str, rimshot: int = RIMSHOTS[0]) -> Keys:
    """Give every surface its key.

    RequestError for a profile or a key of the rimshot that there is not.

    >>> keys_of("gm")["floor tom"], keys_of("kit")["floor tom"]
    (43, 41)
    """
    if profile not in PROFILES:
        raise RequestError(f'there is no profile "{profile[:40]}"{nearest_word(profile, PROFILES)}', field="profile")
    if rimshot not in RIMSHOTS:
        raise RequestError(f"a rimshot is written on key 40 or 38, not {rimshot}", field="rimshot")
    table = {surface.name: surface.key for surface in SURFACES}
    return table | {"rimshot": rimshot} | (_ON_KITS if profile == ELECTRONIC else {})


def meanings(keys: Keys) -> dict[int, str]:
    """Turn such a table round: the first surface of the kit's numbering that a key stands for.

    >>> meanings(keys_of("gm"))[46], meanings(keys_of("gm", 38))[38]
    ('open hi-hat', 'snare')
    """
    found: dict[int, str] = {}
    for name in sorted(keys, key=lambda each: BY_NAME[each].number):
        found.setdefault(keys[name], name)
    return found


def dynamic_of(velocity: int) -> str:
    """The dynamic whose velocity is nearest; half way is the louder.

    >>> dynamic_of(32), dynamic_of(70), dynamic_of(127)
    ('ghost', 'normal', 'accent')
    """
    return min(reversed(DYNAMICS), key=lambda name: abs(VELOCITIES[name] - velocity))
