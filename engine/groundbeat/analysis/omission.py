"""What is the least to leave out, so that something tricky is gone?

Sets of one stroke, then of two, then of three are tried: the strokes of the tricky thing and what hands (or feet) play
together with them, for a hand that is freed can take a stroke over. Every set is tried by playing the beat without it:
the thing must be gone, nothing like it may have come up at its strokes, and nothing impossible or beyond a floor may be
new. Sets that keep the backbeats and the kick come first, whatever their size: without those it is another beat. Of
sets of one size those of added strokes come first, then the quietest, then those off the beats, then the latest. What
more than three strokes are needed for (a hand that never rests) loses every second stroke. All of this is our choice.
Trials have a bound: where a stage has very many spots the last ones are told without what to leave out.

The same figure in several bars is left out in all of them, and tried in all of them at once. In a long beat sets are
first tried on the strokes around the place; what helps there is then tried on the whole beat, which decides.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from itertools import combinations
from typing import NamedTuple

from ..model.beat import Stroke
from ..model.count import weight
from ..model.groove import Groove
from ..model.kit import FEET_ONLY
from ..model.roles import KICKS, find_roles
from ..variation.stack import Stage
from .limbs import KICK_FOOT, Playing, play, play_beat
from .player import Player
from .tricky import BEYOND, GHOST_UNDER, IMPOSSIBLE, IN_THE_WAY, TOGETHER, Find, Key, tricky

LARGEST = 3  # strokes of a set, a bar
MOST_TRIES = 32  # sets played for one thing; our choice, it bounds the time
AROUND_MS = 500.0  # what lies farther off hardly has a part in it: most steps are judged by half of that; our choice
WORST = (IMPOSSIBLE, BEYOND)
THOROUGH, QUICK = 6000, 1500  # strokes played for trials in all; a stroke takes about 0.1 ms; our choice
PAIRS = (GHOST_UNDER, TOGETHER, IN_THE_WAY)

Role = tuple[int, str]  # a stroke of a figure, wherever the figure stands: ticks from its place, instrument


class Effort:
    """How many strokes may still be played for trials, over all spots of a stage."""

    __slots__ = ("left",)

    def __init__(self, strokes: int = THOROUGH) -> None:
        self.left = strokes

    def spend(self, strokes: int) -> None:
        """Take strokes off."""
        self.left -= strokes


class Case(NamedTuple):
    """A stage with all that is tricky in it."""

    groove: Groove
    stage: Stage
    player: Player
    playing: Playing
    riding: tuple[str, ...]
    keys: frozenset[Key]
    effort: Effort


class Trial(NamedTuple):
    """A beat played without some strokes, and all that is tricky in it then."""

    playing: Playing
    found: tuple[Find, ...]


class Least(NamedTuple):
    """The least to leave out, and the beat as it is played without it."""

    ids: tuple[str, ...]
    playing: Playing | None


def without(case: Case, ids: Iterable[str]) -> Trial:
    """Play the stage without some strokes."""
    gone = set(ids)
    stage = case.stage
    beat = replace(stage.beat, strokes=tuple(stroke for stroke in stage.beat.strokes if stroke.id not in gone))
    case.effort.spend(len(beat.strokes))
    riding = find_roles(beat, stage.backbeats, case.groove.roles).riding
    playing = play(case.groove, replace(stage, beat=beat), case.player, case.playing.tempo)
    return Trial(playing, tuple(tricky(playing, riding)))


def _around(case: Case, strokes: frozenset[str], ids: frozenset[str]) -> Trial:
    """Play only some strokes of the stage, without some of them."""
    stage, playing = case.stage, case.playing
    beat = replace(stage.beat, strokes=tuple(s for s in stage.beat.strokes if s.id in strokes and s.id not in ids))
    case.effort.spend(len(beat.strokes))
    part = play_beat(beat, stage.feel, case.riding, playing.tempo, playing.unit, case.player)
    return Trial(part, tuple(tricky(part, case.riding)))


def removes(case: Case, group: Sequence[Find], ids: frozenset[str], trial: Trial) -> bool:
    """Tell whether a beat played without some strokes has a tricky figure no more, and nothing worse instead."""
    kind = group[0].kind
    for find in trial.found:
        if find.kind in WORST and find.kind != kind and not find.keys <= case.keys:
            return False
    return _gone(case, group, ids, trial)


def _gone(case: Case, group: Sequence[Find], ids: frozenset[str], trial: Trial) -> bool:
    """Tell whether nothing is left of a figure, and nothing like it came up at its strokes."""
    kind = group[0].kind
    strokes = {name for find in group for name in find.ids} - ids
    keys = frozenset[Key]().union(*(find.keys for find in group))
    for find in trial.found:
        if find.kind != kind:
            continue
        if find.keys & keys or (not find.keys <= case.keys and (kind in WORST or strokes & set(find.ids))):
            return False
    return True


def least_of(case: Case, groups: Sequence[Sequence[Find]]) -> list[Least]:
    """Find the least to leave out for every figure, in their order.

    What two strokes do at one moment is gone with either of them, whoever plays the rest, and where nothing is past a
    floor no omission brings that about; so there the beat is played once without all of those strokes, and each by
    itself only where that shows something left.
    """
    worst = any(key[0] in WORST for key in case.keys)
    pairs = {i: _first(case, group) for i, group in enumerate(groups) if group[0].kind in PAIRS and not worst}
    together = frozenset[str]().union(*pairs.values())
    trial = without(case, together) if together else None
    found = []
    for index, group in enumerate(groups):
        ids = pairs.get(index)
        if ids and trial and removes(case, group, ids | (together & _all(group)), trial):
            found.append(Least(_ordered(case, ids), None))
        else:
            found.append(least(case, group))
    return found


def _first(case: Case, group: Sequence[Find]) -> frozenset[str]:
    roles = _roles(case, group)
    chosen = next(_sets(case, group[0], roles))
    return frozenset(stroke.id for role in chosen for stroke in roles[role])


def _all(group: Sequence[Find]) -> frozenset[str]:
    return frozenset(name for find in group for name in find.ids)


def _ordered(case: Case, ids: frozenset[str]) -> tuple[str, ...]:
    return tuple(stroke.id for stroke in case.stage.beat.strokes if stroke.id in ids)


def least(case: Case, group: Sequence[Find]) -> Least:
    """Find the smallest set of strokes whose omission removes a figure (all the finds of it), in the order of the
    beat, with the beat as it is played then; () and None where none is found."""
    if case.effort.left <= 0:
        return Least((), None)
    roles = _roles(case, group)
    near = _near(case, group)
    for tries, chosen in enumerate(_sets(case, group[0], roles)):
        if tries >= MOST_TRIES or case.effort.left <= 0:
            break
        if near:
            here = frozenset(roles[role][0].id for role in chosen)
            if not _gone(case, group[:1], here, _around(case, near, here)):
                continue
        found = _tried(case, group, roles, chosen)
        if found:
            return found
    strokes = tuple(dict.fromkeys(group[0].strokes))
    if len(strokes) > LARGEST:
        for start in (1, 0):
            found = _tried(case, group, roles, tuple(_role(group[0], stroke) for stroke in strokes[start::2]))
            if found:
                return found
    return Least((), None)


def _tried(
    case: Case, group: Sequence[Find], roles: dict[Role, list[Stroke]], chosen: tuple[Role, ...]
) -> Least | None:
    """Play the whole beat without strokes of these roles; None where that does not help."""
    ids = frozenset(stroke.id for role in chosen for stroke in roles[role])
    trial = without(case, ids)
    if not removes(case, group, ids, trial):
        return None
    return Least(_ordered(case, ids), trial.playing)


def _near(case: Case, group: Sequence[Find]) -> frozenset[str]:
    """The strokes of hands (or feet, and what holds them) around the first find of a figure, where these are much fewer
    than the beat has and the figure is there too when they alone are played; else none."""
    beat, find = case.stage.beat, group[0]
    reach = int(AROUND_MS / case.playing.ms)
    start, length = find.at - reach, (find.strokes[-1].at - find.at) % beat.cycle + 2 * reach
    feet = find.limb >= KICK_FOOT
    around = frozenset(
        stroke.id
        for stroke in beat.strokes
        if (stroke.at - start) % beat.cycle <= length
        and ((stroke.surface in FEET_ONLY) == feet or (feet and stroke.instrument == "hi-hat"))
    )
    if find.limb < 0 or 2 * len(around) > len(beat.strokes) or length >= beat.cycle:
        return frozenset()
    there = {key for other in _around(case, around, frozenset()).found for key in other.keys}
    return around if find.keys <= there else frozenset()


def _role(find: Find, stroke: Stroke) -> Role:
    return stroke.at - find.at, stroke.instrument


def _roles(case: Case, group: Sequence[Find]) -> dict[Role, list[Stroke]]:
    """The strokes that may be left out, by their role in the figure."""
    found: dict[Role, list[Stroke]] = {}
    for find in group:
        feet = {stroke.surface in FEET_ONLY for stroke in find.strokes}
        places = {stroke.at for stroke in find.strokes}
        own = set(find.ids)
        for stroke in case.stage.beat.strokes:
            if stroke.id in own or (stroke.at in places and (stroke.surface in FEET_ONLY) in feet):
                found.setdefault(_role(find, stroke), []).append(stroke)
    return found


def _sets(case: Case, find: Find, roles: dict[Role, list[Stroke]]) -> Iterator[tuple[Role, ...]]:
    """Sets of roles, those first that are to be tried first."""
    dear = set(case.stage.backbeats)
    costs = {role: _cost(strokes[0], dear, case) for role, strokes in roles.items()}
    many = len(find.ids) > 2 * LARGEST
    largest = 1 if many else LARGEST

    def keeps(chosen: tuple[Role, ...]) -> bool:
        return not any(costs[role][0] for role in chosen)

    for keeping in (True, False):
        for size in range(1, largest + 1):
            sets = [row for row in combinations(sorted(roles), size) if keeps(row) == keeping]
            yield from sorted(sets, key=lambda row: (sorted((costs[role] for role in row), reverse=True), row))


def _cost(stroke: Stroke, dear: set[str], case: Case) -> tuple[int, ...]:
    """How dear a stroke is: backbeat or kick, of the base beat, loud, on a beat, early."""
    beat = case.stage.beat
    return (
        stroke.surface in KICKS or stroke.id in dear,
        stroke.origin == 0,
        stroke.level,
        weight(stroke.at, beat.meter),
        -stroke.at,
    )
