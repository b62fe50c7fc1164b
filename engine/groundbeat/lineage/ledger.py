"""How does a variation change a beat so that no stroke is lost on the way?

A variation writes into a ledger what it does to each stroke: move, alter, leave out, add. Closing the ledger gives
the new beat and the change together; nothing is ever found by comparing two beats.

The order is fixed: strokes are left out first; all moves and alterations happen at once; then meetings are resolved
(one instrument, one stroke at a place: the louder stays; of equal ones the one that did not move or alter stays, then
the one on the higher line of the kit); then strokes are added where their instrument is silent.
"""

from __future__ import annotations

from dataclasses import replace

from ..model.beat import Beat, Stroke, birth, check, in_order
from ..model.kit import BY_NAME
from .change import Change, Merge, Move


class Ledger:
    """The open account of one stage on one beat."""

    def __init__(self, beat: Beat, key: int) -> None:
        self.beat = beat
        self.key = key
        self.says: list[str] = []
        self._moves: dict[str, int] = {}
        self._alters: dict[str, Stroke] = {}
        self._out: set[str] = set()
        self._adds: list[tuple[Stroke, str]] = []

    def say(self, text: str) -> None:
        """Tell the reader something about this stage, once."""
        if text not in self.says:
            self.says.append(text)

    def move(self, stroke: Stroke, by: int) -> None:
        """Move a stroke by ticks, later when positive; the cycle wraps."""
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
        new = replace(
            now,
            surface=now.surface if surface is None else surface,
            dynamic=now.dynamic if dynamic is None else dynamic,
            grace=now.grace if grace is None else grace,
            hand=now.hand if hand is None else hand,
        )
        if BY_NAME[new.surface].limb != "hand" and new.hand:
            new = replace(new, hand="")
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
        at %= self.beat.cycle
        stroke = Stroke(at, surface, dynamic, grace, hand, birth(self.key, surface, at), self.key)
        check(stroke)
        self._adds.append((stroke, of))

    def close(self) -> tuple[Beat, Change]:
        """Settle the account: the new beat, and what happened to every stroke."""
        cycle, key = self.beat.cycle, self.key
        left_out: list[str] = []
        moved: dict[str, Move] = {}
        altered: list[str] = []
        standing: dict[tuple[int, str], list[tuple[Stroke, bool]]] = {}
        for stroke in self.beat.strokes:
            if stroke.id in self._out:
                left_out.append(stroke.id)
                continue
            by = self._moves.get(stroke.id, 0)
            new = self._alters.get(stroke.id, stroke)
            is_altered = (new.surface, new.dynamic, new.grace, new.hand) != (
                stroke.surface, stroke.dynamic, stroke.grace, stroke.hand,
            )  # fmt: skip
            target = (stroke.at + by) % cycle
            is_moved = target != stroke.at
            if is_moved or is_altered:
                changed_by = stroke.changed_by if key in stroke.changed_by else (*stroke.changed_by, key)
                new = replace(new, at=target, changed_by=changed_by)
            else:
                new = stroke
            if is_moved:
                crosses = not 0 <= stroke.at + by < cycle
                moved[stroke.id] = Move(stroke.id, stroke.at, target, crosses)
            if is_altered:
                altered.append(stroke.id)
            spot = (target, BY_NAME[new.surface].instrument)
            standing.setdefault(spot, []).append((new, is_moved or is_altered))
        survivors: list[Stroke] = []
        merges: list[Merge] = []
        gone: set[str] = set()
        for group in standing.values():
            if len(group) > 1:
                group.sort(key=lambda pair: (-pair[0].level, pair[1], BY_NAME[pair[0].surface].row, pair[0].id))
                merges.append(Merge(group[0][0].id, tuple(pair[0].id for pair in group)))
                gone.update(pair[0].id for pair in group[1:])
            survivors.append(group[0][0])
        added: list[str] = []
        of: list[tuple[str, str]] = []
        for stroke, copied in self._adds:
            spot = (stroke.at, BY_NAME[stroke.surface].instrument)
            if spot in standing:
                continue
            standing[spot] = [(stroke, False)]
            survivors.append(stroke)
            added.append(stroke.id)
            if copied:
                of.append((stroke.id, copied))
        touched = gone | set(moved) | set(altered)
        kept = [stroke.id for stroke in survivors if stroke.id not in touched and stroke.origin != key]
        beat = replace(self.beat, strokes=in_order(survivors))
        order = {stroke.id: index for index, stroke in enumerate(beat.strokes)}
        return beat, Change(
            kept=tuple(sorted(kept, key=order.__getitem__)),
            moved=tuple(move for move in moved.values() if move.id not in gone),
            altered=tuple(name for name in altered if name not in gone),
            added=tuple(sorted(added, key=order.__getitem__)),
            left_out=tuple(left_out),
            merged=tuple(sorted(merges, key=lambda merge: order[merge.id])),
            crossed=tuple(move.id for move in moved.values() if move.crosses),
            of=tuple(of),
        )


def untouched(beat: Beat) -> Change:
    """Say that every stroke was kept: the change of a stage that is off."""
    return Change(kept=tuple(stroke.id for stroke in beat.strokes))


def born(beat: Beat) -> Change:
    """Say that every stroke is new: the change of the base beat."""
    return Change(added=tuple(stroke.id for stroke in beat.strokes))
