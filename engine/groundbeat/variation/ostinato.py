"""Ostinato: what one limb repeats; a cell that runs through the cycle and over the bar lines.

The cell starts at the first place and is cut at the end of the cycle (with `restart = "bar"` it begins anew in each
bar). It takes over its instrument: strokes that it hits are kept as they are, strokes where it is silent are left
out, empty hits are added at normal dynamic.
"""

from __future__ import annotations

from math import gcd
from typing import Any

from ..lineage.ledger import Ledger
from ..model.kit import BY_NAME
from ..model.roles import RIDING
from .kind import Kind, Scene, Word, surfaces_of, voice_of
from .notes import read_cell
from .setting import CELL, CHOICE, EVERYTHING, TARGET, Setting
from .words import cell_words, target_words

SETTINGS = (
    Setting("surface", 1, TARGET, RIDING),
    Setting("cell", 2, CELL),
    Setting("restart", 3, CHOICE, "never", words=("never", "bar")),
)


def apply(scene: Scene, settings: dict[str, Any], ledger: Ledger) -> None:
    """Lay the cell over the instrument of the target."""
    surface = voice_of(settings["surface"], scene, ledger)
    if not surface:
        return
    if surface == EVERYTHING:
        ledger.say("an ostinato needs one surface; the whole beat is none")
        return
    beat = scene.beat
    span = beat.meter.bar if settings["restart"] == "bar" else beat.cycle
    hits, even, length = _hits(settings["cell"], span)
    wanted = {start + hit for start in range(0, beat.cycle, span) for hit in hits}
    names = {surface, *surfaces_of(settings["surface"], scene)}
    instruments = {BY_NAME[name].instrument for name in names}
    taken = set()
    for stroke in beat.strokes:
        if stroke.instrument in instruments:
            if stroke.at in wanted:
                taken.add(stroke.at)
            else:
                ledger.leave_out(stroke)
    for at in sorted(wanted - taken):
        ledger.add(at, surface)
    if not even and span != beat.cycle:
        ledger.say("cut at every bar line")
    elif not even:
        bar = beat.meter.bar
        rounds = length // gcd(length, bar)
        ledger.say(f"cut at the loop; comes round after {rounds} bar{'' if rounds == 1 else 's'}")


def _hits(cell: str, span: int) -> tuple[list[int], bool, int]:
    """Lay a cell over `span` ticks: where it hits, whether it comes out even, and its length."""
    row = read_cell(cell)
    length = sum(note.ticks for note in row)
    hits: list[int] = []
    at = 0
    while at < span:
        for note in row:
            if at < span and note.sounds:
                hits.append(at)
            at += note.ticks
    return hits, span % length == 0, length


def sentence(settings: dict[str, Any]) -> tuple[Word, ...]:
    """Say it: "Let the riding hand repeat two sixteenths and an eighth."."""
    words = [
        Word("Let "),
        Word(target_words(settings["surface"]), "surface"),
        Word(" repeat "),
        Word(cell_words(settings["cell"]), "cell"),
    ]
    if settings["restart"] == "bar":
        words += [Word(", "), Word("beginning anew in each bar", "restart")]
    return (*words, Word("."))


KIND = Kind("ostinato", "Ostinato", SETTINGS, apply, sentence, {"cell": "sixteenth sixteenth eighth"})
