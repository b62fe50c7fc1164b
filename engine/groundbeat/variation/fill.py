"""Fill: a figure round the kit at the end of a bar, and the crash after it.

The last `length` of the bar is filled (the whole bar where it is shorter). The figure `cell` runs through it and is cut
at the bar line; its hits go round the surfaces `over` in turn, each having an equal part of the time. There hand
strokes are left out, except those that the fill hits on the same surface: they are kept, and become accents where
`accents` says so. The feet stay, or leave the fill alone.

The crash falls on the 1 of the bar that follows, round the loop, with a kick. What the riding hand plays there becomes
the crash; else it is added, and so is the kick. A crash that is there already is kept. It is an accent, our choice.
"""

from __future__ import annotations

from typing import Any

from ..lineage.ledger import Ledger
from ..model.count import spoken_at
from ..model.kit import FEET_ONLY
from ..model.roles import KICK, KICKS
from .among import pick_among
from .kind import Kind, Word
from .notes import read_cell
from .scene import Scene
from .selection import read_selection
from .setting import CELL, CHOICE, DYNAMIC, NOTE, NUMBER, PLACES, ROW, Setting
from .words import at_words, cell_words, dynamic_words, note_words, row_words, target_words

STAY, OUT, NONE = "stay", "out", "none"
CRASHES = ("crash", "second crash", "china")
ROUND = ("snare", "high tom", "mid tom", "floor tom")

SETTINGS = (
    Setting("bar", 1, NUMBER, "0", low=0, high=16, label="which bar", example="Such as 4; 0 is the last bar."),
    Setting("length", 2, NOTE, "half", label="how much of its end", example="Such as quarter, half, dotted half."),
    Setting("cell", 3, CELL, "sixteenth", label="the figure",
            example="Such as sixteenth sixteenth eighth, eighth triplet."),
    Setting("over", 4, ROW, ROUND, label="round which surfaces"),
    Setting("dynamic", 5, DYNAMIC, "normal", label="how loud", offer="louder or softer"),
    Setting("accents", 6, PLACES, "", places=True, label="where it is accented", offer="with accents",
            example="Such as beats, 4, upbeats."),
    Setting("feet", 7, CHOICE, STAY, words=(STAY, OUT), label="what the feet do", offer="without the feet"),
    Setting("crash", 8, CHOICE, CRASHES[0], words=(*CRASHES, NONE), label="what follows on 1"),
)  # fmt: skip


def apply(scene: Scene, settings: dict[str, Any], ledger: Ledger) -> None:
    """Lay the fill into its bar, then the crash on the 1 after it."""
    beat = scene.beat
    bar = int(settings["bar"]) or beat.bars
    if bar > beat.bars:
        ledger.say(f"found no bar {bar}; this beat has {beat.bars} bar{'' if beat.bars == 1 else 's'}")
        return
    if not settings["over"]:
        ledger.say("a fill needs a surface to go over; name one, such as the snare")
        return
    end = bar * beat.meter.bar
    length = read_cell(settings["length"])[0].ticks
    if length > beat.meter.bar:
        length = beat.meter.bar
        ledger.say(f"a bar of {beat.meter} is shorter than {note_words(settings['length'])}; the whole bar is filled")
    one = end % beat.cycle
    spared = _crash(one, settings["crash"], scene, ledger) if settings["crash"] != NONE else frozenset()
    _lay(end - length, end, spared, scene, settings, ledger)
    if beat.bars == 1:
        ledger.say("the beat is one bar long, so every bar has the fill")


def _crash(one: int, crash: str, scene: Scene, ledger: Ledger) -> frozenset[str]:
    """Put crash and kick on the 1 after the fill; gives the ids of what the fill must spare there."""
    beat, riding = scene.beat, scene.roles.riding
    there = [stroke for stroke in beat.strokes if stroke.at == one]
    spared = {stroke.id for stroke in there if stroke.surface in (crash, *KICKS)}
    if not any(stroke.surface == crash for stroke in there):
        rides = [stroke for stroke in there if stroke.surface in riding]
        for stroke in rides:
            ledger.alter(stroke, surface=crash, dynamic="accent")
            spared.add(stroke.id)
        if not rides:
            ledger.add(one, crash, "accent")
    if not any(stroke.surface in KICKS for stroke in there):
        ledger.add(one, KICK)
    ledger.say(f"the {crash} is on {spoken_at(one, beat.meter, beat.bars)}, after the fill")
    return frozenset(spared)


def _lay(start: int, end: int, spared: frozenset[str], scene: Scene, settings: dict[str, Any], ledger: Ledger) -> None:
    over, hits = settings["over"], _hits(settings["cell"], start, end)
    wanted = {at: over[(at - start) * len(over) // (end - start)] for at in hits}
    feet = {stroke.at for stroke in scene.beat.strokes if stroke.surface in FEET_ONLY and settings["feet"] == STAY}
    accents: frozenset[int] = frozenset()
    if settings["accents"]:
        heard = len(ledger.says)
        accents = pick_among(read_selection(settings["accents"]), wanted, scene, ledger.say, feet)
        if not accents and len(ledger.says) == heard:
            ledger.say(f"the fill has no stroke at {settings['accents']}")
    for stroke in scene.beat.strokes:
        if not start <= stroke.at < end or stroke.id in spared:
            continue
        if wanted.get(stroke.at) == stroke.surface:
            if stroke.at in accents:
                ledger.alter(stroke, dynamic="accent")
        elif stroke.surface not in FEET_ONLY or settings["feet"] == OUT:
            ledger.leave_out(stroke)
    for at, surface in wanted.items():
        ledger.add(at, surface, "accent" if at in accents else settings["dynamic"])


def _hits(cell: str, start: int, end: int) -> list[int]:
    row, hits, at = read_cell(cell), [], start
    while at < end:
        for note in row:
            if at < end and note.sounds:
                hits.append(at)
            at += note.ticks
    return hits


def sentence(settings: dict[str, Any]) -> tuple[Word, ...]:
    """Say it: "In the last bar, fill the last half by repeating a sixteenth round the snare and the floor tom, ..."."""
    bar, length = settings["bar"], note_words(settings["length"]).split(" ", 1)[1]
    length += "" if length.endswith("triplet") else " note"
    words = [
        Word("In "),
        Word("the last bar" if bar == "0" else f"bar {bar}", "bar"),
        Word(", fill "),
        Word(f"the last {length}", "length"),
        Word(" by repeating "),
        Word(cell_words(settings["cell"]), "cell"),
        Word(" round "),
        Word(row_words(settings["over"]) if settings["over"] else "nothing", "over"),
    ]
    if settings["dynamic"] != "normal":
        words += [Word(", in "), Word(dynamic_words(settings["dynamic"], ""), "dynamic")]
    if settings["accents"]:
        words += [Word(", accented "), Word(at_words(settings["accents"]), "accents")]
    if settings["feet"] == OUT:
        words += [Word(", "), Word("without the feet", "feet")]
    if settings["crash"] == NONE:
        return (*words, Word(", with "), Word("no crash", "crash"), Word(" after it."))
    return (*words, Word(", with "), Word(target_words(settings["crash"]), "crash"), Word(" on the 1 after it."))


KIND = Kind("fill", "Fill", SETTINGS, apply, sentence, {"accents": "beats"}, family="More and fewer strokes")
