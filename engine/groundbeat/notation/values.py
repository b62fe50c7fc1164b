"""Which notes and rests fill a run of units, when something is struck at some of its places?

A run is `n` units of one plain value (64th to whole) one after another: 1 unit is a plain beat that divides by two
again and again; 3 a compound beat or a triplet; 2 what a tuplet beside it leaves of a compound beat; 5, 7, 9 a tuplet.
Places and lengths are written ticks from the start of the run, so a triplet looks here as a compound beat does.

A stroke lasts to the next one or to the end of the run, cut to one value that may stand there; rests fill the rest.
Drums do not sustain, so there are no ties. What may stand where (practice of drum books; the details are our choice):

* in a plain unit L, from its start any value, with one dot too; from L/4 the half and the three quarters of L
  (sixteenth eighth sixteenth; sixteenth, dotted eighth); nothing else goes over the middle of L.
* over several units a value starts on a unit and lasts 1, 1 1/2, 2, 3, 4 or 6 of them.
* rests begin where their own length divides the run; a dotted rest of three quarters at the start of a beat up to a
  quarter long (dotted eighth rest, sixteenth); in a compound beat or a triplet a rest of two units only at the start.
* double dots are never needed: a rest takes their place.
"""

from __future__ import annotations

from typing import NamedTuple

from ..model.meter import QUARTER, WHOLE

FINEST = WHOLE // 64  # the shortest written value
REST = -1

# Written ticks to (value, dots). The shortest dotted value is a 32nd: there is no 128th for its dot.
VALUES: dict[int, tuple[int, int]] = {WHOLE // value: (value, 0) for value in (1, 2, 4, 8, 16, 32, 64)}
VALUES |= {WHOLE // value * 3 // 2: (value, 1) for value in (1, 2, 4, 8, 16, 32)}

_SPANS = ((6, 1), (4, 1), (3, 1), (2, 1), (3, 2), (1, 1))  # in units, longest first


class Piece(NamedTuple):
    """One note or rest of a run: `struck` counts the places of the run from 0, REST is a rest."""

    at: int
    ticks: int
    struck: int


def fill(count: int, unit: int, places: tuple[int, ...]) -> list[Piece]:
    """Fill `count` units of `unit` written ticks with notes at `places` (ascending) and rests.

    >>> [(p.ticks, p.struck) for p in fill(1, 10080, (0, 7560))]  # dotted eighth, sixteenth
    [(7560, 0), (2520, 1)]
    >>> [(p.ticks, p.struck) for p in fill(3, 5040, (0, 10080))]  # quarter, eighth
    [(10080, 0), (5040, 1)]
    """
    length = count * unit
    pieces: list[Piece] = []
    at = 0
    for index, place in enumerate(places):
        _rests(pieces, count, unit, at, place)
        end = places[index + 1] if index + 1 < len(places) else length
        ticks = _note(count, unit, place, end - place)
        pieces.append(Piece(place, ticks, index))
        at = place + ticks
    _rests(pieces, count, unit, at, length)
    return pieces


def _note(count: int, unit: int, at: int, gap: int) -> int:
    """The longest value that may stand at a place and is not longer than the gap."""
    inside = at % unit
    if inside or gap < unit:
        return _plain_note(unit, inside, min(gap, unit - inside))
    if count == 1:
        return unit
    return next(ticks for over, under in _SPANS if (ticks := unit * over // under) <= gap and ticks in VALUES)


def _plain_note(unit: int, at: int, gap: int) -> int:
    while True:
        half = unit // 2
        if at == 0:
            if gap >= unit:
                return unit
            if gap * 4 >= unit * 3 and unit * 3 // 4 in VALUES:
                return unit * 3 // 4
        elif at * 4 == unit:
            if gap * 4 >= unit * 3 and unit * 3 // 4 in VALUES:
                return unit * 3 // 4
            if gap >= half:
                return half
        if at < half:
            gap = min(gap, half - at)
        else:
            at -= half
        unit = half


def _rests(pieces: list[Piece], count: int, unit: int, at: int, end: int) -> None:
    while at < end:
        ticks = _rest(count, unit, at, end - at)
        pieces.append(Piece(at, ticks, REST))
        at += ticks


def _rest(count: int, unit: int, at: int, gap: int) -> int:
    inside = at % unit
    if not inside and gap >= unit:
        if at == 0 and gap == count * unit and gap in VALUES:
            return gap
        for units in (4, 2):
            if units * unit <= gap and at % (units * unit) == 0:
                return units * unit
        return unit
    return _plain_rest(unit, inside, min(gap, unit - inside))


def _plain_rest(unit: int, at: int, gap: int) -> int:
    while True:
        if at == 0:
            if gap >= unit:
                return unit
            if gap * 4 >= unit * 3 and unit <= QUARTER and unit * 3 // 4 in VALUES:
                return unit * 3 // 4
        half = unit // 2
        if at < half:
            gap = min(gap, half - at)
        else:
            at -= half
        unit = half
