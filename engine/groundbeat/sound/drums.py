"""How do the drums sound: kicks, the snare's four surfaces, toms and their rims?

A drum is a head (sum of membrane modes that start sharp), a second head coupled to it, wires under the
snare drum (noise that the moving head throws off), the stick's own click, and a hoop (a few inharmonic
partials). Pitches, decays and balances are our choice; the spectra and decays that come of them are
measured in the tests. Every function takes a Strike and a length in frames and returns an unscaled wave.
"""

from __future__ import annotations

import numpy as np

from .modes import FALL, RATE, Wave, contact, glide, membrane, ring
from .noise import burst, knock, later
from .strike import Strike

Values = tuple[float, ...]
SNARE_PITCH = 186.0  # hertz: lowest mode of a 14-inch head, medium tension
# metal hoop of a snare drum or tom, partials in hertz; decays follow
HOOP = np.array([512.0, 868.0, 1240.0, 1705.0, 2330.0, 2985.0, 3840.0, 4920.0, 6150.0])


def _head(
    s: Strike,
    frames: int,
    *,
    pitch: float,
    radius: float,
    decay: float,
    tilt: float,
    corner: float,
    sharp: float,
    settle: float,
    fade: float = 900.0,
) -> Wave:
    """Strike a head at a radius: lowest mode `pitch`, dying within `decay`, above `fade` hertz ever sooner.

    `tilt` weakens the high modes, `corner` is the contact's, `sharp` and `settle` the glide of an accent.
    """
    freqs, weights, diameters = membrane(pitch, radius)
    decay *= s.setup.heads * s.held()
    decays = decay / (1 + (freqs / fade) ** 1.3)
    decays = np.where(diameters == 0, decays * 0.8, decays)  # a round mode pumps air, and so dies sooner
    weights = weights * (freqs / pitch) ** -tilt * contact(freqs, corner)
    return glide(freqs, decays, weights, sharp * (0.1 + 0.9 * s.effort**2), settle, frames)


def _few(freqs: Values, decays: Values, weights: Values, frames: int) -> Wave:
    """Ring a few partials that start together."""
    return ring(np.array(freqs), np.array(decays), np.array(weights), np.zeros(len(freqs)), frames)


def _hoop(s: Strike, scale: float, decay: float, corner: float, frames: int) -> Wave:
    freqs = HOOP * scale * s.cents(25)
    weights = s.rng.uniform(0.5, 1.0, len(freqs)) * (freqs / freqs[0]) ** -0.25 * contact(freqs, corner)
    decays = s.setup.heads * s.held(0.62) * decay / (1 + (freqs / 3500) ** 1.2)
    return ring(freqs, decays, weights, s.rng.uniform(-0.6, 0.6, len(freqs)), frames)


def _wires(s: Strike, frames: int, length: float, pitch: float) -> Wave:
    """Make the snare wires: the lower head throws them off and they fall back, at first once a swing."""
    length *= s.setup.wires * s.held(0.95)
    bands = (
        (600.0, -15.0, 0.13 * length, 0.0012),
        (1300.0, -7.0, 0.2 * length, 0.0012),
        (2400.0, -1.0, 0.245 * length, 0.001),
        (4200.0, 0.0, 0.26 * length, 0.0008),
        (6800.0, -1.0, 0.245 * length, 0.0007),
        (10000.0, -6.0, 0.19 * length, 0.0006),
        (14500.0, -14.0, 0.12 * length, 0.0005),
    )
    t = np.arange(frames) / RATE
    swing = np.abs(np.sin(np.pi * pitch * t + 0.5)) ** 1.5
    slap = 1 - 0.6 * np.exp(-t / 0.03) * (1 - swing)
    noise = burst(s.rng, frames, bands, s.corner(5200.0, 15000.0))
    return later(np.asarray(noise * slap, dtype=np.float64), 0.0006)


