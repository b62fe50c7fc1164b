"""What does a variation see of the beat that it works on?

The beat, the followed backbeats, and who does what in it. Roles are found when they are asked for.
"""

from __future__ import annotations

from ..model.beat import Beat
from ..model.feel import Feel
from ..model.roles import BACKBEAT_VOICE, HIHAT_FOOT, KICK, KICKS, RIDING, Roles, find_roles

EVERYTHING = "everything"
STRAIGHT = Feel()


class Scene:
    """What a kind sees: the beat, the followed backbeats by id, the feel so far, and who does what."""

    __slots__ = ("_corrections", "_roles", "backbeats", "beat", "feel")

    def __init__(
        self,
        beat: Beat,
        backbeats: tuple[str, ...],
        corrections: tuple[tuple[str, str], ...] = (),
        feel: Feel = STRAIGHT,
    ) -> None:
        self.beat = beat
        self.backbeats = backbeats
        self.feel = feel
        self._corrections = corrections
        self._roles: Roles | None = None

    @property
    def roles(self) -> Roles:
        """Who does what in this beat."""
        if self._roles is None:
            self._roles = find_roles(self.beat, self.backbeats, self._corrections)
        return self._roles


def surfaces_of(target: str, scene: Scene) -> tuple[str, ...]:
    """Name the surfaces that a target means on this beat; () where it does not sound.

    "kick" means every kick, a role what plays it, any other surface itself.
    """
    sounding = dict.fromkeys(stroke.surface for stroke in scene.beat.strokes)
    if target == EVERYTHING:
        return tuple(sounding)
    if target in (RIDING, BACKBEAT_VOICE, HIHAT_FOOT):
        return scene.roles.of(target)
    wanted = KICKS if target == KICK else (target,)
    return tuple(name for name in wanted if name in sounding)
