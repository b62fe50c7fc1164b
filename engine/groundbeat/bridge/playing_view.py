"""How is it told who plays what in a stage, how fast, and what is hard about it?

Everything comes from the room `analysis`; here it becomes plain data with places in ticks, bars and counts. Distances
from home are told of every stage as it is written, all else of one stage as it sounds on the student's kit.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from ..analysis import limbs
from ..analysis.demand import Part, demand
from ..analysis.home import Home, along
from ..analysis.limbs import Playing
from ..analysis.omission import QUICK, THOROUGH
from ..analysis.player import Player, player_text
from ..analysis.spots import Spot, spots
from ..analysis.stroke_types import stroke_types
from ..analysis.tempo import Tempo, comfortable, fastest
from ..analysis.words import Trouble, because, verdict
from ..model.beat import Beat, Stroke
from ..model.count import count_text
from ..model.groove import Groove
from ..variation.stack import Stage

# What was worked out last: going to and fro between stages, and edits above a stage, leave it as it was.
_played: list[tuple[Stage, tuple[object, ...], Playing]] = []
_limits: list[tuple[Playing, tuple[Tempo, Tempo]]] = []
_parts: list[tuple[Playing, Stage | None, tuple[Part, ...]]] = []
_KEPT = 16


def forget() -> None:
    """Drop what was kept."""
    _played.clear()
    _limits.clear()
    _parts.clear()


def played(groove: Groove, stage: Stage, player: Player, tempo: int) -> Playing:
    """Play a stage, or remember how it was played; `tempo` in hundredths, 0 for the goal."""
    key = (groove.roles, groove.base.meter.tempo_unit, tempo or groove.tempo, player)
    for old, asked, playing in _played:
        if old is stage and asked == key:
            return playing
    playing = limbs.play(groove, stage, player, tempo)
    _played.append((stage, key, playing))
    del _played[:-_KEPT]
    return playing


def limits(playing: Playing) -> tuple[Tempo, Tempo]:
    """Find the comfortable and the fastest tempo, or remember them."""
    for old, both in _limits:
        if old is playing:
            return both
    found = comfortable(playing), fastest(playing)
    _limits.append((playing, found))
    del _limits[:-_KEPT]
    return found


def parts(groove: Groove, stages: Sequence[Stage], number: int, playing: Playing) -> tuple[Part, ...]:
    """Tell the parts of a stage's demand, or remember them."""
    before = stages[number - 1] if number else None
    for old, after, told in _parts:
        if old is playing and after is before:
            return told
    found = demand(groove, stages, number, playing, limits(playing))
    _parts.append((playing, before, found))
    del _parts[:-_KEPT]
    return found


def playing_view(
    groove: Groove,
    written: Sequence[Stage],
    stages: Sequence[Stage],
    number: int,
    player: Player,
    tempo: int,
    *,
    thorough: bool = False,
) -> dict[str, Any]:
    """Tell everything about playing stage `number` at a tempo; `written` are the stages without a student's kit.

    For a page that waits, what to leave out at tricky spots is looked for less long than where it is `thorough`.
    """
    playing = played(groove, stages[number], player, tempo)
    before = played(groove, stages[number - 1], player, tempo) if number else None
    judged = verdict(playing)
    easily, at_most = limits(playing)
    found = spots(
        groove, stages, number, player, tempo, played=playing, before_it=before, effort=THOROUGH if thorough else QUICK
    )
    was = {part.name: part.value for part in parts(groove, stages, number - 1, before)} if before else {}
    return {
        "answer": "playing",
        "stage": number,
        "tempo": bpm(playing.tempo),
        "player": player_text(player),
        "limbs": _limbs(playing),
        "verdict": {"playable": judged.playable, "kind": judged.kind, "text": judged.text},
        "troubles": [_trouble(trouble, playing.beat) for trouble in judged.troubles],
        "fastest": _limit(at_most, "fastest"),
        "comfortable": _limit(easily, "comfortable"),
        "spots": [_spot(spot, playing.beat) for spot in found],
        "demand": [_part(part, was.get(part.name)) for part in parts(groove, stages, number, playing)],
        "home": [_home(home) for home in along(written, groove.roles)],
    }


def bpm(hundredths: int) -> int | float:
    """Tell a tempo in beats a minute.

    >>> bpm(9200), bpm(9250)
    (92, 92.5)
    """
    return hundredths // 100 if hundredths % 100 == 0 else hundredths / 100


def _limbs(playing: Playing) -> list[dict[str, Any]]:
    names, types = playing.limb_names(), stroke_types(playing)
    return [
        _limb(stroke, names[stroke.id], types.get(stroke.id, ""))
        for stroke in playing.beat.strokes
        if stroke.id in names
    ]


def _limb(stroke: Stroke, limb: str, kind: str) -> dict[str, Any]:
    return {"id": stroke.id, "limb": limb, "letter": limb[0].upper(), "pinned": bool(stroke.hand), "type": kind}


def _limit(found: Tempo, what: str) -> dict[str, Any]:
    return {"bpm": found.bpm, "because": because(found, what)}


def _trouble(trouble: Trouble, beat: Beat) -> dict[str, Any]:
    return {
        **where(trouble.at, beat),
        "kind": trouble.kind,
        "text": trouble.text,
        "ids": list(trouble.ids),
        "possible_at": trouble.possible_at,
    }


def _spot(spot: Spot, beat: Beat) -> dict[str, Any]:
    return {
        **where(spot.at, beat),
        "kind": spot.kind,
        "text": spot.text,
        "ids": list(spot.ids),
        "leave_out": list(spot.leave_out),
        "leave_out_text": spot.leave_out_text,
    }


def _part(part: Part, before: int | None) -> dict[str, Any]:
    """Tell a part of the demand beside that of the stage before at the same tempo."""
    return {"part": part.name, "value": part.value, "before": before, "text": part.text}


def _home(home: Home) -> dict[str, Any]:
    return {
        "stage": home.stage,
        "distance": round(100 * home.distance),
        "kept": home.kept,
        "moved": home.moved,
        "altered": home.altered,
        "covered": home.covered,
        "gone": home.gone,
        "text": home.words,
    }


def where(at: int, beat: Beat) -> dict[str, Any]:
    """Tell a place: ticks, bar, and the short text that files keep ("2e")."""
    return {"at": at, "bar": beat.bar_of(at), "count": count_text(at, beat.meter)}
