"""How far is a stage from home, and how much of the base beat still sounds in it?

The base beat's strokes are followed by their ids, never guessed. Each has exactly one fate in a stage; the first that
fits counts:

* it still sounds itself: kept (same place, surface and dynamic), moved (another place, whatever else), or altered (same
  place, another surface or dynamic; ornaments and hands do not count);
* covered: another stroke took it in and still sounds, or its instrument sounds at its place by another stroke;
* gone.

Under a longer stage that comes out even the base beat repeats, and its strokes count once a round. A copy (`of` in a
stage's change) that lies whole rounds of the base beat after the stroke it copies, on the same surface, is that stroke
sounding in its own round. Copies that lie elsewhere are added strokes. A stage that does not come out even is laid over
one round of the base beat.

The distance (`distance.apart`) is what the ear gets, whichever way the strokes came. Its lines are the riding hand and
the backbeat, whatever they are played on, and every other instrument (our choice).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from ..errors import VariationError
from ..model.beat import Beat, Stroke
from ..model.kit import INSTRUMENTS
from ..model.roles import BACKBEAT_VOICE, RIDING, find_roles
from ..variation.stack import Stage
from .distance import apart

_Key = tuple[str, int]  # a base stroke's id, and the round that it sounds in
_Corrections = tuple[tuple[str, str], ...]


class Home(NamedTuple):
    """What one stage keeps of the base beat, and how far it is from it.

    `strokes` counts the base beat's strokes in all `rounds` of it: the sum of kept, moved, altered, covered and gone.
    `added` are the stage's strokes that are none of them.
    """

    stage: int
    distance: float
    rounds: int
    strokes: int
    kept: int
    moved: int
    altered: int
    covered: int
    gone: int
    added: int

    def share(self, fate: str) -> float:
        """The share (0 to 1) of base strokes with a fate such as "kept"; of an empty base beat all are kept."""
        count: int = getattr(self, fate)
        return count / self.strokes if self.strokes else float(fate == "kept")

    @property
    def words(self) -> str:
        """Say it in a sentence.

        >>> Home(3, 0.2, 1, 14, 9, 2, 0, 0, 3, 5).words
        '9 of 14 strokes of the base beat sound where they stood; 2 moved; 3 are gone'
        """
        if not self.strokes:
            return "the base beat has no strokes"
        who = f"{self.strokes} strokes of the base beat" if self.strokes > 1 else "1 stroke of the base beat"
        if self.rounds > 1:
            who += f" ({self.rounds} rounds of it)"
        some = "all" if self.kept == self.strokes > 1 else str(self.kept or "none")
        sound = "sounds where it stood" if self.strokes == 1 else "sound where they stood"
        words = [f"{some} of {who} {sound}".replace("all of", "all")]
        if self.moved:
            words.append(f"{self.moved} moved")
        for count, what in ((self.altered, "altered"), (self.covered, "covered by others"), (self.gone, "gone")):
            if count:
                words.append(f"{count} {'is' if count == 1 else 'are'} {what}")
        return "; ".join(words)


def home(stages: Sequence[Stage], number: int, corrections: _Corrections = ()) -> Home:
    """Tell how far stage `number` is from the base beat; `corrections` are the groove's corrected roles.

    Raises VariationError for a stage that there is not.
    """
    if not 0 <= number < len(stages):
        raise VariationError(f"there are stages 0 to {len(stages) - 1}, not {number}", field="stage")
    *_, last = _walk(stages[: number + 1], corrections)
    return last


def along(stages: Sequence[Stage], corrections: _Corrections = ()) -> tuple[Home, ...]:
    """Tell it of every stage, the base beat first."""
    return tuple(_walk(stages, corrections))


def _walk(stages: Sequence[Stage], corrections: _Corrections) -> Iterator[Home]:
    base = stages[0].beat
    bearers = _Bearers(base)
    own_lines = _lines(stages[0], corrections)
    before, last = stages[0], None
    for number, stage in enumerate(stages):
        beat = stage.beat
        if number:
            bearers.follow(stage)
        if last and beat == before.beat and stage.backbeats == before.backbeats:  # off, or nothing to do
            last = last._replace(stage=number)
        else:
            rounds = beat.cycle // base.cycle if beat.cycle % base.cycle == 0 else 1
            counts = bearers.fates(base, beat, rounds)
            far = apart(base, rounds, beat, own_lines, _lines(stage, corrections))
            last = Home(number, far, rounds, sum(counts), *counts, len(beat.strokes) - sum(counts[:3]))
        before = stage
        yield last


class _Bearers:
    """Which stroke of the stage each base stroke sounds in, round by round; none where it is left out."""

    def __init__(self, base: Beat) -> None:
        self._cycle = base.cycle
        self._bearer: dict[_Key, str] = {(stroke.id, 0): stroke.id for stroke in base.strokes}
        self._borne: dict[str, list[_Key]] = {stroke.id: [(stroke.id, 0)] for stroke in base.strokes}
        self._merged: set[_Key] = set()

    def follow(self, stage: Stage) -> None:
        """Take in what a stage did."""
        change = stage.change
        for name in change.left_out:
            for key in self._borne.pop(name, ()):
                del self._bearer[key]
                self._merged.discard(key)
        for name, taken in change.absorbed().items():
            for key in self._borne.pop(name, ()):
                self._bear(key, taken, True)
        if change.of and stage.beat.cycle % self._cycle == 0:
            now = {stroke.id: stroke for stroke in stage.beat.strokes}
            for name, of in change.of:
                if of in now and name in now:
                    self._copy(now[name], now[of])

    def _copy(self, copy: Stroke, of: Stroke) -> None:
        """A copy whole rounds later bears, in its round, what the other bears."""
        rounds, rest = divmod(copy.at - of.at, self._cycle)
        if rounds < 1 or rest or copy.surface != of.surface:
            return
        for name, number in tuple(self._borne.get(of.id, ())):
            key = (name, number + rounds)
            if key not in self._bearer:
                self._bear(key, copy.id, (name, number) in self._merged)

    def _bear(self, key: _Key, name: str, merged: bool) -> None:
        self._bearer[key] = name
        self._borne.setdefault(name, []).append(key)
        if merged:
            self._merged.add(key)

    def fates(self, base: Beat, beat: Beat, rounds: int) -> tuple[int, int, int, int, int]:
        """Count kept, moved, altered, covered and gone."""
        now = {stroke.id: stroke for stroke in beat.strokes}
        sounding = {(stroke.at, INSTRUMENTS[stroke.surface]) for stroke in beat.strokes}
        kept = moved = altered = covered = gone = 0
        for number in range(rounds):
            start = number * self._cycle
            for stroke in base.strokes:
                key, at = (stroke.id, number), start + stroke.at
                bearer = self._bearer.get(key)
                if bearer is not None and key not in self._merged:
                    itself = now[bearer]
                    if itself.at != at:
                        moved += 1
                    elif itself.surface != stroke.surface or itself.dynamic != stroke.dynamic:
                        altered += 1
                    else:
                        kept += 1
                elif bearer is not None or (at, INSTRUMENTS[stroke.surface]) in sounding:
                    covered += 1
                else:
                    gone += 1
        return kept, moved, altered, covered, gone


def _lines(stage: Stage, corrections: _Corrections) -> dict[str, str]:
    """The line that each sounding surface belongs to."""
    roles = find_roles(stage.beat, stage.backbeats, corrections)
    lines = {stroke.surface: INSTRUMENTS[stroke.surface] for stroke in stage.beat.strokes}
    for surface, instrument in lines.items():
        if surface in roles.riding:
            lines[surface] = RIDING
        elif surface in roles.backbeat_voice or instrument == "snare":
            lines[surface] = BACKBEAT_VOICE
    return lines
