"""How does little cross the boundary at an edit?

A folded view is told against the view of another document that the page shows (its `have`): each stage as what has
become different of that document's stage of the same key, or, where there is none, of the stage before it. Told are
the strokes that are new or changed (as short rows), the ids that are gone, the threads that are not simply kept, and
the head with its words. The page unfolds it (web/app/unfold.js) into the same view that `views` tells whole. Nothing
is remembered from answer to answer: the question carries both documents.

A glimpse tells the one stage that was edited, before the stages after it have grown.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any, NamedTuple

from ..lineage.way import KEPT, Thread, changed_threads
from ..model.beat import Stroke
from ..model.groove import Groove
from ..variation.stack import Stage
from .views import Names, frame_of, frames, grid, head, label, stage_head, thread_row

if TYPE_CHECKING:
    from ..variation.on_kit import OnKit


class Shown(NamedTuple):
    """What the page shows: a groove and its stages, those on the student's kit where it is shown."""

    groove: Groove
    stages: Sequence[Stage]
    fit: OnKit | None = None


def folded(
    groove: Groove, stages: Sequence[Stage], shown: Shown | None, fit: OnKit | None = None, **told: Any
) -> dict[str, Any]:
    """Tell a view folded against what the page shows; None where it shows nothing. `told` goes to `views.head`.

    Both are on the same kit: with another one the page asks for the whole.
    """
    names = Names.of(stages, fit)
    was = Names.of(shown.stages, shown.fit) if shown else None
    rows: list[dict[str, Any]] = []
    for stage, like in zip(stages, _old(groove, stages, names, shown, was), strict=True):
        before = stages[stage.number - 1] if stage.number else None
        if shown is None or was is None or like is None:
            rows.append(_new(stage, before, names))
        else:
            like_before = shown.stages[like.number - 1] if like.number else None
            rows.append(_like(stage, before, like, like_before, names, was))
    return head(groove, stages, fit, **told) | {
        "folded": True,
        "grid": None if shown and _same_frame(groove, shown.groove) else grid(groove.base),
        "frames": None if was and list(was.frames) == list(names.frames) else frames(names),
        "stages": rows,
    }


def glimpse(stages: Sequence[Stage], number: int, shown: Shown, fit: OnKit | None = None) -> dict[str, Any]:
    """Tell one stage against the one of the same number that the page shows; those below it are the same."""
    names = Names.of((*stages[: number + 1], *shown.stages[number + 1 :]), fit)
    before = stages[number - 1] if number else None
    was = Names.of(shown.stages, shown.fit)
    if list(names.frames) != list(was.frames):
        return {"answer": "glimpse", "stage": -1, "told": None}
    told = _like(stages[number], before, shown.stages[number], before, names, was)
    return {"answer": "glimpse", "stage": number, "told": told}


def _same_frame(groove: Groove, other: Groove) -> bool:
    return frame_of(groove.base) == frame_of(other.base)


def _old(
    groove: Groove, stages: Sequence[Stage], names: Names, shown: Shown | None, was: Names | None
) -> list[Stage | None]:
    """For every stage the shown one that it can be told against: the words for their strokes must be the same."""
    found: list[Stage | None] = []
    if shown is not None and was is not None and _same_frame(groove, shown.groove):
        for stage in stages:
            key = stage.key
            if was.number.get(key) != names.number[key] or was.headings[key] != names.headings[key]:
                break  # the strokes of every stage from here on may speak of it
            found.append(shown.stages[stage.number])
    return found + [None] * (len(stages) - len(found))


def _turned(names: Names, was: Names) -> set[str]:
    """The strokes of which it is no longer said in the same way how a stage changed them."""
    return {name for _, name in names.moved ^ was.moved}


def _new(stage: Stage, before: Stage | None, names: Names) -> dict[str, Any]:
    """Tell a stage against the one before it."""
    strokes, gone = _changed(stage, before, _renamed(stage, before))
    joined = _joined(stage, before, names)
    return {
        "like": -1,
        "head": stage_head(stage, names),
        "rows": [_row(stroke, stage, names) for stroke in strokes],
        "gone": gone,
        "threads": [thread_row(row) for row in joined],
    }


