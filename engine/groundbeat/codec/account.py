"""How are the stages of a groove told to another program (`show --json`)?

`at` is a fraction of a whole note from the start of the cycle, `origin` and `changed_by` are numbers of stages, the
lists in `change` hold ids. Keys may be added later; none changes its meaning.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from ..model.beat import Stroke
from ..model.count import count_text
from ..model.groove import Groove
from ..model.place import fraction
from ..variation.stack import Stage, plain


def account(groove: Groove, stages: Sequence[Stage]) -> dict[str, Any]:
    """Tell all stages as plain data."""
    return {
        "title": groove.title,
        "meter": str(groove.base.meter),
        "bars": groove.base.bars,
        "columns": groove.base.columns,
        "tempo": int(groove.tempo_text) if groove.tempo % 100 == 0 else groove.tempo / 100,
        "stages": [_stage(stage, stages) for stage in stages],
    }


def heading(stage: Stage) -> str:
    """Name a stage: the teacher's name, else what kind it is."""
    from ..variation.catalogue import kind

    if stage.variation is None:
        return "Base beat"
    return stage.variation.name or kind(stage.variation.kind).heading


def numbers(stages: Sequence[Stage]) -> dict[int, int]:
    """Map keys of variations to the numbers of their stages."""
    return {stage.key: stage.number for stage in stages}


def _stage(stage: Stage, stages: Sequence[Stage]) -> dict[str, Any]:
    variation = stage.variation
    change = stage.change
    return {
        "stage": stage.number,
        "key": stage.key,
        "kind": variation.kind if variation else "base",
        "name": heading(stage),
        "sentence": plain(variation, numbers(stages)) if variation else "",
        "note": variation.note if variation else "",
        "on": variation.on if variation else True,
        "says": list(stage.says),
        "strokes": [_stroke(stroke, stage, numbers(stages)) for stroke in stage.beat.strokes],
        "change": {
            "kept": list(change.kept),
            "moved": [{"id": m.id, "from": fraction(m.start), "to": fraction(m.end)} for m in change.moved],
            "altered": list(change.altered),
            "added": list(change.added),
            "left_out": list(change.left_out),
            "merged": [{"id": merge.id, "parents": list(merge.parents)} for merge in change.merged],
            "crosses": list(change.crossed),
        },
    }


def _stroke(stroke: Stroke, stage: Stage, number: dict[int, int]) -> dict[str, Any]:
    return {
        "id": stroke.id,
        "bar": stage.beat.bar_of(stroke.at),
        "count": count_text(stroke.at, stage.beat.meter),
        "at": fraction(stroke.at),
        "surface": stroke.surface,
        "dynamic": stroke.dynamic,
        "grace": stroke.grace,
        "hand": stroke.hand,
        "origin": number[stroke.origin],
        "changed_by": [number[key] for key in stroke.changed_by],
    }


def summary(stage: Stage) -> str:
    """Say in a few words what a stage did: "5 added", "4 added, 2 left out"."""
    if stage.variation is None:
        return ""
    if not stage.variation.on:
        return "off"
    change = stage.change
    counts = (
        (len(change.moved), "moved"),
        (len(change.altered), "altered"),
        (len(change.added), "added"),
        (len(change.left_out), "left out"),
        (len(change.absorbed()), "merged"),
    )
    return ", ".join(f"{count} {word}" for count, word in counts if count) or "nothing changed"
