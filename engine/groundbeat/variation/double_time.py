"""Double-time: the backbeat on every &, the riding hand unchanged; or everything at half the length.

At the same length every backbeat moves to the nearest & of its bar (of two equally near the earlier), and each & that
stays without one gets a copy of the backbeat before it: a backbeat on 2 and 4 becomes 1& 2& 3& 4&. What its drum plays
more quietly on such an & gives way. The & is the middle of a beat: of a number over 2 and 4 (the let where the columns
are eighth triplets), of a group over 8 and 16. Columns that do not hold it give way to finer ones.

At half the length every place is halved. An even number of bars becomes half as many; an odd number stays, and the beat
is played twice in it. So it undoes half-time at twice the length.
"""

from __future__ import annotations

from typing import Any

from ..lineage.ledger import Ledger
from ..model.beat import Beat, Stroke
from ..model.place import TRIPLET_COLUMNS
from .frames import columns_for
from .kind import Kind, Word
from .scene import Scene
from .setting import CHOICE, Setting
from .subdivide import beats_of

SAME, HALF = "same length", "half the length"

SETTINGS = (Setting("form", 1, CHOICE, SAME, words=(SAME, HALF), label="which double-time"),)


def apply(scene: Scene, settings: dict[str, Any], ledger: Ledger) -> None:
    """Double the time."""
    if settings["form"] == HALF:
        _halve(scene.beat, ledger)
        return
    beat = scene.beat
    followed = set(scene.backbeats)
    backbeats = [stroke for stroke in beat.strokes if stroke.id in followed]
    if not backbeats:
        ledger.say("found no backbeat")
        return
    upbeats = _upbeats(beat, ledger)
    columns = columns_for(beat.columns, beat.meter.bar, upbeats)
    if columns != beat.columns and columns:
        ledger.frame(columns=columns)
    taken = set()
    for stroke in backbeats:
        bar = stroke.at // beat.meter.bar
        here = [at for at in upbeats if at // beat.meter.bar == bar]
        place = min(here, key=lambda at: (abs(at - stroke.at), at))
        ledger.move(stroke, place - stroke.at)
        taken.add(place)
    for at in upbeats:
        if at not in taken:
            _copy_to(at, backbeats, beat, ledger)
    if taken == set(upbeats) == {stroke.at for stroke in backbeats}:
        ledger.say("the backbeat is on every & already")


def _upbeats(beat: Beat, ledger: Ledger) -> list[int]:
    """The middles of all beats in ticks; the let on columns of eighth triplets that have no middle."""
    found = []
    for bar in range(beat.bars):
        for start, length in beats_of(beat.meter):
            middle = length // 2
            if beat.columns == TRIPLET_COLUMNS and (start + middle) % beat.column and beat.meter.unit <= 4:
                middle = length * 2 // 3
                ledger.say("& is read as let on this beat")
            found.append(bar * beat.meter.bar + start + middle)
    return found


def _copy_to(at: int, backbeats: list[Stroke], beat: Beat, ledger: Ledger) -> None:
    """Copy the backbeat before a place to it; what its drum plays more quietly there gives way."""
    source = max(backbeats, key=lambda stroke: (stroke.at <= at, stroke.at))
    for stroke in beat.strokes:
        if stroke.at == at and stroke.instrument == source.instrument and stroke.level < source.level:
            ledger.leave_out(stroke)
    ledger.add(at, source.surface, source.dynamic, grace=source.grace, hand=source.hand, of=source.id)


def _halve(beat: Beat, ledger: Ledger) -> None:
    bars = beat.bars // 2 if beat.bars % 2 == 0 else beat.bars
    on_columns = [stroke.at // 2 for stroke in beat.strokes if stroke.at % beat.column == 0]
    ledger.frame(bars=bars, columns=columns_for(beat.columns, beat.meter.bar, on_columns) or beat.columns)
    for stroke in beat.strokes:
        ledger.move(stroke, stroke.at // 2 - stroke.at)
        if bars == beat.bars:
            ledger.add(
                stroke.at // 2 + beat.cycle // 2, stroke.surface, stroke.dynamic,
                grace=stroke.grace, hand=stroke.hand, of=stroke.id,
            )  # fmt: skip
    if any(stroke.at % 2 for stroke in beat.strokes):
        ledger.say("a place that falls between two ticks when it is halved was taken to the earlier one")


def sentence(settings: dict[str, Any]) -> tuple[Word, ...]:
    """Say it: "Play in double-time, the backbeat on every &."."""
    how = "the backbeat on every &" if settings["form"] == SAME else "everything at half the length"
    return (Word("Play in double-time, "), Word(how, "form"), Word("."))


KIND = Kind("double-time", "Double-time", SETTINGS, apply, sentence, reframes=True, family="Time and length")
