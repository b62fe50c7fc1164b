"""What could follow a stage, as far as it can be told without playing it?

Variations of every kind in turn are drawn and made; those that complain, change nothing, change too much, touch what is
to be kept or go against the wish are dropped. Then settings of the best are drawn anew. What is left has a score, the
lower the better: a short sentence, neither a trifle nor a leap, nothing that drummers seldom do. All numbers here are
our choice.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from ..model.groove import Groove
from ..model.kit import BY_NAME, FEET_ONLY
from ..model.roles import KICKS
from ..variation.scene import Scene
from ..variation.selection import BACKBEATS
from ..variation.stack import Stage, plain
from .candidates import Candidate, Chance, Space, awkward, signature
from .differences import Differences, Hit, hit
from .home import home
from .keeping import kept
from .player import Player, player_text
from .wish import LEFT, RIGHT, STROKES, Wish, reached

OF_A_KIND = 2
STROKES_DRAWN, DRAWN = 12000, (60, 320)  # strokes of all stages made in a round; how many stages at least and at most
BETTER = 12  # of the best found in the first half of a round the second half is drawn on
FAR_FROM_HOME = 0.65  # distance from the base beat that only a stage may have that is there already
FELT = 15  # how new another feel is, or half of what other hands and ornaments on all strokes are, in hundredths
# What stands in most practice rooms.
_USUAL = frozenset(
    ("kick", "snare", "cross-stick", "rimshot", "hi-hat", "open hi-hat", "hi-hat foot", "ride", "ride bell", "crash")
) | {"high tom", "mid tom", "floor tom"}
_REMARKS = ("cut at the loop", "a backbeat stays")  # what a stage may say: remarks, not complaints


class Found(NamedTuple):
    """A candidate that passed what needs no limbs; the lower its score the better."""

    candidate: Candidate
    differences: Differences
    measured: dict[str, int]
    hits: frozenset[Hit]
    says: str
    score: float

    @property
    def kind(self) -> str:
        """The kind of its variation."""
        return self.candidate.variation.kind


class Search:
    """The search for what could follow the last of some stages, `below`."""

    def __init__(
        self, groove: Groove, below: Sequence[Stage], wish: Wish, keep: tuple[str, ...], seed: int, player: Player
    ) -> None:
        self.groove, self.below, self.wish, self.keep, self.player = groove, below, wish, keep, player
        self.before = below[-1]
        self.space = Space(below, groove.roles)
        told = (
            signature(self.before.beat),
            wish.text,
            " ".join(keep),
            str(seed),
            str(groove.tempo),
            player_text(player),
        )
        self.chance = Chance("|".join(told))
        self.numbers = {stage.key: stage.number for stage in below}
        self.sounding = {stroke.surface for stroke in self.before.beat.strokes}
        self.riding = Scene(self.before.beat, self.before.backbeats, groove.roles).roles.riding
        self.dynamics = {stroke.dynamic for stroke in self.before.beat.strokes}
        self.size = max(1, len(self.before.beat.strokes))
        self.far = max(FAR_FROM_HOME, home(below, self.before.number, groove.roles).distance)

    def shortened(self, found: Found) -> Found:
        """Say the same beat with as few settings as it takes."""
        candidate = self.space.shortened(found.candidate)
        if candidate is found.candidate:
            return found
        return found._replace(candidate=candidate, says=plain(candidate.variation, self.numbers))

    def found(self) -> list[Found]:
        """Draw candidates of every kind in turn, then change the best of them; only what passes without limbs."""
        count = within(STROKES_DRAWN // self.size, DRAWN)
        found: list[Found] = []
        best: list[Found] = []
        seen: set[tuple[object, ...]] = set()
        names, chance = self.space.names, self.chance
        first = chance.below(len(names))
        for number in range(count):
            if number * 2 < count or not found:
                name = names[(first + number) % len(names)]
                raw = self.space.draw(name, chance)
            else:
                best = _best(found) if not best or number % 8 == 0 else best
                one = best[chance.below(len(best))]
                name, raw = one.kind, dict(one.candidate.raw)
                self.space.change(raw, name, chance)
            candidate = self.space.attempt(name, raw)
            if candidate is not None:
                each = self._passed(candidate, seen)
                if each is not None:
                    found.append(each)
        return found

    def _passed(self, candidate: Candidate, seen: set[tuple[object, ...]]) -> Found | None:
        stage = candidate.stage
        if any(not text.startswith(_REMARKS) for text in stage.says):
            return None
        hits = tuple(hit(stroke) for stroke in stage.beat.strokes)
        what = (*hits, str(stage.beat.cycle), repr(stage.feel))
        if what in seen or not hits or self._needs_more_limbs(stage):
            return None
        seen.add(what)
        differences = Differences(self.before, stage)
        if differences.nothing:
            return None
        new = self._newness(differences)
        if not self.wish.least_new <= new <= self.wish.most_new:
            return None
        if not all(kept(what, self.before, stage, self.groove.roles) for what in self.keep):
            return None
        measured = differences.counted()
        if any(reached(way, measured) is False for way in self.wish.ways):
            return None
        says = plain(candidate.variation, self.numbers)
        score = self._score(says, new, measured, differences) + self._odd(differences) + awkward(candidate)
        return Found(candidate, differences, measured, frozenset(hits), says, score)

    def _newness(self, differences: Differences) -> int:
        """How new a stage is, in hundredths: what the ear gets; where that is the same, hands, ornaments and feel."""
        new = round(100 * home((self.before, differences.after), 1, self.groove.roles).distance)
        if new:
            return new
        if differences.felt:
            return FELT
        return round(FELT * (len(differences.new) + len(differences.gone)) / differences.size)

    def _needs_more_limbs(self, stage: Stage) -> bool:
        """Whether more hands or feet than there are would be needed somewhere; and nobody is told to buy a pedal."""
        limbs: dict[tuple[int, bool], int] = {}
        for stroke in stage.beat.strokes:
            key = stroke.at, stroke.surface in FEET_ONLY
            limbs[key] = limbs.get(key, 0) + 1
        if max(limbs.values()) > 2:
            return True
        second = any(stroke.surface == KICKS[1] for stroke in stage.beat.strokes)
        return second and not self.player.double_pedal and KICKS[1] not in self.sounding

    def _odd(self, differences: Differences) -> float:
        """How far a beat goes from what drummers mostly do; such is offered later, not never."""
        after = differences.after
        fresh = {surface for _, surface, *_ in differences.new} - self.sounding
        odd = sum(1.6 for surface in fresh if surface not in _USUAL) + 0.4 * max(0, len(fresh) - 1)
        odd += any(surface in FEET_ONLY and dynamic == "ghost" for _, surface, dynamic, *_ in differences.new)
        crashes = [dynamic for _, surface, dynamic, *_ in differences.new if BY_NAME[surface].family == "cymbal"]
        odd += 2.0 * ("ghost" in crashes) + min(2.0, max(0, len(crashes) - 2) / 2)  # they mark, they do not fill
        if self.wish.ways and {row[:3] for row in differences.new} <= {row[:3] for row in differences.gone}:
            odd += 1.5  # only hands, ornaments or feel: seldom what a wish is about
        odd += min(1.0, len(after.change.merged) / 4) + min(1.0, (differences.rounds - 1) / 2)
        if len({stroke.dynamic for stroke in after.beat.strokes}) == 1 and len(self.dynamics) > 1:
            odd += 1.0  # all as loud: nothing stands out any more
        return odd + (0.0 if kept(BACKBEATS, differences.before, after) else 1.2)

    def _score(self, says: str, new: int, measured: dict[str, int], differences: Differences) -> float:
        """Short sentences first, neither a trifle nor a leap; what a wish cannot be seen in yet is guessed."""
        middle = (self.wish.least_new + self.wish.most_new) / 2
        score = len(says) / 60 + 1.5 * abs(new - middle) / (middle + 1) + self.chance.below(1000) / 2000
        for way in self.wish.ways:
            if reached(way, measured) is not None or not (way.least > 0 or way.most < 0):
                continue
            if way.measures in ((LEFT,), (RIGHT,)):  # the riding line is mostly the leading hand's
                rides = (way.measures == (LEFT,)) == self.player.left_handed
                guess = sum(
                    1 if (surface in self.riding) == rides else -1
                    for _, surface, *_ in differences.new if surface not in FEET_ONLY
                ) / 2  # fmt: skip
            else:
                guess = measured[STROKES] / 200 + measured["syncopation"] / 10
            score -= max(-2.0, min(2.0, guess if way.least > 0 else -guess))
        return score


def _best(found: list[Found]) -> list[Found]:
    """The best found so far, no more than two of a kind."""
    row: list[Found] = []
    kinds: dict[str, int] = {}
    for each in sorted(found, key=lambda each: each.score):
        if kinds.setdefault(each.kind, 0) < OF_A_KIND:
            kinds[each.kind] += 1
            row.append(each)
        if len(row) == BETTER:
            break
    return row


def within(number: int, bounds: tuple[int, int]) -> int:
    """Bring a number between two bounds."""
    return max(bounds[0], min(bounds[1], number))
