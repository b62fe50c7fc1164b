"""Where can a teacher begin who knows what the beat is for, but not yet which change to make?

For each purpose some ideas: a variation with the reason for it, in a sentence. Only those are offered that change this
beat and have nothing to complain of. Which ideas serve which purpose is our choice, from what drummers do; how hard
they are to play is another question.
"""

from __future__ import annotations

from typing import Any, NamedTuple

from ..errors import VariationError
from .stack import Stage, make, next_stage, plain

TRIED = 10**6  # the key of a variation that is only tried; no document has it
OFFERED = 4  # ideas at once; a person chooses among few. Our choice


class Idea(NamedTuple):
    """A variation that serves a purpose, as kind and settings, and why."""

    kind: str
    settings: dict[str, Any]
    reason: str


class Offer(NamedTuple):
    """An idea on one beat: its number among the ideas of its purpose, what it says, and why."""

    number: int
    kind: str
    sentence: str
    reason: str


PURPOSES: dict[str, tuple[Idea, ...]] = {
    "funkier": (
        Idea(
            "displace",
            {"surface": "backbeat voice", "at": "first backbeat", "by": "1/16 earlier"},
            "The ear waits for the backbeat, and it comes before its time.",
        ),
        Idea(
            "embellish",
            {"surface": "snare", "beside": "after", "of": "backbeat voice", "at": "backbeats", "step": "sixteenth",
             "clear-of": ["kick"]},
            "A ghost note right after the backbeat answers it.",
        ),
        Idea(
            "embellish",
            {"surface": "kick", "at": "a", "dynamic": "normal", "clear-of": ["backbeat voice"], "most": "1"},
            "A kick just before a number leans into it.",
        ),
        Idea(
            "orchestrate",
            {"surface": "hi-hat", "at": "last &", "to": "open hi-hat"},
            "The hi-hat breathes once before the beat begins again.",
        ),
        Idea(
            "dynamics",
            {"surface": "riding", "at": "upbeats", "to": "accent"},
            "The riding hand pulls on the upbeats while the rest stays where it was.",
        ),
    ),
    "busier": (
        Idea(
            "embellish",
            {"surface": "snare", "at": "e a", "clear-of": ["kick"]},
            "Ghost notes fill the gaps and leave the backbeat alone.",
        ),
        Idea("ostinato", {"cell": "sixteenth sixteenth eighth"}, "The riding hand plays half as much again."),
        Idea("ostinato", {"cell": "sixteenth"}, "The riding hand fills every place."),
        Idea(
            "embellish",
            {"surface": "kick", "at": "upbeats", "dynamic": "normal", "clear-of": ["backbeat voice"], "most": "2"},
            "More kicks, all of them beside the backbeat.",
        ),
        Idea("double-time", {}, "The backbeat comes twice as often and the tempo stays."),
    ),
    "airier": (
        Idea(
            "ostinato", {"cell": "quarter"},
            "The riding hand only marks the beats; what is between is heard better.",
        ),
        Idea(
            "leave-space",
            {"surface": "riding", "with": ["backbeat voice"]},
            "Where the backbeat falls the riding hand is not missed.",
        ),
        Idea(
            "leave-space",
            {"surface": "kick", "with": ["riding"], "at": "upbeats"},
            "A kick less where another limb sounds already.",
        ),
        Idea(
            "leave-space", {"surface": "riding", "every": "2", "start": "2"},
            "Every second stroke of the riding hand is enough.",
        ),
        Idea("dynamics", {"surface": "riding", "to": "soft"}, "A softer riding hand lets the drums stand out."),
    ),
    "longer-feeling": (
        Idea("half-time", {}, "One backbeat a bar: the bar feels twice as long at the same tempo."),
        Idea(
            "ostinato", {"cell": "dotted eighth"},
            "Three against four: the pattern runs over the bar line before it comes round.",
        ),
        Idea("grouping", {"groups": "3"}, "Accents in threes make the ear count a longer phrase."),
        Idea("length", {"bars": "4"}, "Four bars before it comes round: now the fourth can be another."),
    ),
    "for small hands": (
        Idea("ostinato", {"cell": "quarter"}, "Half the strokes for the riding hand; the hand can rest on the way."),
        Idea("ostinato", {"cell": "eighth"}, "Even eighths ask for no two quick strokes of one hand."),
        Idea(
            "orchestrate", {"surface": "riding", "to": "hi-hat"},
            "Hi-hat and snare lie side by side: nothing to reach for.",
        ),
        Idea(
            "leave-space",
            {"surface": "snare", "at": "ghosts", "with": ["riding"]},
            "Ghost notes that fall alone are easier than those under the riding hand.",
        ),
        Idea(
            "leave-space", {"surface": "snare", "at": "ghosts", "every": "2", "start": "2"},
            "Half the ghost notes, so that none follows at once.",
        ),
    ),
    "for a quiet room": (
        Idea(
            "orchestrate",
            {"surface": "backbeat voice", "at": "backbeats", "to": "cross-stick"},
            "A cross-stick is much quieter than the open drum.",
        ),
        Idea("dynamics", {"to": "softer"}, "Everything a step quieter; the beat stays as it is."),
        Idea(
            "orchestrate", {"surface": "riding", "to": "hi-hat"},
            "A closed hi-hat rings less than any other cymbal.",
        ),
        Idea(
            "dynamics",
            {"surface": "kick", "to": "soft"},
            "Through a floor the kick is heard most.",
        ),
    ),
}  # fmt: skip


def offers(stage: Stage, purpose: str, corrections: tuple[tuple[str, str], ...] = ()) -> tuple[Offer, ...]:
    """List the ideas for a purpose that change the beat of a stage, at most OFFERED.

    `corrections` are those of the groove's roles. VariationError where the purpose is not known.
    """
    found = []
    beat = stage.beat
    for number, idea in enumerate(_ideas(purpose)):
        variation = make(TRIED, idea.kind, idea.settings)
        after = next_stage(stage, variation, corrections)
        if after.says and idea.kind not in _MAY_SAY:
            continue
        if after.beat.strokes == beat.strokes and after.beat.cycle == beat.cycle:
            continue
        found.append(Offer(number, idea.kind, plain(variation), idea.reason))
    return tuple(found[:OFFERED])


# Kinds that say when a pattern comes round, which is no complaint.
_MAY_SAY = ("ostinato", "grouping")


def idea(purpose: str, number: int) -> Idea:
    """Find an idea by its number; VariationError where there is none."""
    ideas = _ideas(purpose)
    if not 0 <= number < len(ideas):
        raise VariationError(f"there are ideas 0 to {len(ideas) - 1} for this purpose, not {number}", field="number")
    return ideas[number]


def _ideas(purpose: str) -> tuple[Idea, ...]:
    if purpose not in PURPOSES:
        raise VariationError(f'"{purpose}" is not a purpose; known are {", ".join(PURPOSES)}', field="purpose")
    return PURPOSES[purpose]
