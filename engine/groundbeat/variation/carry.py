"""What becomes of variations when they are put on another beat?

Each variation has grown on the beat that it was written on ("here") and on another ("there"). What it did is counted
from its change alone; nothing is guessed from the two beats. The verdict is ours:

* carried over: every kind of deed that it did here (moving, altering, adding, leaving out, another length or meter,
  another feel) it also does there,
* partly: some of these kinds, not all; or it says there, and not here, that it missed something,
* changes nothing: there is what it means, and it is as it should be already, or cannot be so there,
* found nothing: it does nothing there, and says what it missed,
* off: the variation is switched off on both.

How often a deed is done does not count: a beat with fewer backbeats has fewer to move. A moved stroke that meets
another and merges was moved all the same.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from ..errors import VariationError
from ..model.beat import Beat
from ..model.groove import Groove, Variation
from .stack import Stage, grow, onto

CARRIED, PARTLY, SAME, NOTHING, OFF = "carried over", "partly", "changes nothing", "found nothing", "off"
_MISSED = ("found no", "this beat has no")  # how stages begin to say that something is not there


class Deeds(NamedTuple):
    """What a stage did: how many strokes it moved, altered, added, left out, and merged into others, and whether it
    gave the beat another frame (meter, bars, columns) or feel."""

    moved: int
    altered: int
    added: int
    left_out: int
    merged: int
    framed: bool
    felt: bool

    @staticmethod
    def of(stage: Stage, before: Stage) -> Deeds:
        """Count what a stage did to the one before it."""
        change = stage.change
        return Deeds(
            len(change.moved),
            len(change.altered),
            len(change.added),
            len(change.left_out),
            len(change.absorbed()),
            _frame(stage.beat) != _frame(before.beat),
            stage.feel != before.feel,
        )

    def kinds(self) -> dict[str, bool]:
        """Say which kinds of deed there were, by the word for what they are done to."""
        return {
            "strokes to move": self.moved > 0 or self.merged > 0,
            "strokes to alter": self.altered > 0,
            "strokes to add": self.added > 0,
            "strokes to leave out": self.left_out > 0,
            "a length or meter to change": self.framed,
            "a feel to change": self.felt,
        }


def _frame(beat: Beat) -> tuple[object, ...]:
    return beat.meter, beat.bars, beat.columns


class Carried(NamedTuple):
    """One variation on both beats: its stage here and there, what it did, the verdict, and why, in words."""

    variation: Variation
    here: Stage
    there: Stage
    did: Deeds
    does: Deeds
    verdict: str
    why: str


class Carrying(NamedTuple):
    """A groove's variations on another base beat: the new groove, its stages, and what became of each variation."""

    groove: Groove
    stages: tuple[Stage, ...]
    rows: tuple[Carried, ...]


def carry(groove: Groove, base: Groove, stages: Sequence[Stage] | None = None) -> Carrying:
    """Put the variations of a groove on another base beat, and tell what becomes of each.

    `stages` are those of the groove, where they are known.
    """
    there = onto(base, groove)
    grown = grow(there)
    here = grow(groove) if stages is None else stages
    rows = tuple(_row(here[n - 1 : n + 1], grown[n - 1 : n + 1]) for n in range(1, len(grown)))
    return Carrying(there, grown, rows)


def told(rows: Sequence[Carried]) -> str:
    """Say in one sentence how the variations fared.

    >>> told(())
    'There is no variation to carry over.'
    """
    if not rows:
        return "There is no variation to carry over."
    words = {
        CARRIED: "carried over",
        PARTLY: "carried over in part",
        SAME: "changing nothing",
        NOTHING: "found nothing",
        OFF: "off",
    }
    counts = [(sum(row.verdict == verdict for row in rows), word) for verdict, word in words.items()]
    parts = [f"{count} {word}" for count, word in counts if count]
    if len(parts) == 1 and counts[0][0] == len(rows):
        return "It carried over." if len(rows) == 1 else f"All {len(rows)} carried over."
    return f"Of {len(rows)} variation{'' if len(rows) == 1 else 's'}: {', '.join(parts)}."


def _row(here: Sequence[Stage], there: Sequence[Stage]) -> Carried:
    """Judge one variation; given are the stage before it and its own, on both beats."""
    variation = here[1].variation or there[1].variation
    if variation is None:
        raise VariationError("a base beat is not carried")
    did, does = Deeds.of(here[1], here[0]), Deeds.of(there[1], there[0])
    verdict, why = _judge(variation, here[1].says, there[1].says, did.kinds(), does.kinds())
    return Carried(variation, here[1], there[1], did, does, verdict, why)


def _judge(
    variation: Variation, said: Sequence[str], says: Sequence[str], did: dict[str, bool], does: dict[str, bool]
) -> tuple[str, str]:
    if not variation.on:
        return OFF, "It is switched off."
    missed = [text for text in says if text.startswith(_MISSED)]
    because = _sentence("; ".join(missed)) if missed else ""
    if not any(does.values()):
        if missed:
            return NOTHING, because
        if says:
            return SAME, _sentence("; ".join(says))
        so = "What it means is already so on this beat." if any(did.values()) else "It changes nothing on either beat."
        return SAME, so
    gone = [word for word, was in did.items() if was and not does[word]]
    if gone or any(text not in said for text in missed):
        return PARTLY, because or f"On this beat it has no {' and no '.join(_bare(word) for word in gone)}."
    new = [word for word, is_done in does.items() if is_done and not did[word]]
    return CARRIED, because or (f"On this beat it also has {' and '.join(new)}." if new else "")


def _bare(word: str) -> str:
    return word.removeprefix("a ")


def _sentence(text: str) -> str:
    return text[0].upper() + text[1:] + "."
