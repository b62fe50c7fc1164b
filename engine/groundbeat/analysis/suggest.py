"""Which variation could come next, for this wish?

A search, never a list: variations are drawn from the whole catalogue (see `search` and `candidates`), and every one
that is offered has been made, measured, and played by two hands and two feet at the groove's tempo. Offered is what

* applies without complaint and changes something, but not too much for the wish, nor too far from home;
* keeps what is asked (see `keeping`);
* can be played, and is not further below comfort than the stage before, unless the wish is for harder;
* goes every way of the wish (see `wish`), by the parts of demand and by counts of the beat;
* differs from the others offered.

The same beat, wish and seed give the same suggestions in every Python. How many are drawn and played hangs on how many
strokes the beat has, so that a round stays short. All numbers here are our choice.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from ..errors import VariationError
from ..model.groove import MAX_VARIATIONS, Groove
from ..model.meter import WHOLE
from ..variation.stack import Stage
from .candidates import raw_settings
from .demand import demand
from .differences import Hit
from .home import home
from .keeping import read_keep
from .limbs import Playing, play
from .outcome import outcome
from .player import USUAL, Player
from .search import OF_A_KIND, Found, Search, within
from .suggestion import OFFERED, Suggestion, tempo_words
from .tempo import comfortable, fastest
from .wish import reached, read_wish

__all__ = ["OFFERED", "Suggestion", "suggest"]

STROKES_PLAYED, PLAYED = 1400, (8, 28)  # strokes of all stages played in a round; how many stages at least and most
APART = 0.12  # two suggestions differ in at least this share of their strokes. These three are our choice


def suggest(
    groove: Groove,
    stages: Sequence[Stage],
    number: int,
    wish: str = "",
    keep: Iterable[str] = (),
    seed: int = 0,
    player: Player = USUAL,
) -> tuple[Suggestion, ...]:
    """Suggest variations to follow stage `number`; fewer or none where the search finds none that fit.

    RequestError where wish or keep is not understood, VariationError for a stage that there is not.
    """
    asked, held = read_wish(wish), read_keep(keep)
    if not 0 <= number < len(stages):
        raise VariationError(f"there are stages 0 to {len(stages) - 1}, not {number}", field="stage")
    if asked.easier:
        from .easier import easier  # it makes suggestions of this module's kind

        return easier(groove, stages, number, player, keep=held)
    if len(groove.variations) >= MAX_VARIATIONS:
        return ()
    return _Round(Search(groove, stages[: number + 1], asked, held, seed, player)).suggestions()


class _Round:
    """Plays what is found, the best first, and chooses."""

    def __init__(self, search: Search) -> None:
        self.search = search
        self.playing = playing = play(search.groove, search.before, search.player)
        self.strained = strain(playing)
        self.comfort = comfortable(playing).bpm
        self.parts = demand(search.groove, search.below, search.before.number, playing)

    def suggestions(self) -> tuple[Suggestion, ...]:
        """Search, play, choose, and say it: the best first, then what is good and far from what is chosen."""
        search = self.search
        left = search.found()
        apart = [1.0] * len(left)  # how far each is from the nearest one chosen
        chosen: list[tuple[Found, Suggestion]] = []
        taken: dict[str, int] = {}  # how many of a kind are chosen, and how many did not fit
        failed: dict[str, int] = {}
        for _ in range(within(STROKES_PLAYED // search.size, PLAYED)):
            rows = [
                (found.score - 2 * far + 2 * taken.get(found.kind, 0) + failed.get(found.kind, 0) / 2, index)
                for index, (found, far) in enumerate(zip(left, apart, strict=True))
                if far >= APART and taken.get(found.kind, 0) < OF_A_KIND
            ]
            if not rows:
                break
            _, best = min(rows)
            apart[best], kind = 0.0, left[best].kind
            left[best] = search.shortened(left[best])
            made = self._suggestion(left[best])
            if made is None:
                failed[kind] = failed.get(kind, 0) + 1
                continue
            taken[kind] = taken.get(kind, 0) + 1
            chosen.append((left[best], made))
            if len(chosen) == OFFERED:
                break
            apart = [min(far, _apart(found.hits, left[best].hits)) for far, found in zip(apart, left, strict=True)]
        return tuple(made for _, made in chosen)

    def _suggestion(self, found: Found) -> Suggestion | None:
        """Play one; None where it does not fit."""
        search, stage = self.search, found.candidate.stage
        wish, groove = search.wish, search.groove
        playing = play(groove, stage, search.player)
        if not playing.playable:
            return None
        if not wish.harder and any(a > b + 1e-9 for a, b in zip(strain(playing), self.strained, strict=True)):
            return None
        measured = found.measured | found.differences.by_limb(self.playing, playing)
        if any(reached(way, measured) is False for way in wish.ways):
            return None
        along = (*search.below, stage)
        if home(along, stage.number, groove.roles).distance > search.far:
            return None
        parts = demand(groove, along, stage.number, playing)
        measured |= {two.name: two.value - one.value for one, two in zip(self.parts, parts, strict=True)}
        if not all(reached(way, measured) for way in wish.ways):
            return None
        fast, easy = fastest(playing).bpm, comfortable(playing).bpm
        if not wish.harder and (easy or 0) < min(self.comfort or 0, groove.tempo // 100):
            return None
        words = outcome(found.differences, groove.roles)
        return Suggestion(
            found.candidate.variation.kind,
            raw_settings(found.candidate.variation.settings),
            0,
            search.before.key,
            found.says,
            "; ".join(filter(None, (words, tempo_words(fast, easy)))),
            fast,
            easy,
            tuple((one.name, one.value, two.value) for one, two in zip(self.parts, parts, strict=True)),
        )


def strain(playing: Playing) -> tuple[float, float, float]:
    """Tell how far a beat is below comfort at its tempo: steps a whole note, the worst as a share, what nobody does.

    All 0 where everything is comfortable.
    """
    short = [1 - step.gap / step.comfort for step in playing.steps if not step.comfortable]
    return len(short) * WHOLE / playing.beat.cycle, max(short, default=0.0), float(len(playing.dropped))


def _apart(one: frozenset[Hit], other: frozenset[Hit]) -> float:
    """The share of strokes in which two beats differ."""
    return 1 - len(one & other) / max(len(one | other), 1)
