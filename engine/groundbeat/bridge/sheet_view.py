"""How is a sheet for a class told to a page, so that the page only has to draw and print it?

Strokes carry neither the stage that brought them nor an id that tells it: on a sheet of beats to be told apart that
would be the answer. `spoken` is the beat for somebody who does not see the drawing; where the counts are asked for it
tells how many strokes each line has.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from ..model.beat import Beat, Stroke
from ..model.count import spoken_at
from ..model.groove import Groove
from ..model.kit import BY_NAME, GRACE_WORDS
from ..variation.sheets import COUNT, HEADINGS, Item, Sheet, make_sheet
from .views import grid

if TYPE_CHECKING:
    from ..model.own_kit import Kit
    from .messages import Sheet as Question


def sheet_view(groove: Groove, asked: Question, kit: Kit | None) -> dict[str, Any]:
    """Make the reply with the sheet that is asked for."""
    sheet = make_sheet(groove, asked.sheet, asked.stage, of=asked.of, seed=asked.seed, kit=kit)
    return {
        "answer": "sheet",
        "sheet": sheet.name,
        "heading": HEADINGS[sheet.name],
        "task": sheet.task,
        "title": groove.title,
        "facts": _facts(groove, sheet),
        "of": sheet.of,
        "choices": [{"value": value, "text": text} for value, text in sheet.choices],
        "items": [_item(item, sheet.name, kit) for item in sheet.items],
        "plays": [play._asdict() for play in sheet.plays],
    }


def _facts(groove: Groove, sheet: Sheet) -> list[str]:
    """Meter, columns and tempo as a line under the title; what differs from item to item is left out."""
    beats = [item.stage.beat for item in sheet.items]
    meters = {str(beat.meter) for beat in beats}
    columns = {beat.columns for beat in beats}
    unit, _ = groove.base.meter.tempo_unit
    told = [*meters] if len(meters) == 1 else []
    told += [*columns] if len(columns) == 1 else []
    return [*told, f"{unit} = {groove.tempo_text}"]


def _item(item: Item, name: str, kit: Kit | None) -> dict[str, Any]:
    beat = item.stage.beat
    lanes = sorted({stroke.surface for stroke in beat.strokes}, key=lambda each: BY_NAME[each].row)
    labels = [kit.called(surface) if kit else surface for surface in lanes]
    return {
        "label": item.label,
        "sentence": item.sentence,
        "begins": item.begins,
        "spoken": "; ".join(
            _line(label, [stroke for stroke in beat.strokes if stroke.surface == surface], beat, name == COUNT)
            for surface, label in zip(lanes, labels, strict=True)
        ),
        "lanes": lanes,
        "labels": labels,
        "frame": {
            "meter": str(beat.meter),
            "columns": beat.columns,
            "bars": beat.bars,
            "bar_ticks": beat.meter.bar,
            "cycle": beat.cycle,
            "grid": grid(beat),
        },
        "strokes": [_stroke(stroke, number, item) for number, stroke in enumerate(beat.strokes)],
        "blanks": [blank._asdict() for blank in item.blanks],
    }


def _stroke(stroke: Stroke, number: int, item: Item) -> dict[str, Any]:
    return {
        "id": str(number),
        "at": stroke.at,
        "surface": stroke.surface,
        "dynamic": stroke.dynamic,
        "grace": stroke.grace,
        "hand": stroke.hand,
        "figure": stroke.id in item.figure,
    }


def _line(label: str, strokes: list[Stroke], beat: Beat, hidden: bool) -> str:
    if hidden:
        return f"{label}: {len(strokes)} stroke{'s' if len(strokes) > 1 else ''}"
    return f"{label}: " + ", ".join(_said(stroke, beat) for stroke in strokes)


def _said(stroke: Stroke, beat: Beat) -> str:
    how = [stroke.dynamic] if stroke.dynamic != "normal" else []
    how += [GRACE_WORDS[stroke.grace]] if stroke.grace else []
    return " ".join([spoken_at(stroke.at, beat.meter, beat.bars), *(f"({word})" for word in how)])
