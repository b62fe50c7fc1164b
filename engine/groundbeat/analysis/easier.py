"""What would make a stage easier to play, the least change first?

Proposed are the smallest sets of strokes that take a tricky spot away, ghosts and ornaments left out, a plainer riding
pattern, one surface instead of two, the hands opened, and other settings of the stage's own variation. Each proposal
has been made and played again: nothing is harder than it was, and the fastest or the comfortable tempo is higher, or
something impossible or beyond a floor is gone, or there are fewer tricky spots.

Least change means the fewest strokes left out, added or altered. What is tried, and in which order among equals, is our
choice.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from itertools import islice
from typing import NamedTuple

from ..errors import VariationError
from ..model.groove import MAX_VARIATIONS, Groove
from ..model.meter import WHOLE
from ..model.roles import find_roles
from ..variation.stack import Stage, plain
from .candidates import Candidate, raw_settings
from .demand import demand
from .differences import Differences, Hit, hit
from .keeping import kept, read_keep
from .lighter import Ideas
from .limbs import Playing, Step, play
from .outcome import outcome
from .player import USUAL, Player
from .spots import spots
from .suggestion import OFFERED, Suggestion, tempo_words
from .tempo import comfortable, fastest
from .tricky import tricky

STROKES_TRIED, TRIES = 6000, (40, 250)  # strokes of all stages made; how many stages at least and at most. Our choice
STROKES_PLAYED, PLAYED = 500, (6, 24)  # the same for what is played. Our choice
OF_A_SORT = 2  # proposals of one sort at most. Our choice


class Standing(NamedTuple):
    """How hard a stage is: `dropped` strokes that no limb is left for, steps `beyond` a floor (a whole note), the two
    tempos, the number of tricky spots, told before or not, and of the single facts that they are made of."""

    dropped: int
    beyond: float
    fastest: int
    comfortable: int
    spots: int
    facts: int

    def better_than(self, other: Standing) -> bool:
        """Whether nothing is harder, and something easier."""
        now = (-self.dropped, -self.beyond, self.fastest, self.comfortable, -self.facts)
        was = (-other.dropped, -other.beyond, other.fastest, other.comfortable, -other.facts)
        return now != was and all(a >= b for a, b in zip(now, was, strict=True))

    def solved(self, tempo: int) -> bool:
        """Whether it can be played at a tempo (hundredths of bpm)."""
        return not self.dropped and not self.beyond and self.fastest * 100 + 99 >= tempo


class _Proposal(NamedTuple):
    size: int
    sort: int
    says: str
    key: int
    candidate: Candidate


def easier(
    groove: Groove,
    stages: Sequence[Stage],
    number: int,
    player: Player = USUAL,
    tempo: int = 0,
    keep: Iterable[str] = (),
) -> tuple[Suggestion, ...]:
    """Propose how to make stage `number` easier at a tempo (hundredths of bpm, 0 for the groove's own).

    VariationError for a stage that there is not, RequestError where a word of `keep` is not understood.
    """
    if not 0 <= number < len(stages):
        raise VariationError(f"there are stages 0 to {len(stages) - 1}, not {number}", field="stage")
    return _Search(groove, stages[: number + 1], player, tempo or groove.tempo, read_keep(keep)).proposals()


class _Search:
    def __init__(
        self, groove: Groove, below: Sequence[Stage], player: Player, tempo: int, keep: tuple[str, ...]
    ) -> None:
        self.groove, self.below, self.player, self.tempo, self.keep = groove, below, player, tempo, keep
        self.stage = below[-1]
        self.size = max(1, len(self.stage.beat.strokes))
        self.numbers = {stage.key: stage.number for stage in below}
        self.playing = play(groove, self.stage, player, tempo)
        self.spots = spots(groove, below, self.stage.number, player, tempo)
        self.standing, steps = self._standing(self.playing, self.stage)
        names = {name for spot in self.spots for name in spot.ids} | {stroke.id for stroke, _ in self.playing.dropped}
        rows = [step for step in self.playing.steps if not step.comfortable] or ([] if names else steps)
        self.tight = rows  # below comfort, or, where nothing is, what sets the tempos
        names |= {stroke.id for step in rows for stroke in (*step.strokes, step.before, step.after)}
        names |= {name for spot in self.spots for name in spot.leave_out}
        self.hard = {hit(stroke) for stroke in self.stage.beat.strokes if stroke.id in names}

    def proposals(self) -> tuple[Suggestion, ...]:
        """Try, sort by the size of the change, play the least first."""
        parts = demand(self.groove, self.below, self.stage.number, self.playing)
        chosen: list[tuple[Suggestion, bool]] = []
        sorts: dict[tuple[int, bool], int] = {}
        played = max(PLAYED[0], min(PLAYED[1], STROKES_PLAYED // self.size))
        for each in self._tried():
            if sorts.get((each.sort, False), 0) >= OF_A_SORT and sorts.get((each.sort, True), 0):
                continue
            if not played:
                break
            played -= 1
            there = replace(each.candidate.stage, number=self.stage.number)
            along = (*self.below[:-1], there)
            playing = play(self.groove, there, self.player, self.tempo)
            standing, _ = self._standing(playing, there)
            solved = standing.solved(self.tempo)
            if not standing.better_than(self.standing) or sorts.get((each.sort, solved), 0) >= OF_A_SORT:
                continue
            sorts[each.sort, solved] = sorts.get((each.sort, solved), 0) + 1
            now = demand(self.groove, along, there.number, playing)
            variation = each.candidate.variation
            fast = standing.fastest if playing.possible else None
            easy = standing.comfortable if playing.possible else None
            made = Suggestion(
                variation.kind, raw_settings(variation.settings), each.key, self.stage.key, each.says,
                self._why(each.candidate.stage, standing, fast, easy), fast, easy,
                tuple((one.name, one.value, two.value) for one, two in zip(parts, now, strict=True)),
            )  # fmt: skip
            chosen.append((made, solved))
            if len(chosen) >= OFFERED and any(solved for _, solved in chosen):
                break
        found = [made for made, _ in chosen[:OFFERED]]
        whole = next((made for made, solved in chosen if solved), None)
        if whole is not None and whole not in found:  # the least that makes all of it playable is always among them
            found[-1] = whole
        return tuple(found)

    def _standing(self, playing: Playing, stage: Stage) -> tuple[Standing, list[Step]]:
        """How hard it is, and the steps that set its two tempos."""
        fast, easy = fastest(playing), comfortable(playing)
        found = tricky(playing, find_roles(stage.beat, stage.backbeats, self.groove.roles).riding)
        length = playing.beat.cycle / WHOLE
        beyond = sum(not step.possible for step in playing.steps) / length
        return (
            Standing(
                len(playing.dropped),
                beyond,
                fast.bpm or 0,
                easy.bpm or 0,
                len(found),
                sum(len(each.keys) for each in found),
            ),
            [*easy.steps, *fast.steps],
        )

    def _why(self, after: Stage, now: Standing, fast: int | None, easy: int | None) -> str:
        was = self.standing
        words = [outcome(Differences(self.stage, after), self.groove.roles)]
        if was.dropped > now.dropped:
            words.append("there are limbs for everything" if not now.dropped else "fewer strokes without a limb")
        if was.beyond > now.beyond:
            words.append("no step is too fast any more" if not now.beyond else "fewer steps are too fast")
        if was.facts > now.facts:
            fewer = "fewer tricky spots" if now.spots < was.spots else "less in a tricky spot"
            words.append(fewer if now.spots else "no tricky spot left")
        words.append(tempo_words(fast, easy))
        if was.comfortable and now.comfortable > was.comfortable:
            words[-1] += f" (it was {was.comfortable})"
        return "; ".join(filter(None, words))

    def _tried(self) -> list[_Proposal]:
        """All that changes something hard, without complaint; of equal beats one."""
        found: dict[frozenset[Hit], _Proposal] = {}
        old = {hit(stroke) for stroke in self.stage.beat.strokes}
        tries = max(TRIES[0], min(TRIES[1], STROKES_TRIED // self.size))
        ideas = Ideas(self.groove, self.below, self.player, self.spots, self.tight)
        makers = [ideas.settings()]
        if len(self.groove.variations) < MAX_VARIATIONS:
            makers = [ideas.behind(), *makers]
        for sort, key, candidate in islice((row for maker in makers for row in maker), tries):
            stage = candidate.stage
            if stage.beat.cycle != self.stage.beat.cycle or not stage.beat.strokes:
                continue
            hits = frozenset(hit(stroke) for stroke in stage.beat.strokes)
            size = max(len(old - hits), len(hits - old))
            if not size or size * 2 > len(old) + 1 or not (old - hits) & self.hard:
                continue
            if stage.says and set(stage.says) - set(self.stage.says if key else ()):
                continue
            if not all(kept(what, self.stage, stage, self.groove.roles) for what in self.keep):
                continue
            new = _Proposal(size, sort, plain(candidate.variation, self.numbers), key, candidate)
            if hits not in found or (not new.key, len(new.says)) < (not found[hits].key, len(found[hits].says)):
                found[hits] = new
        return sorted(found.values(), key=lambda each: (each.size, each.sort, len(each.says), each.says))
