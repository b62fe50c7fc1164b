"""How loud is a kit, and how near to full scale does it come?

Loudness after ITU-R BS.1770-5: K-weighting, mean power of 400 ms blocks that overlap by three quarters, gated
at -70 LUFS and then at 10 LU under the mean of what is left. True peak after its annex 2: the highest point of
the signal at four times the rate, here interpolated over the whole signal at once. The tests hold the loudness
against an independent measurer.

What is played to be measured is our choice: two bars at 100 that use the whole kit as a beat does (`BEAT`), and
a bar at 160 in which kick, rimshot, closed hi-hat, crash and floor tom are all accented on every sixteenth
(`DENSE`), more than two hands can play. Alternates take turns, as in the page.
"""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np
from numpy.typing import NDArray

from .mix import Hit, Voices, render
from .modes import RATE, Wave
from .noise import padded
from .place import pan

TEMPO, DENSE_TEMPO = 100, 160  # quarters a minute
LETTERS = {"x": "normal", "o": "normal", "X": "accent", "O": "accent", "g": "ghost"}
# a letter is a sixteenth
BEAT = {
    "crash": "X-------------------------------",
    "hi-hat": "--x-X-x-X-x-X-------------------",
    "open hi-hat": "--------------x-----------------",
    "ride": "----------------X-x-X-x-X-x-X-x-",
    "snare": "----O--g-g--O-----g-O--g--------",
    "rimshot": "----------------------------O---",
    "high tom": "-----------------------------o--",
    "floor tom": "------------------------------oo",
    "kick": "o-----o-o-o-----o--o----o-o-----",
}
DENSE = dict.fromkeys(("kick", "rimshot", "hi-hat", "crash", "floor tom"), 16 * "O")

BLOCK, STEP = 0.4, 0.1  # seconds
FLOOR, GATE = -70.0, -10.0  # LUFS, LU
OVER = 4  # times the rate at which a true peak is looked for


def beat(voices: Voices) -> NDArray[np.float32]:
    """Play the beat by which kits are compared."""
    return render(_hits(BEAT, TEMPO, voices), voices, RATE)


def densest(voices: Voices) -> NDArray[np.float32]:
    """Play the densest bar."""
    return render(_hits(DENSE, DENSE_TEMPO, voices), voices, RATE)


def _hits(lines: dict[str, str], tempo: int, voices: Voices) -> Iterable[Hit]:
    step = RATE * 60 / tempo / 4
    for surface, line in lines.items():
        turns: dict[str, int] = {}
        for at, letter in enumerate(line):
            dynamic = LETTERS.get(letter)
            if dynamic is None:
                continue
            turn = turns.get(dynamic, 0)
            alternate = turn if (surface, dynamic, turn) in voices else 0
            turns[dynamic] = alternate + 1
            yield Hit(round(at * step), surface, dynamic, alternate, 1.0, pan(surface))


def loudness(samples: NDArray[np.float32]) -> float:
    """Measure the integrated loudness of frames x channels at 44.1 kHz, in LUFS; -inf for what is silent."""
    heard = np.stack([_weighted(channel) for channel in samples.T.astype(np.float64)])
    run = np.concatenate([[0.0], np.cumsum((heard**2).sum(axis=0))])
    starts = np.arange(0, max(len(run) - round(BLOCK * RATE), 0), round(STEP * RATE))
    power = (run[starts + round(BLOCK * RATE)] - run[starts]) / round(BLOCK * RATE)
    with np.errstate(divide="ignore"):
        levels = -0.691 + 10 * np.log10(power)
        loud = power[levels > FLOOR]
        if len(loud) == 0:
            return -np.inf
        loud = power[levels > max(FLOOR, -0.691 + 10 * np.log10(loud.mean()) + GATE)]
    return float(-0.691 + 10 * np.log10(loud.mean()))


def true_peak(samples: NDArray[np.float32]) -> float:
    """Find the highest point between the frames too, in decibels of full scale (dBTP)."""
    highest = 0.0
    for channel in samples.T.astype(np.float64):
        size = padded(len(channel) + RATE)  # the silence at the end keeps the end from meeting the start
        spectrum = np.zeros(OVER * size // 2 + 1, dtype=np.complex128)
        spectrum[: size // 2 + 1] = np.fft.rfft(channel, size)
        highest = max(highest, float(np.abs(np.fft.irfft(spectrum, OVER * size)).max()) * OVER)
    return float(20 * np.log10(highest)) if highest > 0 else -np.inf


def _weighted(channel: Wave) -> Wave:
    """Weigh by K: a shelf for the head, then a high pass, as the recommendation's filters do at any rate."""
    size = padded(2 * len(channel))
    turn = np.exp(-2j * np.pi * np.fft.rfftfreq(size))
    answer = np.ones(len(turn), dtype=np.complex128)
    for over, under in (_shelf(), _high_pass()):
        answer *= (over[0] + over[1] * turn + over[2] * turn**2) / (under[0] + under[1] * turn + under[2] * turn**2)
    return np.asarray(np.fft.irfft(np.fft.rfft(channel, size) * answer, size)[: len(channel)], dtype=np.float64)


Filter = tuple[tuple[float, float, float], tuple[float, float, float]]


def _shelf() -> Filter:
    # the analogue values of which the recommendation's coefficients for 48 kHz are the bilinear transform
    k, q, high = np.tan(np.pi * 1681.974450955533 / RATE), 0.7071752369554196, 10 ** (3.999843853973347 / 20)
    middle = high**0.4996667741545416
    over = (high + middle * k / q + k * k, 2 * (k * k - high), high - middle * k / q + k * k)
    return over, (1 + k / q + k * k, 2 * (k * k - 1), 1 - k / q + k * k)


def _high_pass() -> Filter:
    k, q = np.tan(np.pi * 38.13547087602444 / RATE), 0.5003270373238773
    under = (1 + k / q + k * k, 2 * (k * k - 1), 1 - k / q + k * k)
    return (1.0, -2.0, 1.0), (1.0, under[1] / under[0], under[2] / under[0])
