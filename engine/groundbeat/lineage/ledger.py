"""How does a variation change a beat so that no stroke is lost on the way?

A variation writes into a ledger what it does to each stroke: move, alter, leave out, add. Closing the ledger gives
the new beat and the change together; nothing is ever found by comparing two beats.

The order is fixed: strokes are left out first; all moves and alterations happen at once; then meetings are resolved
(one instrument, one stroke at a place: the louder stays; of equal ones the one that did not move or alter stays, then
the one on the higher line of the kit); then strokes are added where their instrument is silent.

A variation may also give the stage another frame (meter, bars, columns) or feel. Places then count in the new frame;
strokes beyond its end that were not moved are left out.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import NamedTuple

from ..model.beat import MAX_BARS, Beat, Stroke, birth, check, in_order
from ..model.feel import Feel
from ..model.kit import FEET_ONLY, INSTRUMENTS, ROWS
from ..model.meter import COUNTS, Meter
from ..model.place import COLUMNS
from .change import Change, Merge, Move


class Offer(NamedTuple):
    """What would help a stage, in words for a button: settings for its own variation, or one of `kind` before it."""

    text: str
    kind: str
    settings: tuple[tuple[str, object], ...]


class Ledger:
    """The open account of one stage on one beat."""

    def __init__(self, beat: Beat, key: int) -> None:
        self.beat = beat
        self.key = key
        self.says: list[str] = []
        self.offers: list[Offer] = []
        self.feel: Feel | None = None
        self._frame = beat
        self._moves: dict[str, int] = {}
        self._alters: dict[str, Stroke] = {}
        self._out: set[str] = set()
        self._adds: list[tuple[Stroke, str]] = []

    def say(self, text: str) -> None:
        """Tell the reader something about this stage, once."""
        if text not in self.says:
            self.says.append(text)

    def offer(self, text: str, settings: Mapping[str, object], kind: str = "") -> None:
        """Offer what would help: other settings of this variation, or a variation of a kind before it."""
        self.offers.append(Offer(text, kind, tuple(settings.items())))

    @property
    def cycle(self) -> int:
        """Length of the loop that the stage will have, in ticks."""
        return self._frame.cycle

    def frame(self, *, meter: Meter | None = None, bars: int = 0, columns: str = "") -> bool:
        """Give the stage another meter, number of bars or columns; to be called before anything is moved or added.

        Where no beat can have that, says so, changes nothing and returns False.
        """
        old = self.beat
        meter, bars, columns = meter or old.meter, bars or old.bars, columns or old.columns
        low, high = COUNTS[meter.unit]
        if not low <= meter.count <= high:
            self.say(f"there is no meter {meter}; nothing was changed")
            return False
        if not 1 <= bars <= MAX_BARS:
            self.say(f"that makes {bars} bars; a beat has at most {MAX_BARS}; nothing was changed")
            return False
        if meter.bar % COLUMNS[columns]:
            self.say(f"a bar of {meter} does not hold a whole number of {columns}; nothing was changed")
            return False
        self._frame = replace(old, meter=meter, bars=bars, columns=columns)
        return True

    def move(self, stroke: Stroke, by: int) -> None:
        """Move a stroke by ticks, later when positive; the (new) cycle wraps."""
        if by:
            self._moves[stroke.id] = by

    def alter(
        self,
        stroke: Stroke,
        *,
        surface: str | None = None,
        dynamic: str | None = None,
        grace: str | None = None,
        hand: str | None = None,
    ) -> None:
        """Change what a stroke is struck on or how; what is not named stays."""
        now = self._alters.get(stroke.id, stroke)
        name = now.surface if surface is None else surface
        new = Stroke(
            now.at,
            name,
            now.dynamic if dynamic is None else dynamic,
            now.grace if grace is None else grace,
            (now.hand if hand is None else hand) if name not in FEET_ONLY else "",
            now.id,
            now.origin,
            now.changed_by,
        )
        check(new)
        self._alters[stroke.id] = new

    def leave_out(self, stroke: Stroke) -> None:
        """Take a stroke out."""
        self._out.add(stroke.id)

    def is_out(self, stroke: Stroke) -> bool:
        """Tell whether a stroke has been left out in this stage."""
        return stroke.id in self._out

    def add(
        self, at: int, surface: str, dynamic: str = "normal", *, grace: str = "", hand: str = "", of: str = ""
    ) -> None:
        """Add a stroke at ticks from the start of the cycle; `of` is the stroke that it copies."""
        at %= self.cycle
        stroke = Stroke(at, surface, dynamic, grace, hand, birth(self.key, surface, at), self.key)
        check(stroke)
        self._adds.append((stroke, of))

    def close(self) -> tuple[Beat, Change]:
        """Settle the account: the new beat, and what happened to every stroke."""
        left_out: list[str] = []
        still: list[Stroke] = []
        touched: list[Stroke] = []
        moved: dict[str, Move] = {}
        altered: set[str] = set()
        cycle = self.cycle
        for stroke in self.beat.strokes:
            name = stroke.id
            if name in self._out or (stroke.at >= cycle and name not in self._moves):
                left_out.append(name)
                continue
            if name in self._moves or name in self._alters:
                new = self._changed(stroke, moved, altered)
                if new is not stroke:
                    touched.append(new)
                    continue
            still.append(stroke)
        standing: dict[tuple[int, str], Stroke] = {}
        if touched or self._adds:
            standing = {(stroke.at, INSTRUMENTS[stroke.surface]): stroke for stroke in still}
        merges = self._meet(touched, standing)
        gone = {name for merge in merges for name in merge.parents if name != merge.id}
        added, of = self._settle_adds(standing)
        strokes = in_order(standing.values()) if standing else tuple(still)
        changed = gone.union(moved, altered, added)
        return replace(self._frame, strokes=strokes), Change(
            kept=tuple([stroke.id for stroke in strokes if stroke.id not in changed]),
            moved=tuple([move for move in moved.values() if move.id not in gone]),
            altered=tuple([s.id for s in self.beat.strokes if s.id in altered and s.id not in gone]) if altered else (),
            added=tuple([stroke.id for stroke in strokes if stroke.id in added]) if added else (),
            left_out=tuple(left_out),
            merged=tuple(merges),
            crossed=tuple([move.id for move in moved.values() if move.crosses]),
            of=tuple(of),
        )

    def _changed(self, stroke: Stroke, moved: dict[str, Move], altered: set[str]) -> Stroke:
        """The stroke as it comes out, before meetings; the very same where nothing really changed."""
        cycle, key = self.cycle, self.key
        by = self._moves.get(stroke.id, 0)
        new = self._alters.get(stroke.id, stroke)
        target = (stroke.at + by) % cycle
        if target != stroke.at:
            moved[stroke.id] = Move(stroke.id, stroke.at, target, not 0 <= stroke.at + by < cycle)
        if new is not stroke and _quality(new) != _quality(stroke):
            altered.add(stroke.id)
        if stroke.id not in moved and stroke.id not in altered:
            return stroke
        changed_by = stroke.changed_by if key in stroke.changed_by else (*stroke.changed_by, key)
        return Stroke(target, new.surface, new.dynamic, new.grace, new.hand, stroke.id, stroke.origin, changed_by)

    def _meet(self, touched: list[Stroke], standing: dict[tuple[int, str], Stroke]) -> list[Merge]:
        """Put the changed strokes where they land; where an instrument is struck already, the louder stays."""
        landing: dict[tuple[int, str], list[Stroke]] = {}
        for stroke in touched:
            landing.setdefault((stroke.at, INSTRUMENTS[stroke.surface]), []).append(stroke)
        merges: list[Merge] = []
        for spot, group in landing.items():
            there = standing.get(spot)
            if there is not None:
                group = [there, *group]  # in front: of equal ones it stays, since sorting keeps their order
            if len(group) > 1:
                rank = {
                    id(stroke): (-stroke.level, stroke is not there, ROWS[stroke.surface], stroke.id)
                    for stroke in group
                }
                group = sorted(group, key=lambda stroke: rank[id(stroke)])
                merges.append(Merge(group[0].id, tuple(stroke.id for stroke in group)))
            standing[spot] = group[0]
        return sorted(merges, key=lambda merge: merge.id)

    def _settle_adds(self, standing: dict[tuple[int, str], Stroke]) -> tuple[set[str], list[tuple[str, str]]]:
        """Add strokes where their instrument is silent."""
        added: set[str] = set()
        of: list[tuple[str, str]] = []
        for stroke, copied in self._adds:
            spot = (stroke.at, INSTRUMENTS[stroke.surface])
            if spot in standing:
                continue
            standing[spot] = stroke
            added.add(stroke.id)
            if copied:
                of.append((stroke.id, copied))
        return added, of


def _quality(stroke: Stroke) -> tuple[str, str, str, str]:
    return stroke.surface, stroke.dynamic, stroke.grace, stroke.hand


def untouched(beat: Beat) -> Change:
    """Say that every stroke was kept: the change of a stage that is off."""
    return Change(kept=tuple(stroke.id for stroke in beat.strokes))


def born(beat: Beat) -> Change:
    """Say that every stroke is new: the change of the base beat."""
    return Change(added=tuple(stroke.id for stroke in beat.strokes))
