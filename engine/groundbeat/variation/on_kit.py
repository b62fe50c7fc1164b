"""How does a beat look and sound on the kit that a student owns?

The document stays the teacher's. A kit is a way of looking at it: every stroke keeps its id, place, dynamic, origin
and history, and only the surface becomes one that the student has (see `model.own_kit`). What cannot be played is
silent, and said.

Where two strokes come together on one instrument at one place the louder stays; of equal ones the one that was
written there, then the one on the higher line. The other is silent.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from typing import NamedTuple

from ..lineage.change import Change
from ..lineage.way import ADDED, ALTERED, KEPT, LEFT_OUT, MERGED, MOVED, Thread
from ..model.beat import Beat, Stroke, in_order
from ..model.count import spoken_at
from ..model.kit import FEET_ONLY, INSTRUMENTS, ROWS
from ..model.own_kit import Kit
from .stack import Stage


class Fitted(NamedTuple):
    """A beat on a kit: what sounds, and the strokes that do not, as they were written."""

    beat: Beat
    silent: tuple[Stroke, ...]


class OnKit(NamedTuple):
    """The stages of a groove on a kit: what to draw and play, and what became of the surfaces, in words."""

    kit: Kit
    stages: tuple[Stage, ...]
    says: tuple[str, ...]

    def threads(self, stage: Stage, before: Stage) -> tuple[Thread, ...]:
        """Join the strokes of two neighbouring stages as they sound on this kit."""
        return fitted_threads(before.beat, stage.beat, stage.change)


def fit(beat: Beat, kit: Kit) -> Fitted:
    """Play a beat on a kit. Fitting what is fitted changes nothing."""
    standing: dict[tuple[int, str], tuple[Stroke, Stroke]] = {}  # as it sounds, as it was written
    silent: list[Stroke] = []
    for stroke in beat.strokes:
        name = kit.struck[stroke.surface]
        if not name:
            silent.append(stroke)
            continue
        new = stroke if name == stroke.surface else replace(stroke, surface=name)
        spot = (stroke.at, INSTRUMENTS[name])
        there = standing.get(spot)
        if there is None or _rank(new, stroke) < _rank(*there):
            standing[spot] = (new, stroke)
            if there is not None:
                silent.append(there[1])
        else:
            silent.append(stroke)
    sounding = [new for new, _ in standing.values()]
    if not silent and all(new is stroke for new, stroke in standing.values()):
        return Fitted(beat, ())
    return Fitted(replace(beat, strokes=in_order(sounding)), in_order(silent))


def _rank(new: Stroke, written: Stroke) -> tuple[int, bool, int, str]:
    return -new.level, new is not written, ROWS[written.surface], written.id


def fit_stages(stages: Sequence[Stage], kit: Kit) -> OnKit:
    """Play all stages on a kit; each also says which strokes are silent in it."""
    done: dict[int, Fitted] = {}
    rows: list[Stage] = []
    missing: dict[str, None] = {}
    for stage in stages:
        fitted = done.get(id(stage.beat))
        if fitted is None:
            fitted = done[id(stage.beat)] = fit(stage.beat, kit)
        missing |= dict.fromkeys(s.surface for s in stage.beat.strokes if kit.struck[s.surface] != s.surface)
        says = _silences(fitted.silent, stage.beat, kit)
        if fitted.beat is stage.beat and not says:
            rows.append(stage)
        else:
            rows.append(replace(stage, beat=fitted.beat, says=(*stage.says, *says)))
    return OnKit(kit, tuple(rows), _remaps(sorted(missing, key=lambda name: ROWS[name]), kit))


def _remaps(missing: Iterable[str], kit: Kit) -> tuple[str, ...]:
    """Say which surfaces are played on which, those that go to the same together."""
    if kit.is_pad:
        return (
            "Hands play everything on the pad; only how loud it is stays.",
            "Feet tap the floor, which is silent here.",
        )
    together: dict[str, list[str]] = {}
    for name in missing:
        together.setdefault(kit.struck[name], []).append(name)
    says = []
    for name, gone in together.items():
        verb, have = ("is", "it") if len(gone) == 1 else ("are", "them")
        if name:
            says.append(f"The {_and(gone)} {verb} played on the {name}: your kit does not have {have}.")
        else:
            how = "the foot taps the floor" if set(gone) <= FEET_ONLY else "nothing in your kit can stand in"
            says.append(f"The {_and(gone)} {verb} silent: your kit does not have {have}, and {how}.")
    return tuple(says)


MOST_PLACES = 6  # places named in a remark; our choice


def _silences(silent: Sequence[Stroke], beat: Beat, kit: Kit) -> tuple[str, ...]:
    """Say which strokes give way to louder ones on the same instrument."""
    by_surface: dict[str, list[str]] = {}
    for stroke in silent:
        if kit.struck[stroke.surface]:
            by_surface.setdefault(stroke.surface, []).append(spoken_at(stroke.at, beat.meter, beat.bars))
    says = []
    for name, places in by_surface.items():
        more = f" and {len(places) - MOST_PLACES} more" if len(places) > MOST_PLACES else ""
        del places[MOST_PLACES:]
        to = kit.called(kit.struck[name])
        where = f"{', '.join(places)}{more}" if more else _and(places)
        says.append(f"on your kit the {name} is silent at {where}: the {to} is struck there already")
    return tuple(says)


def hinders(kit: Kit, stages: Sequence[Stage], surfaces: Iterable[str]) -> str:
    """Say why strokes on these surfaces are not edited while a kit is shown; "" where nothing stands in the way.

    `stages` are those of the document. A line where other surfaces come in shows strokes that were written elsewhere:
    a change there would not mean what is seen.
    """
    back = "Show the beat as written to change it by hand."
    mixed = {
        INSTRUMENTS[kit.struck[stroke.surface]]
        for stage in stages
        for stroke in stage.beat.strokes
        if kit.struck[stroke.surface] not in ("", stroke.surface)
    }
    for name in surfaces:
        if kit.is_pad:
            return f"You see the beat on a practice pad, not as it is written. {back}"
        if name not in kit.owned:
            return f"Your kit does not have the {name}. {back}"
        if INSTRUMENTS[name] in mixed:
            return f"On your kit the {name} line also plays what is written on other surfaces. {back}"
    return ""


def fitted_threads(before: Beat, after: Beat, change: Change) -> tuple[Thread, ...]:
    """Join the sounding strokes of two neighbouring stages on a kit; `change` is that of the document.

    A stroke that sounds in both has the fate that the document gives it. One that falls silent ends here, one that is
    heard again begins here, whatever the document says: on this kit it does.
    """
    moved, altered = {move.id for move in change.moved}, set(change.altered)
    absorbed, crossed = change.absorbed(), set(change.crossed)
    now = {stroke.id: stroke for stroke in after.strokes}
    was = {stroke.id for stroke in before.strokes}
    rows: list[Thread] = []
    for stroke in before.strokes:
        name = stroke.id
        start = (stroke.at, stroke.surface)
        end = now.get(absorbed.get(name, name))
        if end is None:
            rows.append(Thread(name, start, None, LEFT_OUT, False))
            continue
        fate = MERGED if name in absorbed else MOVED if name in moved else ALTERED if name in altered else KEPT
        rows.append(Thread(name, start, (end.at, end.surface), fate, name in crossed))
    rows += [Thread(s.id, None, (s.at, s.surface), ADDED, False) for s in after.strokes if s.id not in was]
    return tuple(rows)


def _and(names: Sequence[str]) -> str:
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"
