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

from .setups import DRY, Setup

# how hard a stroke is, 0 to 1: what it does to the timbre, alike on all surfaces; its level is in levels.py. Our choice
EFFORT = {"ghost": 0.0, "soft": 0.375, "normal": 0.725, "accent": 1.0}
# what a hand varies that means to play the same again, our choices: octaves of brightness, decibels of level
TURN, UNEVEN = 0.14, 0.5
STEPS = (0.3, 0.618, 0.382)  # from one alternate to the next around the circles of spot, tune and weight


@dataclass(frozen=True, slots=True)
class Strike:
    """One stroke of a kit: `effort` 0 (ghost) to 1 (accent), `spot`, `tune` -1 to 1, `weight` decibels, chance."""

    effort: float
    spot: float
    tune: float
    weight: float
    rng: np.random.Generator
    setup: Setup = DRY

    def between(self, softest: float, hardest: float) -> float:
        """Read a value that goes from `softest` at a ghost to `hardest` at an accent by equal ratios."""
        return float(softest * (hardest / softest) ** self.effort)

    def corner(self, softest: float, hardest: float) -> float:
        """Read a contact's corner frequency in hertz: as `between`, by the hardness of this kit's tips."""
        return self.between(softest, hardest) * self.setup.tips * 2 ** (TURN * self.tune)

    def held(self, loosest: float = 0.87) -> float:
        """Tell by which share a stroke rings shorter: a ghost's stick stays down and damps what it struck."""
        return self.between(loosest, 1.0)

    def cents(self, widest: float) -> float:
        """Give this stroke's detuning as a factor, at most `widest` hundredths of a semitone off."""
        return float(2 ** (self.tune * widest / 1200))


def strike(surface: str, dynamic: str, alternate: int, setup: Setup = DRY) -> Strike:
    """Draw the stroke that belongs to a surface, a dynamic and an alternate; the same one on every kit."""
    seed = [zlib.crc32(surface.encode()), zlib.crc32(dynamic.encode())]
    first = np.random.default_rng(seed).uniform(0, 1, 3)
    # fixed steps around a circle keep up to four alternates apart, which chance alone would not
    spot, tune, weight = (float(2 * ((first[k] + alternate * step) % 1) - 1) for k, step in enumerate(STEPS))
    return Strike(EFFORT[dynamic], spot, tune, UNEVEN * weight, np.random.default_rng([*seed, alternate + 1]), setup)
