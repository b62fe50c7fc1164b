"""Who plays? Right- or left-handed, crossed or open-handed, one pedal or two, and how fast.

A player is written as text, the parts joined by semicolons, in any order: "left-handed; open-handed; double pedal;
drop clutch; right hand 62; left hand 55; right foot 48; left foot 40". The numbers are strokes in ten seconds as fast
as they stay even. What is not named is usual: right-handed, crossed, one pedal, the usual limits. It is kept beside a
groove, never in its file or link.
"""

from __future__ import annotations

from functools import lru_cache
from typing import NamedTuple

from ..errors import RequestError
from ..model.kit import nearest
from .limits import LIMBS, Limits, own_limits

LEFT_HANDED, OPEN_HANDED, DOUBLE_PEDAL, CLUTCH = "left-handed", "open-handed", "double pedal", "drop clutch"
WORDS = (LEFT_HANDED, OPEN_HANDED, DOUBLE_PEDAL, CLUTCH)
MAX_TEXT = 200  # longer than all that can be said of a player; our choice


class Player(NamedTuple):
    """One player. `limits` count leading hand, other hand, kick foot, hi-hat foot."""

    left_handed: bool = False
    open_handed: bool = False
    double_pedal: bool = False
    clutch: bool = False
    limits: Limits = Limits()
    counts: tuple[tuple[str, int], ...] = ()

    @property
    def limbs(self) -> tuple[str, str, str, str]:
        """Names of leading hand, other hand, kick foot, hi-hat foot: of a left-handed player all is mirrored."""
        if self.left_handed:
            return LIMBS[1], LIMBS[0], LIMBS[3], LIMBS[2]
        return LIMBS


USUAL = Player()


@lru_cache(maxsize=32)
def read_player(text: str) -> Player:
    """Read a player; RequestError names the part that cannot be read.

    >>> read_player("open-handed; right foot 48").open_handed
    True
    """
    if len(text) > MAX_TEXT:
        raise RequestError(f"a player is told in at most {MAX_TEXT} characters, not {len(text)}", field="player")
    words: set[str] = set()
    counts: dict[str, int] = {}
    for part in filter(None, (" ".join(each.lower().split()) for each in text.split(";"))):
        limb, _, number = part.rpartition(" ")
        if part in WORDS:
            words.add(part)
        elif limb in LIMBS and number.isascii() and number.isdigit() and len(number) < 5:
            counts[limb] = int(number)
        else:
            raise RequestError(
                f'"{part}" says nothing of a player{nearest(part, (*WORDS, *LIMBS))}; a limb has its strokes in ten '
                'seconds behind it, as in "left hand 55"',
                field="player",
            )
    player = Player(LEFT_HANDED in words, OPEN_HANDED in words, DOUBLE_PEDAL in words, CLUTCH in words)
    own = {index: counts[name] for index, name in enumerate(player.limbs) if name in counts}
    return player._replace(
        limits=own_limits(own), counts=tuple((name, counts[name]) for name in LIMBS if name in counts)
    )


def player_text(player: Player) -> str:
    """Write a player in the one form that is kept; "" for the usual one.

    >>> player_text(read_player("Right foot 48; Open-handed"))
    'open-handed; right foot 48'
    """
    told = (player.left_handed, player.open_handed, player.double_pedal, player.clutch)
    words = [word for word, is_so in zip(WORDS, told, strict=True) if is_so]
    return "; ".join(words + [f"{name} {count}" for name, count in player.counts])
