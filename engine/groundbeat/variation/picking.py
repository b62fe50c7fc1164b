"""Which strokes, which places does a selection find in this beat?

Places lie on the columns of the beat; strokes may stand anywhere. What is not there is said, never an error.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import lru_cache

from ..model.beat import Beat, Stroke
from ..model.meter import Meter
from ..model.place import TRIPLET_COLUMNS, Place, offset_in
from .scene import Scene, surfaces_of
from .selection import ALL, BACKBEATS, BEATS, LOUD, ONES, STAGE, UPBEATS, WHERE, Selection, Term, term_words

Say = Callable[[str], None]


def pick_strokes(selection: Selection, scene: Scene, strokes: Iterable[Stroke], say: Say) -> tuple[Stroke, ...]:
    """Pick those of `strokes` that a selection means, in order; `say` is told what was not found."""
    beat = scene.beat
    pool = list(strokes)
    chosen: set[str] = set()
    for term in selection.terms:
        named = _named(term, scene, pool)
        if named is not None:
            here = [stroke for stroke in named if _in_bar(term, beat, stroke.at)]
            if not here:
                say(f"found no {term_words(term._replace(order=''))}")
        else:
            fits = _fits(term, scene, say)
            here = [stroke for stroke in pool if fits(stroke.at) and _in_bar(term, beat, stroke.at)]
        if here and term.order:
            edge = here[0] if term.order == "first" else here[-1]
            here = [stroke for stroke in here if stroke.at == edge.at]
        chosen.update(stroke.id for stroke in here)
    picked = tuple(stroke for stroke in pool if stroke.id in chosen)
    if selection.free:
        busy = _busy(beat.strokes)
        picked = tuple(stroke for stroke in picked if busy.get(stroke.at) == 1)
    return picked


def pick_places(selection: Selection, scene: Scene, say: Say) -> tuple[int, ...]:
    """Pick the ticks of the columns that a selection means, in order; `say` is told what these columns lack.

    Words that mean strokes give the places of those strokes, on the columns or not.
    """
    beat = scene.beat
    chosen: set[int] = set()
    missing: list[str] = []
    columns = range(0, beat.cycle, beat.column)
    for term in selection.terms:
        named = _named(term, scene, beat.strokes)
        if named is not None:
            here = sorted({stroke.at for stroke in named if _in_bar(term, beat, stroke.at)})
            if not here:
                say(f"found no {term_words(term._replace(order=''))}")
        else:
            fits = _fits(term, scene, say)
            pool: Iterable[int] = columns if term.word != WHERE else sorted({s.at for s in beat.strokes})
            here = [tick for tick in pool if fits(tick) and _in_bar(term, beat, tick)]
            if not here:
                missing.append(term_words(term))
        if here and term.order:
            here = [here[0] if term.order == "first" else here[-1]]
        chosen.update(here)
    if missing:
        say(f"found no {' or '.join(missing)} in {beat.columns} of {beat.meter}")
    if selection.free:
        chosen -= set(_busy(beat.strokes))
    return tuple(sorted(chosen))


def _named(term: Term, scene: Scene, pool: Iterable[Stroke]) -> list[Stroke] | None:
    """The strokes of the pool that a word means by what they are; None where it means places."""
    if term.word == BACKBEATS:
        order = {name: index for index, name in enumerate(scene.backbeats)}
        return sorted((stroke for stroke in pool if stroke.id in order), key=lambda stroke: order[stroke.id])
    if term.word in LOUD:
        return [stroke for stroke in pool if stroke.dynamic == LOUD[term.word]]
    if term.word == STAGE:
        return [stroke for stroke in pool if stroke.origin == int(term.of)]
    return None


def pick_ticks(place: Place, beat: Beat, say: Say) -> tuple[int, ...]:
    """Find the ticks of one place in every bar that it names, on the columns or not."""
    numbers = (place.number,) if place.number else tuple(range(1, beat.meter.count + 1))
    part = _part(place, beat, say)
    offsets = [offset_in(Place(0, number, part), beat.meter) for number in numbers]
    bars = (place.bar,) if place.bar else tuple(range(1, beat.bars + 1))
    return tuple(
        (bar - 1) * beat.meter.bar + offset
        for bar in bars
        if bar <= beat.bars
        for offset in offsets
        if offset is not None
    )


def _busy(strokes: Iterable[Stroke]) -> dict[int, int]:
    counts: dict[int, int] = {}
    for stroke in strokes:
        counts[stroke.at] = counts.get(stroke.at, 0) + 1
    return counts


def _in_bar(term: Term, beat: Beat, tick: int) -> bool:
    return not term.bar or beat.bar_of(tick) == term.bar


def _part(place: Place, beat: Beat, say: Say) -> tuple[int, int]:
    if place.part == (1, 2) and beat.columns == TRIPLET_COLUMNS and beat.meter.unit <= 4:
        say("& is read as let on this beat")
        return (2, 3)
    return place.part


def _fits(term: Term, scene: Scene, say: Say) -> Callable[[int], bool]:
    beat = scene.beat
    meter = beat.meter
    if term.word == ALL:
        return lambda tick: True
    if term.word == WHERE:
        names = surfaces_of(term.of, scene)
        sounding = {stroke.at for stroke in beat.strokes if stroke.surface in names}
        return lambda tick: tick in sounding
    if term.word == ONES:
        length = meter.bar
        return lambda tick: tick % length == 0
    if term.word == BEATS:
        beats = {(number - 1) * meter.number for number in meter.beats}
        length = meter.bar
        return lambda tick: tick % length in beats
    place = Place(0, 0, (1, 2)) if term.word == UPBEATS else term.place
    bar, here = meter.bar, _offsets(meter, place.number, _part(place, beat, say))
    return lambda tick: tick % bar in here


@lru_cache(maxsize=256)
def _offsets(meter: Meter, number: int, part: tuple[int, int]) -> frozenset[int]:
    """The ticks of a bar at which a part of a number lies, of every number where it is 0."""
    numbers = (number,) if number else range(1, meter.count + 1)
    found = (offset_in(Place(0, each, part), meter) for each in numbers)
    return frozenset(offset for offset in found if offset is not None)
