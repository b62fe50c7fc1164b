"""How do the cymbals sound: hi-hats, ride, crashes, china, splash, stack?

A cymbal is a thin plate: some forty modes a kilohertz, each a close pair (modes.plate), woken by weight and
dying by frequency. A hard blow also feeds the high modes from the low ones within some ten milliseconds
(Fletcher and Rossing, 20.3): that part is noise that swells. Where two cymbals touch, noise rattles and the
modes die quickly. A plate's seed is the cymbal; the stroke only decides which of its modes are woken and
how. Curves have one value for each frequency of GRID: levels in decibels, decays in seconds. All are our
choice.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from .modes import Wave, along, contact, loudness, plate, ring
from .noise import Band, burst, grains
from .strike import Strike

GRID = (300.0, 800.0, 1600.0, 3000.0, 5000.0, 8000.0, 12000.0, 17500.0)  # hertz
HIGHEST = 17500.0  # hertz: above it a lossy file keeps nothing, and few ears hear it

Curve = tuple[float, ...]  # as long as GRID


@dataclass(frozen=True, slots=True)
class Cymbal:
    """One cymbal: its seed, lowest mode and mode spacing in hertz."""

    seed: int
    lowest: float
    spacing: float


HATS = Cymbal(1401, 320.0, 13.0)  # two 14-inch plates, so twice as dense
RIDE = Cymbal(2001, 210.0, 24.0)
CRASH = Cymbal(1601, 290.0, 21.0)
SECOND_CRASH = Cymbal(1801, 235.0, 19.0)
CHINA = Cymbal(1802, 260.0, 19.0)
SPLASH = Cymbal(1001, 560.0, 30.0)
STACK = Cymbal(1002, 430.0, 26.0)


@lru_cache(maxsize=16)
def _modes(cymbal: Cymbal) -> Wave:
    return plate(cymbal.seed, cymbal.lowest, HIGHEST, cymbal.spacing)


def _plate(s: Strike, cymbal: Cymbal, frames: int, levels: Curve, decays: Curve, corner: float) -> Wave:
    """Ring a cymbal: no mode is left out or towers over the rest, so that none whistles."""
    freqs = _modes(cymbal)
    uneven = np.clip(s.rng.rayleigh(0.8, len(freqs)), 0.3, 1.6)
    weights = uneven * loudness(tuple(zip(GRID, levels, strict=True)), freqs) * contact(freqs, corner)
    weights *= (freqs / 4000.0) ** s.setup.shine
    weights *= np.sqrt(cymbal.spacing / 400.0)  # the same power whatever the number of modes
    keep = weights > weights.max() * 10 ** (-62 / 20)  # what nobody hears costs time all the same
    phases = s.rng.uniform(0, 2 * np.pi, len(freqs))
    lengths = along(tuple(zip(GRID, decays, strict=True)), freqs[keep]) * s.setup.metal
    return ring(freqs[keep], lengths, weights[keep], phases[keep], frames) / 4.5


def _tip(s: Strike, frames: int, corner: float, decay: float = 0.012) -> Wave:
    """Make the tick of a wooden tip on metal."""
    bands: tuple[Band, ...] = (
        (2600.0, -6.0, decay * 1.4, 0.0),
        (5200.0, 0.0, decay, 0.0),
        (9500.0, -1.0, decay, 0.0),
        (14000.0, -6.0, decay * 0.8, 0.0),
    )
    return burst(s.rng, frames, bands, corner)


def _sizzle(s: Strike, frames: int, length: float, corner: float, rate: float) -> Wave:
    """Make two loosely touching plates rattle against each other, `rate` times a second."""
    bands: tuple[Band, ...] = (
        (2500.0, -14.0, 0.6 * length, 0.001),
        (5000.0, -4.0, 0.9 * length, 0.001),
        (8500.0, 0.0, length, 0.001),
        (13500.0, -5.0, 0.8 * length, 0.001),
    )
    rattle = grains(s.rng, frames, rate, 0.02)
    return burst(s.rng, frames, bands, corner) * (0.35 + 0.65 * np.minimum(rattle, 1.5))


def _swell(s: Strike, frames: int, bright: float, length: float, corner: float) -> Wave:
    """Make what a hard blow feeds into the high modes: noise that takes milliseconds to come up."""
    bands: tuple[Band, ...] = (
        (700.0, -10.0, 0.5 * length, 0.001),
        (1600.0, -5.0, 0.7 * length, 0.002),
        (3500.0, -2.0, 0.8 * length, 0.003),
        (6500.0, bright, 0.7 * length, 0.005),
        (10500.0, bright - 3.0, 0.5 * length, 0.006),
        (15000.0, bright - 10.0, 0.35 * length, 0.007),
    )
    return burst(s.rng, frames, bands, corner)


HAT_LEVELS: Curve = (-24, -18, -18, -12, -5, 0, -3, -15)


def hi_hat(s: Strike, frames: int) -> Wave:
    """Strike the closed hi-hat: both plates damp each other; the harder, the longer it speaks."""
    longer = 0.85 + 0.35 * s.effort
    decays = tuple(longer * decay for decay in (0.1, 0.09, 0.085, 0.095, 0.105, 0.115, 0.095, 0.06))
    corner = s.corner(5600.0, 20000.0)
    bands: tuple[Band, ...] = (
        (3200.0, -14.0, 0.05, 0.0),
        (6000.0, -3.0, 0.07, 0.0004),
        (9500.0, 0.0, 0.075, 0.0004),
        (14000.0, -5.0, 0.05, 0.0003),
    )
    metal = _plate(s, HATS, frames, HAT_LEVELS, decays, corner)
    rub = burst(s.rng, frames, bands, corner)
    return metal + s.between(0.1, 0.3) * rub + s.between(0.12, 0.42) * _tip(s, frames, corner)


def half_open_hi_hat(s: Strike, frames: int) -> Wave:
    """Strike the half-open hi-hat: plates that just touch, and sizzle, the longer the harder."""
    corner = s.corner(5000.0, 19000.0)
    decays = tuple(s.held() * decay for decay in (0.3, 0.32, 0.34, 0.37, 0.4, 0.4, 0.32, 0.2))
    metal = _plate(s, HATS, frames, HAT_LEVELS, decays, corner)
    sizzle = _sizzle(s, frames, 0.46 * s.held(), corner, 210.0)
    return metal + s.between(0.3, 0.45) * sizzle + s.between(0.1, 0.42) * _tip(s, frames, corner)


def open_hi_hat(s: Strike, frames: int) -> Wave:
    """Strike the open hi-hat: two plates ring long, touching now and then."""
    levels: Curve = (-19, -16, -15, -9, -3, 0, -4, -16)
    decays: Curve = (1.1, 1.12, 1.14, 1.1, 1.03, 0.9, 0.65, 0.4)
    corner = s.corner(5200.0, 18000.0)
    metal = _plate(s, HATS, frames, levels, decays, corner)
    sizzle = _sizzle(s, frames, 0.6, corner, 90.0)
    return metal + s.between(0.2, 0.4) * sizzle + s.between(0.1, 0.4) * _tip(s, frames, corner)


def hi_hat_foot(s: Strike, frames: int) -> Wave:
    """Close the hi-hat with the foot: a chick without a stick, lower than a stroke."""
    levels: Curve = (-20, -12.5, -9.5, -4, 0, -2, -9, -22)
    decays: Curve = (0.09, 0.083, 0.08, 0.087, 0.092, 0.085, 0.07, 0.05)
    bands: tuple[Band, ...] = (
        (900.0, -13.0, 0.03, 0.0006),
        (2600.0, -4.0, 0.05, 0.0006),
        (5200.0, 0.0, 0.07, 0.0006),
        (10000.0, -8.0, 0.06, 0.0006),
    )
    corner = s.corner(5000.0, 14000.0)
    return _plate(s, HATS, frames, levels, decays, corner) + 0.4 * burst(s.rng, frames, bands, corner)


def foot_splash(s: Strike, frames: int) -> Wave:
    """Clash the hi-hat with the foot and let it ring."""
    levels: Curve = (-14, -9.5, -8, -4, 0, -1, -7, -19)
    decays: Curve = (0.85, 0.87, 0.9, 0.85, 0.8, 0.68, 0.5, 0.3)
    corner = s.corner(4800.0, 14000.0)
    sizzle = _sizzle(s, frames, 0.22, corner, 160.0)
    return _plate(s, HATS, frames, levels, decays, corner) + 0.55 * sizzle


RIDE_DECAYS: Curve = (1.75, 1.9, 1.8, 1.6, 1.35, 1.05, 0.7, 0.4)


def ride(s: Strike, frames: int) -> Wave:
    """Strike the ride's bow: a clear ping on a low wash."""
    corner = s.corner(4400.0, 16000.0)
    wash = _plate(s, RIDE, frames, (-16, -13, -9.5, -5, -3, -6.5, -13, -22), RIDE_DECAYS, corner)
    # the ping: what the tip wakes near itself before the wave has run round the plate
    near: Curve = (0.14, 0.18, 0.21, 0.24, 0.2, 0.16, 0.12, 0.08)
    ping = _plate(s, RIDE, frames, (-34, -23, -14, -1, -0.5, -5, -12, -26), near, corner)
    partials = np.array([2930.0, 3617.0, 4485.0, 5390.0]) * (1 + 0.012 * s.spot)
    weights, phases = s.rng.uniform(0.5, 1.0, 4), s.rng.uniform(0, 2 * np.pi, 4)
    clear = ring(partials, np.array([0.5, 0.42, 0.36, 0.3]), weights, phases, frames)
    tick = s.between(0.16, 0.5) * _tip(s, frames, corner, 0.016)
    return s.between(0.4, 0.75) * wash + 1.3 * ping + 0.05 * clear + tick


