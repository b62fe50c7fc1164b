"""Where are the bar lines of a MIDI file, and how long does a tick take?

Bars count from 1 at tick 0. A time signature begins a new bar where it stands; before the first, and without
any, a bar is 4/4, and the tempo is 120 quarters a minute until a file says otherwise (both by the standard).

Everything is counted in `units`, whole numbers so fine that a file tick and a model tick are both whole: with
n/d file ticks a quarter note a file tick is d * 10080 units and a model tick n units. No rounding happens
here.

A film-frame file has no quarter notes: there one lasts as the file's first tempo says, throughout.
"""

from __future__ import annotations

from bisect import bisect_right
from math import gcd
from typing import NamedTuple

from ..errors import MeterError, MidiError
from ..model.meter import QUARTER, WHOLE, Meter
from .file import MidiFile

DEFAULT_US = 500_000  # microseconds a quarter note: 120 a minute
_NEARLY = 64  # a time signature up to 1/64 bar late still stands on the bar line: exports round. Our choice


class Stretch(NamedTuple):
    """Bars of one meter: first unit, first bar, length of a bar in units, the signature as written."""

    start: int
    first: int
    bar: int
    upper: int
    lower: int
    offset: int

    @property
    def meter(self) -> Meter:
        """The meter; MidiError where the model does not hold it."""
        try:
            return Meter.of(f"{self.upper}/{self.lower}")
        except MeterError as error:
            raise MidiError(
                f"the time signature of bar {self.first} does not read: {error}. Choose other bars, or set "
                "another time signature and export the file anew",
                offset=self.offset,
            ) from error


class Bars:
    """The bar lines and tempos of a file; of one track alone where `track` is not 0."""

    def __init__(self, file: MidiFile, track: int) -> None:
        tempos = [t for t in file.tempos if not track or t.track == track] or list(file.tempos)
        signatures = [s for s in file.signatures if not track or s.track == track] or list(file.signatures)
        if file.division:
            ticks, quarters = file.division, 1
        else:
            us = tempos[0].us if tempos else DEFAULT_US
            tempos = [tempos[0]._replace(tick=0)] if tempos else []
            ticks, quarters = file.ticks_a_second[0] * us, file.ticks_a_second[1] * 1_000_000
        shared = gcd(ticks, quarters)
        self.model_tick = ticks // shared
        self.file_tick = quarters // shared * QUARTER
        self._tempo_ticks = [tempo.tick for tempo in tempos]
        self._tempos = [tempo.us for tempo in tempos]
        self.stretches = [Stretch(0, 1, self.model_tick * WHOLE, 4, 4, 0)]
        for signature in signatures:
            self._begin(signature.tick * self.file_tick, signature.upper, signature.lower, signature.offset)
        self._starts = [stretch.start for stretch in self.stretches]
        self._firsts = [stretch.first for stretch in self.stretches]

    def _begin(self, at: int, upper: int, lower: int, offset: int) -> None:
        last = self.stretches[-1]
        if at and (upper, lower) == (last.upper, last.lower):
            return  # said again: many programs do so every bar
        full, rest = divmod(at - last.start, last.bar)
        if rest * _NEARLY > last.bar:
            full += 1
        if full == 0:
            self.stretches.pop()
        bar = self.model_tick * (upper * WHOLE // lower)
        self.stretches.append(Stretch(at, last.first + full, bar, upper, lower, offset))

    def at(self, unit: int) -> Stretch:
        """The stretch that a place lies in."""
        return self.stretches[max(bisect_right(self._starts, unit) - 1, 0)]

    def holding(self, bar: int) -> Stretch:
        """The stretch that a bar lies in."""
        return self.stretches[bisect_right(self._firsts, bar) - 1]

    def last_of(self, stretch: Stretch) -> int:
        """Number of the last bar of a stretch that another one follows."""
        return self.stretches[self.stretches.index(stretch) + 1].first - 1

    def start_of(self, bar: int) -> int:
        """Where a bar begins, in units."""
        stretch = self.holding(bar)
        return stretch.start + (bar - stretch.first) * stretch.bar

    def end_of(self, bar: int) -> int:
        """Where a bar ends, in units: after its length, or where a time signature cuts it short."""
        after = bisect_right(self._firsts, bar)
        end = self.start_of(bar) + self.holding(bar).bar
        return min(end, self._starts[after]) if after < len(self._starts) else end

    def bar_near(self, unit: int, column: int) -> int:
        """Number of the bar that the column nearest to a place lies in; `column` in units."""
        stretch = self.at(unit)
        bar = stretch.first + nearest(unit - stretch.start, column) * column // stretch.bar
        return max(bar, 1)

    def us_at(self, tick: int) -> int:
        """Microseconds that a quarter note lasts at a file tick."""
        found = bisect_right(self._tempo_ticks, tick)
        return self._tempos[found - 1] if found else DEFAULT_US

    def tempos_between(self, start: int, end: int) -> list[int]:
        """Microseconds a quarter at a place in units, then of every tempo before a second place."""
        first = bisect_right(self._tempo_ticks, start // self.file_tick)
        last = bisect_right(self._tempo_ticks, (end - 1) // self.file_tick)
        return [self._tempos[first - 1] if first else DEFAULT_US, *self._tempos[first:last]]

    def ms(self, units: int, us: int) -> float:
        """Milliseconds that a number of units takes at a tempo of `us`."""
        return units * us / (self.model_tick * QUARTER * 1000)


def nearest(place: int, column: int) -> int:
    """Number of the column that lies nearest to a place; half way is the later one.

    >>> [nearest(place, 10) for place in (-6, -5, 4, 5)]
    [-1, 0, 0, 1]
    """
    return (2 * place + column) // (2 * column)
