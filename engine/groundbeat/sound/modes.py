"""How do struck things ring? Banks of decaying partials, circular membranes, plates and bars.

Conventions: frequencies in hertz, times in seconds, a decay is the time to fall by 60 dB, waves are float64
at RATE. Everything is seeded by the caller; nothing here draws from a clock or from Python's salted hash.

Sources: N. H. Fletcher and T. D. Rossing, The Physics of Musical Instruments, chapters 2, 3, 18 and 20
(bars, membranes and plates, drums, cymbals). Zeros of the Bessel functions: M. Abramowitz and I. Stegun,
Handbook of Mathematical Functions, table 9.5; the integral form is its 9.1.21, and the tests hold the one
against the other.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

RATE = 44100  # frames a second, everywhere in this room
FALL = np.log(1000.0)  # 60 dB as a natural logarithm

Wave = NDArray[np.float64]
Points = tuple[tuple[float, float], ...]  # (hertz, value) pairs, rising

# (nodal diameters m, nodal circles n, zero of J_m): the modes of an ideal membrane in order of pitch
MEMBRANE = (
    (0, 1, 2.40483), (1, 1, 3.83171), (2, 1, 5.13562), (0, 2, 5.52008), (3, 1, 6.38016),
    (1, 2, 7.01559), (4, 1, 7.58834), (2, 2, 8.41724), (0, 3, 8.65373), (5, 1, 8.77148),
    (3, 2, 9.76102), (6, 1, 9.93611), (1, 3, 10.17347), (4, 2, 11.06471), (7, 1, 11.08637),
    (2, 3, 11.61984), (0, 4, 11.79153), (8, 1, 12.22509), (5, 2, 12.33860), (3, 3, 13.01520),
    (1, 4, 13.32369), (6, 2, 13.58929), (4, 3, 14.37254), (2, 4, 14.79595), (7, 2, 14.82127),
    (0, 5, 14.93092),
)  # fmt: skip


def bessel(order: ArrayLike, at: ArrayLike) -> Wave:
    """Evaluate the Bessel function J of whole orders at points up to 40, from its integral form.

    >>> bool(abs(bessel(0, 2.40483)) < 1e-5)
    True
    """
    turn = (np.arange(96) + 0.5) * (np.pi / 96)  # the midpoint rule converges geometrically here
    m, x = np.asarray(order, dtype=np.float64)[..., None], np.asarray(at, dtype=np.float64)[..., None]
    return np.asarray(np.cos(m * turn - x * np.sin(turn)).mean(axis=-1), dtype=np.float64)


def membrane(pitch: float, radius: float, air: float = 0.35) -> tuple[Wave, Wave, Wave]:
    """List a drum head's modes as frequencies, weights and nodal diameters.

    `pitch` is the lowest mode in hertz; `radius` where the stick lands, 0 centre to 1 hoop, decides how
    much of each mode is woken (J_m at that radius). `air` loads the low modes more than the high ones, so
    that the ratios widen from the ideal ones.
    """
    m, _, zero = (np.array(column, dtype=np.float64) for column in zip(*MEMBRANE, strict=True))
    ratio = zero / zero[0]
    load = np.sqrt((1 + air) / (1 + air / ratio))
    return pitch * ratio * load, bessel(m, zero * radius), m


def ring(freqs: Wave, decays: Wave, weights: Wave, phases: Wave, frames: int) -> Wave:
    """Sum decaying sines: weight * exp(-t) * sin(2 pi f t + phase).

    A thousand partials over two seconds are one product of two small matrices: every place is a coarse step
    times a fine step of each partial's complex turn.
    """
    step = 256
    pole = (2j * np.pi * freqs - FALL / decays) / RATE
    rows = -(-frames // step)
    coarse = _powers(np.exp(pole * step), rows) * (weights * np.exp(1j * phases))
    fine = _powers(np.exp(pole), step).T
    both = np.hstack([coarse.real, coarse.imag]) @ np.vstack([fine.imag, fine.real])
    return np.asarray(both.ravel()[:frames], dtype=np.float64)


def _powers(base: NDArray[np.complex128], count: int) -> NDArray[np.complex128]:
    """Raise each number to 0, 1, 2 ... by multiplying on: quick, and exact to some hundred roundings."""
    table = np.empty((count, len(base)), dtype=np.complex128)
    table[0] = 1
    table[1:] = base
    return np.asarray(np.multiply.accumulate(table, axis=0), dtype=np.complex128)


def glide(freqs: Wave, decays: Wave, weights: Wave, depth: float, settle: float, frames: int) -> Wave:
    """Sum decaying sines that start sharp by the share `depth` and come to rest within some `settle` seconds.

    A hard struck head is stretched, so its whole spectrum begins high and falls as the stroke dies away.
    """
    t = np.arange(frames) / RATE
    warped = t + depth * settle * (1 - np.exp(-t / settle))
    out = np.zeros(frames)
    for f, d, w in zip(freqs, decays, weights, strict=True):
        live = min(frames, int(d * 1.3 * RATE) + 1)  # below -78 dB nothing is added
        out[:live] += w * np.exp(-FALL / d * t[:live]) * np.sin(2 * np.pi * f * warped[:live])
    return out


def plate(seed: int, lowest: float, highest: float, spacing: float) -> Wave:
    """Draw the modes of one thin plate: as dense at every frequency (chapter 3), and each split in two.

    A cymbal is never quite round: a mode with nodal diameters is a close pair, and the pair beats slowly.
    The same seed is the same cymbal.
    """
    rng = np.random.default_rng(seed)
    count = int((highest - lowest) / spacing)
    single = lowest + spacing * (np.arange(count) + rng.uniform(0.05, 0.95, count))
    split = rng.uniform(0.3, 4.0, count)  # hertz, our choice
    return np.concatenate([single - split / 2, single + split / 2])


def along(points: Points, freqs: Wave) -> Wave:
    """Read a curve of (hertz, value) pairs, straight over the logarithm of frequency, flat at its ends."""
    hertz, values = zip(*points, strict=True)
    return np.asarray(np.interp(np.log(np.maximum(freqs, 1.0)), np.log(hertz), values), dtype=np.float64)


def loudness(points: Points, freqs: Wave) -> Wave:
    """Read a curve in decibels as factors."""
    return np.asarray(10 ** (along(points, freqs) / 20), dtype=np.float64)


def contact(freqs: Wave, corner: float) -> Wave:
    """Weigh partials by how soon the stick leaves: a long, soft contact wakes little above `corner` hertz."""
    return np.asarray(1 / np.sqrt(1 + (freqs / corner) ** 4), dtype=np.float64)
