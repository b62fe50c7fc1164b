"""How is a beat spelled: which notes, rests, beams and tuplets stand for its strokes?

Hands have stems up, feet stems down; or all together in one voice. A stroke lasts to the next one of its voice or to
the end of its beat (`values`), on the simplest grid that holds the beat's strokes (`grids`). A voice that rests all
through a bar is left out where the other one plays; where nobody plays stands one whole-bar rest. Rests do not go
over beats, but a rest of two beats stands for the first or the second half of a bar of 4/4.

Three strokes that divide two beats evenly, with nothing else of their voice in these beats, are a triplet over both
(quarter-note triplet; in 2/2 half notes): not over the middle of 4/4, nor over a border of groups. Swing and pushes
belong to the feel and never change what is written.

A bar `repeats` where everything in it is as in the bar before: places, surfaces, dynamics, graces, hands. An empty
bar does not: its rest is as short as the sign.

A stroke that no grid reaches (between the 64ths and their triplets), or that shares a beat with others so that no one
grid reaches all, stands at the nearest written place, at most a 64th away (what lies behind the last 64th of the
cycle stands on it, and does not wrap to the first beat). The score names it, and keeps its true place.
"""

from __future__ import annotations

from collections.abc import Iterable
from functools import lru_cache

from ..model.beat import Beat, Stroke
from ..model.count import spoken, syllable
from ..model.kit import FEET_ONLY
from ..model.meter import Meter
from ..model.place import place_at
from .grids import PLAIN, is_compound, layout, nearest, reached, regrid, runs
from .score import DOWN, UP, Bar, Chord, Count, Score, Voice
from .signs import signs
from .staff import HEIGHT
from .values import FINEST

Struck = dict[int, list[Stroke]]  # the strokes of a voice in a bar by their written places
_NAMED = 3  # how many moved strokes are named one by one; our choice
_TRIPLET = FINEST * 2 // 3


