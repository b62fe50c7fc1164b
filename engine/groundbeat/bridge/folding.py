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
from functools import lru_cache
from typing import Any

from ..lineage.way import changed_threads
from ..model.beat import Beat, Stroke
from ..model.groove import Groove
from ..model.meter import Meter
from ..variation.stack import Stage
from .views import Names, grid, head, label, stage_head, thread_row


def folded(groove: Groove, stages: Sequence[Stage], have: Collection[str], **told: Any) -> dict[str, Any]:
    """Tell a view folded; `have` are the marks that the page has, `told` goes to `views.head`."""
    names = Names.of(stages)
    base = groove.base
    frame = _frame(base.meter, base.bars, base.columns)
    if frame["mark"] in have:
        frame = {"mark": frame["mark"]}
    rows = [_marked(_stage(stage, stages, names), have) for stage in stages]
    return head(groove, stages, **told) | {"folded": True, "frame": frame, "stages": rows}


@lru_cache(maxsize=8)
def _frame(meter: Meter, bars: int, columns: str) -> dict[str, Any]:
    told = grid(Beat(meter, bars, columns))
    return {"mark": _mark(told), "grid": told}


def _marked(stage: dict[str, Any], have: Collection[str]) -> dict[str, Any]:
    mark = _mark(stage)
    return {"stage": stage["stage"], "mark": mark} if mark in have else {"mark": mark, **stage}


def _mark(part: object) -> str:
    return f"{crc32(json.dumps(part, separators=(',', ':')).encode('ascii')):08x}"


def _stage(stage: Stage, stages: Sequence[Stage], names: Names) -> dict[str, Any]:
    before = {s.id: s for s in stages[stage.number - 1].beat.strokes} if stage.number else {}
    now = {stroke.id for stroke in stage.beat.strokes}
    changed = [stroke for stroke in stage.beat.strokes if before.get(stroke.id) is not stroke]
    joined = changed_threads(stages[stage.number - 1].beat, stage.beat, stage.change) if stage.number else ()
    return stage_head(stage, names) | {
        "rows": [_row(stroke, stage, names) for stroke in changed],
        "gone": [name for name in before if name not in now],
        "threads": [thread_row(row) for row in joined],
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


def folded_timeline(told: dict[str, Any]) -> dict[str, Any]:
    """Tell a timeline in rows: events as at, us, surface, dynamic, id, layer, and flags (1 added, 2 grace, 4 stop);
    clicks as at and strong. The page makes the events of it (web/app/unfold.js)."""
    events = [
        [
            event["at"],
            event["us"],
            event["surface"],
            event["dynamic"],
            event["id"],
            event["layer"],
            event["added"] + 2 * event["grace"] + 4 * event["stop"],
        ]
        for event in told["events"]
    ]
    clicks = [[click["at"], int(click["strong"])] for click in told["clicks"]]
    return told | {"folded": True, "events": events, "clicks": clicks}
