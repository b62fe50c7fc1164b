"""Linear: no two limbs at once; who yields where strokes fall together?

At every place of `at` where more than one stroke sounds all but one yield: the strokes of `first`, then those of
`second`, then all others, accents of `second` and of the others last; within each of these the quieter before the
louder, of equal ones metal before drums, then the higher line of the kit before the lower. A backbeat yields to
nothing but another backbeat: through it the first beat is still heard. A foot on the hi-hat is a limb like any other.
Our choice.

What yields is left out, or moves on to the next column of its beat where nothing sounds; where its beat has none it
is left out after all. So a place that sounded still sounds, and a place never gets a second stroke.
"""

from __future__ import annotations

from bisect import bisect_right
from collections import Counter
from functools import lru_cache
from typing import Any

from ..lineage.ledger import Ledger
from ..model.beat import Beat, Stroke
from ..model.kit import BY_NAME, FOOT, GRACE_WORDS, METAL, ROWS
from ..model.meter import Meter
from ..model.roles import KICK, RIDING
from .kind import Kind, Word, chosen, strokes_of
from .scene import EVERYTHING, Scene
from .selection import ALL
from .setting import CHOICE, PLACES, TARGET, Setting
from .words import at_words, target_words

OUT, ON = "left out", "moves on"
TWO_HANDED = ("flam", "drag", "ruff")  # graces that one hand leads into the stroke of the other

SETTINGS = (
    Setting("first", 1, TARGET, RIDING, label="who yields first", example="Such as riding, kick or hi-hat foot."),
    Setting("second", 2, TARGET, KICK, label="who yields next", example="Such as kick, snare or hi-hat foot."),
    Setting("at", 3, PLACES, ALL, label="the places", example="Such as 2 4, e a, backbeats, 2:all."),
    Setting("how", 4, CHOICE, OUT, words=(OUT, ON), label="what becomes of it"),
)


def apply(scene: Scene, settings: dict[str, Any], ledger: Ledger) -> None:
    """Let all but one stroke yield at every place."""
    beat = scene.beat
    places = {stroke.at for stroke in chosen(EVERYTHING, settings["at"], scene, ledger)}
    if not places:
        return
    groups = {stroke.id: 1 for stroke in strokes_of(settings["second"], scene, ledger)}
    groups |= {stroke.id: 0 for stroke in strokes_of(settings["first"], scene, ledger)}
    backbeats = set(scene.backbeats)

    def order(stroke: Stroke) -> tuple[bool, bool, int, int, bool, int]:
        group = groups.get(stroke.id, 2)
        later = group > 0 and stroke.dynamic == "accent"
        drum = BY_NAME[stroke.surface].material != METAL
        return stroke.id in backbeats, later, group, stroke.level, drum, ROWS[stroke.surface]

    together: dict[int, list[Stroke]] = {}
    for stroke in beat.strokes:
        together.setdefault(stroke.at, []).append(stroke)
    meetings = [at for at in sorted(places) if len(together[at]) > 1]
    if not meetings:
        ledger.say("no two strokes fall together here")
    sounding = set(together)
    stuck = 0
    for at in meetings:
        for stroke in sorted(together[at], key=order)[:-1]:
            to = _next_free(at, sounding, beat) if settings["how"] == ON else None
            if to is None:
                ledger.leave_out(stroke)
                stuck += settings["how"] == ON
            else:
                sounding.add(to)
                ledger.move(stroke, to - at)
    if stuck:
        many = f"{stuck} strokes found no free place in their beat and were left out"
        ledger.say("a stroke found no free place in its beat and was left out" if stuck == 1 else many)
    _tell_graces([stroke for at in sorted(places) for stroke in together[at] if not ledger.is_out(stroke)], ledger)


def _next_free(at: int, sounding: set[int], beat: Beat) -> int | None:
    """The next column after a tick, before the next beat of the meter, where nothing sounds."""
    end = _beat_end(at, beat.meter)
    column = (at // beat.column + 1) * beat.column
    return next((tick for tick in range(column, end, beat.column) if tick not in sounding), None)


def _beat_end(at: int, meter: Meter) -> int:
    ends = _ends(meter)
    within = at % meter.bar
    return at - within + ends[bisect_right(ends, within)]


@lru_cache(maxsize=64)
def _ends(meter: Meter) -> tuple[int, ...]:
    """Where beats begin and the bar ends, in ticks of the bar."""
    return *((number - 1) * meter.number for number in meter.beats), meter.bar


def _tell_graces(strokes: list[Stroke], ledger: Ledger) -> None:
    """Say which ornaments take two limbs although nothing else sounds there."""
    counts = Counter(
        (stroke.grace, "feet" if BY_NAME[stroke.surface].limb == FOOT else "hands")
        for stroke in strokes
        if stroke.grace in TWO_HANDED
    )
    for (grace, limbs), count in counts.items():
        word = GRACE_WORDS[grace]
        ledger.say(f"{f'a {word} needs' if count == 1 else f'{count} {word}s need'} both {limbs}")


def sentence(settings: dict[str, Any]) -> tuple[Word, ...]:
    """Say it: "Let no two limbs sound together anywhere: the riding hand yields first, then the kick; ..."."""
    where = "anywhere" if settings["at"] == ALL else at_words(settings["at"])
    fate = "is left out" if settings["how"] == OUT else "moves on to the next free place of its beat"
    return (
        Word("Let no two limbs sound together "),
        Word(where, "at"),
        Word(": "),
        Word(target_words(settings["first"]), "first"),
        Word(" yields first, then "),
        Word(target_words(settings["second"]), "second"),
        Word(", accents later, a backbeat never; what yields "),
        Word(fate, "how"),
        Word("."),
    )


# A new one keeps the kick and the backbeats, and lets the riding hand and the ghosts go round them: the usual way to
# turn a beat into a linear one.
KIND = Kind(
    "linear", "Linear", SETTINGS, apply, sentence, {"second": "snare", "how": ON}, family="More and fewer strokes"
)
