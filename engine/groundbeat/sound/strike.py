"""What does one stroke bring to the instrument? Its force, its hardness, where it lands, and its own chance.

A louder stroke is also shorter in contact and so brighter (Hertz's law of contact; Fletcher and Rossing,
The Physics of Musical Instruments, chapter 19): every voice reads its corner frequencies from
`Strike.between`. Alternates are the same stroke by a hand that is never twice at the same spot. Seeds come
from CRC-32 of the names, never from Python's salted hash.
"""

from __future__ import annotations

import zlib
from dataclasses import dataclass

import numpy as np

# decibels under an accent, our choice, within the usual range of a kit
DYNAMIC_DB = {"ghost": -20.0, "soft": -12.5, "normal": -5.5, "accent": 0.0}


@dataclass(frozen=True, slots=True)
class Strike:
    """One stroke: `effort` 0 (ghost) to 1 (accent), `spot` and `tune` from -1 to 1, a seeded generator."""

    effort: float
    spot: float
    tune: float
    rng: np.random.Generator

    def between(self, softest: float, hardest: float) -> float:
        """Read a value that goes from `softest` at a ghost to `hardest` at an accent by equal ratios."""
        return float(softest * (hardest / softest) ** self.effort)

    def cents(self, widest: float) -> float:
        """Give this stroke's detuning as a factor, at most `widest` hundredths of a semitone off."""
        return float(2 ** (self.tune * widest / 1200))


def strike(surface: str, dynamic: str, alternate: int) -> Strike:
    """Draw the stroke that belongs to a surface, a dynamic and an alternate; always the same one."""
    seed = [zlib.crc32(surface.encode()), zlib.crc32(dynamic.encode())]
    first = np.random.default_rng(seed).uniform(0, 1, 2)
    # fixed steps around a circle keep up to four alternates apart, which chance alone would not
    spot, tune = (float(2 * ((first[k] + alternate * step) % 1) - 1) for k, step in enumerate((0.3, 0.618)))
    effort = 1 - DYNAMIC_DB[dynamic] / DYNAMIC_DB["ghost"]
    return Strike(effort, spot, tune, np.random.default_rng([*seed, alternate + 1]))
