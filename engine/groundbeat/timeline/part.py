"""Which sounds of a stage are heard where only a part of it is to be heard?

Hands and feet are told apart by what is struck; a single limb by who plays what at the goal's tempo. Grace notes of a
flam or drag are played by the other limb, and of a four-stroke ruff the first and the last; so where one limb is heard
they are heard with that one. What no limb is left for is heard with none. A stop goes with its stroke.

"added here" is what the stage itself brought; of the base beat that is all of it. It sounds wherever the slider between
base beat and stage stands. A stroke that both beats have may be played by another limb in each of them: then it is in
the layer of the one in which the chosen limb plays it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from typing import TYPE_CHECKING, NamedTuple

from ..errors import TimelineError
from ..model.beat import Stroke
from ..model.kit import BY_NAME, FOOT
from ..variation.stack import Stage

if TYPE_CHECKING:
    from ..analysis.limbs import Playing
    from .unroll import Event

ALL, HANDS, FEET, ADDED_HERE = "", "hands", "feet", "added here"
LIMBS = ("right hand", "left hand", "right foot", "left foot")
PARTS = (ALL, HANDS, FEET, *LIMBS, ADDED_HERE)
BASE, STAGE, BOTH = "base", "stage", "both"
_BY_THE_OTHER = {"flam": (1,), "drag": (1, 2), "ruff": (1, 3)}  # which sounds of a stroke; 0 is the stroke itself

Play = Callable[[Stage], "Playing"]
Heard = Callable[[Stroke, Stroke, int, "Event"], "Event | None"]


class _Hands(NamedTuple):
    """Which limb plays each stroke of a beat, and its grace notes, in words."""

    strokes: Mapping[str, str]
    graces: Mapping[str, str]

    def plays(self, limb: str, stroke: Stroke, sound: int) -> bool:
        """Tell whether a limb plays one of the sounds of a stroke, in the order in which they are laid out."""
        other = sound in _BY_THE_OTHER.get(stroke.grace, ())
        return (self.graces if other else self.strokes).get(stroke.id) == limb


def part_named(text: str) -> str:
    """Read the name of a part, written as a person may; TimelineError for another.

    >>> part_named("Right-Hand"), part_named("all")
    ('right hand', '')
    """
    part = " ".join(text.lower().replace("-", " ").split())
    if part not in PARTS and part != "all":
        raise TimelineError(f'there is no "{text[:40]}" to hear alone; there are {", ".join(PARTS[1:])}', field="part")
    return ALL if part == "all" else part


def choose(part: str, stage: Stage, base: Stage, play: Play) -> Heard:
    """Give what tells of a sound as what it is heard: None for not at all. Asked are the stroke, the one of the base
    beat that it is, which of its sounds, and the sound.

    `play` is asked only where one limb is chosen. TimelineError for a part that there is not.
    """
    if part not in PARTS:
        raise TimelineError(f'there is no part "{part[:40]}"; there are {", ".join(PARTS[1:])}', field="part")
    if part == ALL:
        return lambda stroke, same, sound, event: event
    if part == ADDED_HERE:
        key = stage.key

        def added(stroke: Stroke, same: Stroke, sound: int, event: Event) -> Event | None:
            return event._replace(layer=BOTH) if stroke.origin == key and event.layer != BASE else None

        return added
    if part in (HANDS, FEET):
        feet = part == FEET
        return lambda stroke, same, sound, event: event if (BY_NAME[stroke.surface].limb == FOOT) == feet else None
    return _limb(part, _hands(play(stage)), _hands(play(base)))


def _limb(limb: str, now: _Hands, before: _Hands) -> Heard:
    def heard(stroke: Stroke, same: Stroke, sound: int, event: Event) -> Event | None:
        if event.layer == BASE:
            return event if before.plays(limb, stroke, sound) else None
        here = now.plays(limb, stroke, sound)
        if event.layer == STAGE:
            return event if here else None
        if not before.plays(limb, same, sound):
            return event._replace(layer=STAGE) if here else None
        return event if here else event._replace(layer=BASE, id=same.id)

    return heard


def _hands(playing: Playing) -> _Hands:
    names = playing.player.limbs

    def told(limbs: Mapping[str, int]) -> dict[str, str]:
        return {name: names[limb] for name, limb in limbs.items()}

    return _Hands(told(playing.limbs), told(playing.graces))


def only(heard: Heard, stroke: Stroke, same: Stroke, events: Iterable[Event]) -> Iterable[Event]:
    """Give those sounds of a stroke that are heard, as what they are heard."""
    for sound, event in enumerate(events):
        found = heard(stroke, same, sound, event)
        if found is not None:
            yield found
