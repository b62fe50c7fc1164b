"""Which strokes are counted out: every third of them, from the second on?

Strokes that fall together count as one. The count runs through the whole loop and over its bar lines; where it does
not come out even that is said. It never reaches back before the stroke that it starts from.

Kinds that count share the settings `every` and `start` and these words for them.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import gcd
from typing import Any

from ..lineage.ledger import Ledger
from ..model.beat import Stroke
from .kind import Word
from .scene import Scene
from .selection import ALL
from .words import STROKES, ordinal, places_words, target_words

MOST = 16  # the highest count: a bar of sixteenths; our choice


def counted(strokes: Sequence[Stroke], settings: dict[str, Any], scene: Scene, ledger: Ledger) -> tuple[Stroke, ...]:
    """Count out `every` of the strokes from `start` on; says so where there are not that many."""
    every, start = int(settings["every"]), int(settings["start"])
    spots = sorted({stroke.at for stroke in strokes})
    if spots and start > len(spots):
        ledger.say(f"there is no {ordinal(start)} of them")
    elif start <= every and len(spots) % every:
        bars = scene.beat.bars * every // gcd(len(spots), every)
        ledger.say(f"cut at the loop; comes round after {bars} bars")
    wanted = set(spots[start - 1 :: every])
    return tuple(stroke for stroke in strokes if stroke.at in wanted)


def meant_words(settings: dict[str, Any]) -> list[Word]:
    """Say which strokes: "every third stroke of the hi-hat"; `counted_words` is to follow sooner or later."""
    every = int(settings["every"])
    if settings["at"] == ALL and every > 1:
        which = Word(f"every {ordinal(every)} stroke", "every")
    else:
        which = Word(places_words(settings["at"], STROKES), "at")
    return [which, Word(" of "), Word(target_words(settings["surface"]), "surface")]


def counted_words(settings: dict[str, Any]) -> list[Word]:
    """Say what `meant_words` left unsaid of the count: ", every third of them, from the second on"."""
    every, start = int(settings["every"]), int(settings["start"])
    words = []
    if settings["at"] != ALL and every > 1:
        words += [Word(", "), Word(f"every {ordinal(every)} of them", "every")]
    if start > 1:
        words += [Word(", "), Word(f"from the {ordinal(start)} on", "start")]
    return words
