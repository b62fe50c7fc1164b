"""How does a voice sound through a mouth that moves? A source, and resonances one behind the other.

The source is the flow of air through the vocal folds, differentiated, as the radiation from the lips does it: rising as
2u - 3u^2 while they are open, then nothing (D. H. Klatt and L. C. Klatt, J. Acoust. Soc. Am. 87 (1990), KLGLOTT88). The
resonators are Klatt's of 1980: y = A x + B y' + C y'', with 1 as gain at 0 Hz. Three of them move; those above lie a
thousand hertz apart, as in a tube of 17 cm that is closed at one end, up to half the rate.

Conventions: as in modes.py; a track is a value for every frame.
"""

from __future__ import annotations

import numpy as np

from .modes import RATE, Wave
from .noise import padded

OPEN = 0.6  # of a period the folds are open; Klatt and Klatt give 0.5 to 0.7 for men
WIDTHS = (60.0, 90.0, 150.0)  # hertz, of the moving resonances: Klatt 1980, table II, about the middle of the vowels
NASAL_WIDTHS = (90.0, 250.0, 300.0)
ABOVE = tuple((3500.0 + 1000 * k, 175.0 + 75 * k) for k in range(10))  # hertz and width of those that stand still


def voiced(pitch: Wave, closing: int) -> Wave:
    """Make the source for a track of pitches, with the folds closing on the frame `closing`: that excites the mouth."""
    phase = np.cumsum(pitch / RATE)
    phase = (phase + OPEN - phase[closing]) % 1.0
    u = phase / OPEN
    return np.asarray(np.where(u <= 1 + 1e-9, 2 * u - 3 * u * u, 0.0), dtype=np.float64)


def resonated(wave: Wave, hertz: Wave, width: Wave) -> Wave:
    """Pass a wave through one resonator that moves."""
    c = -np.exp(-2 * np.pi * width / RATE)
    b = 2 * np.exp(-np.pi * width / RATE) * np.cos(2 * np.pi * hertz / RATE)
    a = 1 - b - c
    out: list[float] = []
    last = before = 0.0
    for driven, own, old in zip((a * wave).tolist(), b.tolist(), c.tolist(), strict=True):
        last, before = driven + own * last + old * before, last
        out.append(last)
    return np.array(out)


def topped(wave: Wave) -> Wave:
    """Pass a wave through the resonances above the third."""
    size = padded(2 * len(wave))
    turn = np.exp(-2j * np.pi * np.fft.rfftfreq(size))
    answer = np.ones(len(turn), dtype=np.complex128)
    for hertz, width in ABOVE:
        c = -np.exp(-2 * np.pi * width / RATE)
        b = 2 * np.exp(-np.pi * width / RATE) * np.cos(2 * np.pi * hertz / RATE)
        answer *= (1 - b - c) / (1 - b * turn - c * turn * turn)
    return np.asarray(np.fft.irfft(np.fft.rfft(wave, size) * answer, size)[: len(wave)], dtype=np.float64)
