"""How do rattles, wires, washes and clicks sound? Noise in bands that each start and die in their own time.

Conventions: as in modes.py. A band is (centre hertz, level in decibels, decay in seconds, rise in seconds).
"""

from __future__ import annotations

import numpy as np

from .modes import FALL, RATE, Points, Wave, contact, loudness

Band = tuple[float, float, float, float]


def padded(frames: int) -> int:
    """Find the next length whose Fourier transform is quick (2^a, or 3 or 5 times that).

    >>> padded(1000), padded(1100), padded(1300)
    (1024, 1280, 1536)
    """
    power = 1 << max(frames - 1, 1).bit_length()
    return next(size for size in (power // 8 * 5, power // 4 * 3, power) if size >= frames)


def _spots(size: int) -> Wave:
    return np.asarray(np.fft.rfftfreq(size, 1 / RATE), dtype=np.float64)


def burst(rng: np.random.Generator, frames: int, bands: tuple[Band, ...], corner: float = 1e9) -> Wave:
    """Make noise whose bands decay apart; neighbours cross over linearly on the logarithm of frequency.

    `corner` darkens all of it as a soft contact would. A level of 0 dB is the density of unit white noise.
    """
    size = padded(frames)
    spectrum = np.fft.rfft(rng.standard_normal(size))
    freqs = _spots(size)
    spectrum *= contact(freqs, corner)
    spot = np.log(np.maximum(freqs, 1.0))
    centres = np.log([band[0] for band in bands])
    t = np.arange(frames) / RATE
    out = np.zeros(frames)
    for k, (_, level, decay, rise) in enumerate(bands):
        share = np.interp(spot, centres, np.eye(len(bands))[k])
        if k == 0:  # the outermost bands fall away over an octave instead of reaching to 0 Hz or to the top
            share *= np.clip(1 - (centres[0] - spot) / np.log(2), 0, 1)
        if k == len(bands) - 1:
            share *= np.clip(1 - (spot - centres[-1]) / np.log(1.5), 0, 1)
        swell = np.exp(-FALL / decay * t)
        if rise > 0:
            swell *= 1 - np.exp(-t / rise)
        out += 10 ** (level / 20) * swell * np.fft.irfft(spectrum * share, size)[:frames]
    return out


def knock(rng: np.random.Generator, low: float, high: float, decay: float, corner: float, frames: int) -> Wave:
    """Make the knock of a stick: a few milliseconds of noise between two frequencies."""
    middle = float(np.sqrt(low * high))
    bands = ((low, -5.0, decay * 1.5, 0.0), (middle, 0.0, decay, 0.0), (high, -3.0, decay * 0.7, 0.0))
    short = min(frames, int(RATE * 0.06))
    return np.concatenate([burst(rng, short, bands, corner), np.zeros(frames - short)])


def shaped(wave: Wave, points: Points) -> Wave:
    """Weigh a wave's spectrum by a curve in decibels, without moving it in time (zero phase)."""
    size = padded(2 * len(wave))
    spectrum = np.fft.rfft(wave, size) * loudness(points, _spots(size))
    return np.asarray(np.fft.irfft(spectrum, size)[: len(wave)], dtype=np.float64)


def later(wave: Wave, seconds: float) -> Wave:
    """Delay a wave, keeping its length."""
    frames = round(seconds * RATE)
    return np.concatenate([np.zeros(frames), wave[: len(wave) - frames]]) if frames else wave


def grains(rng: np.random.Generator, frames: int, rate: float, decay: float) -> Wave:
    """Draw the envelope of a rattle: irregular knocks, about `rate` a second, each dying within `decay`."""
    gaps = rng.gamma(4.0, 1 / (4.0 * rate), int(frames / RATE * rate * 2) + 8)
    places = (np.cumsum(gaps) * RATE).astype(np.int64)
    hits = np.zeros(frames)
    inside = places < frames
    hits[places[inside]] = rng.uniform(0.4, 1.0, int(inside.sum()))
    hits[0] = 1.0
    size = padded(2 * frames)
    t = np.arange(frames) / RATE
    tail = np.exp(-FALL / decay * t) * (1 - np.exp(-t / 0.0012))  # a rise, or every knock would click
    tail /= tail.max()
    spectrum = np.fft.rfft(hits, size) * np.fft.rfft(tail, size)
    return np.asarray(np.fft.irfft(spectrum, size)[:frames], dtype=np.float64)
