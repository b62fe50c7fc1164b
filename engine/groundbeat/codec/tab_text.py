"""How is a whole groove told in text: what it is, what each stage changed, and its tablature?

`tab_read` reads such a text back as a base beat. What a text of letters cannot carry, `not_in_tab` names.
"""

from __future__ import annotations

from collections.abc import Sequence

from ..model.groove import Groove
from ..model.place import COLUMNS
from ..variation.stack import Stage, plain
from .account import heading, numbers, summary
from .tab import columns_for, key, tab


def title_line(groove: Groove) -> str:
    """Say what a groove is: title, meter, columns, tempo, and its note."""
    base = groove.base
    unit = base.meter.tempo_unit[0]
    meter = str(base.meter)
    if not base.meter.is_usual:
        meter += f" ({'+'.join(map(str, base.meter.grouping))})"
    bars = f"{base.bars} bar{'s' * (base.bars > 1)}"
    head = f"{groove.title or 'Untitled'}: {meter}, {bars} of {base.columns}, {unit} = {groove.tempo_text}"
    return head + (f"\n{groove.note}" if groove.note else "")


def stage_text(stage: Stage, stages: Sequence[Stage]) -> str:
    """Write one of the stages: what was changed, and its tablature."""
    done = summary(stage)
    lines = ["", f"{stage.number} {heading(stage)}" + (f" ({done})" if done else "")]
    if stage.variation:
        lines.append(f"  {plain(stage.variation, numbers(stages))}")
        if stage.variation.note:
            lines.append(f'  "{stage.variation.note}"')
    lines += [f"  {text}" for text in stage.says]
    lines += [f"    {line}".rstrip() for line in tab(stage.beat).split("\n")]
    return "\n".join(lines)


def stages_text(stages: Sequence[Stage], number: int = -1) -> str:
    """Write the stages, or one of them, and what the letters in their tablature mean."""
    rows = stages if number < 0 else stages[number : number + 1]
    said = key([stage.beat for stage in rows])
    return "\n".join([*(stage_text(row, stages) for row in rows), *(["", said] if said else [])]) + "\n"


def tab_text(groove: Groove, stages: Sequence[Stage], number: int = -1) -> str:
    """Write a groove as text: what it is, and its stages, or one of them."""
    return f"{title_line(groove)}\n{stages_text(stages, number)}"


def not_in_tab(groove: Groove, stage: Stage) -> tuple[str, ...]:
    """Name what the text of one stage loses when it is read back, in words.

    >>> from ..variation.stack import grow
    >>> not_in_tab(Groove(note="Softly."), grow(Groove(note="Softly."))[0])
    ('the note',)
    """
    beat = stage.beat
    ticks = COLUMNS[columns_for(beat)]
    off = sum(stroke.at % ticks != 0 for stroke in beat.strokes)
    frame = (beat.meter, beat.bars, beat.columns) != (groove.base.meter, groove.base.bars, groove.base.columns)
    silent = set(groove.lines) - {stroke.surface for stroke in beat.strokes}
    lost = {
        "the note": bool(groove.note),
        'a title that is "Untitled"': groove.title == "Untitled",
        "swing and pushes": groove.feel != type(groove.feel)(),
        "roles that were corrected": bool(groove.roles),
        "lines without strokes": bool(silent),
        "the variations: the stage is read as a base beat": stage.number > 0 or bool(groove.variations),
        "other ways": bool(groove.branches),
        "the columns that the variations gave the stage": frame,
        f"{off} stroke{'s' * (off != 1)} off the columns (told below the tablature)": off > 0,
    }
    return tuple(what for what, is_so in lost.items() if is_so)
