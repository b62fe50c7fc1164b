"""What does each surface do in this beat?

Roles let a variation speak of "the riding hand" and mean the hi-hat here and the ride there. They are found from
the strokes alone and can be corrected by the teacher.

* riding: the hand surface other than the snare that is struck most (cymbals before toms where the count is equal;
  our choice). Its instrument as a whole rides: ride, bell and edge are one.
* backbeat voice: the surfaces that the backbeats are on.
* kick: all kicks. hi-hat foot: chick and foot splash.

`backbeats` are strokes, not places: the snare, rimshot or cross-stick strokes of the base beat, louder than soft, on
2 and 4 in 4/4 (on 3 where 2 and 4 have none: half-time), on 2 in 2/4 and 2/2, on eighth 4 in 6/8, on eighths 4 and
10 in 12/8, in every other meter all such strokes that the base beat plays. They are followed by their ids.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from operator import attrgetter
from typing import NamedTuple

from .beat import Beat, Stroke
from .kit import BY_NAME, INSTRUMENTS, LOUDNESS, SURFACES
from .place import place_at

RIDING, BACKBEAT_VOICE, KICK, HIHAT_FOOT = "riding", "backbeat voice", "kick", "hi-hat foot"
ROLES = (RIDING, BACKBEAT_VOICE, KICK, HIHAT_FOOT)  # append only: the order is the numbering in links
BACKBEAT_SURFACES = ("snare", "rimshot", "cross-stick")
KICKS = ("kick", "second kick")
FEET = ("hi-hat foot", "foot splash")

_SURFACE = attrgetter("surface")
_USUAL = {"4/4": (2, 4), "2/4": (2,), "2/2": (2,), "6/8": (4,), "12/8": (4, 10)}
_HALF_TIME = {"4/4": (3,)}


class Roles(NamedTuple):
    """The surfaces of each role, empty where nothing plays it."""

    riding: tuple[str, ...]
    backbeat_voice: tuple[str, ...]
    kick: tuple[str, ...]
    hihat_foot: tuple[str, ...]

    def of(self, role: str) -> tuple[str, ...]:
        """The surfaces of a role by its name."""
        return self[ROLES.index(role)]


def find_backbeats(base: Beat) -> tuple[str, ...]:
    """Find the ids of the base beat's backbeats, in the order of time; () where it has none."""
    loud = [
        stroke for stroke in base.strokes if stroke.surface in BACKBEAT_SURFACES and stroke.level >= LOUDNESS["normal"]
    ]
    meter = str(base.meter)
    if meter not in _USUAL:
        return tuple(stroke.id for stroke in loud)
    for numbers in (_USUAL[meter], _HALF_TIME.get(meter, ())):
        found = [stroke.id for stroke in loud if _on(stroke, base, numbers)]
        if found:
            return tuple(found)
    return ()


def _on(stroke: Stroke, base: Beat, numbers: tuple[int, ...]) -> bool:
    place = place_at(stroke.at, base.meter)
    return place.part == (0, 1) and place.number in numbers


def find_roles(beat: Beat, backbeats: Iterable[str] = (), corrections: tuple[tuple[str, str], ...] = ()) -> Roles:
    """Find who does what in a beat.

    `backbeats` are the ids of the followed backbeats, `corrections` pairs of a role and the surface that plays it;
    a correction holds as long as its instrument sounds in this beat.
    """
    fixed = dict(corrections)
    counts: dict[str, int] = {}
    sounding: dict[str, list[str]] = {}
    for surface, count in Counter(map(_SURFACE, beat.strokes)).items():
        instrument = INSTRUMENTS[surface]
        counts[instrument] = counts.get(instrument, 0) + count
        sounding.setdefault(instrument, []).append(surface)
    riding = _corrected(fixed.get(RIDING), sounding) or _riding(counts, sounding)
    followed = set(backbeats)
    voices = [stroke.surface for stroke in beat.strokes if stroke.id in followed]
    voice = _corrected(fixed.get(BACKBEAT_VOICE), sounding) or tuple(dict.fromkeys(voices))
    return Roles(
        riding,
        voice,
        tuple(name for name in KICKS if name in counts),
        tuple(name for name in FEET if name in sounding.get("hi-hat pedal", ())),
    )


def _corrected(surface: str | None, sounding: dict[str, list[str]]) -> tuple[str, ...]:
    if surface is None:
        return ()
    row = BY_NAME[surface]
    here = sounding.get(row.instrument, [])
    if row.instrument == "snare":
        return (surface,) if surface in here else ()
    return tuple(here)


# Who rides when two are struck equally often: the usual riding surfaces first; our choice.
_RIDERS = tuple(
    dict.fromkeys(
        ["hi-hat", "ride"]
        + [row.instrument for row in sorted(SURFACES, key=lambda row: row.row)
           if row.limb == "hand" and row.instrument != "snare"]
    )
)  # fmt: skip


def _riding(counts: dict[str, int], sounding: dict[str, list[str]]) -> tuple[str, ...]:
    best = max(_RIDERS, key=lambda name: counts.get(name, 0))
    return tuple(sounding[best]) if counts.get(best) else ()
