"""How does little cross the boundary at an edit?

A folded view tells each stage as what it changes of the stage before: the strokes that are new or changed there (as
short rows), the ids that are gone, and the threads that are not simply kept. Each stage, and the frame with the grid,
carries a mark; what the page says it has, by its mark, is told by the mark alone. The page unfolds it
(web/app/unfold.js) into the same view that `views` tells whole.
"""

from __future__ import annotations

import json
from binascii import crc32
from collections.abc import Collection, Sequence
from typing import Any

from ..lineage.way import KEPT, threads
from ..model.beat import Stroke
from ..model.groove import Groove
from ..variation.stack import Stage
from .views import Names, grid, head, label, stage_head, thread_row


def folded(groove: Groove, stages: Sequence[Stage], have: Collection[str], **told: Any) -> dict[str, Any]:
    """Tell a view folded; `have` are the marks that the page has, `told` goes to `views.head`."""
    names = Names.of(stages)
    frame = {"grid": grid(groove.base)}
    rows = [_marked(_stage(stage, stages, names), have, {"stage": stage.number}) for stage in stages]
    return head(groove, stages, **told) | {"folded": True, "frame": _marked(frame, have, {}), "stages": rows}


def _marked(part: dict[str, Any], have: Collection[str], short: dict[str, Any]) -> dict[str, Any]:
    mark = f"{crc32(json.dumps(part, ensure_ascii=False, separators=(',', ':')).encode('utf-8', 'replace')):08x}"
    return short | {"mark": mark} if mark in have else {"mark": mark, **part}


def _stage(stage: Stage, stages: Sequence[Stage], names: Names) -> dict[str, Any]:
    before = {s.id: s for s in stages[stage.number - 1].beat.strokes} if stage.number else {}
    now = {stroke.id for stroke in stage.beat.strokes}
    changed = [stroke for stroke in stage.beat.strokes if before.get(stroke.id) is not stroke]
    joined = threads(stages[stage.number - 1].beat, stage.beat, stage.change) if stage.number else ()
    return stage_head(stage, names) | {
        "rows": [_row(stroke, stage, names) for stroke in changed],
        "gone": [name for name in before if name not in now],
        "threads": [thread_row(row) for row in joined if row.fate != KEPT],
    }


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
