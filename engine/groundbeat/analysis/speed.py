"""How near is a beat, at a tempo, to what limbs can do?

Measured against two tempos: the fastest at which everything is comfortable, and the fastest at which nothing is beyond
a floor, each with the sticking that serves it best. So leaving a stroke out never lowers them: every sticking of the
fuller beat, less that stroke, serves the rest, with longer gaps. One thing would break that and is left
out of this part: what the hi-hat foot does only to hold the hi-hats closed or open. A foot without kicks has to hold
them, one with kicks may let them ring.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

from ..model.count import spoken_at
from ..model.groove import MAX_TEMPO
from ..model.meter import WHOLE
from .assign import solve
from .deeds import HOLD, OPEN
from .limbs import Playing, Step, ms_a_part, rings_of
from .ring import Ring
from .tempo import Tempo, comfortable, fastest

# 50 is the comfortable tempo, 100 the fastest; straight lines below and between. Our choice.
AT_COMFORT, AT_FLOOR = 50, 100


class Speed(NamedTuple):
    """The comfortable and the fastest tempo in hundredths of the tempo's unit (None: nobody can play it), as a number
    from 0 to 100 and in words."""

    comfortable: int | None
    fastest: int | None
    value: int
    text: str


def speed(playing: Playing, known: tuple[Tempo, Tempo] | None = None) -> Speed:
    """Say how near a beat is to its limits at its tempo; `known` is its comfortable and fastest tempo, if looked up."""
    if not playing.beat.strokes:
        return Speed(None, None, 0, "nothing to play")
    if not playing.possible:
        return Speed(None, None, AT_FLOOR, "nobody has the limbs for it, at any tempo")
    easy, most = (
        _tempo(playing, search, known[which] if known else None) for which, search in enumerate((comfortable, fastest))
    )
    tempo = playing.tempo * playing.unit  # a tempo counted in ticks, so that no division comes between
    if tempo <= easy.ticks:
        value = AT_COMFORT * tempo // easy.ticks
    elif tempo <= most.ticks and most.ticks > easy.ticks:
        value = AT_COMFORT + (AT_FLOOR - AT_COMFORT) * (tempo - easy.ticks) // (most.ticks - easy.ticks)
    else:
        value = AT_FLOOR
    at_ease, at_most = easy.ticks // playing.unit, max(easy.ticks, most.ticks) // playing.unit
    return Speed(at_ease, at_most, value, _words(playing, easy, at_ease, at_most))


class _Found(NamedTuple):
    ticks: int  # a tempo: hundredths a minute, times ticks
    steps: tuple[Step, ...]


def _tempo(playing: Playing, search: Callable[[Playing], Tempo], known: Tempo | None) -> _Found:
    """The tempo that a search finds, also beyond what a groove can have; 0 where none is slow enough."""
    if any(deed.kind in (HOLD, OPEN) for deed in playing.rings[1].track.deeds):
        ring = _unheld(playing)
        chosen = solve(ring, ms_a_part(playing.tempo, playing.unit, ring.track)).choices
        playing = playing._replace(rings=(playing.rings[0], ring), chosen=(playing.chosen[0], chosen))
        known = None
    found = known or search(playing)
    if found.bpm is None:
        return _Found(0, ())
    if found.steps:
        return _Found(found.playing.tempo * playing.unit, found.steps)
    found = search(playing._replace(unit=WHOLE))  # the limit of a groove's tempo lies far off when whole notes count
    return _Found(found.playing.tempo * WHOLE, found.steps)


def _unheld(playing: Playing) -> Ring:
    """The feet without what they do to hold or open the hi-hats, as with a drop clutch."""
    return rings_of(playing.beat, playing.feel, (), playing.player._replace(clutch=True))[1]


def _words(playing: Playing, easy: _Found, at_ease: int, at_most: int) -> str:
    tempo = playing.tempo
    if at_ease >= MAX_TEMPO:
        return "far from any limit"
    words = f"comfortable up to {at_ease // 100}" if at_ease >= 100 else "comfortable at no tempo"
    if at_most < 100:
        return "closer together than any limb can play, at any tempo"
    if tempo > at_most:
        words = f"at most {at_most // 100}, and this is faster"
    elif tempo > at_ease:
        words += f", at most {at_most // 100}"
    if easy.steps:
        step = easy.steps[0]
        limb = playing.player.limbs[step.limb]
        before, after = (
            spoken_at(stroke.at, playing.beat.meter, playing.beat.bars) for stroke in (step.before, step.after)
        )
        words += f"; first of all the {limb}, {before}" + ("" if step.before is step.after else f" to {after}")
    return words
