"""How does the base beat change its frame: meter, bars, columns, lines, tempo, title, feel?

Strokes keep their place in their bar. What a shorter bar or fewer bars cannot hold is left out, and said.
"""

from __future__ import annotations

from dataclasses import replace
from typing import NamedTuple

from ..errors import BeatError, VariationError
from ..model.beat import MAX_BARS, Beat, Stroke, base_beat
from ..model.feel import ALL
from ..model.groove import MAX_NOTE, MAX_TEMPO, MAX_TITLE, MIN_TEMPO, Groove, check_text
from ..model.kit import BY_NAME, nearest
from ..model.kit import surface as find_surface
from ..model.meter import Meter
from ..model.place import COLUMNS
from .patterns import read_offset, read_swing


class Reshaped(NamedTuple):
    """The new groove, and what is to be said about it."""

    groove: Groove
    says: tuple[str, ...]


def frame(groove: Groove, *, meter: str = "", grouping: str = "", bars: int = 0, columns: str = "") -> Reshaped:
    """Change meter, number of bars or columns; what is "" or 0 stays."""
    base = groove.base
    new_meter = Meter.of(
        meter or str(base.meter), grouping or ("" if meter else "+".join(map(str, base.meter.grouping)))
    )
    new_bars = bars or base.bars
    if not 1 <= new_bars <= MAX_BARS:
        raise BeatError(f"a beat has 1 to {MAX_BARS} bars, not {new_bars}", field="bars")
    new_columns = columns or base.columns
    if new_columns not in COLUMNS:
        raise BeatError(f'"{new_columns}" are not columns{nearest(new_columns, COLUMNS)}', field="columns")
    if new_meter.bar % COLUMNS[new_columns]:
        fits = [name for name, ticks in COLUMNS.items() if new_meter.bar % ticks == 0]
        if columns:
            raise BeatError(f"a bar of {new_meter} does not hold a whole number of {columns}", field="columns")
        new_columns = "sixteenths" if "sixteenths" in fits else fits[0]
    kept, lost = _moved(base, new_meter, new_bars)
    says = (
        (f"{lost} stroke{'s' * (lost != 1)} did not fit and {'were' if lost != 1 else 'was'} left out",) if lost else ()
    )
    beat = base_beat(new_meter, new_bars, new_columns, kept)
    lines = dict.fromkeys((*groove.lines, *(s.surface for s in base.strokes)))
    sounding = {stroke.surface for stroke in kept}
    silent = sorted((name for name in lines if name not in sounding), key=lambda name: BY_NAME[name].row)
    return Reshaped(replace(groove, base=beat, lines=tuple(silent)), says)


def _moved(base: Beat, meter: Meter, bars: int) -> tuple[list[Stroke], int]:
    kept, lost = [], 0
    for stroke in base.strokes:
        bar, offset = divmod(stroke.at, base.meter.bar)
        if bar < bars and offset < meter.bar:
            kept.append(replace(stroke, at=bar * meter.bar + offset))
        else:
            lost += 1
    return kept, lost


def label(groove: Groove, *, title: str | None = None, note: str | None = None, tempo: float | None = None) -> Groove:
    """Change title, note or goal tempo (in beats a minute, two decimals); None stays."""
    if title is not None:
        groove = replace(groove, title=check_text(title.strip(), "title", MAX_TITLE))
    if note is not None:
        groove = replace(groove, note=check_text(note, "note", MAX_NOTE))
    if tempo is not None:
        hundredths = round(tempo * 100)
        if not MIN_TEMPO <= hundredths <= MAX_TEMPO:
            raise VariationError(
                f"the tempo is {tempo:g}; it may be {MIN_TEMPO // 100} to {MAX_TEMPO // 100}", field="tempo"
            )
        groove = replace(groove, tempo=hundredths)
    return groove


def feel(groove: Groove, *, swing: str = "", surface: str = "", push: str = "") -> Groove:
    """Change the swing ("eighths 2:1", "straight"), and how early or late a surface is ("10 ms late"); "" stays.

    Surface "all" means every one, and takes the place of all other pushes. No stroke moves on paper.
    """
    new = groove.feel
    if swing:
        swung, long, short = read_swing(swing)
        new = replace(new, swung=swung, long=long, short=short)
    if push:
        name = ALL if surface == ALL else find_surface(surface).name
        new = new.pushed((name,), read_offset(push))
    return replace(groove, feel=new)


def line(groove: Groove, surface: str, shown: bool) -> Groove:
    """Show a line for a surface though it is silent, or hide a silent one."""
    name = find_surface(surface).name
    if any(stroke.surface == name for stroke in groove.base.strokes):
        if shown:
            return groove
        raise VariationError(f"the {name} sounds in the base beat; take its strokes out first", field="surface")
    lines = set(groove.lines) | {name} if shown else set(groove.lines) - {name}
    return replace(groove, lines=tuple(sorted(lines, key=lambda row: BY_NAME[row].row)))
