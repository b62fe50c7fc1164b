"""Does a variation leave alone what was asked to stay?

What can be kept: "backbeats" (the followed strokes themselves), a role or a surface ("kick", "riding", "hi-hat-foot":
the whole line). Kept means: every stroke stands where it stood, on the same surface, as loud and in the same feel; a
line that is kept gets no further strokes either. Under a loop that is so many times as long it is kept in each round.
"""

from __future__ import annotations

from collections.abc import Iterable

from ..errors import KitError, RequestError
from ..model.beat import Stroke
from ..model.kit import BY_NAME, INSTRUMENTS, nearest, surface
from ..model.roles import KICK, KICKS, ROLES
from ..variation.scene import Scene, surfaces_of
from ..variation.selection import BACKBEATS
from ..variation.stack import Stage
from .differences import laid_out, rounds

_SAID = {"backbeat": BACKBEATS, "riding hand": "riding", "kicks": "kick"}


def read_keep(words: Iterable[str]) -> tuple[str, ...]:
    """Read what is to be kept; RequestError where a word is neither backbeats nor a role nor a surface.

    >>> read_keep(["Backbeats", "hi-hat-foot"])
    ('backbeats', 'hi-hat foot')
    """
    found: list[str] = []
    for word in words:
        plain = " ".join(word.lower().split())
        plain = _SAID.get(plain, plain)
        spaced = plain.replace("-", " ")
        role = next((role for role in ROLES if role.replace("-", " ") == spaced), "")
        if plain == BACKBEATS or role:
            found.append(role or plain)
            continue
        try:
            found.append(surface(plain).name)
        except KitError:
            raise RequestError(
                f'"{word}" cannot be kept{nearest(plain, (BACKBEATS, *ROLES, *BY_NAME))}', field="keep"
            ) from None
    return tuple(dict.fromkeys(found))


def kept(what: str, before: Stage, after: Stage, corrections: tuple[tuple[str, str], ...] = ()) -> bool:
    """Tell whether one thing is kept from a stage to another; true where it does not sound at all."""
    old = laid_out(before.beat, rounds(before.beat, after.beat))
    if what == BACKBEATS:
        followed = set(before.backbeats)
        meant = [(stroke, later) for stroke, later in old if stroke.id in followed]
        there = {(s.at, s.surface, s.dynamic) for s in after.beat.strokes}
        return all(_hit(stroke, later) in there for stroke, later in meant) and _felt(meant, before, after)
    names = KICKS if what == KICK else surfaces_of(what, Scene(before.beat, before.backbeats, corrections)) or (what,)
    line = {INSTRUMENTS[name] for name in names if name in INSTRUMENTS}
    meant = [(stroke, later) for stroke, later in old if stroke.instrument in line]
    now = {_hit(stroke, 0) for stroke in after.beat.strokes if stroke.instrument in line}
    return {_hit(stroke, later) for stroke, later in meant} == now and _felt(meant, before, after)


def _hit(stroke: Stroke, later: int) -> tuple[int, str, str]:
    return stroke.at + later, stroke.surface, stroke.dynamic


def _felt(meant: Iterable[tuple[Stroke, int]], before: Stage, after: Stage) -> bool:
    one, two = before.feel, after.feel
    if one == two:
        return True
    for stroke, later in meant:
        at = stroke.at + later
        if one.push(stroke.surface) != two.push(stroke.surface):
            return False
        (a, b), (c, d) = one.sounded(at), two.sounded(at)
        if a * d != b * c:
            return False
    return True
