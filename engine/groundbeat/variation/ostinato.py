"""Ostinato: what one limb repeats; a cell that runs through the cycle and over the bar lines.

The cell starts at the first place and is cut at the end of the cycle (with `restart = "bar"` it begins anew in each
bar). It takes over its instrument: strokes that it hits are kept as they are, strokes where it is silent are left
out, empty hits are added (`dynamic`).

Of its hits some may be struck on the open hi-hat (`open`, only where it is a pattern of the hi-hat) and some as accents
(`accent`); strokes that were there are then altered.
"""

from __future__ import annotations

from typing import Any

from ..lineage.ledger import Ledger
from ..model.beat import Beat, Stroke
from ..model.kit import BY_NAME
from ..model.roles import RIDING
from .among import pick_among
from .frames import say_round
from .kind import Kind, Word, voice_of
from .notes import read_cell
from .scene import EVERYTHING, Scene, surfaces_of
from .selection import read_selection
from .setting import CELL, CHOICE, DYNAMIC, PLACES, TARGET, Setting
from .words import at_words, cell_words, dynamic_words, target_words

HIHAT, OPEN = "hi-hat", "open hi-hat"
_EXAMPLE = "Such as upbeats, 4&, 2 4, kick."

SETTINGS = (
    Setting("surface", 1, TARGET, RIDING, label="what repeats it"),
    Setting("cell", 2, CELL, label="the pattern",
            example="Such as eighth sixteenth sixteenth, quarter rest eighth."),
    Setting("restart", 3, CHOICE, "never", words=("never", "bar"), label="where it begins anew",
            offer="begin anew in every bar"),
    Setting("open", 4, PLACES, "", places=True, label="where the hi-hat is open",
            offer="open the hi-hat at some places", example=_EXAMPLE),
    Setting("accent", 5, PLACES, "", places=True, label="where it is accented", offer="with accents", example=_EXAMPLE),
    Setting("dynamic", 6, DYNAMIC, "normal", label="how loud new strokes are", offer="new strokes louder or softer"),
)  # fmt: skip


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
    own = [stroke for stroke in beat.strokes if stroke.instrument in instruments]
    others = {stroke.at for stroke in beat.strokes if stroke.instrument not in instruments}
    opened = _picked("open", settings, wanted, scene, ledger, others) if settings["open"] else frozenset()
    if opened and BY_NAME[surface].instrument != HIHAT:
        ledger.say(f"the {surface} cannot be opened; only the hi-hat can")
        opened = frozenset()
    accents = _picked("accent", settings, wanted, scene, ledger, others) if settings["accent"] else frozenset()
    taken = set()
    for stroke in own:
        if stroke.at in wanted:
            taken.add(stroke.at)
            _touch(stroke, opened, accents, ledger)
        else:
            ledger.leave_out(stroke)
    for at in sorted(wanted - taken):
        ledger.add(at, OPEN if at in opened else surface, "accent" if at in accents else settings["dynamic"])
    if not even:
        _say_cut(length, span, beat, ledger)


def _picked(
    name: str, settings: dict[str, Any], wanted: set[int], scene: Scene, ledger: Ledger, others: set[int]
) -> frozenset[int]:
    heard = len(ledger.says)
    found = pick_among(read_selection(settings[name]), wanted, scene, ledger.say, others)
    if not found and len(ledger.says) == heard:
        ledger.say(f"the pattern has no stroke at {settings[name]}")
    return found


def _touch(stroke: Stroke, opened: frozenset[int], accents: frozenset[int], ledger: Ledger) -> None:
    if stroke.at in opened and stroke.instrument == HIHAT:
        ledger.alter(stroke, surface=OPEN)
    if stroke.at in accents:
        ledger.alter(stroke, dynamic="accent")


def _say_cut(length: int, span: int, beat: Beat, ledger: Ledger) -> None:
    """Say where the cell is cut, and offer what would let it come out even."""
    if span != beat.cycle:
        ledger.say("cut at every bar line")
    else:
        say_round(length, beat, ledger)


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
    """Say it: "Let the riding hand repeat two sixteenths and an eighth, open at 4."."""
    words = [
        Word("Let "),
        Word(target_words(settings["surface"]), "surface"),
        Word(" repeat "),
        Word(cell_words(settings["cell"]), "cell"),
    ]
    if settings["restart"] == "bar":
        words += [Word(", "), Word("beginning anew in each bar", "restart")]
    if settings["open"]:
        words += [Word(", open "), Word(at_words(settings["open"]), "open")]
    if settings["accent"]:
        words += [Word(", accented "), Word(at_words(settings["accent"]), "accent")]
    if settings["dynamic"] != "normal":
        words += [Word(", adding "), Word(dynamic_words(settings["dynamic"], ""), "dynamic")]
    return (*words, Word("."))


KIND = Kind(
    "ostinato", "Ostinato", SETTINGS, apply, sentence, {"cell": "sixteenth sixteenth eighth"}, family="Patterns"
)
