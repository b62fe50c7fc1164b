"""How is a single change by hand written: "+ snare 3a ghost", "- kick 2&", "= snare 2 accent L"?

`+` adds a stroke, `-` leaves one out, `=` changes one. Surface, then place, then any of a dynamic, a grace ("plain"
takes a grace away) and a hand ("free" takes the pin away), in any order.
"""

from __future__ import annotations

from functools import lru_cache
from typing import NamedTuple

from ..errors import KitError, PlaceError, VariationError
from ..model.count import spoken
from ..model.kit import BY_NAME, DYNAMICS, GRACE_WORDS, GRACES, surface
from ..model.place import SYLLABLES, Place, place_text, read_place

MAX_CHANGES = 128  # strokes changed by hand in one stage; our choice
PLAIN, FREE = "plain", "free"


class Touch(NamedTuple):
    """One change by hand; None where a quality is not named, "" where it is taken away."""

    sign: str
    surface: str
    place: Place
    dynamic: str | None
    grace: str | None
    hand: str | None


@lru_cache(maxsize=512)
def read_touch(text: str) -> Touch:
    """Read one change; VariationError naming what does not read.

    >>> touch_text(read_touch("=  hi-hat-foot 2  L accent")) == "= hi-hat foot 2 accent L"
    Traceback (most recent call last):
    ...
    groundbeat.errors.VariationError: "=  hi-hat-foot 2  L accent": hi-hat foot is played by a foot and has no hand
    """
    tokens = text.split()
    if len(tokens) < 3 or tokens[0] not in ("+", "-", "="):
        raise VariationError(f'"{text}" is not a change; write "+ snare 3a ghost", "- kick 2&" or "= snare 2 accent L"')
    split = next((i for i in range(2, min(len(tokens), 5)) if tokens[i][0].isdigit() or tokens[i] in SYLLABLES), 0)
    if not split:
        raise VariationError(f'"{text}" names no place; write it after the surface, as in "+ snare 3a ghost"')
    try:
        name = surface(" ".join(tokens[1:split])).name
        place = read_place(tokens[split])
    except (KitError, PlaceError) as error:
        raise VariationError(f'"{text}": {error.message}') from None
    dynamic = grace = hand = None
    for token in tokens[split + 1 :]:
        if token in DYNAMICS:
            dynamic = token
        elif token in GRACES or token == PLAIN:
            grace = "" if token == PLAIN else token
        elif token in ("R", "L", FREE):
            hand = "" if token == FREE else token
        else:
            raise VariationError(
                f'"{text}": "{token}" is not known here; after the place stand a dynamic ({", ".join(DYNAMICS)}), '
                f"a grace ({', '.join(GRACES[1:])}, {PLAIN}) and a hand (R, L, {FREE})"
            )
    if tokens[0] == "-" and len(tokens) > split + 1:
        raise VariationError(f'"{text}": a stroke that is left out needs no more words than its place')
    if hand and BY_NAME[name].limb != "hand":
        raise VariationError(f'"{text}": {name} is played by a foot and has no hand')
    if tokens[0] == "=" and dynamic is None and grace is None and hand is None:
        raise VariationError(f'"{text}" changes nothing; name a dynamic, a grace or a hand')
    if tokens[0] == "+":
        dynamic, grace, hand = dynamic or "normal", grace or "", hand or ""
    return Touch(tokens[0], name, place, dynamic, grace, hand)


def touch_text(touch: Touch) -> str:
    """Write a change in the one form that files and links keep."""
    words = [touch.sign, touch.surface, place_text(touch.place)]
    adds = touch.sign == "+"
    if touch.dynamic is not None and not (adds and touch.dynamic == "normal"):
        words.append(touch.dynamic)
    if touch.grace is not None and not (adds and not touch.grace):
        words.append(touch.grace or PLAIN)
    if touch.hand is not None and not (adds and not touch.hand):
        words.append(touch.hand or FREE)
    return " ".join(words)


def touch_words(touch: Touch) -> str:
    """Say a change: "add a ghost on the snare at the a of 3"."""
    place = spoken(touch.place, bars=2)
    if touch.sign == "-":
        return f"leave out the {touch.surface} at {place}"
    qualities = []
    if touch.dynamic is not None:
        qualities.append({"ghost": "a ghost", "soft": "soft", "normal": "plain", "accent": "an accent"}[touch.dynamic])
    if touch.grace is not None and (touch.grace or touch.sign == "="):
        qualities.append(f"with a {GRACE_WORDS[touch.grace]}" if touch.grace else "without grace")
    if touch.hand is not None and (touch.hand or touch.sign == "="):
        qualities.append({"R": "right hand", "L": "left hand", "": "either hand"}[touch.hand])
    if touch.sign == "+":
        return f"add {', '.join(qualities)} on the {touch.surface} at {place}".replace(
            "add plain", "add a stroke"
        ).replace("add soft", "add a soft note")
    return f"make the {touch.surface} at {place} {', '.join(qualities)}"
