"""Which stroke goes when more ring than a player can carry?

The page's mixer (web/audio/mixer.js) has so many voices. A stroke that comes when SOUNDING ring lets the quietest of
them go, of equally quiet ones the oldest, with a short fade. How loud a stroke is was seen in the block of frames
before; one that began since counts as loud, one that nobody hears not at all. The desk does it alike, on the same
blocks, so that both write the same file.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

SOUNDING = 64  # strokes; the page's too
BLOCK = 128  # frames
STEAL = 0.005  # seconds of the fade, the page's too


class Ringing(NamedTuple):
    """A stroke that no choke or theft has ended: its number, its first frame, its samples and its gain."""

    number: int
    frame: int
    samples: NDArray[np.float32]
    gain: float


def quietest(ringing: list[Ringing], frame: int) -> Ringing | None:
    """Choose the stroke that makes room for one that begins on `frame`; None where there is room.

    `ringing` is in the order of beginning; those that were over before the block of `frame` count no more.
    """
    block = frame - frame % BLOCK
    here = [row for row in ringing if row.frame + len(row.samples) > block]
    if len(here) < SOUNDING:
        return None
    heard = [(_level(row, block), row) for row in here]
    heard = [(level, row) for level, row in heard if level]
    if len(heard) < SOUNDING:
        return None
    return min(heard, key=lambda one: (one[0], one[1].frame))[1]


def _level(row: Ringing, block: int) -> float:
    """Find how loud a stroke was in the block of frames that ends at `block`."""
    if row.frame >= block:
        return np.inf if row.gain else 0.0
    first = max(row.frame, block - BLOCK) - row.frame
    return float(np.abs(row.samples[first : block - row.frame].astype(np.float64) * row.gain).max())
