"""How does a bare wave become a sample? A small room, the right level, and an end that is silent.

The room is some early reflections and a short tail whose high notes die first; it is the same for all
surfaces, which is what makes them one kit. Level is the RMS of the loudest 30 ms (`strength`): it follows
the ear better than a peak. All values are our choice.
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np

from .modes import RATE, Wave
from .noise import Band, burst, padded, shaped

WINDOW = 1323  # frames: 30 ms
REFLECTIONS = (  # seconds, gain
    (0.0063, 0.5), (0.0097, -0.38), (0.0139, 0.33), (0.0191, 0.27), (0.0243, -0.22), (0.0317, 0.17),
)  # fmt: skip
TAIL_FRAMES = int(0.32 * RATE)
SILENT = 10 ** (-64 / 20)  # of the wave's own peak
FADE = 0.03  # seconds at least of the fade at the end


@lru_cache(maxsize=1)
def _room() -> Wave:
    bands: tuple[Band, ...] = (
        (260.0, -5.0, 0.24, 0.004),
        (600.0, -1.0, 0.3, 0.004),
        (1500.0, 0.0, 0.32, 0.004),
        (4000.0, -4.0, 0.25, 0.003),
        (9000.0, -11.0, 0.17, 0.003),
    )
    tail = burst(np.random.default_rng(77), TAIL_FRAMES, bands)
    tail = np.concatenate([np.zeros(int(0.011 * RATE)), tail])
    tail /= np.sqrt((tail**2).sum())
    early = np.zeros(len(tail))
    for seconds, gain in REFLECTIONS:
        early[round(seconds * RATE)] = gain
    early = shaped(early, ((150, -18), (400, 0), (5000, -3), (11000, -14)))
    return np.asarray(0.8 * tail + 0.5 * early, dtype=np.float64)


def roomed(wave: Wave, wet: float) -> Wave:
    """Add the room at the share `wet`; the result is longer by the room's tail."""
    room = _room()
    frames = len(wave) + len(room)
    size = padded(frames)
    out = np.fft.irfft(np.fft.rfft(wave, size) * np.fft.rfft(room, size), size)[:frames] * wet
    out[: len(wave)] += wave
    return out


def softened(wave: Wave, drive: float) -> Wave:
    """Round off the tallest peaks as ears and microphones do; `drive` 0 leaves the wave alone, 1.5 is much.

    It also gives a kick the overtones by which a small loudspeaker lets it be heard.
    """
    if drive <= 0:
        return wave
    push = drive / np.abs(wave).max()
    return np.asarray(np.tanh(wave * push) / push, dtype=np.float64)


def strength(wave: Wave) -> float:
    """Measure the RMS of the loudest 30 ms."""
    run = np.concatenate([[0.0], np.cumsum(np.square(wave, dtype=np.float64))])
    width = min(WINDOW, len(wave))
    return float(np.sqrt((run[width:] - run[:-width]).max() / width))


def trimmed(wave: Wave, longest: int) -> Wave:
    """Cut where the wave has become silent, at most `longest` frames, and fade the end out."""
    peak = np.abs(wave).max()
    loud = np.flatnonzero(np.abs(wave) > peak * SILENT)
    frames = min(int(loud[-1]) + 1 + int(FADE * RATE), longest, len(wave))
    out = wave[:frames].copy()
    fade = min(frames, max(int(FADE * RATE), frames // 5))
    out[-fade:] *= 0.5 + 0.5 * np.cos(np.linspace(0, np.pi, fade))
    out[:12] *= np.arange(12) / 12  # a quarter of a millisecond: no step at the start
    return out
