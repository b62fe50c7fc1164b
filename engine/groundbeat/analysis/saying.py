"""How are places, spans and numbers said inside a sentence about playing?"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from ..model.beat import Beat, Stroke
from ..model.count import spoken, spoken_at
from ..model.kit import BY_NAME, METAL
from ..model.place import place_at
from ..variation.words import join

_NUMBERS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve")


def number_word(number: int) -> str:
    """Say a number; above twelve in figures.

    >>> number_word(3), number_word(16)
    ('three', '16')
    """
    return _NUMBERS[number] if number < len(_NUMBERS) else str(number)


def place(at: int, beat: Beat) -> str:
    """Name a place inside a sentence: "the e of 2", "4", "the a of 3 in bar 2"."""
    return spoken(place_at(at, beat.meter), bars=beat.bars)


def span(start: int, end: int, beat: Beat) -> str:
    """Name the way from one place to another: "the a of 3 to 4", the bar once where it is the same."""
    one = 1 if beat.bar_of(start) == beat.bar_of(end) else beat.bars
    return f"{spoken(place_at(start, beat.meter), bars=one)} to {place(end, beat)}"


def listing(ticks: Sequence[int], beat: Beat) -> str:
    """List places without articles: "a of 3, 4, e of 4", the bar once where it is the same."""
    bars = {beat.bar_of(at) for at in ticks}
    many = beat.bars if len(bars) > 1 else 1
    names = [spoken_at(at, beat.meter, many) for at in ticks]
    return ", ".join(names) + (f" in bar {min(bars)}" if len(bars) == 1 and beat.bars > 1 else "")


def in_bars(bars: Iterable[int]) -> str:
    """Say bars: "bar 2", "bars 1 to 4", "bars 1, 2 and 4".

    >>> in_bars([1, 2, 3, 4]), in_bars([3, 1]), in_bars([2])
    ('bars 1 to 4', 'bars 1 and 3', 'bar 2')
    """
    row = sorted(set(bars))
    if len(row) == 1:
        return f"bar {row[0]}"
    if len(row) > 2 and row[-1] - row[0] == len(row) - 1:
        return f"bars {row[0]} to {row[-1]}"
    return f"bars {join([str(bar) for bar in row])}"


def milliseconds(gaps: Iterable[float]) -> str:
    """Say one gap or the range of several: "163 ms", "136 to 163 ms".

    >>> milliseconds([163.04, 163.2]), milliseconds([163, 136])
    ('163 ms', '136 to 163 ms')
    """
    row = sorted(max(0, round(gap)) for gap in gaps)
    return f"{row[0]} ms" if row[-1] - row[0] <= 1 else f"{row[0]} to {row[-1]} ms"


def things(strokes: Iterable[Stroke]) -> str:
    """Name what is struck, metal first and then the snare: "hi-hat, snare and floor tom"."""
    names = [stroke.surface for stroke in strokes]
    return join(sorted(names, key=lambda name: (BY_NAME[name].material != METAL, BY_NAME[name].family != "snare")))


def more_places(count: int) -> str:
    """Say that there are more such places: ", and at 2 more places"."""
    return "" if count < 1 else f", and at {count} more place{'s' if count > 1 else ''}"


def sentence(text: str) -> str:
    """Make a sentence of words: a capital in front, a full stop behind."""
    return f"{text[:1].upper()}{text[1:]}."
