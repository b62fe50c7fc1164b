"""What do strokes sound like together? An offline mixer, for files and for tests.

It follows the page's mixer: whole frames, pans that keep the power, choke groups that fade what rings.
Voices are mono samples at the rate of the mix; nothing is resampled and nothing is limited. As in the page, 64 strokes
may ring at once (crowd.py).
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from ..errors import KitError
from ..model.kit import BY_NAME
from .crowd import BLOCK, STEAL, Ringing, quietest

CHOKE = 0.02  # seconds of the fade, the page's too

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
    ringing: list[Ringing] = []  # what nothing has cut yet
    for hit in sorted(hits, key=lambda hit: hit.frame):
        if _choke(hit.surface) or hit.stop:
            for row in list(ringing):
                if row.frame < hit.frame and _chokes(hit.surface, spans[row.number][0].surface):
                    cuts[row.number] = hit.frame - row.frame, round(CHOKE * rate)
                    ringing.remove(row)
        if hit.stop:
            continue
        voice = voices.get((hit.surface, hit.dynamic, hit.alternate))
        if voice is None or hit.frame < 0:
            raise KitError(f"cannot mix {hit}: no such voice, or a frame before 0", field="hits")
        goes = quietest(ringing, hit.frame)
        if goes:
            cuts[goes.number] = hit.frame - goes.frame, int(STEAL * rate + 0.5)
            ringing.remove(goes)
        ringing = [row for row in ringing if row.frame + len(row.samples) > hit.frame - BLOCK]
        ringing.append(Ringing(len(spans), hit.frame, voice, hit.gain))
        spans.append((hit, voice))
    out = np.zeros((2, max((hit.frame + len(samples) for hit, samples in spans), default=0)))
    for k, (hit, voice) in enumerate(spans):
        # In this order of operations, and in double precision, as the page's mixer does it: the same bits come out.
        samples = voice.astype(np.float64) * hit.gain
        if k in cuts:
            at, fade = cuts[k]
            samples = samples[: at + fade]
            tail = samples[at:]
            tail *= 1 - np.arange(len(tail)) / fade
        for side, gain in zip(out, _sides(hit.pan), strict=True):
            side[hit.frame : hit.frame + len(samples)] += samples * gain
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
