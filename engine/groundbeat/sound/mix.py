"""What do strokes sound like together? An offline mixer, for files and for tests.

It follows the page's mixer: whole frames, pans that keep the power, choke groups that fade what rings.
Voices are mono samples at the rate of the mix; nothing is resampled and nothing is limited.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from ..errors import KitError
from ..model.kit import BY_NAME

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
    ordered = sorted(hits, key=lambda hit: hit.frame)
    fade = round(CHOKE * rate)
    spans: list[tuple[Hit, NDArray[np.float32]]] = []
    ringing: list[int] = []  # numbers of spans not yet choked
    for hit in ordered:
        group = BY_NAME[hit.surface].choke
        if group or hit.stop:
            for k in list(ringing):
                earlier, samples = spans[k]
                if earlier.frame < hit.frame and _chokes(hit.surface, earlier.surface):
                    spans[k] = (earlier, _faded(samples, hit.frame - earlier.frame, fade))
                    ringing.remove(k)
        if hit.stop:
            continue
        voice = voices.get((hit.surface, hit.dynamic, hit.alternate))
        if voice is None or hit.frame < 0:
            raise KitError(f"cannot mix {hit}: no such voice, or a frame before 0", field="hits")
        ringing.append(len(spans))
        spans.append((hit, voice))
    out = np.zeros((max((hit.frame + len(samples) for hit, samples in spans), default=0), 2))
    for hit, samples in spans:
        angle = (hit.pan + 1) * np.pi / 4
        sides = np.array([np.cos(angle), np.sin(angle)]) * hit.gain
        out[hit.frame : hit.frame + len(samples)] += samples[:, None] * sides
    return out.astype(np.float32)


def _chokes(struck: str, rings: str) -> bool:
    group = BY_NAME[struck].choke
    return struck == rings or (group != "" and BY_NAME[rings].choke == group)


def _faded(samples: NDArray[np.float32], at: int, fade: int) -> NDArray[np.float32]:
    """Cut samples at a frame with a straight fade."""
    out = samples[: at + fade].copy()
    tail = len(out) - at
    if tail > 0:
        out[at:] *= (1 - np.arange(tail) / fade).astype(np.float32)
    return out