def spell(beat: Beat, voices: int = 2) -> Score:
    """Spell a beat in one voice or two.

    >>> from ..model.beat import base_beat
    >>> beat = base_beat(Meter.of("4/4"), 1, "eighths", [Stroke(0, "kick"), Stroke(10080, "snare")])
    >>> [[(chord.value, len(chord.strokes)) for chord in voice.chords] for voice in spell(beat).bars[0].voices]
    [[(4, 0), (4, 1), (2, 0)], [(4, 1), (4, 0), (2, 0)]]
    """
    meter = beat.meter
    beats = layout(meter)
    moved: dict[Stroke, int] = {}
    by_bar: list[tuple[Struck, Struck]] = [({}, {}) for _ in range(beat.bars)]
    for stroke in beat.strokes:
        at = stroke.at
        if at % FINEST and at % _TRIPLET:
            at = _written(at, beats, meter.bar, beat.cycle)
            if at != stroke.at:
                moved[stroke] = at
        by_bar[at // meter.bar][voices > 1 and stroke.surface in FEET_ONLY].setdefault(at, []).append(stroke)
    bars = []
    before: tuple[object, ...] = ()
    for number, (hands, feet) in enumerate(by_bar):
        start = number * meter.bar
        _fit((hands, feet), start, beats, moved)
        content = _content(start, hands, feet)
        bars.append(Bar(number + 1, start, _voices(start, meter, hands, feet, voices), content == before != ()))
        before = content
    late = tuple(stroke for stroke in beat.strokes if stroke in moved)
    played = {at for both in by_bar for struck in both for at in struck}
    return Score(meter, tuple(bars), _counts(beat, played), tuple(stroke.id for stroke in late), _says(late, beat))


def _written(at: int, beats: tuple[tuple[int, int], ...], bar: int, cycle: int) -> int:
    """Where a stroke stands that is on no 64th and no triplet of it: there, if a tuplet reaches it, else near it."""
    inside = at % bar
    start, ticks = next(row for row in reversed(beats) if row[0] <= inside)
    return at if reached(ticks, inside - start) else nearest(at, cycle)


def _fit(voices: tuple[Struck, Struck], bar: int, beats: tuple[tuple[int, int], ...], moved: dict[Stroke, int]) -> None:
    """Move the strokes of beats in which no one grid holds a voice; all voices together, so that none falls apart."""
    for start, ticks in beats:
        low = bar + start
        inside = [tuple(sorted(at - low for at in struck if low <= at < low + ticks)) for struck in voices]
        if all(runs(ticks, places) is not None for places in inside):
            continue
        both = tuple(sorted({*inside[0], *inside[1]}))
        for place, other in zip(both, regrid(ticks, both), strict=True):
            for struck in voices if place != other else ():
                for stroke in struck.pop(low + place, ()):
                    struck.setdefault(low + other, []).append(stroke)
                    moved[stroke] = low + other


def _content(start: int, hands: Struck, feet: Struck) -> tuple[object, ...]:
    return tuple(
        (at - start, stroke.at - start, stroke.surface, stroke.dynamic, stroke.grace, stroke.hand)
        for struck in (hands, feet)
        for at in sorted(struck)
        for stroke in struck[at]
    )


def _voices(start: int, meter: Meter, hands: Struck, feet: Struck, count: int) -> tuple[Voice, ...]:
    if not hands and not feet:
        rest = Chord(start, meter.bar, 1, 0, (), (), PLAIN, "")
        return (Voice(UP, (rest,)), Voice(DOWN, ()))[:count]
    both = sorted({*hands, *feet})
    above = _chords(start, meter, hands, both) if hands else ()
    below = _chords(start, meter, feet, both) if feet else ()
    return (Voice(UP, above), Voice(DOWN, below))[:count]


def _chords(start: int, meter: Meter, struck: Struck, both: list[int]) -> tuple[Chord, ...]:
    beats = layout(meter)
    places = sorted(struck)
    inside = [tuple(at - start - low for at in places if low <= at - start < low + ticks) for low, ticks in beats]
    partners = _partners(meter)
    chords: list[Chord] = []
    number = 0
    while number < len(beats):
        low, ticks = beats[number]
        here, even = inside[number], False
        if number in partners:
            after = inside[number + 1]
            third = ticks // 3
            if here == (0, 2 * third) and after == (third,):
                here, ticks = (0, 2 * third, 4 * third), 2 * ticks
            elif not here and not after and partners[number]:
                ticks = 2 * ticks
        elif here and is_compound(ticks):
            even = all((at - start - low) % (ticks // 4) == 0 for at in both if low <= at - start < low + ticks)
        first = start + low
        for at, length, value, dots, place, beams, tuplet, edge in signs(ticks, here, even):
            strokes = tuple(sorted(struck[first + place], key=_height)) if place >= 0 else ()
            chords.append(Chord(first + at, length, value, dots, strokes, beams, tuplet, edge))
        number += 2 if ticks > beats[number][1] else 1
    return tuple(chords)


def _height(stroke: Stroke) -> tuple[int, int]:
    return HEIGHT[stroke.surface]


@lru_cache(maxsize=128)
def _partners(meter: Meter) -> dict[int, bool]:
    """Beats that may share a triplet with the next one, and whether one rest may stand for both."""
    if meter.unit > 4:
        return {}
    borders, at = set(), 0
    for size in () if meter.is_usual else meter.grouping:
        at += size
        borders.add(at)
    four = meter.count == 4
    numbers = (0, 2) if four else range(meter.count - 1)
    return {number: four and meter.unit == 4 for number in numbers if number + 1 not in borders}


def _counts(beat: Beat, played: set[int]) -> tuple[Count, ...]:
    spoken = _spoken(beat.meter, beat.columns, beat.column)
    return tuple(
        Count(start + at, word, start + at in played)
        for start in range(0, beat.cycle, beat.meter.bar)
        for at, word in spoken
    )


@lru_cache(maxsize=128)
def _spoken(meter: Meter, columns: str, column: int) -> tuple[tuple[int, str], ...]:
    rows = ((at, syllable(at, meter, columns)) for at in range(0, meter.bar, column))
    return tuple(row for row in rows if row[1])


def _says(moved: Iterable[Stroke], beat: Beat) -> tuple[str, ...]:
    part = beat.meter.number // (4 if beat.meter.unit <= 4 else 2)  # what has a syllable
    names = []
    for stroke in moved:
        near = (2 * stroke.at + part) // (2 * part) * part % beat.cycle
        names.append(f"{stroke.surface} near {spoken(place_at(near, beat.meter), bars=beat.bars)}")
    if not names:
        return ()
    more = f" and {len(names) - _NAMED} more" if len(names) > _NAMED else ""
    lie, stand = ("a stroke lies", "stands") if len(names) == 1 else (f"{len(names)} strokes lie", "stand")
    return (f"{lie} between the written values and {stand} at the nearest: {', '.join(names[:_NAMED])}{more}",)
