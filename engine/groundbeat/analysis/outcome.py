"""What did a variation do to a beat, in a few words for a teacher?

"adds 3 ghosts on the snare that fall alone; the kick and the riding hand stay". Counted is what is really different
between the two beats, whatever the variation meant to do.
"""

from __future__ import annotations

from collections.abc import Iterable

from ..model.beat import Stroke
from ..model.kit import GRACE_WORDS
from ..model.roles import KICK, RIDING
from ..variation.scene import Scene
from ..variation.selection import BACKBEATS
from ..variation.stack import Stage
from ..variation.words import join, target_words
from .differences import Differences, hit
from .keeping import kept

MOST = 3  # things told of one variation; our choice
_NOUNS = {"ghost": "ghost", "soft": "soft note", "normal": "stroke", "accent": "accent"}
_KEPT = ((KICK, "the kick"), (BACKBEATS, "the backbeats"), (RIDING, "the riding hand"))


def outcome(found: Differences, corrections: tuple[tuple[str, str], ...] = ()) -> str:
    """Say what is different, the most first, and what stays."""
    told = _told(found)
    words = [text for _, text in sorted(told, key=lambda row: -row[0])]
    said = words[:MOST]
    if len(words) > MOST:
        said.append("and more")
    before, after = found.before, found.after
    scene = Scene(before.beat, before.backbeats, corrections)
    sounding = {KICK: scene.roles.kick, BACKBEATS: before.backbeats, RIDING: scene.roles.riding}
    stays = [name for what, name in _KEPT if sounding[what] and kept(what, before, after, corrections)]
    if stays:
        plural = len(stays) > 1 or stays[0].endswith("s")
        said.append(f"{join(stays)} {'stay' if plural else 'stays'}")
    return "; ".join(said)


def _told(found: Differences) -> list[tuple[int, str]]:
    """What happened, each with how many strokes it is about."""
    before, after = found.before, found.after
    old = {stroke.id: stroke for stroke in before.beat.strokes}
    now = {stroke.id: stroke for stroke in after.beat.strokes}
    told: list[tuple[int, str]] = []
    if after.beat.bars != before.beat.bars:
        told.append((10**6, f"{after.beat.bars} bar{'s' * (after.beat.bars > 1)} instead of {before.beat.bars}"))
    if after.beat.meter != before.beat.meter:
        told.append((10**6, f"{after.beat.meter} instead of {before.beat.meter}"))
    if after.feel != before.feel:
        swing = after.feel.swung and (after.feel.swung, after.feel.long) != (before.feel.swung, before.feel.long)
        told.append((10**6, f"{after.feel.swung} swing" if swing else "another feel"))
    told += _added([s for s in after.beat.strokes if s.id not in old and hit(s) in found.new], after)
    taken = after.change.absorbed()
    out = [stroke for name, stroke in old.items() if name not in now]
    told += _each("leaves out", [s for s in out if s.id not in taken])
    merged = [stroke for stroke in out if stroke.id in taken]
    if merged:
        told.append(
            (len(merged), f"{len(merged)} of {_surfaces(merged)} {'meets' if len(merged) == 1 else 'meet'} others")
        )
    changed = [(old[name], stroke) for name, stroke in now.items() if name in old and hit(stroke) != hit(old[name])]
    return told + _each("moves", [a for a, b in changed if a.at != b.at]) + _altered(changed)


def _each(verb: str, strokes: list[Stroke]) -> list[tuple[int, str]]:
    """One thing that happened to these strokes, surface by surface."""
    rows = sorted(_by_surface(strokes), key=lambda row: -len(row[1]))
    said = [f"{len(row)} of {target_words(surface)}" for surface, row in rows]
    if len(said) > MOST:
        said = [f"{len(strokes)} of the whole beat"]
    return [(len(strokes), f"{verb} {join(said)}")] if said else []


def _altered(changed: list[tuple[Stroke, Stroke]]) -> list[tuple[int, str]]:
    told: list[tuple[int, str]] = []
    ways: dict[tuple[str, str], int] = {}
    for a, b in changed:
        if a.surface != b.surface:
            ways[a.surface, b.surface] = ways.get((a.surface, b.surface), 0) + 1
    for (one, other), count in ways.items():
        told.append((count, f"{count} of {target_words(one)} {_go(count)} to {target_words(other)}"))
    for word, row in (
        ("louder", [a for a, b in changed if b.level > a.level]),
        ("quieter", [a for a, b in changed if b.level < a.level]),
    ):
        if row:
            told.append((len(row), f"makes {len(row)} of {_surfaces(row)} {word}"))
    graces: dict[str, int] = {}
    for a, b in changed:
        if a.grace != b.grace:
            graces[b.grace] = graces.get(b.grace, 0) + 1
    for grace, count in graces.items():
        what = f"{count} with {GRACE_WORDS[grace]}" if grace else f"takes {count} ornament{'s' * (count > 1)} away"
        told.append((count, what))
    hands = sum(a.hand != b.hand for a, b in changed)
    if hands and not any(a.surface != b.surface for a, b in changed):
        told.append((hands, f"says the hand of {hands} stroke{'s' * (hands > 1)}"))
    return told


def _go(count: int) -> str:
    return "goes" if count == 1 else "go"


def _added(row: list[Stroke], after: Stage) -> list[tuple[int, str]]:
    """New strokes by surface and dynamic, and whether they fall alone."""
    crowd: dict[int, int] = {}
    for stroke in after.beat.strokes:
        crowd[stroke.at] = crowd.get(stroke.at, 0) + 1
    groups: dict[tuple[str, str], list[Stroke]] = {}
    for stroke in row:
        groups.setdefault((stroke.surface, stroke.dynamic), []).append(stroke)
    told = []
    for (surface, dynamic), group in groups.items():
        count = len(group)
        text = f"adds {count} {_NOUNS[dynamic]}{'s' * (count > 1)} on {target_words(surface)}"
        alone = sum(crowd[stroke.at] == 1 for stroke in group)
        if alone == count:
            text += " that fall alone" if count > 1 else " that falls alone"
        elif alone:
            text += f", {alone} of them alone"
        told.append((count, text))
    return told


def _by_surface(strokes: Iterable[Stroke]) -> list[tuple[str, list[Stroke]]]:
    rows: dict[str, list[Stroke]] = {}
    for stroke in strokes:
        rows.setdefault(stroke.surface, []).append(stroke)
    return list(rows.items())


def _surfaces(strokes: list[Stroke]) -> str:
    names = list(dict.fromkeys(target_words(stroke.surface) for stroke in strokes))
    return join(names) if len(names) < 3 else "the whole beat"
