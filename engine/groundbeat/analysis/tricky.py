"""What is tricky in a beat as it is played, whether it is new or not?

* **impossible**: no limb is left for something. **beyond**: a limb past its floor.
* **in a row**: one hand strikes again before that is comfortable, or within 200 ms at another dynamic.
* **one foot**, **hi-hat pedal**: a kick again, or a run of kicks, or the pedal, before that is comfortable.
* **reach**: a hand moves to another surface sooner than is comfortable for that way (176 ms for a neighbour, longer the
  farther it is; see `limits`).
* **in the way**: both hands on one drum, one after the other within 60 ms (what two hands in turn are comfortable
  with), or arms crossed at one moment otherwise than is usual, the leading hand on the hi-hat over the snare.
* **ghost under the kick**: a hand stroke that does not ride, two dynamics or more below the kick that it falls on.
* **hands together**: both hands at one moment, two dynamics or more apart; one apart only where it is new and off the
  beats, for a backbeat under the riding hand is what hands do everywhere.

60 ms: Groove MIDI Dataset, measured here (runs on hi-hat and snare). 200 ms and the comfort of hands and feet: see
`limits` and `cost`. What makes dynamics differ enough, and which crossing is usual, is our choice.

A find carries the keys of the single facts that make it up: limbs, strokes, distances, dynamics. It is new in a stage
where the stage before has not all of these facts.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import NamedTuple

from ..model.beat import Stroke
from ..model.kit import LOUDNESS
from ..model.roles import KICKS
from .cost import EASE, UNEVEN_MS
from .deeds import STROKE, Deed
from .limbs import INSIDE, KICK_FOOT, PEDAL, RUN, TRAVEL, Playing, Step
from .rows import Row, rows, strokes_of
from .words import impossible_places

IMPOSSIBLE, BEYOND, IN_A_ROW, ONE_FOOT, PEDAL_SOON = "impossible", "beyond", "in a row", "one foot", "hi-hat pedal"
REACH, IN_THE_WAY, GHOST_UNDER, TOGETHER = "reach", "in the way", "ghost under the kick", "hands together"
KINDS = (IMPOSSIBLE, BEYOND, IN_A_ROW, ONE_FOOT, PEDAL_SOON, REACH, IN_THE_WAY, GHOST_UNDER, TOGETHER)

ALTERNATING_MS = 60.0  # two hands in turn on one surface, comfortably [Groove MIDI Dataset, measured here]
APART = 2  # dynamics that make a difference which no backbeat has; our choice
_SLACK = 10  # cm; crossed by less is not crossed; our choice, as in `cost`

# What is told first: what cannot be, what is near a limit, what is unequal; our choice.
_CANNOT, _PAST, _NEAR, _CHANGES, _UNDER, _UNEQUAL, _SLIGHT = range(7)
_ACCENT = LOUDNESS["accent"]

Key = tuple[object, ...]


class Find(NamedTuple):
    """Something tricky: its kind, how soon it is told, the limb (-1: several), strokes in order, steps, and its keys.

    `figure` is the same for the same thing in another bar; `always` is told in every stage, `only_new` not in the base
    beat; `text` is given where it is known already.
    """

    kind: str
    rank: int
    limb: int
    strokes: tuple[Stroke, ...]
    steps: Row
    keys: frozenset[Key]
    figure: Key
    always: bool = False
    only_new: bool = False
    text: str = ""

    @property
    def at(self) -> int:
        """Its place in ticks."""
        return self.strokes[0].at

    @property
    def ids(self) -> tuple[str, ...]:
        """Its strokes, each once."""
        return tuple(dict.fromkeys(stroke.id for stroke in self.strokes))


def tricky(playing: Playing, riding: Iterable[str], same: Mapping[str, str] | None = None) -> list[Find]:
    """Find all that is tricky, in no particular order.

    `riding` are the surfaces of the riding hand; `same` gives for copied strokes the id of what they copy, under which
    they stand in the keys.
    """
    names = same or {}
    found = [
        _find(IMPOSSIBLE, _CANNOT, -1, here, (), playing, names, always=True)._replace(text=text)
        for here, text in impossible_places(playing)
    ]
    found += _from_steps(playing, names)
    found += _moments(playing, frozenset(riding), names)
    return found


def _find(
    kind: str,
    rank: int,
    limb: int,
    strokes: tuple[Stroke, ...],
    steps: Row,
    playing: Playing,
    same: Mapping[str, str],
    *,
    always: bool = False,
    only_new: bool = False,
) -> Find:
    if steps:
        keys = frozenset(_key(kind, step, playing, same) for step in steps)
    else:
        keys = frozenset({(kind, *((same.get(s.id, s.id), s.level) for s in strokes))})
    bar, start = playing.beat.meter.bar, strokes[0].at
    figure = (
        kind, limb, start % bar, tuple((s.surface, s.dynamic, s.grace, s.at - start) for s in strokes),
        tuple(round(step.gap, 1) for step in steps),
    )  # fmt: skip
    return Find(kind, rank, limb, strokes, steps, keys, figure, always, only_new)


def _key(kind: str, step: Step, playing: Playing, same: Mapping[str, str]) -> Key:
    ends = (step.before, step.after) if step.about != RUN else step.strokes
    levels = tuple(level_of(stroke, step.limb, playing) for stroke in ends)
    limb = -1 if kind == BEYOND else step.limb  # whoever has it
    return kind, limb, step.about == RUN, tuple(same.get(s.id, s.id) for s in ends), levels, round(step.gap, 1)


def level_of(stroke: Stroke, limb: int, playing: Playing) -> int:
    """How loud a limb is at a stroke: as quiet as can be where it plays the grace notes of the other hand's stroke."""
    return stroke.level if playing.limbs.get(stroke.id) == limb else 0


