"""Which bars does a score have, and which of them become the base beat?

Bars are counted from 1 at the first whole one; a pickup before it has no number. Two measures that a file splits one
bar into (at a repeat sign in its middle, "X1" or `implicit`) are one bar. Repeats are not unfolded.

Where nobody chooses, the section is taken in which the first stroke lies: from a rehearsal mark or a new meter to the
next, if it is no longer than a beat may be; else the first bar with strokes.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import NamedTuple

from ...errors import MeterError, MusicXmlError
from ...model.beat import MAX_BARS
from ...model.meter import Meter
from .read_time import Time
from .read_walk import Measure, Walk

USUAL = Time(4, 4, "", False)


class Bar(NamedTuple):
    """A bar: the measures that make it up with their places in it, in quarters."""

    measures: tuple[tuple[int, Fraction], ...]
    time: Time
    number: str  # as the file has it
    opens: bool  # a section begins here
    length: Fraction  # as far as it is filled


class Bars(NamedTuple):
    """All bars of a score. `pickup`: the measure before the first bar, -1 for none."""

    bars: tuple[Bar, ...]
    pickup: int
    says: tuple[str, ...]


def bars_of_walks(walks: Sequence[Walk]) -> Bars:
    """Put the measures of all parts together to bars."""
    count = max(len(walk.measures) for walk in walks)
    rows = [[walk.measures[index] for walk in walks if index < len(walk.measures)] for index in range(count)]
    says: list[str] = []
    times: list[Time] = []
    now: Time | None = None
    for row in rows:
        said = next((measure.time for measure in row if measure.time), None)
        now = said or now
        if now is None:
            now = _guess(rows)
            says.append(f"The score has no time signature; its bars were read as {now.beats}/{now.unit}.")
        if said is not None and said.several:
            bar = row[0].number
            says.append(f"Bar {bar[:20]} adds up several time signatures; it was read as {now.beats}/{now.unit}.")
        times.append(now)
    lengths = [max(measure.length for measure in row) for row in rows]
    pickup = -1
    first = rows[0][0]
    if count > 1 and 0 < lengths[0] < times[0].quarters and (first.implicit or first.number in ("0", "X0", "")):
        pickup = 0
    bars: list[Bar] = []
    index = pickup + 1
    while index < count:
        row, time = rows[index], times[index]
        parts = [(index, Fraction(0))]
        filled = lengths[index]
        while (
            filled < time.quarters
            and index + 1 < count
            and _goes_on(rows[index + 1][0], rows[index][0], filled, lengths[index + 1], time)
        ):
            index += 1
            parts.append((index, filled))
            filled += lengths[index]
        if len(parts) > 1:
            says.append(f"The measures {row[0].number[:20]} and {rows[index][0].number[:20]} are one bar.")
        opens = any("rehearsal" in measure.marks for measure in row) or not bars or bars[-1].time != time
        bars.append(Bar(tuple(parts), time, row[0].number, opens, filled))
        index += 1
    if any("repeat" in measure.marks for row in rows for measure in row):
        says.append("Repeats and endings were not played out: bars count as they are written.")
    return Bars(tuple(bars), pickup, tuple(says))


def _goes_on(following: Measure, measure: Measure, filled: Fraction, more: Fraction, time: Time) -> bool:
    """Tell whether a measure is the rest of the bar that the one before began."""
    unnumbered = following.implicit or measure.implicit or not following.number.isdigit()
    return unnumbered and following.time is None and filled > 0 and filled + more == time.quarters


def _guess(rows: Sequence[Sequence[Measure]]) -> Time:
    """A meter for bars without a time signature: that of the longest bar, where it is one of ours."""
    longest = max((measure.length for row in rows for measure in row), default=Fraction(4))
    for unit in (4, 8, 16):
        count = longest * unit / 4
        if count.denominator == 1:
            try:
                Meter.of(f"{count.numerator}/{unit}")
            except MeterError:
                continue
            return Time(count.numerator, unit, "", False)
    return USUAL


def choose(bars: Bars, holding: Sequence[int], asked: tuple[int, int] | None) -> tuple[int, int]:
    """Choose bars, from 1, both included; `holding` are the numbers of those with strokes, in order.

    MusicXmlError where they cannot be had.
    """
    total = len(bars.bars)
    if asked is None:
        if not holding:  # all strokes are in the pickup
            return 1, 1
        first = last = holding[0]
        while first > 1 and not bars.bars[first - 1].opens:
            first -= 1
        while last < total and not bars.bars[last].opens:
            last += 1
        return (first, last) if last - first < MAX_BARS else (holding[0], holding[0])
    first, last = asked
    if last > total:
        near = min(first, total)
        raise _refused(f"asked for {range_text(first, last)}, but the score has {total}; try {near}-{total}")
    if last - first >= MAX_BARS:
        raise _refused(
            f"{range_text(first, last)} are {last - first + 1}, a beat has at most {MAX_BARS}; "
            f"try {first}-{first + MAX_BARS - 1}"
        )
    time = bars.bars[first - 1].time
    for number in range(first, last + 1):
        other = bars.bars[number - 1].time
        if (other.beats, other.unit) != (time.beats, time.unit):
            raise _refused(
                f"{range_text(first, last)}: the time signature changes from {time.beats}/{time.unit} to "
                f"{other.beats}/{other.unit} in bar {number}, and a beat has one meter; try {first}-{number - 1}"
            )
    if not any(first <= number <= last for number in holding):
        near = next((number for number in holding if number > last), holding[0] if holding else 0)
        raise _refused(f"no strokes in {range_text(first, last)}" + (f"; there are some in bar {near}" if near else ""))
    return first, last


def range_text(first: int, last: int) -> str:
    """Name some bars: "bar 3", "bars 3-4"."""
    return f"bar {first}" if first == last else f"bars {first}-{last}"


def meter_of(bar: Bar) -> Meter:
    """The meter of a bar; MusicXmlError for one that no beat can have."""
    time = bar.time
    try:
        if time.grouping:
            return Meter.of(f"{time.beats}/{time.unit}", time.grouping)
        return Meter.of(f"{time.beats}/{time.unit}")
    except MeterError as error:
        raise _refused(f"bar {bar.number[:20]}: {error.message}; choose bars of another meter") from None


def _refused(text: str) -> MusicXmlError:
    return MusicXmlError(text, code=MusicXmlError.code + ".bars", field="bars")
