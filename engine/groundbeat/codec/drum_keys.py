"""Which surface does a MIDI key mean?

Keys of General MIDI percussion (GM 1: 35-81, GM 2: 27-87, RP-003 and RP-024), and the further ones that
electronic kits send for the zones of a pad. The two disagree about some keys, so a file is first known as one
or the other: it comes from a kit when it holds hi-hat pedal positions (controller 4) or key 22 or 26, or key
58 (there the rim of the third tom) without any hand percussion above it, where 58 is the vibraslap.

| key | General MIDI | electronic kit |
|---|---|---|
| 40 | electric snare: snare | head and rim together: rimshot |
| 50, 47 | toms | rims of the toms 48 and 45 |
| 58, 39 | vibraslap, hand clap | rims of the toms 43 and 41 |
| 55, 52 | splash, china | edges of crash and second crash |

Toms go by the rank of the keys that a file uses, because six keys stand for two to four drums: 43 and 41 are
floor toms (with both, the higher is the low tom), the others from the top on high, mid, low. 35 and 36 are
one kick, unless a file uses both: then 35 is the second. What the kit does not have (hand claps, congas) is
left out and told by name.
"""

from __future__ import annotations

from collections.abc import Collection

_ALWAYS = {
    36: "kick", 37: "cross-stick", 38: "snare", 42: "hi-hat", 22: "hi-hat", 44: "hi-hat foot",
    46: "open hi-hat", 26: "open hi-hat", 49: "crash", 57: "second crash", 51: "ride", 53: "ride bell",
    59: "ride edge", 56: "cowbell", 76: "wood block", 77: "wood block",
}  # fmt: skip
_GENERAL = {40: "snare", 55: "splash", 52: "china"}
_KIT = {40: "rimshot", 55: "crash", 52: "second crash"}
_TOMS = (50, 48, 47, 45, 43, 41)
_KIT_TOMS = (48, 45, 43, 41)
_KIT_RIMS = {50: 48, 47: 45, 58: 43, 39: 41}  # the rim's key, the key of its drum
_FLOOR = 43  # this key and 41 are floor toms by name

OPEN_KEYS, CLOSED_KEYS = (46, 26), (42, 22)

# What is left out, by name; 35 to 59 are in the tables above or named by them.
_NAMES = {
    27: "high Q", 28: "slap", 29: "scratch push", 30: "scratch pull", 31: "sticks", 32: "square click",
    33: "metronome click", 34: "metronome bell", 39: "hand clap", 54: "tambourine", 58: "vibraslap",
    60: "high bongo", 61: "low bongo", 62: "mute high conga", 63: "open high conga", 64: "low conga",
    65: "high timbale", 66: "low timbale", 67: "high agogo", 68: "low agogo", 69: "cabasa", 70: "maracas",
    71: "short whistle", 72: "long whistle", 73: "short guiro", 74: "long guiro", 75: "claves",
    78: "mute cuica", 79: "open cuica", 80: "mute triangle", 81: "open triangle", 82: "shaker",
    83: "jingle bell", 84: "bell tree", 85: "castanets", 86: "mute surdo", 87: "open surdo",
}  # fmt: skip


def is_kit(keys: Collection[int], pedal: bool) -> bool:
    """Tell whether these keys come from an electronic kit; `pedal`: the file holds hi-hat pedal positions.

    >>> is_kit({36, 38, 22}, False), is_kit({36, 38, 40}, False)
    (True, False)
    """
    return pedal or 22 in keys or 26 in keys or (58 in keys and not any(60 <= key <= 81 for key in keys))


def surfaces(keys: Collection[int], pedal: bool = False) -> dict[int, str]:
    """Give each of a file's keys its surface; a key that the kit does not have is missing in the answer.

    >>> surfaces({35, 36, 50, 45, 43})
    {35: 'second kick', 36: 'kick', 43: 'floor tom', 45: 'mid tom', 50: 'high tom'}
    """
    kit = is_kit(keys, pedal)
    table = _ALWAYS | (_KIT if kit else _GENERAL)
    table[35] = "second kick" if 36 in keys else "kick"
    if kit:
        # A rim may sound in a file whose drum never does: it still ranks its drum.
        drums = {_KIT_RIMS.get(key, key) for key in keys if key in _KIT_TOMS or key in _KIT_RIMS}
        table |= _ranked(drums)
        table |= {rim: f"{table[drum]} rim" for rim, drum in _KIT_RIMS.items() if drum in drums}
    else:
        table |= _ranked({key for key in keys if key in _TOMS})
    return {key: table[key] for key in sorted(keys) if key in table}


def key_name(key: int) -> str:
    """Name a key for a sentence about what was left out.

    >>> key_name(54), key_name(100)
    ('tambourine (key 54)', 'key 100')
    """
    name = _NAMES.get(key)
    return f"{name} (key {key})" if name else f"key {key}"


def _ranked(used: Collection[int]) -> dict[int, str]:
    floors = sorted((key for key in used if key <= _FLOOR), reverse=True)
    racks = sorted((key for key in used if key > _FLOOR), reverse=True)
    names = ["high tom", "mid tom", "low tom", "floor tom"]
    found: dict[int, str] = {}
    for key in reversed(floors):  # the lowest first
        found[key] = names.pop()
    if len(racks) == 1:  # alone it has no rank: 50 and 48 are high by name, 47 and 45 are not
        found[racks[0]] = "high tom" if racks[0] >= 48 else "mid tom"
        return found
    for rank, key in enumerate(racks):
        # More keys than drums left: neighbours share one.
        found[key] = names[rank if len(racks) <= len(names) else rank * len(names) // len(racks)]
    return found