def _like(
    stage: Stage, before: Stage | None, old: Stage, old_before: Stage | None, names: Names, was: Names
) -> dict[str, Any]:
    """Tell a stage against the shown one of the same key; what is the same is not told."""
    told: dict[str, Any] = {"like": old.number}
    turned = _turned(names, was)
    number, old_number = names.frames[frame_of(stage.beat)], was.frames[frame_of(old.beat)]
    if stage is old and not turned and number == old_number:
        return told
    turned |= _renamed(stage, old)
    if number != old_number or not _same_head(stage, old):
        told["head"] = stage_head(stage, names)
    strokes, gone = _changed(stage, old, turned)
    if strokes:
        told["rows"] = [_row(stroke, stage, names) for stroke in strokes]
    if gone:
        told["gone"] = gone
    joined = _joined(stage, before, names)
    if joined != _joined(old, old_before, names):
        told["threads"] = [thread_row(row) for row in joined]
    return told


def _renamed(stage: Stage, old: Stage | None) -> set[str]:
    """The strokes whose places are called otherwise in the frame of this stage: all or none."""
    if old is None or frame_of(stage.beat) == frame_of(old.beat):
        return set()
    return {stroke.id for stroke in stage.beat.strokes}


def _changed(stage: Stage, old: Stage | None, turned: set[str]) -> tuple[list[Stroke], list[str]]:
    """The strokes that differ from those of another stage, and the ids that only the other has.

    `turned` are told too: their words differ.
    """
    if old is None:
        return list(stage.beat.strokes), []
    if stage.beat.strokes is old.beat.strokes and not turned:
        return [], []
    there = {stroke.id: stroke for stroke in old.beat.strokes}
    take = there.pop
    strokes = []
    for stroke in stage.beat.strokes:
        name = stroke.id
        same = take(name, None)
        if name in turned or (same is not stroke and same != stroke):
            strokes.append(stroke)
    return strokes, list(there)


def _same_head(stage: Stage, old: Stage) -> bool:
    """Tell whether two stages of one number and heading have the same words."""
    one, two = stage.change, old.change
    return (
        (stage.variation is old.variation or stage.variation == old.variation)
        and stage.says == old.says
        and stage.offers == old.offers
        and len(one.moved) == len(two.moved)
        and len(one.altered) == len(two.altered)
        and len(one.added) == len(two.added)
        and len(one.left_out) == len(two.left_out)
        and len(one.absorbed()) == len(two.absorbed())
        and {stroke.surface for stroke in stage.beat.strokes} == {stroke.surface for stroke in old.beat.strokes}
    )


def _joined(stage: Stage, before: Stage | None, names: Names) -> tuple[Thread, ...]:
    if before and names.fit:
        return tuple(row for row in names.fit.threads(stage, before) if row.fate != KEPT)
    return changed_threads(before.beat, stage.beat, stage.change) if before else ()


def _row(stroke: Stroke, stage: Stage, names: Names) -> list[Any]:
    return [
        stroke.id,
        stroke.at,
        stroke.surface,
        stroke.dynamic,
        stroke.grace,
        stroke.hand,
        names.number[stroke.origin],
        [names.number[key] for key in stroke.changed_by],
        label(stroke, stage.beat, names),
    ]


def folded_timeline(told: dict[str, Any]) -> dict[str, Any]:
    """Tell a timeline in rows: events as at, us, surface, dynamic, id, layer, flags (1 added, 2 grace, 4 stop), and
    gain and round where a hand plays them; clicks as at and flags (1 strong, 2 quiet). The page makes the events of it
    (web/app/unfold.js)."""
    events = [
        [
            event["at"],
            event["us"],
            event["surface"],
            event["dynamic"],
            event["id"],
            event["layer"],
            event["added"] + 2 * event["grace"] + 4 * event["stop"],
            *((event["gain"], event["round"]) if event["gain"] or event["round"] >= 0 else ()),
        ]
        for event in told["events"]
    ]
    clicks = [[click["at"], click["strong"] + 2 * click["quiet"]] for click in told["clicks"]]
    return told | {"folded": True, "events": events, "clicks": clicks}
