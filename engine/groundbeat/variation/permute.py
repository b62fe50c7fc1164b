"""Permute: the same stroke or figure on every place in turn.

Each chosen stroke moves later by `turn` steps, round inside its own beat, half bar, bar, or the loop: what passes the
end of its span comes in at the span's beginning. Beats over 8 and 16 are the groups of the meter. All move at once;
meetings are resolved afterwards by the ledger.

A span has as many turns as there are steps until a stroke is back where it was; a turn beyond that begins again, so
the remaining turns bring the beat back, where nothing merged. One turn is not displace: a figure is kept in its span.
"""

from __future__ import annotations

from collections.abc import Iterable
from math import gcd, lcm
from typing import Any

from ..lineage.ledger import Ledger
from ..model.beat import Beat
from ..model.meter import Meter
from ..model.roles import KICK
from .kind import Kind, Word, chosen
from .notes import read_cell
from .scene import Scene
from .selection import ALL
from .setting import CHOICE, NOTE, NUMBER, PLACES, TARGET, Setting
from .words import STROKES, note_words, places_words, target_words

BEAT, HALF, BAR, LOOP = "beat", "half bar", "bar", "loop"
MOST = 31  # turns that can be asked for: a bar of 4/4 in thirty-seconds has 32 places. Our choice

SETTINGS = (
    Setting("surface", 1, TARGET, KICK, label="what is turned"),
    Setting("at", 2, PLACES, ALL, label="which strokes", example="Such as all, 2 4, first backbeat, ghosts."),
    Setting("turn", 3, NUMBER, "1", low=1, high=MOST, label="how many steps on", example="Such as 1, 2 or 3."),
    Setting("step", 4, NOTE, "sixteenth", label="the step", example="Such as sixteenth, eighth, eighth triplet."),
    Setting("within", 5, CHOICE, BAR, words=(BEAT, HALF, BAR, LOOP), label="inside what it goes round"),
)  # fmt: skip


def apply(scene: Scene, settings: dict[str, Any], ledger: Ledger) -> None:
    """Turn the chosen strokes inside their spans."""
    strokes = chosen(settings["surface"], settings["at"], scene, ledger)
    if not strokes:
        return
    cycle, step, turn = scene.beat.cycle, read_cell(settings["step"])[0].ticks, int(settings["turn"])
    within = settings["within"]
    if within == HALF and not halves(scene.beat.meter):
        ledger.say(f"a bar of {scene.beat.meter} has no half; turned inside the bar")
        within = BAR
    still = True
    for stroke in strokes:
        start, length = span_at(stroke.at, within, scene.beat)
        by = turn * step % length
        if length < cycle:  # round inside the span; where it is the loop itself, the stroke crosses it
            by = start + (stroke.at - start + by) % length - stroke.at
        ledger.move(stroke, by)
        still = still and not by
    if still:
        steps = "one step" if turn == 1 else f"{turn} steps"
        ledger.say(f"{steps} of {note_words(settings['step'])}: all the way round, so nothing moves")


def halves(meter: Meter) -> bool:
    """Tell whether a beat begins half way through a bar."""
    return any(2 * (number - 1) == meter.count for number in meter.beats)


def span_at(tick: int, within: str, beat: Beat) -> tuple[int, int]:
    """Find the span that a tick lies in: where it starts and how long it is.

    >>> from ..model.meter import Meter
    >>> span_at(20160, "beat", Beat(Meter.of("7/8")))
    (20160, 15120)
    """
    meter = beat.meter
    if within == LOOP:
        return 0, beat.cycle
    bar = tick - tick % meter.bar
    if within == HALF and halves(meter):
        half = meter.bar // 2
        return bar + (tick - bar) // half * half, half
    if within != BEAT:
        return bar, meter.bar
    edges = [(number - 1) * meter.number for number in meter.beats] + [meter.bar]
    index = max(at for at in range(len(edges) - 1) if edges[at] <= tick - bar)
    return bar + edges[index], edges[index + 1] - edges[index]


def turns(places: Iterable[int], settings: dict[str, Any], beat: Beat) -> int:
    """Count the turns that exist for strokes at `places` (ticks), the unmoved one among them; 1 where there is none."""
    step = read_cell(settings["step"])[0].ticks
    lengths = {span_at(at, settings["within"], beat)[1] for at in places}
    return lcm(*(length // gcd(length, step) for length in lengths))


def sentence(settings: dict[str, Any]) -> tuple[Word, ...]:
    """Say it: "Turn every stroke of the kick on by one step of a sixteenth, round inside the bar."."""
    turn, within = settings["turn"], settings["within"]
    return (
        Word("Turn "),
        Word(places_words(settings["at"], STROKES), "at"),
        Word(" of "),
        Word(target_words(settings["surface"]), "surface"),
        Word(" on by "),
        Word("one step" if turn == "1" else f"{turn} steps", "turn"),
        Word(" of "),
        Word(note_words(settings["step"]), "step"),
        Word(", round "),
        Word("the loop" if within == LOOP else f"inside the {within}", "within"),
        Word("."),
    )


KIND = Kind("permute", "Permute", SETTINGS, apply, sentence, family="Where it falls")
