"""What did a stage do, in words that stand under its staff?

"new: snare (ghost) on e of 1, a of 1". Strokes of one fate that read the same are told together, with their places in
order. `changed` gives the ids that are marked on the staff itself.
"""

from __future__ import annotations

from collections.abc import Iterable

from ..analysis.saying import listing
from ..lineage.change import Change
from ..model.beat import Beat, Stroke
from ..model.count import spoken_at
from ..model.kit import GRACE_WORDS
from ..variation.stack import Stage

MOST_PLACES = 8  # of one kind; our choice
MOST_LINES = 6  # of a stage; our choice


def changed(stage: Stage) -> frozenset[str]:
    """Ids of the strokes that sound and that the stage brought, moved, altered, or let take in others."""
    change = stage.change
    merged = [merge.id for merge in change.merged]
    return frozenset([*change.added, *(move.id for move in change.moved), *change.altered, *merged])


def told(stage: Stage, before: Stage) -> tuple[str, ...]:
    """Tell what a stage did, a line for each kind of fate and stroke; "nothing changed" where nothing did."""
    change, now, was = stage.change, _by_id(stage.beat), _by_id(before.beat)
    lines = [f"new: {line}" for line in _grouped((now[name] for name in change.added if name in now), stage.beat)]
    lines += _moved(change, now, was, stage.beat, before.beat)
    moved = {move.id for move in change.moved}
    pairs: dict[tuple[str, str], list[int]] = {}
    for name in change.altered:
        if name in now and name in was and name not in moved:
            pairs.setdefault(_pair(was[name], now[name]), []).append(now[name].at)
    for (old, new), ticks in pairs.items():
        lines.append(f"{old} becomes {new} on {_places(ticks, stage.beat)}")
    for name in (merge.id for merge in change.merged):
        if name in now:
            lines.append(f"strokes meet and are one: {_what(now[name])} on {_places([now[name].at], stage.beat)}")
    gone = (was[name] for name in change.left_out if name in was)
    lines += [f"left out: {line}" for line in _grouped(gone, before.beat)]
    if len(lines) > MOST_LINES:
        more = len(lines) - MOST_LINES + 1
        lines = [*lines[: MOST_LINES - 1], f"and {more} more of this kind"]
    return tuple(lines) or ("no stroke changed",)


def _by_id(beat: Beat) -> dict[str, Stroke]:
    return {stroke.id: stroke for stroke in beat.strokes}


def _what(stroke: Stroke) -> str:
    words = [*([stroke.dynamic] if stroke.dynamic != "normal" else [])]
    words += [GRACE_WORDS[stroke.grace]] if stroke.grace else []
    return stroke.surface + (f" ({', '.join(words)})" if words else "")


def _pair(old: Stroke, new: Stroke) -> tuple[str, str]:
    """Name a stroke before and after; where only its hand differs, the hand."""
    a, b = _what(old), _what(new)
    if a != b:
        return a, b
    hands = {"R": "right hand", "L": "left hand", "": "either hand"}
    return a, hands[new.hand]


def _grouped(strokes: Iterable[Stroke], beat: Beat) -> list[str]:
    groups: dict[str, list[int]] = {}
    for stroke in strokes:
        groups.setdefault(_what(stroke), []).append(stroke.at)
    return [f"{what} on {_places(ticks, beat)}" for what, ticks in groups.items()]


def _places(ticks: Iterable[int], beat: Beat) -> str:
    row = sorted(set(ticks))
    if len(row) <= MOST_PLACES:
        return listing(row, beat)
    more = len(row) - MOST_PLACES + 1
    return f"{listing(row[: MOST_PLACES - 1], beat)}, and {more} more places"


def _moved(change: Change, now: dict[str, Stroke], was: dict[str, Stroke], beat: Beat, old: Beat) -> list[str]:
    ways: dict[tuple[str, str], list[tuple[int, int, bool]]] = {}
    for move in change.moved:
        if move.id in now and move.id in was:
            before, after = _what(was[move.id]), _what(now[move.id])
            ways.setdefault((before, "" if after == before else after), []).append((move.start, move.end, move.crosses))
    lines = []
    for (what, after), rows in ways.items():
        told_ways = [
            f"from {spoken_at(start, old.meter, old.bars)} to {spoken_at(end, beat.meter, beat.bars)}"
            + (" over the end of the loop" if crosses else "")
            for start, end, crosses in sorted(rows)
        ]
        if len(told_ways) > MOST_PLACES // 2:
            told_ways = [*told_ways[: MOST_PLACES // 2], f"and {len(told_ways) - MOST_PLACES // 2} more"]
        lines.append(f"moved: {what} {', '.join(told_ways)}" + (f", as {after}" if after else ""))
    return lines
