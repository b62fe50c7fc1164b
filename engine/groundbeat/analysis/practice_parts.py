"""Which strokes of a beat are practised together, in which order, and around which counts?

Layers: the riding hand with the feet, the backbeats with them, the hands alone, ghosts that fall alone, ghosts that
fall on something, everything. A layer that has nothing to do is left out. The layers stand on each other, so that what
is known goes on sounding. Around the hardest spot, whole counted beats are looped and joined forwards: the spot, the
spot and the beat behind it, and one more. A part of a loop begins and ends inside the loop.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import NamedTuple

from ..model.beat import Beat, Stroke
from ..model.count import syllable
from ..model.kit import FEET_ONLY
from ..model.roles import Roles
from .limbs import LEAD, OTHER, Playing
from .saying import listing
from .spots import Spot
from .stroke_types import DOWN, FULL, stroke_types

RIDE, BACKBEAT, HANDS, ALONE, MET = "ride", "backbeat", "hands", "ghosts alone", "ghosts that meet"
GHOST = "ghost"
LISTED = 6  # places named one by one. Our choice
JOINED = 3  # parts that are joined forwards, after Ash and Holding 1990; three is our choice


class Layer(NamedTuple):
    """Some strokes that are practised together, by id in the order of the beat, with what to do and to listen for."""

    kind: str
    title: str
    do: str
    listen: str
    ids: tuple[str, ...]


def layers(playing: Playing, roles: Roles, backbeats: Iterable[str]) -> tuple[Layer, ...]:
    """Find the layers of a beat before the whole of it."""
    beat = playing.beat
    strokes = beat.strokes
    feet = [stroke for stroke in strokes if stroke.surface in FEET_ONLY]
    riding = [stroke for stroke in strokes if stroke.surface in roles.riding]
    followed = set(backbeats)
    back = [stroke for stroke in strokes if stroke.id in followed]
    ghosts = [stroke for stroke in strokes if stroke.dynamic == GHOST and stroke.surface not in FEET_ONLY]
    taken = {stroke.id for stroke in (*feet, *riding, *back)}
    ghosts = [stroke for stroke in ghosts if stroke.id not in taken]
    others: dict[int, int] = {}
    for stroke in strokes:
        others[stroke.at] = others.get(stroke.at, 0) + 1
    alone = [stroke for stroke in ghosts if others[stroke.at] == 1]
    met = [stroke for stroke in ghosts if others[stroke.at] > 1]
    found: list[Layer] = []
    if riding or feet:
        found.append(_ride(beat, riding, feet, strokes))
    if back:
        do = f"Add the backbeat: {_places(back, beat)}. Nothing else changes."
        listen = "The riding hand goes on as if nothing had come."
        found.append(Layer(BACKBEAT, "The backbeat", do, listen, _ids(strokes, riding, feet, back)))
    hands = _hands(playing)
    if hands is not None:
        found.append(hands)
    if alone:
        do = f"Add the ghosts that fall alone: {_places(alone, beat)}. Barely lift the stick."
        listen = "You should hear them only when they are missing."
        found.append(Layer(ALONE, "Ghosts that fall alone", do, listen, _ids(strokes, riding, feet, back, alone)))
    if met:
        do = f"Add the ghosts that fall together with something: {_places(met, beat)}."
        listen = "The other stroke keeps its level, the ghost stays low."
        ids = _ids(strokes, riding, feet, back, alone, met)
        found.append(Layer(MET, "Ghosts that meet another stroke", do, listen, ids))
    every = len(strokes)
    return tuple(layer for layer in found if len(layer.ids) < every or layer.kind in (ALONE, MET))


def _ride(beat: Beat, riding: Sequence[Stroke], feet: Sequence[Stroke], strokes: Sequence[Stroke]) -> Layer:
    pedal = any(stroke.surface not in ("kick", "second kick") for stroke in feet)
    foot = "feet" if pedal else "kick"
    title = f"Riding hand and {foot}" if riding and feet else "The riding hand" if riding else f"The {foot}"
    together = sorted({stroke.at for stroke in riding} & {stroke.at for stroke in feet})
    if riding and feet:
        do = f"The riding hand and the {foot}, nothing else."
        listen = (
            f"One sound, not two, where they meet: {_listed(together, beat)}."
            if together
            else "They never meet: an even way from one to the other."
        )
    else:
        do, listen = f"{title}, nothing else.", "Even spaces, even strokes."
    return Layer(RIDE, title, do, listen, _ids(strokes, riding, feet))


def _hands(playing: Playing) -> Layer | None:
    """The hands alone, where they have high and low strokes."""
    types = stroke_types(playing)
    high = {name for name, kind in types.items() if kind in (FULL, DOWN)}
    if not high or len(high) == len(types):
        return None
    said = []
    for limb in (LEAD, OTHER):
        own = [s for s in playing.beat.strokes if s.id in types and playing.limbs[s.id] == limb]
        row = [s for s in own if s.id in high]
        if own:
            where = (
                "all high" if len(row) == len(own) else f"high on {_places(row, playing.beat)}" if row else "all low"
            )
            said.append(f"{playing.player.limbs[limb]} {where}")
    do = f"Both hands without the feet, on a pad or on your knees: {'; '.join(said)}. What is not high is low."
    ids = tuple(stroke.id for stroke in playing.beat.strokes if stroke.id in types)
    return Layer(HANDS, "Hands alone: high and low strokes", do, "Two levels, and no level in between.", ids)


def _ids(strokes: Sequence[Stroke], *groups: Iterable[Stroke]) -> tuple[str, ...]:
    wanted = {stroke.id for group in groups for stroke in group}
    return tuple(stroke.id for stroke in strokes if stroke.id in wanted)


def _places(strokes: Iterable[Stroke], beat: Beat) -> str:
    return _listed(sorted({stroke.at for stroke in strokes}), beat)


def _listed(ticks: Sequence[int], beat: Beat) -> str:
    more = len(ticks) - LISTED
    return listing(ticks[:LISTED], beat) + (f" and {more} more" if more > 0 else "")


def reduced(beat: Beat) -> tuple[str, ...]:
    """The strokes of the reduced form, by id: all but the ghosts; () where there are none, or nothing else."""
    kept = tuple(stroke.id for stroke in beat.strokes if stroke.dynamic != GHOST)
    return kept if len(kept) < len(beat.strokes) else ()


def counted(beat: Beat) -> str:
    """What is counted aloud in a bar: "1 e & a 2 e & a"."""
    said = (syllable(at, beat.meter, beat.columns) for at in range(0, beat.meter.bar, beat.column))
    return " ".join(word for word in said if word)


def around(spot: Spot, beat: Beat) -> tuple[tuple[int, int] | None, ...]:
    """The parts of the loop around a spot, joined forwards, as (start, end) in ticks; None is the whole loop.

    Behind the last beat of the loop comes the first again: that join is the whole loop. A spot that itself goes over
    the end has only that.
    """
    starts = [
        bar * beat.meter.bar + (number - 1) * beat.meter.number
        for bar in range(beat.bars)
        for number in beat.meter.beats
    ]
    edges = [*starts[1:], beat.cycle]
    ticks = [stroke.at for stroke in beat.strokes if stroke.id in set(spot.ids)]
    if not ticks or min(ticks) < spot.at:
        return (None,)
    start = max(at for at in starts if at <= spot.at)
    first = next(index for index, edge in enumerate(edges) if edge > max(ticks))
    found: list[tuple[int, int] | None] = [(start, edge) for edge in edges[first : first + JOINED]]
    if found[-1] == (0, beat.cycle):
        found[-1] = None
    elif len(found) < JOINED:
        found.append(None)
    return tuple(found)
