"""Which line of a hand-written tablature is which surface?

There is no standard; the letters here are the common ones, and the names of the kit itself. Capitals do not matter.
What may be meant in two ways carries a remark. Source of the common ones: the article "Drum tablature" of Wikipedia;
which of two meanings is taken is our choice.
"""

from __future__ import annotations

from typing import NamedTuple

from ..model.kit import BY_NAME, nearest

_COMMON = {
    "hi-hat": "HH H Hat HC CHH CH-H HiHat Hi-Hats Hats Closed-Hat",
    "open hi-hat": "OH HO OHH HHO O-HH Open-Hat",
    "half-open hi-hat": "HHH HH/O Loose-Hat",
    "hi-hat foot": "HF FH HHF HHP PH PHH Ft-Hat Foot Pedal Hat-Foot HH-Foot Hi-Hat-Pedal",
    "ride": "R RD RC RI Ride-Cymbal R1 Rid",
    "ride bell": "RB BELL RDB Be Ride-B",
    "crash": "C CC CR C1 CR1 CY Cym Crash-Cymbal Crash-1",
    "second crash": "C2 CR2 CC2 Crash-2",
    "china": "CHN CN CHI CHY",
    "splash": "SP SPL SC",
    "stack cymbal": "STK STACK",
    "snare": "S SN SD SNR Snare-Drum",
    "cross-stick": "XS SS XST Side-Stick Sidestick Stick Rim-Click",
    "rimshot": "RS RSH Rim-Shot",
    "snare rim": "SR RIM",
    "kick": "B BD K KD BS Bass Bass-Drum KK Kick-Drum B1 BD1 K1",
    "second kick": "B2 BD2 K2 KD2",
    "high tom": "T1 HT TT1 Tom1 Tom-1 Hi-Tom T-1 H-T HTT",
    "mid tom": "T2 MT TT2 Tom2 Tom-2 T-2 M-T",
    "low tom": "T3 LT TT3 Tom3 Tom-3 T-3 L-T",
    "floor tom": "FT F F1 FTT FL Floor T4 Tom4 Tom-4",
    "cowbell": "CB COW CW Bell-Cow",
    "wood block": "WB WD Block",
}
_DOUBTFUL = {
    "CH": ("china", 'a closed hi-hat is written "HH"'),
    "ST": ("stack cymbal", 'a cross-stick is written "XS"'),
    "HP": ("hi-hat foot", 'a half-open hi-hat is written "half-open hi-hat"'),
    "CS": ("cross-stick", 'a splash is written "SP"'),
    "T": ("high tom", 'several toms are written "T1", "T2", "FT"'),
    "TT": ("high tom", 'several toms are written "T1", "T2", "FT"'),
    "TOM": ("high tom", 'several toms are written "T1", "T2", "FT"'),
    "M": ("mid tom", 'write "T2"'),
    "L": ("low tom", 'write "T3"'),
    "P": ("hi-hat foot", 'write "HF"'),
}


class Named(NamedTuple):
    """What a line is: its surface, what else its name may mean, and whether it is the kit's own name as it stands."""

    surface: str
    doubt: str
    own: bool


def _plain(name: str) -> str:
    return " ".join(name.upper().replace("-", " ").replace(".", " ").replace("_", " ").split())


_TABLE = {_plain(name): name for name in BY_NAME} | {
    _plain(word): name for name, words in _COMMON.items() for word in words.split()
}


def line_named(name: str) -> Named | None:
    """Tell which surface a line's name means; None where it is not known.

    >>> line_named("Hf").surface, line_named("hi-hat").own, line_named("xylophone")
    ('hi-hat foot', True, None)
    """
    if name in BY_NAME:
        return Named(name, "", True)
    plain = _plain(name)
    if plain in _DOUBTFUL:
        return Named(*_DOUBTFUL[plain], own=False)
    found = _TABLE.get(plain)
    if found:
        return Named(found, "", False)
    return None


def nearest_line(name: str) -> str:
    """Offer what an unknown name may have been meant for, as the end of a sentence."""
    known = {row.name for row in BY_NAME.values()} | {word for words in _COMMON.values() for word in words.split()}
    by_size = {word.lower(): word for word in sorted(known)}
    offered = nearest(name.lower(), sorted(by_size))
    if "did you mean" not in offered:
        return '; known are names such as "HH", "RD", "CR", "SN", "T1", "FT", "BD", "HF"'
    word = offered.split('"')[1]
    return f'; did you mean "{by_size[word]}"?'
