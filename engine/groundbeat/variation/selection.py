"""Which strokes or places does a variation mean, in a drummer's words?

A selection is words joined by *or*: places ("2e", "e", "3:4a") and the words ones, beats, upbeats, all, backbeats,
each perhaps in one bar ("2:beats") and perhaps with first or last before it ("first backbeat", "2:first backbeat").
`free` is a filter, *and*: no surface at all sounds there. Changing kinds select strokes; adding kinds select places
of the columns; backbeats are always strokes, followed from the base beat by their ids.

What is not there on this beat is never an error: it is said.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from functools import lru_cache
from typing import NamedTuple

from ..errors import VariationError
from ..model.beat import Beat, Stroke
from ..model.count import spoken
from ..model.meter import Meter
from ..model.place import MAX_BAR, TRIPLET_COLUMNS, Place, offset_in, place_text, read_place

ONES, BEATS, UPBEATS, ALL, BACKBEATS, PLACE = "ones", "beats", "upbeats", "all", "backbeats", "place"
WORDS = (ONES, BEATS, UPBEATS, ALL, BACKBEATS)  # append only: the order is the numbering in links
ORDERS = ("", "first", "last")  # append only, likewise
FREE = "free"
MAX_TERMS = 64  # more than a sentence can say; our choice
_SINGULAR = {word[:-1]: word for word in WORDS if word != ALL}
_BAR = re.compile(r"(\d{1,3}):(.*)\Z", re.ASCII)


class Term(NamedTuple):
    """One word of a selection: `bar` 0 is every bar, `word` one of WORDS or "place"."""

    bar: int
    order: str
    word: str
    place: Place


class Selection(NamedTuple):
    """Words joined by *or*, and whether only free places count."""

    terms: tuple[Term, ...]
    free: bool


_NO_PLACE = Place(0, 0, (0, 1))


@lru_cache(maxsize=512)
def read_selection(text: str) -> Selection:
    """Read a selection; VariationError or PlaceError where a word is not one.

    >>> selection_text(read_selection("e  a"))
    'e a'
    >>> selection_text(read_selection("2:first backbeat"))
    '2:first backbeat'
    """
    tokens = text.split()
    if not tokens:
        raise VariationError(
            'which places? write words such as "2 4", "e a", "beats", "first backbeat" or "all"', field="at"
        )
    if len(tokens) > 2 * MAX_TERMS:
        raise VariationError(f"at most {MAX_TERMS} places can be named, not {len(tokens)}", field="at")
    terms: list[Term] = []
    free = False
    rest = iter(tokens)
    for token in rest:
        if token == FREE:
            free = True
            continue
        bar, word = _split_bar(token)
        order = ""
        if word in ORDERS[1:]:
            order = word
            word = next(rest, "")
            if not word or word == FREE:
                raise VariationError(
                    f'"{token}" stands before another word; write for example "{order} backbeat"', field="at"
                )
        term = _term(bar, order, word)
        if term not in terms:
            terms.append(term)
    if not terms:
        terms.append(Term(0, "", ALL, _NO_PLACE))
    return Selection(tuple(terms), free)


def _split_bar(token: str) -> tuple[int, str]:
    found = _BAR.match(token)
    if not found:
        return 0, token
    bar = int(found[1])
    if not 1 <= bar <= MAX_BAR:
        raise VariationError(f'"{token}": bars are numbered from 1 to {MAX_BAR}', field="at")
    return bar, found[2]


def _term(bar: int, order: str, word: str) -> Term:
    word = _SINGULAR.get(word, word)
    if word in WORDS:
        return Term(bar, order, word, _NO_PLACE)
    if word.isalpha() and len(word) > 4 and word not in ("trip", "let"):
        raise VariationError(
            f'"{word}" is not a place; known words are {", ".join(WORDS)}, free, first and last, besides places '
            'such as "2e"',
            field="at",
        )
    place = read_place(word)
    if place.bar and bar:
        raise VariationError(f'"{bar}:{word}" names two bars; keep one', field="at")
    return Term(bar or place.bar, order, PLACE, place._replace(bar=0))


def selection_text(selection: Selection) -> str:
    """Write a selection in the one form that files and links keep."""
    words = []
    for term in selection.terms:
        name = place_text(term.place) if term.word == PLACE else term.word
        if term.order and term.word not in (PLACE, ALL):
            name = name[:-1]
        order = f"{term.order} " if term.order else ""
        words.append((f"{term.bar}:" if term.bar else "") + order + name)
    if selection.free:
        if words == [ALL]:
            return FREE
        words.append(FREE)
    return " ".join(words)


def pick_strokes(
    selection: Selection, beat: Beat, backbeats: tuple[str, ...], strokes: Iterable[Stroke], say: Callable[[str], None]
) -> tuple[Stroke, ...]:
    """Pick those of `strokes` that a selection means, in order; `say` is told what was not found."""
    pool = list(strokes)
    chosen: set[str] = set()
    for term in selection.terms:
        if term.word == BACKBEATS:
            here = [s for name in backbeats for s in pool if s.id == name and _in_bar(term, beat, s.at)]
            if not here:
                say("found no backbeat" + (f" in bar {term.bar}" if term.bar else ""))
        else:
            fits = _fits(term, beat, say)
            here = [s for s in pool if fits(s.at) and _in_bar(term, beat, s.at)]
        if here and term.order:
            edge = here[0] if term.order == "first" else here[-1]
            here = [s for s in here if s.at == edge.at]
        chosen.update(s.id for s in here)
    picked = tuple(s for s in pool if s.id in chosen)
    if selection.free:
        busy = _busy(beat.strokes)
        picked = tuple(s for s in picked if busy.get(s.at) == 1)
    return picked


def pick_places(
    selection: Selection, beat: Beat, backbeats: tuple[str, ...], say: Callable[[str], None]
) -> tuple[int, ...]:
    """Pick the ticks of the columns that a selection means, in order; `say` is told what these columns lack."""
    chosen: set[int] = set()
    missing: list[str] = []
    columns = range(0, beat.cycle, beat.column)
    for term in selection.terms:
        if term.word == BACKBEATS:
            at = {s.id: s.at for s in beat.strokes}
            here = [at[name] for name in backbeats if name in at and _in_bar(term, beat, at[name])]
            if not here:
                say("found no backbeat" + (f" in bar {term.bar}" if term.bar else ""))
        else:
            fits = _fits(term, beat, say)
            here = [tick for tick in columns if fits(tick) and _in_bar(term, beat, tick)]
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


def pick_ticks(place: Place, beat: Beat, say: Callable[[str], None]) -> tuple[int, ...]:
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


def _part(place: Place, beat: Beat, say: Callable[[str], None]) -> tuple[int, int]:
    if place.part == (1, 2) and beat.columns == TRIPLET_COLUMNS and beat.meter.unit <= 4:
        say("& is read as let on this beat")
        return (2, 3)
    return place.part


def _fits(term: Term, beat: Beat, say: Callable[[str], None]) -> Callable[[int], bool]:
    meter = beat.meter
    if term.word == ALL:
        return lambda tick: True
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


def term_words(term: Term) -> str:
    """Name one word of a selection inside a message: "e", "2", "a of 3 in bar 2", "last beat"."""
    if term.word == PLACE:
        name = place_text(term.place) if not term.place.number else spoken(term.place).removeprefix("the ")
    else:
        name = term.word if term.word == ALL else term.word[:-1]
    order = f"{term.order} " if term.order else ""
    return f"{order}{name}" + (f" in bar {term.bar}" if term.bar else "")
