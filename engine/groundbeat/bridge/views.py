"""How is a groove told to a page, so that the page only has to draw it?

Plain data: places in ticks, surfaces by name with the row of their line, words ready to be read aloud, and one thread
a stroke between neighbouring stages. `shapes` gives the type of every field.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any, NamedTuple

from ..codec.account import heading, numbers, summary
from ..codec.link_base import lines_of
from ..errors import BeatError
from ..lineage.way import Thread, threads
from ..model.beat import Beat, Stroke
from ..model.count import spoken_at, syllable, weight
from ..model.groove import Groove
from ..model.kit import BY_NAME, GRACE_WORDS, SURFACES, nearest
from ..model.meter import Meter
from ..model.place import COLUMNS
from ..timeline.clicks import Click
from ..timeline.unroll import Timeline
from ..variation.catalogue import ENTRIES, kind
from ..variation.setting import Setting, full
from ..variation.stack import Stage, plain, sentence

if TYPE_CHECKING:
    from ..variation.choices import Choices
    from ..variation.on_kit import OnKit


def view(groove: Groove, stages: Sequence[Stage], fit: OnKit | None = None, **told: Any) -> dict[str, Any]:
    """Tell everything that a page shows of a groove, whole; `told` goes to `head`.

    With `fit` the stages are those on a student's kit.
    """
    return head(groove, stages, fit, **told) | {
        "grid": grid(groove.base),
        "frames": frames(Names.of(stages, fit)),
        "stages": _stages(stages, fit),
    }


def head(
    groove: Groove,
    stages: Sequence[Stage],
    fit: OnKit | None = None,
    *,
    document: str,
    link: str | None,
    link_trouble: str | None,
    says: Sequence[str] = (),
    newer: dict[str, Any] | None = None,
) -> dict[str, Any]:
    """Tell what is short: all but the grid and the stages."""
    base = groove.base
    meter = base.meter
    unit, unit_ticks = meter.tempo_unit
    lines = [name for name in groove.lines if fit is None or name in fit.kit.owned]
    names = {stroke.surface for stage in stages for stroke in stage.beat.strokes} | set(lines)
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
        "surfaces": {
            name: {"label": fit.kit.called(name) if fit else name, "row": BY_NAME[name].row}
            for name in sorted(names, key=lambda n: BY_NAME[n].row)
        },
        "says": list(says),
        "newer": newer,
        "lines": lines,
        "fits": [name for name, ticks in COLUMNS.items() if meter.bar % ticks == 0],
        "own": {line.surface: line.columns for line in lines_of(stages[0].beat, ())[0] if line.columns != base.columns},
        "kit": {"text": fit.kit.text, "says": list(fit.says)} if fit else None,
        "ways": _ways(groove),
        "swing": f"{groove.feel.swung} {groove.feel.long}:{groove.feel.short}" if groove.feel.swung else "straight",
        "pushes": dict(groove.feel.pushes),
        "feel": groove.feel.said(),
        "select": None,
    }


# How many sentences tell what another way does; our choice.
TOLD_OF_A_WAY = 3


def _ways(groove: Groove) -> list[dict[str, Any]]:
    numbers = {0: 0} | {variation.key: index + 1 for index, variation in enumerate(groove.variations)}
    return [
        {
            "name": branch.name,
            "after": numbers[branch.after],
            "length": len(branch.variations),
            "plain": [plain(variation) for variation in branch.variations if variation.on][:TOLD_OF_A_WAY],
        }
        for branch in groove.branches
    ]


def grid(base: Beat) -> list[dict[str, Any]]:
    """Tell every column: where it is, what is spoken there, and what it weighs."""
    meter = base.meter
    return [
        {
            "at": at,
            "bar": base.bar_of(at),
            "count": syllable(at, meter, base.columns),
            "place": spoken_at(at, meter, base.bars),
            "weight": weight(at, meter),
        }
        for at in range(0, base.cycle, base.column)
    ]


Frame = tuple[Meter, int, str]


def frame_of(beat: Beat) -> Frame:
    """What a stage may have of its own: meter, number of bars, columns."""
    return beat.meter, beat.bars, beat.columns


def frames(names: Names) -> list[dict[str, Any]]:
    """Tell the frames that are not the base beat's."""
    told = []
    for meter, bars, columns in list(names.frames)[1:]:
        beat = Beat(meter, bars, columns)
        told.append(
            {
                "meter": str(meter),
                "columns": columns,
                "bars": bars,
                "bar_ticks": meter.bar,
                "cycle": beat.cycle,
                "grid": grid(beat),
            }
        )
    return told