def _changes(step: Step, playing: Playing) -> bool:
    """Whether one hand changes its dynamic within 200 ms."""
    if step.limb >= KICK_FOOT or step.about == INSIDE or step.gap + EASE >= UNEVEN_MS:
        return False
    return level_of(step.before, step.limb, playing) != level_of(step.after, step.limb, playing)


def _kind_of(step: Step, playing: Playing) -> tuple[str, bool] | None:
    """The kind of a step, and whether it is near a limit; None where it is not tricky."""
    if not step.possible:
        return BEYOND, True
    if step.comfortable:
        return (IN_A_ROW, False) if _changes(step, playing) else None
    if step.about == TRAVEL:
        return REACH, True
    if step.about == PEDAL:
        return PEDAL_SOON, True
    return (ONE_FOOT if step.limb >= KICK_FOOT else IN_A_ROW), True


def _from_steps(playing: Playing, same: Mapping[str, str]) -> list[Find]:
    by_kind: dict[str, list[Step]] = {}
    near: set[int] = set()  # the steps themselves, by identity
    for step in playing.steps:
        named = _kind_of(step, playing)
        if named:
            by_kind.setdefault(named[0], []).append(step)
            if named[1]:
                near.add(id(step))
    found = []
    for kind, steps in by_kind.items():
        for row in rows(steps):
            past = kind == BEYOND
            rank = _PAST if past else _NEAR if any(id(step) in near for step in row) else _changing(row, playing)
            found.append(_find(kind, rank, row[0].limb, strokes_of(row), row, playing, same, always=past))
    return found


def _changing(row: Row, playing: Playing) -> int:
    """How soon a row is told that only changes dynamics: to or from an accent, or by two dynamics, before the rest."""
    for step in row:
        levels = [level_of(stroke, step.limb, playing) for stroke in (step.before, step.after)]
        if max(levels) == _ACCENT or abs(levels[0] - levels[1]) >= APART:
            return _CHANGES
    return _SLIGHT


def _moments(playing: Playing, riding: frozenset[str], same: Mapping[str, str]) -> list[Find]:
    """What falls together, or nearly."""
    hands = playing.rings[0].track
    kicks = {stroke.at: stroke for stroke in playing.beat.strokes if stroke.surface in KICKS}
    near = ALTERNATING_MS / playing.ms * hands.parts
    found: list[Find] = []
    last: list[tuple[int, Deed]] = []  # what the moment before had, by hand
    moments = [
        [(hand, hands.deeds[number]) for hand, number in enumerate((choice.first, choice.second)) if number >= 0]
        for choice in playing.chosen[0]
    ]
    for index, now in enumerate(moments):
        last = moments[index - 1]
        plain = [(hand, deed) for hand, deed in now if deed.kind == STROKE]
        for _, deed in plain:
            kick = kicks.get(deed.stroke.at)
            if kick and deed.stroke.surface not in riding and kick.level - deed.level >= APART:
                found.append(_find(GHOST_UNDER, _UNDER, -1, (deed.stroke, kick), (), playing, same))
        if len(plain) == 2:
            found += _together(plain[0][1], plain[1][1], playing, same)
        for hand, deed in plain:
            for other_hand, other in last:
                gap = (deed.at - other.at) % hands.loop
                both = other_hand != hand and other.kind == STROKE and other.instrument == deed.instrument
                if both and 0 < gap < near:
                    found.append(_find(IN_THE_WAY, _NEAR, -1, (other.stroke, deed.stroke), (), playing, same))
    return found


def _together(one: Deed, two: Deed, playing: Playing, same: Mapping[str, str]) -> list[Find]:
    """Both hands at one moment: crossed, or at different dynamics; `one` is the leading hand's."""
    found = []
    usual = one.instrument == "hi-hat" and two.instrument == "snare"
    strokes = (one.stroke, two.stroke)
    if one.seat[0] + _SLACK < two.seat[0] and not usual:
        found.append(_find(IN_THE_WAY, _NEAR, -1, strokes, (), playing, same))
    apart = abs(one.level - two.level)
    if apart >= APART:
        found.append(_find(TOGETHER, _UNEQUAL, -1, strokes, (), playing, same))
    elif apart and not _on_a_beat(one.stroke, playing):
        found.append(_find(TOGETHER, _SLIGHT, -1, strokes, (), playing, same, only_new=True))
    return found


def _on_a_beat(stroke: Stroke, playing: Playing) -> bool:
    meter = playing.beat.meter
    number, rest = divmod(stroke.at % meter.bar, meter.number)
    return rest == 0 and number + 1 in meter.beats
