"""Length: the beat repeated to 2, 4, 8 bars, or every bar a sixteenth, an eighth, a beat shorter or longer.

Repeating copies bar after bar in their order; fewer bars than there are cut the beat. A bar is changed at its end: what
is dropped takes its strokes along, what is added is empty. Later bars then begin earlier or later, so their strokes are
told as moved. The beats of the bar stay as long as they were; a rest of half a beat or less joins the beat before it,
and the meter is written over the longest note that counts all beats: 4/4 becomes 15/16 (4+4+4+3), 7/8 (2+2+3), 3/4,
9/8 (2+2+2+3) and 5/4. "A beat" is the last one of the bar. Columns that no longer divide the bar give way to finer.
"""

from __future__ import annotations

from math import gcd
from typing import Any

from ..lineage.ledger import Ledger
from ..model.beat import MAX_BARS, Beat
from ..model.meter import COUNTS, WHOLE, Meter
from .frames import columns_for
from .kind import Kind, Word
from .scene import Scene
from .setting import CHOICE, NUMBER, Setting
from .subdivide import beats_of

AS_IT_IS = "as it is"
_NOTES = {"a sixteenth": WHOLE // 16, "an eighth": WHOLE // 8, "a beat": 0}  # 0: as long as the last beat
_BARS = (AS_IT_IS, *(f"{note} {way}" for way in ("shorter", "longer") for note in _NOTES))

SETTINGS = (
    Setting("bars", 1, NUMBER, "0", low=0, high=MAX_BARS, label="how many bars", offer="another number of bars",
            example="Such as 2, 4 or 8; 0 is as many as there are."),
    Setting("bar", 2, CHOICE, AS_IT_IS, words=_BARS, label="how long each bar is", offer="bars shorter or longer"),
)  # fmt: skip


def apply(scene: Scene, settings: dict[str, Any], ledger: Ledger) -> None:
    """Give the beat its length."""
    beat = scene.beat
    meter = beat.meter
    if settings["bar"] != AS_IT_IS:
        changed = _changed(beat, settings["bar"], ledger)
        if changed is None:
            return
        meter = changed
    bars = int(settings["bars"]) or beat.bars
    columns = columns_for(beat.columns, meter.bar)
    if not columns:
        ledger.say(f"a bar of {meter} does not hold a whole number of {beat.columns}; nothing was changed")
        return
    if not ledger.frame(meter=meter, bars=bars, columns=columns):
        return
    for stroke in beat.strokes:
        number, rest = divmod(stroke.at, beat.meter.bar)
        if rest >= meter.bar or number >= bars:
            ledger.leave_out(stroke)
            continue
        ledger.move(stroke, number * (meter.bar - beat.meter.bar))
        for copy in range(number + beat.bars, bars, beat.bars):
            ledger.add(
                copy * meter.bar + rest, stroke.surface, stroke.dynamic,
                grace=stroke.grace, hand=stroke.hand, of=stroke.id,
            )  # fmt: skip
    if bars > beat.bars and bars % beat.bars:
        ledger.say(f"the beat has {beat.bars} bars; the last time it is cut")
    if meter.bar > beat.meter.bar:
        ledger.say("what is added at the end of every bar is empty")


def _changed(beat: Beat, change: str, ledger: Ledger) -> Meter | None:
    """The meter of a bar that is shorter or longer at its end; None (and says so) where there is none."""
    note, _, way = change.rpartition(" ")
    groups = [length for _, length in beats_of(beat.meter)]
    by = _NOTES[note] or groups[-1]
    new = _shorter(groups, by) if way == "shorter" else [*groups, by]
    if len(new) > 1 and 2 * new[-1] <= new[-2]:
        new[-2:] = [new[-2] + new[-1]]
    if not new:
        ledger.say(f"{change} than {beat.meter} leaves nothing of the bar; nothing was changed")
        return None
    meter = _meter(new, beat.meter.unit)
    if meter is None:
        over = max(WHOLE // gcd(WHOLE, *new), 4)
        low, high = COUNTS[over]
        ledger.say(
            f"{change} than {beat.meter} would be {sum(new) * over // WHOLE}/{over}; over {over} the meters go from "
            f"{low} to {high}; nothing was changed"
        )
    return meter


def _shorter(groups: list[int], by: int) -> list[int]:
    """Take ticks off the end; [] where nothing stays."""
    new = list(groups)
    while new and by >= new[-1]:
        by -= new.pop()
    if new and by:
        new[-1] -= by
    return new


def _meter(groups: list[int], unit: int) -> Meter | None:
    """Write beats of these lengths as a meter over the longest note that counts them all."""
    bar = sum(groups)
    for over in ((2,) if unit == 2 else ()) + (4, 8, 16):
        number = WHOLE // over
        low, high = COUNTS[over]
        if all(group % number == 0 for group in groups) and low <= bar // number <= high:
            grouping = "+".join(str(group // number) for group in groups) if over > 4 else ""
            return Meter.of(f"{bar // number}/{over}", grouping)
    return None


def sentence(settings: dict[str, Any]) -> tuple[Word, ...]:
    """Say it: "Make the beat 4 bars long, every bar an eighth shorter."."""
    bars, bar = settings["bars"], settings["bar"]
    if bars == "0" and bar == AS_IT_IS:
        return (Word("Leave the beat "), Word("as long as it is", "bars"), Word("."))
    if bars == "0":
        return (Word("Make every bar "), Word(bar, "bar"), Word("."))
    words = [Word("Make the beat "), Word(f"{bars} bar{'' if bars == '1' else 's'} long", "bars")]
    if bar != AS_IT_IS:
        words += [Word(", every bar "), Word(bar, "bar")]
    return (*words, Word("."))


KIND = Kind("length", "Length", SETTINGS, apply, sentence, {"bars": "4"}, reframes=True, family="Time and length")