def _kick(s: Strike, frames: int, pitch: float) -> Wave:
    t = np.arange(frames) / RATE
    pitch *= s.cents(12) * s.setup.kick
    length = 0.42 * s.setup.heads * s.held(0.85)
    # the lowest mode falls from the blow to rest: a fast drop and a slower one, both larger when hit hard
    high = pitch * s.between(0.8, 1.55) * (1 + 0.16 * s.spot)
    bend = pitch * s.between(0.12, 0.3) * (1 + 0.25 * s.spot)
    turns = pitch * t + high * 0.009 * (1 - np.exp(-t / 0.009)) + bend * 0.05 * (1 - np.exp(-t / 0.05))
    body = np.sin(2 * np.pi * turns) * np.exp(-FALL / length * t) * (1 - np.exp(-t / 0.0004))
    head = _head(
        s, frames, pitch=pitch * 1.62, radius=0.22 + 0.06 * s.spot, decay=0.16, tilt=0.7,
        corner=s.corner(350.0, 1900.0), sharp=0.2, settle=0.012,
    )  # fmt: skip
    skin = s.cents(60)
    slap = _few((640.0 * skin, 1130.0 * skin, 1820.0 * skin), (0.04, 0.03, 0.022), (0.5, 0.42, 0.36), frames)
    beater = knock(s.rng, 1500.0, 4300.0, 0.02, s.corner(1600.0, 7000.0), frames)
    wave = body + 0.6 * head + s.between(0.16, 0.6) * slap + s.between(0.2, 1.6) * beater
    return np.asarray(wave, dtype=np.float64)


def kick(s: Strike, frames: int) -> Wave:
    """Strike the kick: a low body that drops in pitch, the head's skin, the beater's knock."""
    return _kick(s, frames, 54.0)


def second_kick(s: Strike, frames: int) -> Wave:
    """Strike the second kick: the like drum, a little higher, so that two feet can be told apart."""
    return _kick(s, frames, 58.5)


def snare(s: Strike, frames: int) -> Wave:
    """Strike the snare drum near its centre: head, lower head, wires, stick."""
    pitch = SNARE_PITCH * s.cents(14) * s.setup.snare
    head = _head(
        s, frames, pitch=pitch, radius=0.22 + 0.1 * s.spot, decay=0.26, tilt=0.5,
        corner=s.corner(900.0, 4500.0), sharp=0.07, settle=0.025,
    )  # fmt: skip
    lower = _few((pitch * 1.79, pitch * 2.42), (0.17, 0.12), (0.5, 0.22), frames)
    wires = _wires(s, frames, 0.86 + 0.14 * s.effort, pitch)
    click = knock(s.rng, 2200.0, 9000.0, 0.012, s.corner(2500.0, 14000.0), frames)
    return head + 0.5 * lower + s.between(1.25, 1.45) * wires + s.between(0.15, 1.1) * click


def rimshot(s: Strike, frames: int) -> Wave:
    """Strike head and hoop together: the head's outer modes, the hoop's ring, a crack, and the wires."""
    pitch = SNARE_PITCH * s.cents(14) * s.setup.snare
    head = _head(
        s, frames, pitch=pitch, radius=0.5 + 0.12 * s.spot, decay=0.24, tilt=0.2,
        corner=s.corner(1300.0, 7000.0), sharp=0.09, settle=0.02, fade=1300.0,
    )  # fmt: skip
    hoop = _hoop(s, 1.0, 0.17, s.corner(1800.0, 9000.0), frames)
    wires = _wires(s, frames, 0.86 + 0.14 * s.effort, pitch)
    crack = knock(s.rng, 1800.0, 8500.0, 0.016, s.corner(2800.0, 16000.0), frames)
    return head + 0.36 * hoop + s.between(0.85, 1.15) * wires + s.between(0.35, 2.8) * crack


