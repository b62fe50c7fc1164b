"""What does a letter on a line of hand-written tablature mean?

The same letter means different things on different lines: `o` is a stroke on a drum and an open hi-hat, `b` a roll or
the bell, `x` on a snare a cross-stick. Under the kit's own names (written in full and small, as Groundbeat writes
them) x, o, X, O, g and s mean what they mean in a groove file. What can be meant otherwise carries a remark. Source of
the common letters: the article "Drum tablature" of Wikipedia; which of two meanings is taken is our choice.
"""

from __future__ import annotations

from typing import NamedTuple

from ..model.kit import BY_NAME, DRUM, METAL
from .tab_names import Named

EMPTY = "-._ "
ROUND = "()"  # round a letter: a ghost, where the letters beside it are empty


class Meant(NamedTuple):
    """One stroke as a letter tells it; `doubt` says what was taken where something else may be meant."""

    surface: str
    dynamic: str = "normal"
    grace: str = ""
    doubt: str = ""


_ANYWHERE = {"g": "ghost", "s": "soft"}
_STROKES = {"x": "normal", "o": "normal", "X": "accent", "O": "accent"}
_FROM_GROOVE_FILES = {METAL: "xXgs", DRUM: "oOgs"}
_RIMS = {"high tom", "mid tom", "low tom", "floor tom"}


def meaning(letter: str, line: Named) -> Meant | None:
    """Tell what a letter means on a line; None where it is not known there.

    >>> meaning("o", Named("hi-hat", "", False)).surface, meaning("x", Named("snare", "", False)).surface
    ('open hi-hat', 'cross-stick')
    """
    surface = BY_NAME[line.surface]
    if line.own and letter in _FROM_GROOVE_FILES.get(surface.material, "xXoOgs"):
        return Meant(surface.name, _STROKES.get(letter) or _ANYWHERE[letter])
    if surface.name == "hi-hat":
        return _on_hi_hat(letter)
    if surface.family in ("ride", "cymbal"):
        return _on_cymbal(letter, surface.name)
    if surface.material == DRUM:
        return _on_drum(letter, surface.name)
    if letter in _STROKES:
        return Meant(surface.name, _STROKES[letter])
    return Meant(surface.name, _ANYWHERE[letter]) if letter in _ANYWHERE else None


def _on_hi_hat(letter: str) -> Meant | None:
    if letter in "oO":
        return Meant("open hi-hat", _STROKES[letter])
    if letter == "X":
        return Meant("half-open hi-hat", doubt="is read as loose (a half-open hi-hat), not as an accent")
    if letter == "x":
        return Meant("hi-hat")
    if letter == "+":
        return Meant("hi-hat", doubt="is read as closed")
    if letter == "h":
        return Meant("half-open hi-hat", doubt="is read as half open")
    if letter == "#":
        return Meant("open hi-hat", grace="choke", doubt="is read as an open hi-hat that is choked")
    if letter in "fd":
        return Meant("hi-hat", grace={"f": "flam", "d": "drag"}[letter])
    return Meant("hi-hat", _ANYWHERE[letter]) if letter in _ANYWHERE else None


def _on_cymbal(letter: str, name: str) -> Meant | None:
    if letter in "xX":
        return Meant(name, _STROKES[letter])
    if letter in "oO":
        return Meant(name, _STROKES[letter], doubt="is read as a stroke")
    if letter == "#":
        return Meant(name, grace="choke")
    if letter in "sc":
        other = {"s": "splash", "c": "china"}[letter]
        return Meant(other) if other != name else Meant(name, doubt="is read as a stroke")
    if letter == "b":
        doubt = "" if name == "ride" else "is read as the bell of the ride"
        return Meant("ride bell", doubt=doubt)
    if letter == "f":
        return Meant(name, grace="flam")
    return Meant(name, "ghost") if letter == "g" else None


def _on_drum(letter: str, name: str) -> Meant | None:
    if letter in "oO":
        return Meant(name, _STROKES[letter])
    if letter in "fd":
        return Meant(name, grace={"f": "flam", "d": "drag"}[letter])
    if letter in "FD":
        grace = {"F": "flam", "D": "drag"}[letter]
        return Meant(name, "accent", grace, f"is read as an accented {grace}")
    if letter in "bB":
        loud = {"b": "soft", "B": "accent"}[letter]
        word = {"b": "a soft", "B": "an accented"}[letter]
        return Meant(name, loud, "buzz", f"is read as {word} roll of one hand (a buzz)")
    if letter == "z":
        return Meant(name, grace="buzz", doubt="is read as a buzz")
    if letter in "xX":
        if name == "snare":
            return Meant("cross-stick", _STROKES[letter], doubt="is read as a cross-stick")
        if name in _RIMS:
            return Meant(f"{name} rim", _STROKES[letter], doubt="is read as a stroke on the rim")
        return Meant(name, _STROKES[letter], doubt="is read as a stroke")
    if letter == "@":
        if name == "snare":
            return Meant("rimshot", doubt="is read as a rimshot")
        return Meant(f"{name} rim", doubt="is read as a stroke on the rim") if name in _RIMS else None
    if letter == "g":
        return Meant(name, "ghost")
    return Meant(name, "soft", doubt="is read as soft") if letter == "s" else None