class Names(NamedTuple):
    """What is told of all stages: numbers and headings by key, who moved what, the frames with their numbers (0 is the
    base beat's), and the student's kit where it is shown."""

    number: dict[int, int]
    headings: dict[int, str]
    moved: set[tuple[int, str]]
    frames: dict[Frame, int]
    fit: OnKit | None = None

    @staticmethod
    def of(stages: Sequence[Stage], fit: OnKit | None = None) -> Names:
        """Gather them."""
        return Names(
            numbers(stages),
            {stage.key: heading(stage) for stage in stages},
            {(stage.key, move.id) for stage in stages for move in stage.change.moved},
            {frame: index for index, frame in enumerate(dict.fromkeys(frame_of(stage.beat) for stage in stages))},
            fit,
        )


def _stages(stages: Sequence[Stage], fit: OnKit | None) -> list[dict[str, Any]]:
    names = Names.of(stages, fit)
    told: dict[int, dict[str, Any]] = {}  # a stroke that a stage keeps is the same object, and is told the same
    rows = []
    for stage in stages:
        if stage.number and frame_of(stage.beat) != frame_of(stages[stage.number - 1].beat):
            told.clear()  # its place is called otherwise here
        for stroke in stage.beat.strokes:
            if id(stroke) not in told:
                told[id(stroke)] = stroke_row(stroke, stage, names)
        before = stages[stage.number - 1] if stage.number else None
        if before is None:
            joined: Sequence[Thread] = ()
        else:
            joined = fit.threads(stage, before) if fit else threads(before.beat, stage.beat, stage.change)
        strokes = [told[id(stroke)] for stroke in stage.beat.strokes]
        rows.append(stage_head(stage, names) | {"strokes": strokes, "threads": [thread_row(row) for row in joined]})
    return rows


def tempo_of(groove: Groove) -> int | float:
    """The goal tempo as a number."""
    return groove.tempo // 100 if groove.tempo % 100 == 0 else groove.tempo / 100


def stage_head(stage: Stage, names: Names) -> dict[str, Any]:
    """Tell a stage without its strokes and threads."""
    variation = stage.variation
    sounding = {stroke.surface for stroke in stage.beat.strokes}
    words = sentence(variation, names.number) if variation else ()
    return {
        "stage": stage.number,
        "key": stage.key,
        "kind": variation.kind if variation else "base",
        "heading": names.headings[stage.key],
        "name": variation.name if variation else "",
        "on": variation.on if variation else True,
        "sentence": [
            {"text": word.text, "setting": word.setting} if word.setting else {"text": word.text} for word in words
        ],
        "plain": "".join(word.text for word in words),
        "note": variation.note if variation else "",
        "says": list(stage.says),
        "offers": [offer.text for offer in stage.offers],
        "summary": summary(stage),
        "lanes": sorted(sounding, key=lambda name: BY_NAME[name].row),
        "frame": names.frames[frame_of(stage.beat)],
    }


def thread_row(row: Thread) -> dict[str, Any]:
    """Tell one thread."""
    return {
        "id": row.id,
        "from": list(row.start) if row.start else None,
        "to": list(row.end) if row.end else None,
        "fate": row.fate,
        "crosses": row.crosses,
    }


def stroke_row(stroke: Stroke, stage: Stage, names: Names) -> dict[str, Any]:
    """Tell one stroke of a stage."""
    return {
        "id": stroke.id,
        "at": stroke.at,
        "surface": stroke.surface,
        "dynamic": stroke.dynamic,
        "grace": stroke.grace,
        "hand": stroke.hand,
        "origin": names.number[stroke.origin],
        "changed_by": [names.number[key] for key in stroke.changed_by],
        "label": label(stroke, stage.beat, names),
    }


