"""What can be chosen for a MusicXML file, and what is made?"""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from ...errors import RequestError
from ...model.groove import MAX_TEMPO, MIN_TEMPO
from ...model.kit import nearest

WORDS, LYRIC, FINGERING, NONE = "words", "lyric", "fingering", "none"
STICKINGS = (WORDS, LYRIC, FINGERING, NONE)


class Wish(NamedTuple):
    """What is wanted: a stage (-1 the last), or with `through` all up to it, one after the other; in how many voices;
    how the hands are written; counts as lyrics; the sign for a bar that repeats; the older mark of an open hi-hat;
    `tempo` in hundredths (0: the goal)."""

    stage: int = -1
    through: bool = False
    voices: int = 2
    sticking: str = WORDS
    counts: bool = False
    signs: bool = False
    older: bool = False
    tempo: int = 0


class Made(NamedTuple):
    """A score: its text, a name for the file without its end, and what is to be told about it."""

    text: str
    name: str
    says: tuple[str, ...]


Hands = Mapping[int, Mapping[str, str]]  # by number of the stage: "R" or "L" by id of the stroke


def checked(wish: Wish, stages: int) -> Wish:
    """Give a wish back that can be had of so many stages; RequestError names what cannot."""
    if not -1 <= wish.stage < stages:
        raise RequestError(f"there are stages 0 to {stages - 1}, not {wish.stage}", field="stage")
    if wish.voices not in (1, 2):
        raise RequestError(f"a staff has 1 voice or 2, not {wish.voices}", field="voices")
    if wish.sticking not in STICKINGS:
        known = nearest(wish.sticking[:40], STICKINGS)
        raise RequestError(f'hands cannot be written as "{wish.sticking[:40]}"{known}', field="sticking")
    if wish.tempo and not MIN_TEMPO <= wish.tempo <= MAX_TEMPO:
        low, high = MIN_TEMPO // 100, MAX_TEMPO // 100
        raise RequestError(f"a tempo is {low} to {high} beats a minute, not {wish.tempo / 100:g}", field="tempo")
    return wish