BELL = np.array([617.0, 952.0, 1436.0, 1884.0, 2431.0, 3018.0, 3720.0, 4610.0, 5580.0, 6840.0])
BELL_WEIGHTS = np.array([0.4, 0.6, 0.75, 1.0, 0.95, 0.8, 0.7, 0.5, 0.35, 0.22])
BELL_DECAYS = np.array([1.25, 1.3, 1.35, 1.3, 1.2, 1.05, 0.9, 0.75, 0.6, 0.5])


def ride_bell(s: Strike, frames: int) -> Wave:
    """Strike the ride's bell: few strong partials, each a beating pair, over a thin wash."""
    freqs = BELL * (1 + 0.002 * s.spot)
    weights = BELL_WEIGHTS * s.rng.uniform(0.75, 1.25, 10) * contact(freqs, s.corner(2600.0, 9500.0))
    beat = s.rng.uniform(0.6, 2.2, 10)  # hertz
    both = np.concatenate([freqs - beat, freqs + beat])
    halves = np.concatenate([weights, 0.5 * weights])
    bell = ring(
        both, np.tile(BELL_DECAYS, 2) * s.setup.metal * s.held(), halves, s.rng.uniform(0, 2 * np.pi, 20), frames
    )
    corner = s.corner(4400.0, 16000.0)
    wash = _plate(s, RIDE, frames, (-20, -15, -11, -7, -5, -7.5, -15, -24), RIDE_DECAYS, corner)
    return 0.25 * bell + s.between(0.3, 0.6) * wash + s.between(0.15, 0.5) * _tip(s, frames, corner)


