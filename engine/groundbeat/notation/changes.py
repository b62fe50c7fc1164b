"""What did a stage do, in words that stand under its staff?

"new: snare (ghost) on e of 1, a of 1". Strokes of one fate that read the same are told together, with their places in
order. `changed` gives the ids that are marked on the staff itself.
"""

from __future__ import annotations

from collections.abc import Iterable

from ..analysis.saying import in_bars
from ..lineage.change import Change, Move
from ..model.beat import Beat, Stroke
from ..model.count import spoken_at
from ..model.kit import GRACE_WORDS
from ..variation.stack import Stage

MOST_PLACES = 8  # of one kind in a bar; our choice
MOST_WAYS = 4  # of bars that differ, or from place to place; our choice
MOST_LINES = 6  # of a stage; our choice


def changed(stage: Stage) -> frozenset[str]:
    """Ids of the strokes that sound and that the stage brought, moved, altered, or let take in others."""
    change = stage.change
    merged = [merge.id for merge in change.merged]
    return frozenset([*change.added, *(move.id for move in change.moved), *change.altered, *merged])


def told(stage: Stage, before: Stage) -> tuple[str, ...]:
    """Tell what a stage did, a line for each kind of fate and stroke; none where no stroke changed."""
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
    met = (now[merge.id] for merge in change.merged if merge.id in now)
    lines += [f"strokes meet and are one: {line}" for line in _grouped(met, stage.beat)]
    gone = (was[name] for name in change.left_out if name in was)
    lines += [f"left out: {line}" for line in _grouped(gone, before.beat)]
    if len(lines) > MOST_LINES:
        more = len(lines) - MOST_LINES + 1
        lines = [*lines[: MOST_LINES - 1], f"and {more} more of this kind"]
    return tuple(lines)


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
    """List places, those that bars have alike told once: "e of 1, a of 1 in bars 1 to 4"."""
    bar = beat.meter.bar
    inside: dict[int, list[int]] = {}
    for at in sorted(set(ticks)):
        inside.setdefault(at // bar, []).append(at % bar)
    alike: dict[tuple[int, ...], list[int]] = {}
    for number, row in inside.items():
        alike.setdefault(tuple(row), []).append(number + 1)
    told_of = []
    for places, bars in alike.items():
        names = [spoken_at(at, beat.meter, 1) for at in places[:MOST_PLACES]]
        more = len(places) - MOST_PLACES
        names += [f"and {more} more place{'s' if more > 1 else ''}"] if more > 0 else []
        told_of.append(", ".join(names) + (f" in {in_bars(bars)}" if beat.bars > 1 else ""))
    return "; ".join(_few(told_of))


def _few(rows: list[str]) -> list[str]:
    return rows if len(rows) <= MOST_WAYS else [*rows[: MOST_WAYS - 1], f"and {len(rows) - MOST_WAYS + 1} more"]


def _moved(change: Change, now: dict[str, Stroke], was: dict[str, Stroke], beat: Beat, old: Beat) -> list[str]:
    ways: dict[tuple[str, str], dict[str, list[int]]] = {}
    for move in sorted(change.moved, key=lambda move: (move.start, move.end)):
        if move.id in now and move.id in was:
            before, after = _what(was[move.id]), _what(now[move.id])
            way, bar = _way(move, beat, old)
            ways.setdefault((before, "" if after == before else after), {}).setdefault(way, []).append(bar)
    lines = []
    for (what, after), rows in ways.items():
        known = [way + (f" in {in_bars(bars)}" if bars[0] else "") for way, bars in rows.items()]
        lines.append(f"moved: {what} {', '.join(_few(known))}" + (f", as {after}" if after else ""))
    return lines


def _way(move: Move, beat: Beat, old: Beat) -> tuple[str, int]:
    """Tell from where to where, and the bar where that is one bar of several (0: it is told, or there is only one)."""
    start, end = old.bar_of(move.start), beat.bar_of(move.end)
    over = " over the end of the loop" if move.crosses else ""
    one = start == end and not over
    bars, bars_then = (1, 1) if one else (old.bars, beat.bars)
    told_way = f"from {spoken_at(move.start, old.meter, bars)} to {spoken_at(move.end, beat.meter, bars_then)}{over}"
    return told_way, start if one and beat.bars > 1 else 0
