"""What does a hand on the page mean: a tap on a line, a stroke that is shaped, a stroke that is dragged?

On the base beat a gesture edits the base beat. At a later stage it writes the variation that says it: a drag sideways
a displace, to another line an orchestrate, single strokes collect in a touch-up. The variation comes right after the
stage; dragging again what that stage moved changes its amount. Every function gives the new groove and the stage to
be chosen, and leaves the old groove as it was.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any, NamedTuple

from ..errors import VariationError
from ..model.beat import Beat, Stroke, base_beat
from ..model.count import spoken_at
from ..model.groove import Groove, Variation
from ..model.kit import BY_NAME
from ..model.place import place_text
from . import stack
from .naming import place_in, words_for
from .notes import amount_text, read_amount
from .stack import Stage
from .touch import Touch, read_touch, touch_text

TOUCH_UP, DISPLACE, ORCHESTRATE = "touch-up", "displace", "orchestrate"


class Done(NamedTuple):
    """What a gesture made: the new groove, and the number of the stage to be chosen."""

    groove: Groove
    select: int


def tap(groove: Groove, stages: Sequence[Stage], number: int, surface: str, at: int) -> Done:
    """Add a stroke on a line, or take the one out that stands there."""
    stage = _stage(stages, number, at)
    there = _find(stage.beat, surface, at)
    rival = _rival(stage.beat, surface, at)
    if number == 0:
        strokes = [stroke for stroke in stage.beat.strokes if stroke is not there and stroke is not rival]
        return Done(_with_base(groove, strokes if there else [*strokes, Stroke(at, surface)]), 0)
    place = place_text(place_in(stage.beat, at))
    changes = _own_changes(stage)
    sign = "-" if there else "+"
    undone = [text for text in changes if not _is(text, "+" if there else "-", surface, place)]
    if len(undone) == len(changes):
        undone += [f"- {rival.surface} {place}"] if rival and not there else []
        undone.append(f"{sign} {surface} {place}")
    return _touch_up(groove, stage, undone)


def shape(groove: Groove, stages: Sequence[Stage], number: int, surface: str, at: int, how: dict[str, Any]) -> Done:
    """Change the dynamic, grace or hand of a stroke; `how` names those that change."""
    stage = _stage(stages, number, at)
    there = _find(stage.beat, surface, at)
    if there is None:
        raise VariationError(f"there is no {surface} at {_said(stage.beat, at)} to change", field="at")
    if number == 0:
        strokes = [replace(stroke, **how) if stroke is there else stroke for stroke in stage.beat.strokes]
        return Done(_with_base(groove, strokes), 0)
    place = place_text(place_in(stage.beat, at))
    changes = _own_changes(stage)
    for index, text in enumerate(changes):
        if _is(text, "+", surface, place) or _is(text, "=", surface, place):
            changed = read_touch(text)._replace(**how)
            return _touch_up(groove, stage, [*changes[:index], touch_text(changed), *changes[index + 1 :]])
    new = Touch("=", surface, place_in(stage.beat, at), how.get("dynamic"), how.get("grace"), how.get("hand"))
    return _touch_up(groove, stage, [*changes, touch_text(new)])


def drag(
    groove: Groove, stages: Sequence[Stage], number: int, surface: str, at: int, to_surface: str, to_at: int
) -> Done:
    """Move a stroke to another place, another line, or both.

    `to_at` may lie up to a cycle before the beginning or past the end: then the stroke crosses the loop.
    """
    stage = _stage(stages, number, at)
    stroke = _find(stage.beat, surface, at)
    if stroke is None:
        raise VariationError(f"there is no {surface} at {_said(stage.beat, at)} to drag", field="at")
    cycle = stage.beat.cycle
    if not -cycle <= to_at < 2 * cycle:
        raise VariationError("that is more than one round away; drop the stroke nearer", field="to_at")
    if number == 0:
        return _drag_base(groove, stage.beat, stroke, to_surface, to_at % cycle)
    done = Done(groove, number)
    if to_at != at:
        done = _displace(done.groove, stages, number, stroke, to_at - at)
    if to_surface != surface:
        grown = stack.grow(done.groove, (groove, stages))
        moved = _by_id(grown[done.select].beat, stroke.id)
        if moved is None:
            raise VariationError(
                f"the {surface} merged with another stroke there; drop it on a free place", field="to_at"
            )
        done = _orchestrate(done.groove, grown, done.select, moved, to_surface)
    return done


def _drag_base(groove: Groove, beat: Beat, stroke: Stroke, surface: str, at: int) -> Done:
    rest = [other for other in beat.strokes if other is not stroke]
    taken = next((s for s in rest if s.at == at and s.instrument == BY_NAME[surface].instrument), None)
    if taken:
        raise VariationError(
            f"the {taken.surface} already sounds at {_said(beat, at)}; drop the stroke on a free place", field="to_at"
        )
    hand = stroke.hand if BY_NAME[surface].limb == "hand" else ""
    return Done(_with_base(groove, [*rest, replace(stroke, surface=surface, at=at, hand=hand)]), 0)


def _displace(groove: Groove, stages: Sequence[Stage], number: int, stroke: Stroke, by: int) -> Done:
    stage = stages[number]
    variation = stage.variation
    if variation and variation.kind == DISPLACE:
        moved = [move.id for move in stage.change.moved]
        amount = read_amount(str(dict(variation.settings)["by"]))
        if stroke.id in moved:
            if amount + by == 0:
                return Done(stack.remove(groove, variation.key), number - 1)
            return Done(stack.edit(groove, variation.key, {"by": amount_text(amount + by)}), number)
        together = words_for(stages[number - 1], [*moved, stroke.id], groove.roles) if amount == by else None
        if together:
            return Done(stack.edit(groove, variation.key, dict(zip(("surface", "at"), together, strict=True))), number)
    surface, at = _words_for(groove, stage, stroke)
    return _insert(groove, stage, DISPLACE, {"surface": surface, "at": at, "by": amount_text(by)})


def _orchestrate(groove: Groove, stages: Sequence[Stage], number: int, stroke: Stroke, to: str) -> Done:
    stage = stages[number]
    variation = stage.variation
    if variation and variation.kind == ORCHESTRATE and set(dict(variation.settings)) <= {"surface", "at", "to"}:
        given = dict(variation.settings)
        altered = list(stage.change.altered)
        if stroke.id in altered and stroke.surface == given["to"]:
            return Done(stack.edit(groove, variation.key, {"to": to}), number)
        together = words_for(stages[number - 1], [*altered, stroke.id], groove.roles) if to == given["to"] else None
        if together:
            return Done(stack.edit(groove, variation.key, dict(zip(("surface", "at"), together, strict=True))), number)
    surface, at = _words_for(groove, stage, stroke)
    return _insert(groove, stage, ORCHESTRATE, {"surface": surface, "at": at, "to": to})


def _insert(groove: Groove, stage: Stage, kind: str, settings: dict[str, Any]) -> Done:
    return Done(stack.add(groove, kind, settings, after=stage.key), stage.number + 1)


def _words_for(groove: Groove, stage: Stage, stroke: Stroke) -> tuple[str, str]:
    """Say one stroke as a drummer would: a backbeat by its name, any other by surface and place."""
    return words_for(stage, [stroke.id], groove.roles) or (stroke.surface, place_text(place_in(stage.beat, stroke.at)))


def _touch_up(groove: Groove, stage: Stage, changes: list[str]) -> Done:
    variation = stage.variation
    if variation is None or variation.kind != TOUCH_UP:
        return _insert(groove, stage, TOUCH_UP, {"changes": changes})
    if not changes:
        return Done(stack.remove(groove, variation.key), stage.number - 1)
    return Done(stack.edit(groove, variation.key, {"changes": changes}), stage.number)


def _own_changes(stage: Stage) -> list[str]:
    variation: Variation | None = stage.variation
    if variation is None or variation.kind != TOUCH_UP:
        return []
    changes = dict(variation.settings).get("changes", ())
    return [str(text) for text in changes] if isinstance(changes, tuple) else []


def _is(text: str, sign: str, surface: str, place: str) -> bool:
    touch = read_touch(text)
    return (touch.sign, touch.surface, place_text(touch.place)) == (sign, surface, place)


def _stage(stages: Sequence[Stage], number: int, at: int) -> Stage:
    if not 0 <= number < len(stages):
        raise VariationError(f"there are stages 0 to {len(stages) - 1}, not {number}", field="stage")
    stage = stages[number]
    if not 0 <= at < stage.beat.cycle:
        raise VariationError("that is beyond the end of the beat", field="at")
    if stage.variation is not None and not stage.variation.on:
        raise VariationError("this variation is off; switch it on to change its stage", field="stage")
    return stage


def _said(beat: Beat, at: int) -> str:
    return spoken_at(at, beat.meter, beat.bars)


def _find(beat: Beat, surface: str, at: int) -> Stroke | None:
    return next((stroke for stroke in beat.strokes if stroke.at == at and stroke.surface == surface), None)


def _by_id(beat: Beat, name: str) -> Stroke | None:
    return next((stroke for stroke in beat.strokes if stroke.id == name), None)


def _rival(beat: Beat, surface: str, at: int) -> Stroke | None:
    """Another stroke of the same instrument at the place, which a new one takes the place of."""
    instrument = BY_NAME[surface].instrument
    return next((s for s in beat.strokes if s.at == at and s.surface != surface and s.instrument == instrument), None)


def _with_base(groove: Groove, strokes: list[Stroke]) -> Groove:
    base = groove.base
    new = base_beat(base.meter, base.bars, base.columns, strokes)
    sounding = {stroke.surface for stroke in new.strokes}
    # A line that falls silent stays where it was: the hand may want to put the stroke elsewhere on it.
    silent = {s.surface for s in base.strokes} | set(groove.lines)
    lines = tuple(sorted(silent - sounding, key=lambda name: BY_NAME[name].row))
    return replace(groove, base=new, lines=lines)