def _crash(s: Strike, cymbal: Cymbal, frames: int, levels: Curve, decays: Curve, bright: float) -> Wave:
    corner = s.corner(3500.0, 18000.0)
    metal = _plate(s, cymbal, frames, levels, decays, corner)
    swell = _swell(s, frames, bright, 0.75, corner)
    return metal + s.between(0.12, 0.6) * swell + s.between(0.15, 0.42) * _tip(s, frames, corner)


def ride_edge(s: Strike, frames: int) -> Wave:
    """Strike the ride's edge with the stick's shoulder: it crashes, dark and wide."""
    return _crash(s, RIDE, frames, (-8, -3, -0.5, -1, -2, -6, -14, -24), RIDE_DECAYS, -4.0)


def crash(s: Strike, frames: int) -> Wave:
    """Strike the crash (16 inches)."""
    decays: Curve = (1.75, 1.97, 1.93, 1.8, 1.5, 1.15, 0.8, 0.45)
    return _crash(s, CRASH, frames, (-12, -5, -2.5, -0.5, 0, -3, -9, -20), decays, 0.0)


def second_crash(s: Strike, frames: int) -> Wave:
    """Strike the second crash (18 inches): darker and longer."""
    decays: Curve = (1.95, 2.13, 2.05, 1.9, 1.55, 1.15, 0.8, 0.45)
    return _crash(s, SECOND_CRASH, frames, (-9, -1, 0, -1, -2, -5.5, -13, -24), decays, -3.0)


def china(s: Strike, frames: int) -> Wave:
    """Strike the china: turned-up edge, quick, rough, much of the middle."""
    decays: Curve = (0.82, 0.94, 0.92, 0.83, 0.74, 0.6, 0.44, 0.3)
    rough = 0.55 + 0.45 * np.minimum(grains(s.rng, frames, 75.0, 0.03), 1.6)
    return _crash(s, CHINA, frames, (-10, 0, -1.5, -4, -2, -5, -11, -20), decays, 0.0) * rough


def splash(s: Strike, frames: int) -> Wave:
    """Strike the splash (10 inches): bright and short."""
    corner = s.corner(4400.0, 18500.0)
    decays: Curve = (0.6, 0.62, 0.66, 0.7, 0.63, 0.53, 0.38, 0.25)
    metal = _plate(s, SPLASH, frames, (-20, -10, -6, -3, 0, 0, -5, -17), decays, corner)
    swell = _swell(s, frames, 0.0, 0.3, corner)
    return metal + s.between(0.12, 0.5) * swell + s.between(0.15, 0.42) * _tip(s, frames, corner)


def stack_cymbal(s: Strike, frames: int) -> Wave:
    """Strike two cymbals laid on each other: a short dry rattle."""
    corner = s.corner(4800.0, 18000.0)
    decays: Curve = (0.15, 0.17, 0.19, 0.205, 0.215, 0.2, 0.16, 0.12)
    rattle = 0.4 + 0.6 * np.minimum(grains(s.rng, frames, 140.0, 0.018), 1.6)
    metal = _plate(s, STACK, frames, (-12, -5, -2, -0.5, 0, -1, -6, -17), decays, corner) * rattle
    sizzle = _sizzle(s, frames, 0.2, corner, 140.0)
    return metal + s.between(0.3, 0.5) * sizzle + s.between(0.12, 0.3) * _tip(s, frames, corner)
