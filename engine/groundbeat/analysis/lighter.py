"""What could make a stage lighter? Ideas only: whether they help is for `easier` to find out.

Behind the stage: the smallest sets of strokes that take its tricky spots away (or, where it has none, what sets its
tempos), its ghosts or ornaments out, a plainer riding pattern, one surface instead of two, the hands opened. And every
other value for each setting of the stage's own variation. Which ideas there are is our choice.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import Any

from ..errors import VariationError
from ..model.groove import Groove
from ..model.kit import INSTRUMENTS
from ..model.roles import KICKS, find_roles
from ..variation import setting as types
from ..variation.catalogue import kind
from ..variation.selection import GHOSTS
from ..variation.stack import Stage, make, next_stage
from .candidates import Candidate, Space, hand_surfaces, raw_settings, text_at
from .differences import hit
from .limbs import Step
from .player import Player
from .spots import Spot

OUT, GHOSTS_OUT, PLAIN, RIDING, ONE, HANDS, OWN = range(7)  # sorts of ideas, the first preferred among equals
Idea = tuple[int, int, Candidate]  # sort, the key of the variation that it changes (0: a new one), what it makes


class Ideas:
    """Ideas for the last of some stages, `below`; `tight` are steps below comfort, or those that set its tempos."""

    def __init__(
        self, groove: Groove, below: Sequence[Stage], player: Player, spots: Sequence[Spot], tight: Sequence[Step]
    ) -> None:
        self.groove, self.below, self.player, self.spots, self.tight = groove, below, player, spots, tight
        self.stage = below[-1]
        self.space = Space(below, groove.roles)

    def behind(self) -> Iterator[Idea]:
        """What a variation behind the stage could do."""
        beat = self.stage.beat
        sets = list(dict.fromkeys(tuple(spot.leave_out) for spot in self.spots if spot.leave_out))
        sets += [tuple(dict.fromkeys(name for names in sets[:count] for name in names)) for count in (2, 3, len(sets))]
        if not self.spots:  # nothing tricky: what sets the tempos
            dear = set(self.stage.backbeats)
            ends = [step.after if step.after.id not in dear else step.before for step in self.tight]
            ones = list(dict.fromkeys((stroke.id,) for stroke in ends if stroke.id not in dear))
            sets = [*ones[:4], tuple(name for names in ones for name in names)]
        for names in dict.fromkeys(sets):
            yield from ((OUT, 0, each) for each in self._leave_out(names))
        rows: list[tuple[int, str, dict[str, Any]]] = [
            (GHOSTS_OUT, "leave-space", {"surface": surface, "at": GHOSTS})
            for surface in dict.fromkeys(s.surface for s in beat.strokes if s.dynamic == "ghost")
        ]
        graced = [f"= {s.surface} {text_at(s.at, beat)} plain" for s in beat.strokes if s.grace]
        rows += [(PLAIN, "touch-up", {"changes": some}) for some in (*([each] for each in graced[:4]), graced) if some]
        cell = next(each for each in kind("ostinato").settings if each.name == "cell")
        rows += [(RIDING, "ostinato", {"cell": text}) for text in self.space.values("ostinato", "cell", cell)]
        hands = hand_surfaces(beat)
        voices = find_roles(beat, self.stage.backbeats, self.groove.roles).backbeat_voice
        for other in hands[1:]:
            if other in voices:
                continue
            to = next((name for name in hands if INSTRUMENTS[name] != INSTRUMENTS[other]), "")
            if to:
                rows.append((ONE, "orchestrate", {"surface": other, "to": to}))
        how = next(each for each in kind("hands-and-lead").settings if each.name == "how")
        rows += [(HANDS, "hands-and-lead", {"how": word}) for word in how.words]
        strokes = len(beat.strokes)
        for sort, name, raw in rows:
            candidate = self.space.attempt(name, raw)
            if candidate is None or len(candidate.stage.beat.strokes) > strokes:
                continue
            second = any(stroke.surface == KICKS[1] for stroke in candidate.stage.beat.strokes)
            if not second or self.player.double_pedal or any(stroke.surface == KICKS[1] for stroke in beat.strokes):
                yield sort, 0, candidate

    def _leave_out(self, names: Iterable[str]) -> Iterator[Candidate]:
        """Ways to leave out just these strokes: by hand, or as one line at its places."""
        gone = [stroke for stroke in self.stage.beat.strokes if stroke.id in set(names)]
        if not gone:
            return
        beat = self.stage.beat
        stay = {hit(stroke) for stroke in beat.strokes} - {hit(stroke) for stroke in gone}
        rows: list[tuple[str, dict[str, Any]]] = [
            ("touch-up", {"changes": [f"- {stroke.surface} {text_at(stroke.at, beat)}" for stroke in gone]})
        ]
        if len({stroke.surface for stroke in gone}) == 1:
            places = " ".join(text_at(stroke.at, beat) for stroke in gone)
            for at in (places, GHOSTS):
                rows.append(("leave-space", {"surface": gone[0].surface, "at": at}))
        for name, raw in rows:
            candidate = self.space.attempt(name, raw)
            if candidate is not None and {hit(stroke) for stroke in candidate.stage.beat.strokes} == stay:
                yield candidate

    def settings(self) -> Iterator[Idea]:
        """Other values for each setting of the stage's own variation."""
        own = self.stage.variation
        if own is None or not own.on:
            return
        under = self.below[-2]
        space = Space(self.below[:-1], self.groove.roles)
        raw = raw_settings(own.settings)
        beat = self.stage.beat
        out = {name for spot in self.spots for name in spot.leave_out}
        places = list(dict.fromkeys(text_at(stroke.at, beat) for stroke in beat.strokes if stroke.id in out))
        for setting in kind(own.kind).settings:
            if setting.type in (types.GROUP, types.CHANGES):
                values: list[Any] = [None] if setting.name in raw and setting.default is not None else []
            else:
                values = list(space.values(own.kind, setting.name, setting))
                if setting.type is types.TARGETS:
                    had = raw.get(setting.name, [])
                    values = [[*had, value] for value in values if value not in had]
                if setting.type is types.PLACES:
                    had = str(raw.get(setting.name, setting.default) or "")
                    more = [f"{had} {place}".strip() for place in (*places, " ".join(places)) if place]
                    values = [*more, *values]
            for value in values:
                new = {name: each for name, each in {**raw, setting.name: value}.items() if each is not None}
                candidate = _remade(own.kind, new, own.key, under, self.groove)
                if candidate is not None:
                    yield OWN, own.key, candidate


def _remade(name: str, raw: dict[str, Any], key: int, under: Stage, groove: Groove) -> Candidate | None:
    try:
        variation = make(key, name, raw)
    except VariationError:
        return None
    return Candidate(variation, raw, next_stage(under, variation, groove.roles))
