"""Subdivide: the same beat in another division; an implied new pulse.

Within the beat every stroke goes to the nearest place of the new division in its own beat, of two equally near the
later one: e of sixteenths becomes trip, & and a become let and meet there. Across the bar the row of columns stays as
it is, and each column takes the new length: sixteenths played as triplets last four thirds as long. The row is cut at
the loop where it is longer, and begins again (as copies) where it is shorter.

A beat here is a number over 2 and 4, a group over 8 and 16. Where everything is played in the new division, it gives
the stage its columns as far as the meter holds them.
"""

from __future__ import annotations

from bisect import bisect_right
from typing import Any

from ..lineage.ledger import Ledger
from ..model.beat import Beat, Stroke
from ..model.meter import Meter
from ..model.place import COLUMNS
from .frames import say_round
from .kind import Kind, Word, strokes_of
from .scene import EVERYTHING, Scene
from .setting import CHOICE, TARGET, Setting
from .words import target_words

WITHIN, ACROSS = "within the beat", "across the bar"

SETTINGS = (
    Setting(
        "into", 1, CHOICE, "eighth triplets", label="the new division",
        words=("eighth triplets", "sixteenths", "eighths", "thirty-seconds", "sixteenth triplets"),
    ),
    Setting("how", 2, CHOICE, WITHIN, words=(WITHIN, ACROSS), label="how it gets there"),
    Setting("surface", 3, TARGET, EVERYTHING, label="what changes its division"),
)  # fmt: skip


def apply(scene: Scene, settings: dict[str, Any], ledger: Ledger) -> None:
    """Take the strokes into the new division."""
    strokes = strokes_of(settings["surface"], scene, ledger)
    if strokes:
        take = _within if settings["how"] == WITHIN else _across
        take(strokes, settings["into"], settings["surface"] == EVERYTHING, scene.beat, ledger)


def beats_of(meter: Meter) -> list[tuple[int, int]]:
    """Find where the beats of a bar begin and how long they are, in ticks.

    >>> beats_of(Meter.of("5/8"))
    [(0, 15120), (15120, 10080)]
    """
    starts = [(number - 1) * meter.number for number in meter.beats]
    return [(start, end - start) for start, end in zip(starts, [*starts[1:], meter.bar], strict=True)]


def _within(strokes: tuple[Stroke, ...], into: str, whole: bool, beat: Beat, ledger: Ledger) -> None:
    width, bar = COLUMNS[into], beat.meter.bar
    spans = beats_of(beat.meter)
    if any(length % width for _, length in spans):
        ledger.say(f"a beat of {beat.meter} does not hold a whole number of {into}; nothing was changed")
        return
    if whole:
        ledger.frame(columns=into)
    starts = [start for start, _ in spans]
    moved = False
    for stroke in strokes:
        line, rest = divmod(stroke.at, bar)
        start, length = spans[bisect_right(starts, rest) - 1]
        nearest = (2 * (rest - start) + width) // (2 * width)  # of two equally near the later
        place = line * bar + start + min(nearest, length // width - 1) * width
        ledger.move(stroke, place - stroke.at)
        moved = moved or place != stroke.at
    if not moved:
        ledger.say(f"every stroke lies on {into} already")


def _across(strokes: tuple[Stroke, ...], into: str, whole: bool, beat: Beat, ledger: Ledger) -> None:
    width, old = COLUMNS[into], beat.column
    if width == old:
        ledger.say(f"the beat is in {into} already")
        return
    if whole and beat.meter.bar % width:
        ledger.say(
            f"a bar of {beat.meter} does not hold a whole number of {into}; it is still counted in {beat.columns}"
        )
    elif whole:
        ledger.frame(columns=into)
    for stroke in strokes:
        place = _stretched(stroke.at, width, old)
        if place < beat.cycle:
            ledger.move(stroke, place - stroke.at)
        else:
            ledger.leave_out(stroke)
    whole_row = beat.cycle // old * width
    for start in range(whole_row, beat.cycle, whole_row):
        for stroke in strokes:
            place = start + _stretched(stroke.at, width, old)
            if place < beat.cycle:
                ledger.add(place, stroke.surface, stroke.dynamic, grace=stroke.grace, hand=stroke.hand, of=stroke.id)
    row = _row_bars(strokes, beat) * beat.meter.bar // old * width
    say_round(row, beat, ledger)


def _stretched(at: int, width: int, old: int) -> int:
    return (2 * at * width + old) // (2 * old)  # off the columns: the nearest tick, of two the later


def _row_bars(strokes: tuple[Stroke, ...], beat: Beat) -> int:
    """After how many bars the strokes repeat: a beat of four equal bars is a row of one."""
    sounds = {(stroke.at, stroke.surface, stroke.dynamic, stroke.grace) for stroke in strokes}
    for bars in range(1, beat.bars):
        shift = bars * beat.meter.bar
        if beat.bars % bars == 0 and sounds == {((at + shift) % beat.cycle, *rest) for at, *rest in sounds}:
            return bars
    return beat.bars


def sentence(settings: dict[str, Any]) -> tuple[Word, ...]:
    """Say it: "Play the whole beat in eighth triplets, each stroke at the nearest place in its beat."."""
    within = settings["how"] == WITHIN
    return (
        Word("Play "),
        Word(target_words(settings["surface"]), "surface"),
        Word(" in "),
        Word(settings["into"], "into"),
        Word(", "),
        Word("each stroke at the nearest place in its beat" if within else "column by column across the bar", "how"),
        Word("."),
    )


KIND = Kind("subdivide", "Subdivide", SETTINGS, apply, sentence, reframes=True, family="Time and length")
