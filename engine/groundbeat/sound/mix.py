"""What do strokes sound like together? An offline mixer, for files and for tests.

It follows the page's mixer: whole frames, pans that keep the power, choke groups that fade what rings.
Voices are mono samples at the rate of the mix; nothing is resampled and nothing is limited. As in the page, 64 strokes
may ring at once (crowd.py).
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Mapping
from functools import cache
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from ..errors import KitError
from ..model.kit import BY_NAME
from .crowd import STEAL, Crowd, Ringing

CHOKE = 0.02  # seconds of the fade, the page's too

ROOM = 1 << 24  # numbers that are kept while mixing, 128 MB: rendering faster must not need more. Our choice

Sides = NDArray[np.float64]
Name = tuple[str, str, int, float, float]  # of what sounds the same: a voice, its gain and its pan
Voices = Mapping[tuple[str, str, int], NDArray[np.float32]]


class Hit(NamedTuple):
    """One stroke at a frame; with `stop` it only silences what rings of its surface or choke group."""

    frame: int
    surface: str
    dynamic: str
    alternate: int
    gain: float = 1.0
    pan: float = 0.0
    stop: bool = False


def render(hits: Iterable[Hit], voices: Voices, rate: int) -> NDArray[np.float32]:
    """Mix strokes to stereo samples (frames x 2) that end with the last sound.

    `voices` holds samples by (surface, dynamic, alternate), all at `rate` frames a second. Frames count
    from 0. Raises KitError where a voice is missing or a frame is negative.
    """
    spans: list[tuple[Hit, NDArray[np.float32]]] = []
    cuts: dict[int, tuple[int, int]] = {}  # frame of the cut and length of its fade, by number of the span
    crowd = Crowd()  # what nothing has cut yet
    for hit in sorted(hits, key=lambda hit: hit.frame):
        if _choke(hit.surface) or hit.stop:
            for row in crowd.rings(before=hit.frame):
                if _chokes(hit.surface, row.surface):
                    cuts[row.number] = hit.frame - row.frame, round(CHOKE * rate)
                    crowd.remove(row)
        if hit.stop:
            continue
        voice = voices.get((hit.surface, hit.dynamic, hit.alternate))
        if voice is None or hit.frame < 0:
            raise KitError(f"cannot mix {hit}: no such voice, or a frame before 0", field="hits")
        goes = crowd.quietest(hit.frame)
        if goes:
            cuts[goes.number] = hit.frame - goes.frame, int(STEAL * rate + 0.5)
            crowd.remove(goes)
        crowd.add(Ringing(len(spans), hit.frame, hit.surface, voice, hit.gain))
        spans.append((hit, voice))
    out = np.zeros((2, max((hit.frame + len(samples) for hit, samples in spans), default=0)))
    often = Counter(_name(hit) for hit, _ in spans)
    made: dict[Name, Sides] = {}  # what sounds the same again and again
    room = ROOM
    for k, (hit, voice) in enumerate(spans):
        name = _name(hit)
        at, fade = cuts.get(k, (len(voice), 0))
        sides = made.get(name)
        if sides is None and often[name] > 1 and room >= 2 * len(voice):
            sides = made[name] = _sounds(voice, hit)
            room -= 2 * len(voice)
        _add(out, hit.frame, _sounds(voice[:at], hit) if sides is None else sides[:, :at])
        if at < len(voice):
            _add(out, hit.frame + at, _sounds(voice[at : at + fade], hit, fade))
    mixed = np.empty((out.shape[1], 2), dtype=np.float32)
    mixed.T[:] = out
    return mixed


def _sounds(voice: NDArray[np.float32], hit: Hit, fade: int = 0) -> Sides:
    """Make left and right of a stretch of a stroke, which fades out within so many frames where that is not 0."""
    # In this order of operations, and in double precision, as the page's mixer does it: the same bits come out.
    samples = voice.astype(np.float64) * hit.gain
    if fade:
        samples *= _fade(fade)[: len(samples)]
    return _sides(hit.pan) * samples


def _add(out: Sides, frame: int, sides: Sides) -> None:
    out[:, frame : frame + sides.shape[1]] += sides


@cache
def _fade(length: int) -> NDArray[np.float64]:
    faded: NDArray[np.float64] = 1 - np.arange(length) / length
    return faded


def _name(hit: Hit) -> Name:
    return hit.surface, hit.dynamic, hit.alternate, hit.gain, hit.pan


@cache
def _sides(pan: float) -> Sides:
    """Gains of left and right, one above the other; rounded as the page keeps them."""
    angle = (pan + 1) * math.pi / 4
    return np.array([[math.cos(angle)], [math.sin(angle)]], dtype=np.float32).astype(np.float64)


@cache
def _choke(name: str) -> str:
    return BY_NAME[name].choke if name in BY_NAME else ""  # the click is no surface of the kit


@cache
def _chokes(struck: str, rings: str) -> bool:
    group = _choke(struck)
    return struck == rings or (group != "" and _choke(rings) == group)