_HANDS = {"R": "right hand", "L": "left hand"}


def label(stroke: Stroke, beat: Beat, names: Names) -> str:
    """Say a stroke for a screen reader: "snare, ghost, e of 3, added by Embellish"."""
    words = [names.fit.kit.called(stroke.surface) if names.fit else stroke.surface]
    if stroke.dynamic != "normal":
        words.append(stroke.dynamic)
    if stroke.grace:
        words.append(GRACE_WORDS[stroke.grace])
    if stroke.hand:
        words.append(_HANDS[stroke.hand])
    words.append(spoken_at(stroke.at, beat.meter, beat.bars))
    if stroke.origin:
        words.append(f"added by {names.headings[stroke.origin]}")
    for key in stroke.changed_by:
        words.append(f"{'moved' if (key, stroke.id) in names.moved else 'altered'} by {names.headings[key]}")
    return ", ".join(words)


def timeline_view(groove: Groove, stage: int, timeline: Timeline) -> dict[str, Any]:
    """Tell when everything sounds."""
    before = timeline.count_in
    return {
        "answer": "timeline",
        "stage": stage,
        "start": timeline.start,
        "loop": timeline.loop,
        "parts": timeline.parts,
        "tempo_unit_ticks": groove.base.meter.tempo_unit[1],
        "tempo": tempo_of(groove),
        "events": [event._asdict() for event in timeline.events],
        "clicks": [_click(click) for click in timeline.clicks],
        "rounds": timeline.rounds,
        "count_in": before and {"loop": before.loop, "clicks": [_click(click) for click in before.clicks]},
    }


def _click(click: Click) -> dict[str, Any]:
    return {"at": click.at, "us": 0, "strong": click.strong, "quiet": click.quiet}


def choices_view(found: Choices) -> dict[str, Any]:
    """Tell what a word can be changed to."""
    return {
        "answer": "choices",
        "control": found.control,
        "value": found.value,
        "options": [option._asdict() for option in found.options],
        "free": found.free,
        "optional": found.optional,
        "label": found.label,
        "example": found.example,
        "head": found.head,
    }


def columns_view(base: Beat, columns: str) -> dict[str, Any]:
    """Tell where the places of a line with columns of its own lie; BeatError where a bar does not hold them."""
    if columns not in COLUMNS:
        raise BeatError(f'"{columns}" are not columns{nearest(columns, COLUMNS)}', field="columns")
    if base.meter.bar % COLUMNS[columns]:
        raise BeatError(f"a bar of {base.meter} does not hold a whole number of {columns}", field="columns")
    return {"answer": "columns", "columns": columns, "grid": grid(Beat(base.meter, base.bars, columns))}


def kinds_view() -> dict[str, Any]:
    """Tell which kinds of variation can be added, and which kits there are."""
    from ..model.own_kit import PRESETS, THINGS
    from ..variation.purposes import PURPOSES

    rows = []
    for entry in ENTRIES:
        found = kind(entry.name)
        begun = "".join(word.text for word in found.sentence(full(found.settings, tuple(found.start.items()))))  # type: ignore[arg-type]
        settings = [_setting(setting) for setting in found.settings]
        rows.append(
            {
                "kind": found.name,
                "heading": found.heading,
                "family": found.family or "Others",
                "sentence": begun,
                "settings": settings,
            }
        )
    kit = [row.name for row in sorted(SURFACES, key=lambda row: row.row)]
    presets = [{"name": name, "kit": text} for name, text in PRESETS]
    return {
        "answer": "kinds",
        "kinds": rows,
        "kit": kit,
        "things": list(THINGS),
        "presets": presets,
        "purposes": list(PURPOSES),
    }


def _setting(setting: Setting) -> dict[str, Any]:
    inner = sorted(setting.inner, key=lambda one: one.default is not None)
    label = setting.label or setting.name
    return {
        "name": setting.name,
        "label": label,
        "offer": setting.offer or label,
        "needs": setting.needs,
        "inner": [f"{setting.name}.{one.name}" for one in inner],
    }
