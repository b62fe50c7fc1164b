"""When does every stroke of a stage sound?

Sounded places are whole numbers of 1/`parts` tick from the start of the cycle, so that swing stays exact. A fixed
offset in microseconds carries what does not scale with the tempo: pushes, and how far graces lie before their stroke.
One frame is round(start + (pass * loop + at) * rate * 60 / (tempo * unit * parts)) + round(us * rate / 1e6), with the
loop unrounded.

Beside the stage stand the strokes of the base beat, each event in a layer: "base" only there, "stage" only here,
"both" the same in both. So the page can fade from one to the other without comparing beats itself.

Graces: flams are 20 to 60 ms wide as played; 30 ms for a flam, 35 ms apart for drag and ruff, are our choice, and so
are the buzz (six strokes, 28 ms apart) and the 150 ms after which a choked stroke is stopped.

A stage can be laid out as a hand would play it, some rounds one after the other: see hand.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from math import gcd, lcm
from typing import TYPE_CHECKING, NamedTuple

from ..errors import TimelineError
from ..model.beat import Stroke
from ..model.feel import Feel
from ..model.groove import Groove
from ..variation.stack import Stage
from .clicks import BEATS, Click, Count, count_in, lay_clicks, sounded
from .hand import USUAL_SEED, Hand, checked, loosen, rounds_of
from .part import ALL, BASE, BOTH, STAGE, Play, choose, only

if TYPE_CHECKING:
    from ..analysis.limbs import Playing

__all__ = ["BASE", "BOTH", "STAGE", "Event", "Timeline", "unroll"]


_LEADS = {"flam": (-30_000,), "drag": (-70_000, -35_000), "ruff": (-105_000, -70_000, -35_000)}
_BUZZ = tuple(28_000 * step for step in range(1, 6))
_CHOKE = 150_000


class Event(NamedTuple):
    """One sound: sounded place, offset in microseconds, what and how loud, whose it is, and in which layer; `gain` is
    hundredths of a decibel more or less than usual, `round` the one in which it sounds, -1 for each."""

    at: int
    us: int
    surface: str
    dynamic: str
    id: str
    layer: str
    added: bool
    grace: bool
    stop: bool
    gain: int = 0
    round: int = -1


class Timeline(NamedTuple):
    """All sounds of one pass; `start`, `loop` and places in 1/`parts` tick. Places count from the start of the loop,
    which lies `start` behind the start of the cycle. The clicks are those of `rounds` passes, one after the other, and
    an event may belong to one of them; `count_in` sounds once before the first."""

    start: int
    loop: int
    parts: int
    events: tuple[Event, ...]
    clicks: tuple[Click, ...]
    rounds: int = 1
    count_in: Count | None = None


def unroll(
    groove: Groove,
    stages: tuple[Stage, ...],
    number: int,
    start: int = 0,
    end: int = 0,
    clicks: str = BEATS,
    bars_before: int = 0,
    *,
    part: str = ALL,
    play: Play | None = None,
    loose: int = 0,
    seed: int = USUAL_SEED,
) -> Timeline:
    """Lay out one pass of a stage beside the base beat, or the part of it from tick `start` to before tick `end`.

    `clicks` is one of clicks.KINDS, `bars_before` the bars of the count-in, `part` one of part.PARTS: what is heard.
    `play` tells how a stage is played, where that is asked; else the usual player plays it. With `loose` (0 to 100) it
    is as the hand `seed` would play it. Raises TimelineError where there is no such stage, part, click, count-in or
    hand.
    """
    hand = checked(Hand(loose, seed))
    if not 0 <= number < len(stages):
        raise TimelineError(f"there are stages 0 to {len(stages) - 1}, not {number}", field="stage")
    base, beat = stages[0].beat, stages[number].beat
    feel = stages[number].feel
    parts = lcm(_parts(stages[0].feel), _parts(feel))
    heard = choose(part, stages[number], stages[0], play or (lambda stage: _usual(groove, stage)))
    events = sorted(
        (
            event
            for stroke, layer, same in _layers(stages[0], stages[number], parts)
            for event in only(
                heard,
                stroke,
                same,
                _events(stroke, layer, base.column, beat.cycle, stages[0].feel, parts)
                if layer == BASE
                else _events(stroke, layer, beat.column, beat.cycle, feel, parts),
            )
        ),
        key=lambda event: (event.at, event.us),
    )
    if start or end:
        if not 0 <= start < end <= beat.cycle:
            raise TimelineError(
                f"a part goes from a tick to a later one, from 0 to {beat.cycle}, not from {start} to {end}",
                field="start",
            )
        first = sounded(start, feel, parts)
        last = beat.cycle * parts if end == beat.cycle else sounded(end, feel, parts)
        events = [event._replace(at=event.at - first) for event in events if first <= event.at < last]
    else:
        first, last = 0, beat.cycle * parts
    rounds, laid = lay_clicks(beat, feel, parts, clicks, (first, last))
    before = count_in(beat, feel, parts, bars_before, start)
    if loose:
        loop, again = last - first, rounds
        rounds = rounds_of(loop, beat.meter.bar * parts, again)
        laid = tuple(click._replace(at=click.at + turn * loop) for turn in range(0, rounds, again) for click in laid)
        events = loosen(events, hand, loop, parts, rounds)
    return Timeline(first, last - first, parts, tuple(events), laid, rounds, before)


def _usual(groove: Groove, stage: Stage) -> Playing:
    from ..analysis.limbs import play  # in a zip of its own in the browser, and most timelines need it not

    return play(groove, stage)


def _parts(feel: Feel) -> int:
    if not feel.swung or feel.long == feel.short:
        return 1
    return (feel.long + feel.short) // gcd(feel.long, feel.short)


def _layers(base: Stage, stage: Stage, parts: int) -> Iterable[tuple[Stroke, str, Stroke]]:
    """Lay the base beat beside a stage, repeated as often as it fits; where it does not come out even it is silent.

    Strokes are the same where they sound the same: on a beat that may be so in another feel too, and sounding twice it
    would be louder than in each of the two. Tells a stroke, its layer, and the stroke of the base beat that it is.
    """
    beat, cycle = stage.beat, stage.beat.cycle
    rounds, rest = divmod(cycle, base.beat.cycle)
    repeated = list(base.beat.strokes)
    if rest:
        repeated = []
    elif rounds > 1:
        repeated = [
            replace(stroke, at=stroke.at + turn * base.beat.cycle)
            for turn in range(rounds)
            for stroke in base.beat.strokes
        ]

    def sound(stroke: Stroke, of: Stage) -> tuple[object, ...]:
        feel = of.feel
        at = sounded(stroke.at, feel, parts)
        second = _second(stroke, of.beat.column, cycle, feel, parts) if stroke.grace == "diddle" else 0
        return at, feel.push(stroke.surface), stroke.surface, stroke.dynamic, stroke.grace, second

    before = {sound(stroke, base): stroke for stroke in repeated}
    for stroke in beat.strokes:
        same = before.pop(sound(stroke, stage), None)
        yield (stroke, STAGE, stroke) if same is None else (stroke, BOTH, same)
    for stroke in before.values():
        yield stroke, BASE, stroke


def _second(stroke: Stroke, column: int, cycle: int, feel: Feel, parts: int) -> int:
    """The second half of a diddle, half a column later."""
    return sounded(min(stroke.at + column // 2, cycle - 1), feel, parts)


def _events(stroke: Stroke, layer: str, column: int, cycle: int, feel: Feel, parts: int) -> Iterable[Event]:
    at = sounded(stroke.at, feel, parts)
    us = feel.push(stroke.surface) * 1000
    added = stroke.origin != 0

    def event(offset: int, dynamic: str, *, grace: bool = False, stop: bool = False, place: int = at) -> Event:
        return Event(place, us + offset, stroke.surface, dynamic, stroke.id, layer, added, grace, stop)

    yield event(0, stroke.dynamic)
    quiet = "soft" if stroke.dynamic == "accent" else "ghost"
    for lead in _LEADS.get(stroke.grace, ()):
        yield event(lead, quiet, grace=True)
    if stroke.grace == "buzz":
        for lag in _BUZZ:
            yield event(lag, quiet, grace=True)
    elif stroke.grace == "diddle":
        half = _second(stroke, column, cycle, feel, parts)
        yield event(0, stroke.dynamic, grace=True, place=half)
    elif stroke.grace == "choke":
        yield event(_CHOKE, stroke.dynamic, stop=True)
