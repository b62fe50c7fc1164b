"""How is a groove told to a page, so that the page only has to draw it?

Plain data: places in ticks, surfaces by name with the row of their line, words ready to be read aloud, and one thread
a stroke between neighbouring stages. `shapes` gives the type of every field.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from ..codec.account import heading, numbers, summary
from ..lineage.way import threads
from ..model.beat import Stroke
from ..model.count import spoken_at, syllable, weight
from ..model.groove import Groove
from ..model.kit import BY_NAME, GRACE_WORDS
from ..timeline.unroll import Timeline
from ..variation.catalogue import ENTRIES, kind
from ..variation.setting import full
from ..variation.stack import Stage, plain, sentence

if TYPE_CHECKING:
    from ..variation.choices import Choices


def view(
    groove: Groove,
    stages: Sequence[Stage],
    *,
    document: str,
    link: str | None,
    link_trouble: str | None,
    says: Sequence[str] = (),
    newer: dict[str, Any] | None = None,
) -> dict[str, Any]:
    """Tell everything that a page shows of a groove."""
    base = groove.base
    meter = base.meter
    unit, unit_ticks = meter.tempo_unit
    names = {stroke.surface for stage in stages for stroke in stage.beat.strokes} | set(groove.lines)
    return {
        "answer": "view",
        "document": document,
        "link": link,
        "link_trouble": link_trouble,
        "title": groove.title,
        "note": groove.note,
        "meter": str(meter),
        "columns": base.columns,
        "tempo": tempo_of(groove),
        "tempo_unit": unit,
        "tempo_unit_ticks": unit_ticks,
        "bars": base.bars,
        "bar_ticks": meter.bar,
        "cycle": base.cycle,
        "grid": [
            {
                "at": at,
                "bar": base.bar_of(at),
                "count": syllable(at, meter, base.columns),
                "weight": weight(at, meter),
            }
            for at in range(0, base.cycle, base.column)
        ],
        "surfaces": {
            name: {"label": name, "row": BY_NAME[name].row} for name in sorted(names, key=lambda n: BY_NAME[n].row)
        },
        "says": list(says),
        "newer": newer,
        "select": None,
        "stages": _stages(stages),
    }


def _stages(stages: Sequence[Stage]) -> list[dict[str, Any]]:
    number = numbers(stages)
    headings = {stage.key: heading(stage) for stage in stages}
    moved = {(stage.key, move.id) for stage in stages for move in stage.change.moved}
    told: dict[int, dict[str, Any]] = {}  # a stroke that a stage keeps is the same object, and is told the same
    rows = []
    for stage in stages:
        for stroke in stage.beat.strokes:
            if id(stroke) not in told:
                told[id(stroke)] = _stroke(stroke, stage, number, headings, moved)
        rows.append(_stage(stage, stages, headings, told))
    return rows


def tempo_of(groove: Groove) -> int | float:
    """The goal tempo as a number."""
    return groove.tempo // 100 if groove.tempo % 100 == 0 else groove.tempo / 100


def _stage(
    stage: Stage, stages: Sequence[Stage], headings: dict[int, str], told: dict[int, dict[str, Any]]
) -> dict[str, Any]:
    variation = stage.variation
    names = {stroke.surface for stroke in stage.beat.strokes}
    before = stages[stage.number - 1] if stage.number else None
    rows = threads(before.beat, stage.beat, stage.change) if before else ()
    return {
        "stage": stage.number,
        "key": stage.key,
        "kind": variation.kind if variation else "base",
        "heading": headings[stage.key],
        "name": variation.name if variation else "",
        "on": variation.on if variation else True,
        "sentence": [
            {"text": word.text, "setting": word.setting} if word.setting else {"text": word.text}
            for word in (sentence(variation) if variation else ())
        ],
        "plain": plain(variation) if variation else "",
        "note": variation.note if variation else "",
        "says": list(stage.says),
        "summary": summary(stage),
        "lanes": sorted(names, key=lambda name: BY_NAME[name].row),
        "strokes": [told[id(stroke)] for stroke in stage.beat.strokes],
        "threads": [
            {
                "id": row.id,
                "from": list(row.start) if row.start else None,
                "to": list(row.end) if row.end else None,
                "fate": row.fate,
                "crosses": row.crosses,
            }
            for row in rows
        ],
    }


def _stroke(
    stroke: Stroke, stage: Stage, number: dict[int, int], headings: dict[int, str], moved: set[tuple[int, str]]
) -> dict[str, Any]:
    return {
        "id": stroke.id,
        "at": stroke.at,
        "surface": stroke.surface,
        "dynamic": stroke.dynamic,
        "grace": stroke.grace,
        "hand": stroke.hand,
        "origin": number[stroke.origin],
        "changed_by": [number[key] for key in stroke.changed_by],
        "label": label(stroke, stage, headings, moved),
    }


_HANDS = {"R": "right hand", "L": "left hand"}


def label(stroke: Stroke, stage: Stage, headings: dict[int, str], moved: set[tuple[int, str]]) -> str:
    """Say a stroke for a screen reader: "snare, ghost, e of 3, added by Embellish".

    `headings` are the stages' names by key, `moved` says which stage (by key) moved which stroke.
    """
    beat = stage.beat
    words = [stroke.surface]
    if stroke.dynamic != "normal":
        words.append(stroke.dynamic)
    if stroke.grace:
        words.append(GRACE_WORDS[stroke.grace])
    if stroke.hand:
        words.append(_HANDS[stroke.hand])
    words.append(spoken_at(stroke.at, beat.meter, beat.bars))
    if stroke.origin:
        words.append(f"added by {headings[stroke.origin]}")
    for key in stroke.changed_by:
        words.append(f"{'moved' if (key, stroke.id) in moved else 'altered'} by {headings[key]}")
    return ", ".join(words)


def timeline_view(groove: Groove, stage: int, timeline: Timeline) -> dict[str, Any]:
    """Tell when everything sounds."""
    return {
        "answer": "timeline",
        "stage": stage,
        "loop": timeline.loop,
        "parts": timeline.parts,
        "tempo_unit_ticks": groove.base.meter.tempo_unit[1],
        "tempo": tempo_of(groove),
        "events": [event._asdict() for event in timeline.events],
        "clicks": [{"at": click.at, "us": 0, "strong": click.strong} for click in timeline.clicks],
    }


def choices_view(found: Choices) -> dict[str, Any]:
    """Tell what a word can be changed to."""
    return {
        "answer": "choices",
        "control": found.control,
        "value": found.value,
        "options": [option._asdict() for option in found.options],
        "free": found.free,
        "optional": found.optional,
    }


def kinds_view() -> dict[str, Any]:
    """Tell which kinds of variation can be added."""
    rows = []
    for entry in ENTRIES:
        found = kind(entry.name)
        begun = "".join(word.text for word in found.sentence(full(found.settings, tuple(found.start.items()))))  # type: ignore[arg-type]
        rows.append({"kind": found.name, "heading": found.heading, "sentence": begun})
    return {"answer": "kinds", "kinds": rows}
