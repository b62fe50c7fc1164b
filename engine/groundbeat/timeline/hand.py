"""By how much is a stroke off its place and its level, when a hand plays it and not a machine?

`loose` goes from 0, exactly as written, to 100, a hand that takes it easy. What strays is added to each event: whole
microseconds to `us`, whole hundredths of a decibel to `gain`. Places, loop, notation and clicks stay as they are, so
nothing drifts: each round begins where it would begin anyway.

How a player strays is no white noise: one who is late stays a little late for a while, and the limbs stray together
(Hennig et al. 2011 and Räsänen et al. 2015 on long-range correlation in drumming; Fujii et al. 2011 on limbs). Here a
course is a sum of random lines with knots a quarter, a half, a whole note ... apart, all of the same height, which is
close to 1/f (R. Voss's way, told by M. Gardner, Scientific American, April 1978). One slow course is common to all
instruments; each instrument adds a small one of its own, with knots on the sixteenths.

At 100 the common course strays 9 ms (standard deviation), 45 ms at most, and an instrument 2 ms from it, 5 ms at most.
Spreads against a click are 5 to 20 ms as published; in takes of the Groove MIDI Dataset 16 to 20, measured. Strokes
that stand together stay within 10 ms, half of the 19 to 24 ms from which listeners hear two in a groove; real players
stray more. The sizes, and all of level, are our choice: accents vary least, for they are meant.

A course is a line over sounded time. What an edit does elsewhere does not bend it, two stages share it, and strokes of
one instrument keep their order: at 300 half notes a minute it changes by two thirds of the time that passes at most. A
grace goes with its stroke. The numbers come from whole-number arithmetic alone, the same on every machine.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from typing import TYPE_CHECKING, NamedTuple

from ..errors import TimelineError
from ..model.kit import BY_NAME
from ..model.meter import QUARTER

if TYPE_CHECKING:
    from .unroll import Event

MOST_LOOSE = 100
MOST_SEED = 999_999
BARS, MOST_ROUNDS = 8, 8  # no two rounds are the same before so many bars, or so many rounds of a longer loop
USUAL_SEED = 1
TOGETHER = 10_000  # microseconds at 100 by which strokes of one place are apart at most

# Steps between knots in ticks, with how far up or down a knot lies: microseconds, or thousandths of the level's span.
_COMMON = tuple((QUARTER << k, 9_000) for k in range(5))
_OWN = ((QUARTER // 4, 3_000), (QUARTER, 2_000))
_LEVEL = ((QUARTER // 4, 500), (QUARTER, 250), (4 * QUARTER, 250))
_SPAN = {"ghost": 400, "soft": 400, "normal": 400, "accent": 200}  # hundredths of a decibel at 100, up or down
_WORD, _GOLDEN = (1 << 64) - 1, 0x9E3779B97F4A7C15


class Hand(NamedTuple):
    """How loose a hand is, 0 to 100, and which hand it is."""

    loose: int = 0
    seed: int = USUAL_SEED


def checked(hand: Hand) -> Hand:
    """Give a hand back; TimelineError for one that there is not."""
    if not 0 <= hand.loose <= MOST_LOOSE:
        raise TimelineError(f"a hand is 0, exactly as written, to {MOST_LOOSE} loose, not {hand.loose}", field="loose")
    if not 0 <= hand.seed <= MOST_SEED:
        raise TimelineError(f"a seed is a number from 0 to {MOST_SEED}, not {hand.seed}", field="seed")
    return hand


def rounds_of(loop: int, bar: int, clicks: int) -> int:
    """Say after how many rounds the hand begins again: for some bars' length, and even with the rounds of the clicks.

    >>> rounds_of(40320, 40320, 1), rounds_of(4 * 40320, 40320, 1), rounds_of(40320, 40320, 3)
    (8, 2, 9)
    """
    need = min(MOST_ROUNDS, -(-BARS * bar // loop))
    return -(-need // clicks) * clicks


def loosen(events: Sequence[Event], hand: Hand, loop: int, parts: int, rounds: int) -> list[Event]:
    """Lay the events of a loop out for so many rounds, each as a hand would play it; `loop` in 1/`parts` tick."""
    period = loop * rounds
    common = _course("time of all", _COMMON, period, parts, hand.seed)
    who = [BY_NAME[event.surface].instrument for event in events]
    own = {one: _course(f"time of {one}", _OWN, period, parts, hand.seed) for one in who}
    loud = {one: _course(f"level of {one}", _LEVEL, period, parts, hand.seed) for one in who}
    found: list[Event] = []
    for turn in range(rounds):
        number = turn if rounds > 1 else -1
        for event, one in zip(events, who, strict=True):
            at = turn * loop + event.at
            late = (_height(common, at) + _height(own[one], at)) * hand.loose // MOST_LOOSE
            span = 0 if event.stop else _SPAN[event.dynamic] * hand.loose
            gain = _height(loud[one], at) * span // (1000 * MOST_LOOSE) if span else 0
            found.append(event._replace(us=event.us + late, gain=gain, round=number))
    return found


class _Line(NamedTuple):
    """One random line: its knots `wide` apart, the last step `last`, and how high each knot lies, the first again at
    the end."""

    wide: int
    last: int
    knots: tuple[int, ...]


@lru_cache(maxsize=64)
def _course(name: str, lines: tuple[tuple[int, int], ...], period: int, parts: int, seed: int) -> tuple[_Line, ...]:
    """Draw the lines of a course. Each closes at the end of the period, where its last step is the longer one."""
    found = []
    for step, most in lines:
        wide = step * parts
        count = period // wide
        if count < 2:
            continue  # with a single knot nothing would change
        start = _start(name, seed, step)
        knots = [_mixed(start + number * _GOLDEN & _WORD) % (2 * most + 1) - most for number in range(count)]
        found.append(_Line(wide, period - (count - 1) * wide, (*knots, knots[0])))
    return tuple(found)


def _height(course: tuple[_Line, ...], at: int) -> int:
    """Say how high a course is at a place: whole numbers, straight from knot to knot."""
    height = 0
    for wide, last, knots in course:
        before = min(at // wide, len(knots) - 2)
        width = wide if before < len(knots) - 2 else last
        rest = at - before * wide
        height += (knots[before] * (width - rest) + knots[before + 1] * rest) // width
    return height


def _start(name: str, seed: int, step: int) -> int:
    """Where the chance of one line begins: numbers that look like chance, of 64 bits, by multiplying and shifting."""
    state = _mixed(seed << 32 | step)
    for byte in name.encode("utf-8"):
        state = _mixed(state ^ byte)
    return state


def _mixed(state: int) -> int:
    state = (state ^ state >> 30) * 0xBF58476D1CE4E5B9 & _WORD
    state = (state ^ state >> 27) * 0x94D049BB133111EB & _WORD
    return state ^ state >> 31
