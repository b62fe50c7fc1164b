"""How much do the limbs go ways of their own?

One limb guides: the one that plays most of what the riding hand plays; without a riding hand the one that plays most.
Each other limb falls together with the guide or between its strokes, and stays with one or changes about. Points:

* a stroke between the guide's: 1. Off the beat is harder than on it (Repp 2005, Music Perception 22:479). Where all
  strokes of the limb fall between, as when two hands play in turn, it is half of that;
* a change from together to between or back, around the loop: 1. That a relation which changes costs more than either
  fits the order of Kelso 1984 (in phase easier than opposite, and that than any other phase); the reading is ours;
* two limbs of which none guides: half of what changes about between them, nothing where they stay apart or together;
* all that times 2 for a hand and the foot of its side, 1 1/2 for a hand and the other foot or for two feet, 1 for two
  hands. The order of hand with near foot, hand with far foot, two hands is that of Nakagawa, Muraoka and Kanosue 2013
  (Physiological Reports 1:e00108); the sizes, and the place of the feet, are our choice.

So is the sum itself: we know of no published measure of independence at the drum set. The tempo is not in it. Points
are told a quarter note of the loop, so that a beat written twice has what it had once.
"""

from __future__ import annotations

from collections import Counter
from typing import NamedTuple

from ..model.meter import QUARTER
from .limbs import HAT_FOOT, KICK_FOOT, LEAD, OTHER, Playing

# By pair of limbs, doubled: the kick foot is on the leading hand's side.
WEIGHTS = {
    (LEAD, OTHER): 2, (LEAD, KICK_FOOT): 4, (LEAD, HAT_FOOT): 3, (OTHER, KICK_FOOT): 3, (OTHER, HAT_FOOT): 4,
    (KICK_FOOT, HAT_FOOT): 3,
}  # fmt: skip
SHARE = 4  # parts of a point that are counted: halves, of doubled weights
HALF_WAY = 2.0  # points a quarter note shown as 50. Our choice, near the middle of what drummers of many styles play


class Independence(NamedTuple):
    """Points a quarter note, as 0 to 99 and in words."""

    points: float
    value: int
    text: str


def independence(playing: Playing) -> Independence:
    """Measure how much the limbs go ways of their own in a beat as it is played."""
    places: dict[int, set[int]] = {}
    for stroke in playing.beat.strokes:
        if stroke.id in playing.limbs:
            places.setdefault(playing.limbs[stroke.id], set()).add(stroke.at)
    if len(places) < 2:
        return Independence(0.0, 0, "one limb alone" if places else "nothing to play")
    guide = _guide(playing, places)
    others = sorted(set(places) - {guide})
    points = 0
    told: list[tuple[int, str]] = []
    crossed: list[str] = []
    for limb in others:
        between, changes = _apart(places[limb], places[guide])
        of_guide = (2 * between + 2 * changes if changes else between) * _weight(guide, limb)
        points += of_guide
        if between:
            told.append((of_guide, _share(playing.player.limbs[limb], between, len(places[limb]))))
    for index, limb in enumerate(others):
        for other in others[index + 1 :]:
            few, many = sorted((limb, other), key=lambda which: (len(places[which]), which))
            between, changes = _apart(places[few], places[many])
            if changes:
                points += (between + changes) * _weight(limb, other)
                crossed.append(f"{playing.player.limbs[limb]} and {playing.player.limbs[other]}")
    each = points / SHARE * QUARTER / playing.beat.cycle
    told.sort(key=lambda row: -row[0])
    who = playing.player.limbs[guide]
    text = f"between strokes of the {who}: {'; '.join(row for _, row in told)}" if told else f"all goes with the {who}"
    if crossed:
        text += f"; now together, now apart: {', '.join(crossed)}"
    return Independence(each, int(100 * each / (each + HALF_WAY)), text)


def _share(limb: str, between: int, strokes: int) -> str:
    """Say how many of a limb's strokes are meant."""
    return f"{limb} {'always' if between == strokes else f'{between} of {strokes}'}"


def _guide(playing: Playing, places: dict[int, set[int]]) -> int:
    riding = {deed.stroke.id for deed in playing.rings[0].track.deeds if deed.rides}
    counts = Counter(playing.limbs[name] for name in riding if name in playing.limbs)
    if not counts:
        counts = Counter({limb: len(found) for limb, found in places.items()})
    return min(counts, key=lambda limb: (-counts[limb], limb))


def _apart(few: set[int], many: set[int]) -> tuple[int, int]:
    """How many strokes of one limb fall between those of another, and how often around the loop that changes."""
    row = [at in many for at in sorted(few)]
    return row.count(False), sum(one != two for one, two in zip(row, row[1:] + row[:1], strict=True))


def _weight(one: int, two: int) -> int:
    return WEIGHTS[min(one, two), max(one, two)]
