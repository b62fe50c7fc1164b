"""Which stroke goes when more ring than a player can carry?

The page's mixer (web/audio/mixer.js) has so many voices. A stroke that comes when SOUNDING ring lets the quietest of
them go, of equally quiet ones the oldest, with a short fade. How loud a stroke is was seen in the block of frames
before; one that began since counts as loud, one that nobody hears not at all. The desk does it alike, on the same
blocks, so that both write the same file.
"""

from __future__ import annotations

import math
from heapq import heapify, heappop, heappush
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

SOUNDING = 64  # strokes; the page's too
BLOCK = 128  # frames
STEAL = 0.005  # seconds of the fade, the page's too


Wave = NDArray[np.float32]


class Ringing(NamedTuple):
    """A stroke that rings: its number, its first frame, its surface, its samples and its gain."""

    number: int
    frame: int
    surface: str
    samples: Wave
    gain: float


class Crowd:
    """All strokes that ring and that no choke or theft has ended, in the order of beginning."""

    def __init__(self) -> None:
        self._rows: dict[int, Ringing] = {}
        self._block = -1
        # How loud what is heard was before this block, as a heap of (level, frame, number), in which some may be gone;
        # and how many are not. Made when it is needed.
        self._heard: list[tuple[float, int, int]] | None = None
        self._count = 0
        self._peaks: dict[int, tuple[Wave, Wave]] = {}  # by the identity of samples, which are kept so that it holds

    def rings(self, before: int) -> list[Ringing]:
        """List what rings and began before a frame."""
        return [row for row in self._rows.values() if row.frame < before]

    def add(self, row: Ringing) -> None:
        """Let a stroke ring; it begins no sooner than any before it."""
        self._turn(row.frame)
        self._rows[row.number] = row
        if self._heard is not None and row.gain:
            heappush(self._heard, (math.inf, row.frame, row.number))
            self._count += 1

    def remove(self, row: Ringing) -> None:
        """Take a stroke out that fades from now on."""
        del self._rows[row.number]
        if self._heard is not None and self._level(row):
            self._count -= 1

    def quietest(self, frame: int) -> Ringing | None:
        """Choose the stroke that makes room for one that begins on `frame`; None where there is room."""
        self._turn(frame)
        if len(self._rows) < SOUNDING:
            return None
        if self._heard is None:
            rows = [(self._level(row), row.frame, row.number) for row in self._rows.values()]
            self._heard = [row for row in rows if row[0]]
            self._count = len(self._heard)
            heapify(self._heard)
        if self._count < SOUNDING:
            return None
        while self._heard[0][2] not in self._rows:
            heappop(self._heard)
        return self._rows[self._heard[0][2]]  # of equal ones the oldest: numbers grow in the order of beginning

    def _turn(self, frame: int) -> None:
        """Go on to the block of a frame; what was over before it counts no more."""
        block = frame - frame % BLOCK
        if block != self._block:
            self._block = block
            self._heard = None
            self._rows = {n: row for n, row in self._rows.items() if row.frame + len(row.samples) > block}

    def _level(self, row: Ringing) -> float:
        """Find how loud a stroke was in the block of frames that ends where this one begins."""
        if row.frame >= self._block:
            return math.inf if row.gain else 0.0
        known = self._peaks.get(id(row.samples))
        if known is None:
            known = self._peaks[id(row.samples)] = row.samples, _peaks(row.samples)
        # The largest product is that of the largest sample: rounding keeps the order.
        return known[1].item(self._block - row.frame - 1) * abs(row.gain)


def _peaks(samples: Wave) -> Wave:
    """Find the largest size in the block that ends with each sample; before the first there is silence."""
    row = np.concatenate([np.zeros(BLOCK - 1, np.float32), np.abs(samples)])
    step = 1
    while step < BLOCK:  # of blocks of 1, 2, 4 ... samples; BLOCK is a power of two
        row = np.maximum(row[:-step], row[step:])
        step *= 2
    return row
