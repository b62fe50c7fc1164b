"""How does a bare wave become a sample? Its room, the right level, and an end that is silent.

A room is some early reflections and a tail whose high notes die first; it is the same for all surfaces of
a kit, which is what makes them one kit. Level is the RMS of the loudest 30 ms (`strength`): it follows
the ear better than a peak. All values are our choice.
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np

from .modes import RATE, Wave
from .noise import burst, padded, shaped
from .setups import Room

WINDOW = 1323  # frames: 30 ms
SILENT = 10 ** (-58 / 20)  # of the wave's own peak
FADE = 0.03  # seconds at least of the fade at the end


@lru_cache(maxsize=4)
def _answer(room: Room) -> Wave:
    """Make a room's answer to one short knock."""
    tail = burst(np.random.default_rng(77), round(room.seconds * RATE), room.bands)
    tail = np.concatenate([np.zeros(round(room.after * RATE)), tail])
    tail /= np.sqrt((tail**2).sum())
    early = np.zeros(len(tail))
    for seconds, gain in room.early:
        early[round(seconds * RATE)] = gain
    early = shaped(early, room.walls)
    return np.asarray(0.8 * tail + 0.5 * early, dtype=np.float64)


def roomed(wave: Wave, wet: float, room: Room) -> Wave:
    """Add a room at the share `wet`; the result is longer by the room's tail."""
    answer = _answer(room)
    frames = len(wave) + len(answer)
    size = padded(frames)
    out = np.fft.irfft(np.fft.rfft(wave, size) * np.fft.rfft(answer, size), size)[:frames] * wet
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


def blown(wave: Wave, seconds: float) -> Wave:
    """Let the blow take its time: a soft stick stays longer on what it strikes, and so pushes it more slowly."""
    return np.asarray(wave * (1 - np.exp(-np.arange(len(wave)) / (seconds * RATE))), dtype=np.float64)


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
