"""Which sound has each surface, how loud, how long, and how often drawn anew?

`VOICES` is every kit in one table: who makes the wave, its part file, its strength at an accent (RMS of
the loudest 30 ms, decibels under full scale), its longest length in seconds, the share of room, how much
its peaks are rounded off at an accent, and the number of alternates. Strengths are set so that kick, snare,
hi-hat and a crash struck together stay under full scale by the sum of their peaks; the tests hold that.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from ..errors import KitError
from ..model.kit import BY_NAME, DYNAMICS, nearest
from . import bars, cymbals, drums
from .finish import blown, roomed, softened, strength, trimmed
from .levels import under
from .modes import RATE, Wave
from .setups import DRY, Setup
from .strike import EFFORT, Strike, strike


class Voice(NamedTuple):
    """How one surface is made; the module's header says what each field means."""

    make: Callable[[Strike, int], Wave]
    part: str
    strength: float
    longest: float
    wet: float
    drive: float
    alternates: int


VOICES: dict[str, Voice] = {
    "kick": Voice(drums.kick, "kick", -17.2, 0.5, 0.05, 1.5, 3),
    "second kick": Voice(drums.second_kick, "kick", -17.7, 0.5, 0.05, 1.5, 2),
    "snare": Voice(drums.snare, "snare", -22.0, 0.45, 0.1, 1.2, 4),
    "rimshot": Voice(drums.rimshot, "snare", -21.0, 0.45, 0.1, 2.4, 3),
    "cross-stick": Voice(drums.cross_stick, "snare", -25.5, 0.25, 0.12, 1.3, 2),
    "snare rim": Voice(drums.snare_rim, "snare", -27.0, 0.3, 0.1, 1.0, 2),
    "high tom": Voice(drums.high_tom, "toms", -19.5, 0.75, 0.08, 1.1, 2),
    "high tom rim": Voice(drums.high_tom_rim, "toms", -27.0, 0.3, 0.1, 0.7, 2),
    "mid tom": Voice(drums.mid_tom, "toms", -19.0, 0.85, 0.08, 1.1, 2),
    "mid tom rim": Voice(drums.mid_tom_rim, "toms", -27.0, 0.3, 0.1, 0.7, 2),
    "low tom": Voice(drums.low_tom, "toms", -18.5, 0.95, 0.08, 1.1, 2),
    "low tom rim": Voice(drums.low_tom_rim, "toms", -27.0, 0.3, 0.1, 0.7, 2),
    "floor tom": Voice(drums.floor_tom, "toms", -18.0, 1.1, 0.08, 1.1, 2),
    "floor tom rim": Voice(drums.floor_tom_rim, "toms", -27.0, 0.3, 0.1, 0.7, 2),
    "hi-hat": Voice(cymbals.hi_hat, "hi-hat", -31.0, 0.25, 0.05, 0.9, 4),
    "half-open hi-hat": Voice(cymbals.half_open_hi_hat, "hi-hat", -31.0, 0.6, 0.05, 0.0, 2),
    "open hi-hat": Voice(cymbals.open_hi_hat, "hi-hat", -30.5, 1.2, 0.05, 0.0, 2),
    "hi-hat foot": Voice(cymbals.hi_hat_foot, "hi-hat", -32.0, 0.25, 0.06, 1.0, 2),
    "foot splash": Voice(cymbals.foot_splash, "hi-hat", -32.0, 0.95, 0.06, 0.0, 2),
    "ride": Voice(cymbals.ride, "ride", -31.0, 1.5, 0.05, 0.0, 3),
    "ride bell": Voice(cymbals.ride_bell, "ride", -30.5, 1.4, 0.05, 0.0, 2),
    "ride edge": Voice(cymbals.ride_edge, "ride", -28.5, 1.9, 0.05, 0.0, 2),
    "crash": Voice(cymbals.crash, "crashes", -27.3, 2.0, 0.06, 0.6, 2),
    "second crash": Voice(cymbals.second_crash, "crashes", -27.3, 2.0, 0.06, 0.6, 2),
    "china": Voice(cymbals.china, "crashes", -28.0, 1.2, 0.06, 0.0, 2),
    "splash": Voice(cymbals.splash, "crashes", -29.0, 0.8, 0.06, 0.0, 2),
    "stack cymbal": Voice(cymbals.stack_cymbal, "crashes", -28.5, 0.35, 0.06, 0.6, 2),
    "cowbell": Voice(bars.cowbell, "extras", -26.0, 0.45, 0.08, 0.0, 2),
    "wood block": Voice(bars.wood_block, "extras", -26.0, 0.25, 0.1, 0.8, 2),
    "shell": Voice(bars.shell, "extras", -27.0, 0.25, 0.1, 1.0, 2),
}
LINGER = 0.25  # of the room's tail that may outlast a voice's longest length
BLOW = (0.0026, 0.00012)  # seconds of push at a ghost and at an accent, our choice
CLICK_STRENGTH = {True: -25.0, False: -27.5}
CLICK_SECONDS = 0.08


def voice(surface: str, dynamic: str, alternate: int, setup: Setup = DRY) -> NDArray[np.float32]:
    """Render one stroke as mono samples at 44.1 kHz, at its level in the kit.

    `surface` and `dynamic` are names of the model's kit, `alternate` counts from 0. The same four always
    give the same samples. Raises KitError for a name or an alternate that there is not.
    """
    if surface not in VOICES or surface not in BY_NAME:
        raise KitError(f'no sound for "{surface}"{nearest(surface, VOICES)}', field="surface")
    if dynamic not in EFFORT:
        raise KitError(f'no dynamic "{dynamic}"; known are {", ".join(DYNAMICS)}', field="dynamic")
    row = VOICES[surface]
    if not 0 <= alternate < row.alternates:
        raise KitError(
            f"no alternate {alternate} of {surface}; there are {row.alternates}, counted from 0",
            field="alternate",
        )
    stroke = strike(surface, dynamic, alternate, setup)
    longest = round(row.longest * RATE)
    struck = blown(row.make(stroke, longest), stroke.between(*BLOW))
    dry = softened(struck, row.drive * (0.3 + 0.7 * stroke.effort))
    wave = trimmed(roomed(dry, row.wet * setup.wet, setup.room), longest + round(LINGER * setup.room.seconds * RATE))
    decibels = row.strength + under(surface, dynamic) + setup.gain + stroke.weight
    return _graded(wave, decibels)


def click(strong: bool) -> NDArray[np.float32]:
    """Render one click voice as mono samples at 44.1 kHz."""
    frames = round(CLICK_SECONDS * RATE)
    return _graded(trimmed(bars.click(strong, frames), frames), CLICK_STRENGTH[strong])


def _graded(wave: Wave, decibels: float) -> NDArray[np.float32]:
    """Bring a wave to its strength, on a grid of 2^-20: below hearing, above what processors differ by."""
    scaled = wave * (10 ** (decibels / 20) / strength(wave))
    return (np.round(scaled * 2**20) / 2**20).astype(np.float32)
