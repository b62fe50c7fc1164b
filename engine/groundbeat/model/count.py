"""What is said aloud at a place?

Three forms of the same place: the short text that files keep ("2e"), the syllable that stands over a column ("e"),
and the words that a sentence uses ("the e of 2"). English syllables after the usual books: 1 e & a for sixteenths,
1 trip let for eighth triplets, 1 trip let & trip let for sixteenth triplets, numbers and & over 8 and 16. 32nds have
no settled syllables: nothing is said there.
"""

from __future__ import annotations

from .meter import Meter
from .place import Place, place_at, place_text

_SEXTUPLET = {(1, 6): "trip", (2, 6): "let", (4, 6): "trip", (5, 6): "let"}
_SPOKEN = {(1, 4): "e", (1, 2): "&", (3, 4): "a", (1, 3): "trip", (2, 3): "let"}


def count_text(tick: int, meter: Meter) -> str:
    """Write the place of a tick without its bar, as files do: "2e"."""
    return place_text(place_at(tick, meter)._replace(bar=0))


def syllable(tick: int, meter: Meter, columns: str) -> str:
    """Say what is spoken at a tick: a number, a syllable, or "" where nothing is said.

    >>> [syllable(t, Meter.of("4/4"), "sixteenths") for t in range(0, 12600, 2520)]
    ['1', 'e', '&', 'a', '2']
    """
    place = place_at(tick, meter)
    num, den = place.part
    if num == 0:
        return str(place.number)
    if meter.unit > 4:
        return "&" if place.part == (1, 2) else ""
    if columns == "sixteenth triplets" and 6 % den == 0:
        return "&" if place.part == (1, 2) else _SEXTUPLET[(num * 6 // den, 6)]
    return _SPOKEN.get(place.part, "")


def weight(tick: int, meter: Meter) -> int:
    """Tell how much a place weighs for the eye: 2 begins a beat, 1 lies half way or on a number, 0 is the rest."""
    place = place_at(tick, meter)
    if place.part == (0, 1):
        return 2 if place.number in meter.beats else 1
    if meter.unit > 4:
        return 0
    return 1 if place.part in ((1, 2), (2, 3)) else 0


def spoken(place: Place, *, bars: int = 1) -> str:
    """Name a place inside a sentence, with its bar where a beat has several.

    >>> from .place import read_place
    >>> spoken(read_place("4a")), spoken(read_place("2")), spoken(read_place("2:3e"), bars=2)
    ('the a of 4', '2', 'the e of 3 in bar 2')
    """
    number = str(place.number) if place.number else "every number"
    if place.part == (0, 1):
        words = number
    elif place.part in _SPOKEN:
        words = f"the {_SPOKEN[place.part]} of {number}" if place.number else f"every {_SPOKEN[place.part]}"
    else:
        words = f"part {place.part[0] + 1} of {place.part[1]} of {number}"
    return f"{words} in bar {place.bar}" if place.bar and bars > 1 else words


def spoken_at(tick: int, meter: Meter, bars: int) -> str:
    """Name the place of a tick as a label does, without the article: "e of 2"."""
    return spoken(place_at(tick, meter), bars=bars).removeprefix("the ")
