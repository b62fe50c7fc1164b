"""Which strokes sound on which frames when timelines are played to the end, and with which voices?

Parts are played one after the other, each so many passes, exactly as the page's audio thread does it: a pass starts
where the one before ends, unrounded; an event sounds on round(start + at) + round(us), ties up; the alternates of a
surface and dynamic take turns, also while nobody hears them. Strokes in a layer that is silent sound not and choke not.
Frame 0 is the start of the first pass, or of the earliest grace before it.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable, Sequence
from fractions import Fraction
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from ..errors import TimelineError
from ..model.groove import MAX_TEMPO, MIN_TEMPO
from ..timeline.clicks import QUIET
from ..timeline.unroll import BASE, STAGE, Timeline
from . import render
from .mix import Hit, Voices
from .modes import RATE
from .place import pan
from .setups import DRY, Setup

CLICK = "click"  # a surface of its own, as in the page: its strong voice is its accent, its weak one its ghost
STRONG, WEAK = "accent", "ghost"
Voice = tuple[str, str, int]


class Part(NamedTuple):
    """A timeline and how often it is played; `counts`: its clicks are heard whatever the click is set to."""

    timeline: Timeline
    passes: int
    counts: bool = False


class Heard(NamedTuple):
    """What is heard: `mix` 0 the base beat to 1 the stage, only what was added, loudness of the click 0 to 1."""

    mix: float = 1.0
    only_added: bool = False
    click: float = 0.0


class Laid(NamedTuple):
    """Strokes on their frames; the frame where the first pass starts, and where each part ends, unrounded."""

    hits: tuple[Hit, ...]
    start: int
    ends: tuple[Fraction, ...]


def count_in(timeline: Timeline) -> list[Part]:
    """Make a part of what is counted before a timeline, none where nothing is."""
    if timeline.count_in is None:
        return []
    loop, clicks = timeline.count_in
    return [Part(Timeline(0, loop, timeline.parts, (), clicks), 1, counts=True)]


def frames_a_tick(tempo: int, unit: int, parts: int, rate: int = RATE) -> Fraction:
    """Tell how many frames 1/parts of a tick lasts; tempo in hundredths of a beat a minute, unit in ticks."""
    if not MIN_TEMPO <= tempo <= MAX_TEMPO:
        raise TimelineError(
            f"a tempo is {MIN_TEMPO // 100} to {MAX_TEMPO // 100} beats a minute, not {tempo / 100:g}", field="tempo"
        )
    return Fraction(rate * 6000, tempo * unit * parts)


def lay(parts: Sequence[Part], tempo: int, unit: int, heard: Heard, rate: int = RATE, rewind: int = 0) -> Laid:
    """Put every stroke on its frame.

    `tempo` is in hundredths, `unit` are the ticks of its beat. With `rewind` the alternates, and the rounds of a
    part, begin again after so many passes. Raises TimelineError for a tempo that no groove can have.
    """
    found: list[tuple[int, int, int, Hit]] = []  # frame, number of the pass, place in it
    edge = Fraction(0)
    ends: list[Fraction] = []
    number = 0
    turn, rounds = 0, 1  # clicks go on over a change of timelines, unless what comes has another number of rounds
    for part in parts:
        scale = frames_a_tick(tempo, unit, part.timeline.parts, rate)
        rows = [_row(part, heard, scale, rate, one) for one in range(part.timeline.rounds)]
        if part.timeline.rounds != rounds:
            turn, rounds = 0, part.timeline.rounds
        for _ in range(part.passes):
            row = rows[(turn % rewind if rewind else turn) % rounds]
            turn += 1
            found += [(nearest(edge + time) + late, number, place, hit) for place, (time, late, hit) in enumerate(row)]
            number += 1
            edge += part.timeline.loop * scale
        ends.append(edge)
    found.sort(key=lambda one: one[:3])
    start = max(0, -found[0][0]) if found else 0
    turns: defaultdict[tuple[str, str], int] = defaultdict(int)
    hits: list[Hit] = []
    block = 0
    for frame, at, _, hit in found:
        if rewind and at // rewind > block:
            block = at // rewind
            turns.clear()
        turn = turns[hit.surface, hit.dynamic]
        if not hit.stop:
            turns[hit.surface, hit.dynamic] = (turn + 1) % _alternates(hit.surface)
        if hit.gain:
            hits.append(hit._replace(frame=frame + start, alternate=turn))
    return Laid(tuple(hits), start, tuple(end + start for end in ends))


def _row(part: Part, heard: Heard, scale: Fraction, rate: int, turn: int) -> list[tuple[Fraction, int, Hit]]:
    """All events of a pass in the order of sounding: frames from its start, frames by `us`, and the stroke.

    Clicks, and strokes of a hand, may differ from round to round: `turn` says which of them it is.
    """
    timeline = part.timeline
    layers = dict(zip((BASE, STAGE), shares(heard.mix), strict=True))
    row: list[tuple[Fraction, int, Hit]] = []
    for event in timeline.events:
        if event.round not in (-1, turn):
            continue
        gain = float(event.added) if heard.only_added else layers.get(event.layer, 1.0)
        gain = float(np.float32(gain)) * level(event.gain)
        hit = Hit(0, event.surface, event.dynamic, 0, gain, pan(event.surface), event.stop)
        row.append((event.at * scale, nearest(Fraction(event.us * rate, 1_000_000)), hit))
    loudness = float(np.float32(1.0 if part.counts else heard.click))
    for click in timeline.clicks:
        when, at = divmod(click.at, timeline.loop) if timeline.rounds > 1 else (turn, click.at)
        if when == turn:
            gain = loudness * (float(np.float32(QUIET)) if click.quiet else 1.0)
            row.append((at * scale, 0, Hit(0, CLICK, STRONG if click.strong else WEAK, 0, gain)))
    return sorted(row, key=lambda one: (one[0].numerator // one[0].denominator + one[1], one[0] % 1))


def shares(mix: float) -> tuple[float, float]:
    """The gains of what is only in the base beat and only in the stage; web/audio/balance.js has the same.

    Their powers add up to one, so that the middle of the slider is as loud as its ends.

    >>> shares(0.0), shares(0.25), shares(1.0)
    ((1.0, 0.0), (0.9185586535436918, 0.39528470752104744), (0.0, 1.0))
    """
    share = mix * mix * (3 - 2 * mix)
    return math.sqrt(1 - share), math.sqrt(share)


def level(hundredths: int) -> float:
    """How strong a sound is that is so many hundredths of a decibel louder; rounded as the page rounds it.

    >>> level(0), round(level(-602), 3)
    (1.0, 0.5)
    """
    return float(np.float32(10 ** (hundredths / 2000)))


def nearest(frames: Fraction) -> int:
    """The nearest whole frame, ties up.

    >>> nearest(Fraction(5, 2)), nearest(Fraction(-5, 2))
    (3, -2)
    """
    return (2 * frames.numerator + frames.denominator) // (2 * frames.denominator)


def _alternates(surface: str) -> int:
    return 1 if surface == CLICK else render.VOICES[surface].alternates


def voices_for(
    hits: Iterable[Hit], known: dict[Voice, NDArray[np.float32]] | None = None, setup: Setup = DRY
) -> Voices:
    """Render the voices that strokes need, as they are before any coding; `known` is added to, and given back."""
    voices = {} if known is None else known
    for hit in hits:
        name = hit.surface, hit.dynamic, hit.alternate
        if hit.stop or name in voices:
            continue
        voices[name] = render.click(hit.dynamic == STRONG) if hit.surface == CLICK else render.voice(*name, setup)
    return voices