def cross_stick(s: Strike, frames: int) -> Wave:
    """Knock the hoop with a stick that lies on the head: wood, a hand-damped head, hardly any wires."""
    freqs = np.array([455.0, 1015.0, 1630.0, 2410.0, 3290.0, 4700.0]) * s.cents(35)
    weights = np.array([0.5, 1.0, 0.85, 0.6, 0.4, 0.25]) * s.rng.uniform(0.8, 1.2, 6)
    weights *= contact(freqs, s.corner(1100.0, 7000.0))
    lengths = np.array([0.09, 0.095, 0.075, 0.06, 0.05, 0.04]) * s.held(0.5)
    wood = ring(freqs, lengths, weights, np.zeros(6), frames)
    damped = s.held(0.5)
    head = _few((212.0, 336.0), (0.11 * damped, 0.08 * damped), (0.35, 0.2), frames)
    click = knock(s.rng, 1400.0, 5500.0, 0.01, s.corner(2000.0, 11000.0), frames)
    return wood + head + s.between(0.05, 1.5) * click + 0.012 * _wires(s, frames, 0.6, SNARE_PITCH)


def snare_rim(s: Strike, frames: int) -> Wave:
    """Tap the snare drum's hoop alone: metal, thin, with a breath of wires."""
    hoop = _hoop(s, 1.32, 0.2, s.corner(2500.0, 11000.0), frames)
    click = knock(s.rng, 2500.0, 9000.0, 0.008, s.corner(3000.0, 15000.0), frames)
    return hoop + s.between(0.12, 1.2) * click + 0.035 * _wires(s, frames, 0.7, SNARE_PITCH)


def _tom(s: Strike, frames: int, pitch: float, decay: float) -> Wave:
    tuned = pitch * s.cents(14) * s.setup.toms
    head = _head(
        s, frames, pitch=tuned, radius=0.3 + 0.14 * s.spot, decay=decay, tilt=0.6,
        corner=s.corner(4.0, 30.0) * pitch, sharp=0.1, settle=0.05, fade=4.2 * pitch,
    )  # fmt: skip
    lower = _few((tuned * 1.22,), (decay * 0.5,), (0.3,), frames)
    click = knock(s.rng, 1300.0, 5200.0, 0.014, s.corner(1500.0, 8000.0), frames)
    buzz = 0.012 * _wires(s, frames, 1.1, pitch)  # the snare wires hear every tom
    return head + (0.5 + 0.2 * s.spot) * lower + s.between(0.16, 2.0) * click + buzz


def _tom_rim(s: Strike, frames: int, scale: float, pitch: float) -> Wave:
    hoop = _hoop(s, scale, 0.16, s.corner(2000.0, 9000.0), frames)
    pitch *= s.setup.toms
    damped = s.held(0.62)
    head = _few((pitch, pitch * 1.66), (0.25 * damped, 0.2 * damped), (0.3, 0.25), frames)
    click = knock(s.rng, 1800.0, 7500.0, 0.009, s.corner(2500.0, 13000.0), frames)
    return hoop + head + s.between(0.12, 1.1) * click


def high_tom(s: Strike, frames: int) -> Wave:
    """Strike the high tom (10 inches)."""
    return _tom(s, frames, 168.0, 0.68)


def mid_tom(s: Strike, frames: int) -> Wave:
    """Strike the mid tom (12 inches)."""
    return _tom(s, frames, 131.0, 0.8)


def low_tom(s: Strike, frames: int) -> Wave:
    """Strike the low tom (14 inches)."""
    return _tom(s, frames, 104.0, 0.95)


def floor_tom(s: Strike, frames: int) -> Wave:
    """Strike the floor tom (16 inches)."""
    return _tom(s, frames, 80.0, 1.15)


def high_tom_rim(s: Strike, frames: int) -> Wave:
    """Tap the high tom's hoop."""
    return _tom_rim(s, frames, 1.5, 168.0)


def mid_tom_rim(s: Strike, frames: int) -> Wave:
    """Tap the mid tom's hoop."""
    return _tom_rim(s, frames, 1.24, 131.0)


def low_tom_rim(s: Strike, frames: int) -> Wave:
    """Tap the low tom's hoop."""
    return _tom_rim(s, frames, 1.04, 104.0)


def floor_tom_rim(s: Strike, frames: int) -> Wave:
    """Tap the floor tom's hoop."""
    return _tom_rim(s, frames, 0.86, 80.0)
