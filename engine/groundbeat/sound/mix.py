"""What do strokes sound like together? An offline mixer, for files and for tests.

It follows the page's mixer: whole frames, pans that keep the power, choke groups that fade what rings.
Voices are mono samples at the rate of the mix; nothing is resampled and nothing is limited. One thing differs: the page
has 64 voices and lets the quietest go when more ring at once; here all ring out.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from ..errors import KitError
from ..model.kit import BY_NAME

CHOKE = 0.02  # seconds of the fade, the page's too

ROOM = 1 << 24  # numbers that are kept while mixing, 128 MB: rendering faster must not need more. Our choice

Sides = NDArray[np.float64]
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
    fade = round(CHOKE * rate)
    spans: list[tuple[Hit, NDArray[np.float32]]] = []
    cuts: dict[int, int] = {}  # frame of the choke, by number of the span
    ringing: list[int] = []  # numbers of spans not yet choked
    for hit in sorted(hits, key=lambda hit: hit.frame):
        if _choke(hit.surface) or hit.stop:
            for k in list(ringing):
                earlier, _ = spans[k]
                if earlier.frame < hit.frame and _chokes(hit.surface, earlier.surface):
                    cuts[k] = hit.frame - earlier.frame
                    ringing.remove(k)
        if hit.stop:
            continue
        voice = voices.get((hit.surface, hit.dynamic, hit.alternate))
        if voice is None or hit.frame < 0:
            raise KitError(f"cannot mix {hit}: no such voice, or a frame before 0", field="hits")
        ringing = [k for k in ringing if spans[k][0].frame + len(spans[k][1]) > hit.frame]
        ringing.append(len(spans))
        spans.append((hit, voice))
    out = np.zeros((2, max((hit.frame + len(samples) for hit, samples in spans), default=0)))
    ramp = 1 - np.arange(fade) / fade
    made: dict[tuple[str, str, int, float, float], tuple[Sides, Sides]] = {}  # what rings out the same again and again
    room = ROOM
    for k, (hit, voice) in enumerate(spans):
        name = (hit.surface, hit.dynamic, hit.alternate, hit.gain, hit.pan)
        sides = made.get(name) if k not in cuts else None
        if sides is None:
            # In this order of operations, and in double precision, as the page's mixer does it: the same bits come out.
            samples = voice.astype(np.float64) * hit.gain
            if k in cuts:
                samples = samples[: cuts[k] + fade]
                tail = samples[cuts[k] :]
                tail *= ramp[: len(tail)]
            left, right = _sides(hit.pan)
            sides = (samples * left, samples * right)
            if k not in cuts and room >= 2 * len(samples):
                made[name] = sides
                room -= 2 * len(samples)
        for side, added in zip(out, sides, strict=True):
            side[hit.frame : hit.frame + len(added)] += added
    mixed = np.empty((out.shape[1], 2), dtype=np.float32)
    mixed.T[:] = out
    return mixed


def _sides(pan: float) -> tuple[float, float]:
    """Gains of left and right; rounded as the page keeps them."""
    angle = (pan + 1) * math.pi / 4
    return float(np.float32(math.cos(angle))), float(np.float32(math.sin(angle)))


def _choke(name: str) -> str:
    return BY_NAME[name].choke if name in BY_NAME else ""  # the click is no surface of the kit


def _chokes(struck: str, rings: str) -> bool:
    group = _choke(struck)
    return struck == rings or (group != "" and _choke(rings) == group)
