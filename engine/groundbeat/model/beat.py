"""What is a beat?

Strokes over one or more bars of one meter; it loops, so places wrap at the end of the cycle. `at` counts ticks from
the start of the cycle. Strokes stand in the order of time, then from the top line of the kit to the bottom. One
instrument is struck at most once at a place.

A stroke's id is given at birth and never changes: `KEY/SURFACE@PLACE`, KEY the key of the variation that brought it
(0 for the base beat), PLACE a fraction of a whole note from the start of the cycle.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache

from ..errors import BeatError, KitError
from .kit import BY_NAME, GRACES, HANDS, INSTRUMENTS, LOUDNESS, ROWS, nearest
from .meter import Meter
from .place import COLUMNS, fraction

MAX_BARS = 16  # what a page can show and a student can hold in mind; our choice
MAX_STROKES = 4096  # sixteen bars of 32nds on seven surfaces and more than anyone plays; our choice


@dataclass(frozen=True, slots=True)
class Stroke:
    """One hit: where, on what, how loud, with which ornament, perhaps with which hand.

    `origin` is the key of the stage that brought it, `changed_by` the keys of those that moved or altered it.
    """

    at: int
    surface: str
    dynamic: str = "normal"
    grace: str = ""
    hand: str = ""
    id: str = ""
    origin: int = 0
    changed_by: tuple[int, ...] = ()

    @property
    def instrument(self) -> str:
        """The instrument of its surface."""
        return INSTRUMENTS[self.surface]

    @property
    def level(self) -> int:
        """Its dynamic as a number, 0 the quietest."""
        return LOUDNESS[self.dynamic]


@dataclass(frozen=True, slots=True)
class Beat:
    """Strokes over `bars` bars of `meter`; `columns` is the note that its counts are written in."""

    meter: Meter
    bars: int = 1
    columns: str = "sixteenths"
    strokes: tuple[Stroke, ...] = ()

    @property
    def cycle(self) -> int:
        """Length of the loop in ticks."""
        return self.bars * self.meter.bar

    @property
    def column(self) -> int:
        """Length of a column in ticks."""
        return COLUMNS[self.columns]

    def bar_of(self, tick: int) -> int:
        """Number of the bar that a tick lies in, from 1."""
        return tick // self.meter.bar + 1


@lru_cache(maxsize=4096)
def birth(key: int, surface: str, at: int) -> str:
    """Give a stroke its name for life.

    >>> birth(0, "snare", 10080)
    '0/snare@1/4'
    """
    return f"{key}/{surface}@{fraction(at)}"


def in_order(strokes: Iterable[Stroke]) -> tuple[Stroke, ...]:
    """Put strokes in the order of time, then from the top line to the bottom."""
    return tuple(sorted(strokes, key=lambda stroke: (stroke.at, ROWS[stroke.surface])))


def base_beat(meter: Meter, bars: int, columns: str, strokes: Iterable[Stroke]) -> Beat:
    """Make a base beat: check every stroke, give it its id, put all in order.

    Raises BeatError or KitError naming the stroke that cannot stand.

    >>> beat = base_beat(Meter.of("4/4"), 1, "sixteenths", [Stroke(10080, "snare", "accent")])
    >>> beat.strokes[0].id
    '0/snare@1/4'
    """
    if not 1 <= bars <= MAX_BARS:
        raise BeatError(f"a beat has 1 to {MAX_BARS} bars, not {bars}", field="bars")
    if columns not in COLUMNS:
        raise BeatError(f'"{columns}" are not columns{nearest(columns, COLUMNS)}', field="columns")
    if meter.bar % COLUMNS[columns]:
        raise BeatError(f"a bar of {meter} does not hold a whole number of {columns}", field="columns")
    cycle = bars * meter.bar
    born = []
    for stroke in strokes:
        check(stroke)
        if not 0 <= stroke.at < cycle:
            raise BeatError(
                f"{stroke.surface} at {fraction(stroke.at)}: the cycle ends at {fraction(cycle)}", field="at"
            )
        name = birth(0, stroke.surface, stroke.at)
        if stroke.id == name and stroke.origin == 0 and not stroke.changed_by:
            born.append(stroke)  # born already: the same object, so that what is the same is found quickly
        else:
            born.append(Stroke(stroke.at, stroke.surface, stroke.dynamic, stroke.grace, stroke.hand, name))
    if len(born) > MAX_STROKES:
        raise BeatError(f"a beat has at most {MAX_STROKES} strokes, not {len(born)}", field="strokes")
    ordered = in_order(born)
    taken: dict[tuple[int, str], Stroke] = {}
    for stroke in ordered:
        other = taken.setdefault((stroke.at, stroke.instrument), stroke)
        if other is not stroke:
            raise BeatError(
                f"{other.surface} and {stroke.surface} both at {fraction(stroke.at)}: one {stroke.instrument} is "
                "struck once at a place; keep one of them",
                field="strokes",
            )
    return Beat(meter, bars, columns, ordered)


def check(stroke: Stroke) -> None:
    """Raise KitError where a stroke uses a word that the kit does not know, or a grace on what cannot have it."""
    if stroke.surface not in BY_NAME:
        raise KitError(
            f'"{stroke.surface}" is not a surface of the kit{nearest(stroke.surface, BY_NAME)}', field="surface"
        )
    if stroke.dynamic not in LOUDNESS:
        raise KitError(f'"{stroke.dynamic}" is not a dynamic{nearest(stroke.dynamic, LOUDNESS)}', field="dynamic")
    if stroke.grace not in GRACES:
        raise KitError(f'"{stroke.grace}" is not a grace{nearest(stroke.grace, GRACES)}', field="grace")
    if stroke.hand not in HANDS:
        raise KitError(f'"{stroke.hand}" is not a hand; write "R" or "L"', field="hand")
    if stroke.hand and BY_NAME[stroke.surface].limb != "hand":
        raise KitError(f"{stroke.surface} is played by a foot and has no hand", field="hand")
