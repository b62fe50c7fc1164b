"""How high does the sound rise between its samples, and is it too high for a file?

The true peak of ITU-R BS.1770-5, annex 2: four times as many samples by interpolation, and the highest of them. The
interpolation is ours: a sinc of 24 samples under a Hann window. A file keeps 1 dB of room (our choice), for coders
and players that add a little of their own. What would be higher is made quieter as a whole, in steps of 0.1 dB;
nothing is limited. The page does the same (web/audio/writing.js), with the same steps, so that both find the same.
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

MOST = 10 ** (-1 / 20)  # of full scale: -1 dBTP
TIMES = 4
HALF = 12  # samples on each side
BLOCK = 1 << 12


def filters() -> NDArray[np.float64]:
    """Make the interpolation: a row for each quarter between two samples, from HALF - 1 before to HALF behind."""
    places = np.arange(1, TIMES)[:, None] / TIMES - np.arange(1 - HALF, HALF + 1)[None, :]
    return np.asarray(np.sinc(places) * np.cos(np.pi * places / (2 * HALF)) ** 2)


def true_peak(samples: NDArray[np.float32], least: float = 0.0) -> float:
    """Find the highest level of stereo samples (frames x 2) and between them, of full scale 1.

    With `least` only what may be higher than that is looked at between the samples: what is found is right where it is
    above `least`, and else some level that is not.
    """
    highest = float(np.abs(samples).max(initial=0))
    rows = filters()[:, ::-1]
    gain = float(np.abs(rows).sum(axis=1).max())  # no point between samples is higher than its neighbours times this
    for side in samples.T:
        for start in range(0, len(side), BLOCK):
            before, behind = max(0, start - HALF + 1), start + BLOCK + HALF
            piece = side[before:behind]
            if max(piece.max(), -piece.min()) * gain <= least:
                continue
            block = np.zeros(BLOCK + 2 * HALF - 1)
            first = before - (start - HALF + 1)
            block[first : first + len(piece)] = piece
            for row in rows:
                highest = max(highest, float(np.abs(np.convolve(block, row, "valid")).max()))
    return highest


def decibels_over(peak: float) -> float:
    """Say by how many decibels a file must be made quieter, in steps of 0.1; 0 where nothing must be.

    >>> decibels_over(0.5), decibels_over(1.0)
    (0.0, 1.0)
    """
    over = 200 * math.log10(peak / MOST) if peak > 0 else 0.0
    return max(0, math.ceil(over - 1e-6)) / 10


def lowered(samples: NDArray[np.float32]) -> tuple[NDArray[np.float32], float]:
    """Make samples as much quieter as their true peak asks for; give them, and the decibels."""
    over = decibels_over(true_peak(samples, MOST))
    if not over:
        return samples, 0.0
    return (samples.astype(np.float64) * 10 ** (-over / 20)).astype(np.float32), over
