"""How do the small things sound: cowbell, wood block, a shell tapped with the stick, and the click?

Bars and boxes ring with few partials. Free bar: 1, 2.756, 5.404 (Fletcher and Rossing, chapter 2.15). Pitches
are our choice. The two clicks are wood-like, short, and a fourth apart, so that they carry over a kit without
hurting.
"""

from __future__ import annotations

import numpy as np

from .modes import Wave, contact, ring
from .noise import knock
from .strike import Strike

FREE_BAR = np.array([1.0, 2.756, 5.404])
STRONG_CLICK, WEAK_CLICK = 1480.0, 1110.0  # hertz


def _partials(
    s: Strike, freqs: Wave, decays: Wave, weights: Wave, corner: float, frames: int, loosest: float = 0.55
) -> Wave:
    freqs = freqs * s.cents(15)
    uneven = s.rng.uniform(0.7, 1.3, len(freqs)) * contact(freqs, corner)
    return ring(freqs, decays * s.held(loosest), weights * uneven, s.rng.uniform(-0.6, 0.6, len(freqs)), frames)


def cowbell(s: Strike, frames: int) -> Wave:
    """Strike the cowbell: two strong partials and a bright edge."""
    freqs = np.array([618.0, 905.0, 1540.0, 2235.0, 2910.0, 3760.0, 5120.0])
    decays = np.array([0.34, 0.3, 0.2, 0.17, 0.13, 0.1, 0.08])
    weights = np.array([0.85, 1.0, 0.5, 0.42, 0.35, 0.25, 0.15])
    tone = _partials(s, freqs, decays, weights, s.corner(750.0, 7500.0), frames, 0.72)
    return tone + s.between(0.06, 0.6) * knock(s.rng, 2000.0, 7000.0, 0.01, s.corner(2500.0, 12000.0), frames)


def wood_block(s: Strike, frames: int) -> Wave:
    """Strike the wood block: a short bar over a hollow."""
    freqs = np.concatenate([1010.0 * FREE_BAR, [1370.0, 2090.0]])
    decays = np.array([0.12, 0.075, 0.045, 0.085, 0.06])
    weights = np.array([1.0, 0.35, 0.15, 0.45, 0.25])
    tone = _partials(s, freqs, decays, weights, s.corner(800.0, 8000.0), frames)
    return tone + s.between(0.02, 1.6) * knock(s.rng, 1500.0, 6000.0, 0.007, s.corner(2000.0, 10000.0), frames)


def shell(s: Strike, frames: int) -> Wave:
    """Tap the floor tom's wooden shell."""
    freqs = np.array([236.0, 402.0, 668.0, 1035.0, 1490.0, 2140.0, 3050.0])
    decays = np.array([0.12, 0.11, 0.1, 0.085, 0.07, 0.055, 0.04])
    weights = np.array([0.4, 0.7, 1.0, 0.85, 0.65, 0.5, 0.3])
    tone = _partials(s, freqs, decays, weights, s.corner(800.0, 5500.0), frames)
    return tone + s.between(0.06, 1.0) * knock(s.rng, 1200.0, 5500.0, 0.009, s.corner(1800.0, 9000.0), frames)


def click(strong: bool, frames: int) -> Wave:
    """Make the click: the strong one a fourth above the weak one."""
    base = STRONG_CLICK if strong else WEAK_CLICK
    return ring(base * FREE_BAR, np.array([0.07, 0.03, 0.015]), np.array([1.0, 0.3, 0.12]), np.zeros(3), frames)
