"""Voices rendered once for all tests of the room, and the measures that stand in for an ear."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import lru_cache
from pathlib import Path

import numpy as np
import pytest

from groundbeat.sound import kit, render

RATE = 44100
Samples = np.ndarray


class Ear:
    """Measures of one sample: frequencies in hertz, times in milliseconds, levels in decibels."""

    @staticmethod
    def spectrum(x: Samples) -> tuple[Samples, Samples]:
        size = 1 << 16 if len(x) < 1 << 16 else 1 << 17
        return np.fft.rfftfreq(size, 1 / RATE), np.abs(np.fft.rfft(x.astype(np.float64), size)) ** 2

    def centroid(self, x: Samples) -> float:
        freqs, power = self.spectrum(x)
        return float((freqs * power).sum() / power.sum())

    def share(self, x: Samples, low: float, high: float) -> float:
        """Tell which part of the energy lies between two frequencies, 0 to 1."""
        freqs, power = self.spectrum(x)
        return float(power[(freqs >= low) & (freqs < high)].sum() / power.sum())

    def band(self, x: Samples, low: float, high: float) -> Samples:
        size = 1 << 17
        spectrum = np.fft.rfft(x.astype(np.float64), size)
        freqs = np.fft.rfftfreq(size, 1 / RATE)
        spectrum[(freqs < low) | (freqs > high)] = 0
        return np.fft.irfft(spectrum, size)[: len(x)]

    @staticmethod
    def envelope(x: Samples, milliseconds: float = 5.0) -> Samples:
        """Take the running RMS, each value standing for the window around it."""
        width = int(milliseconds * RATE / 1000)
        run = np.cumsum(np.pad(x.astype(np.float64) ** 2, (width - width // 2, width // 2)))
        return np.sqrt(np.maximum(run[width:] - run[:-width], 0) / width)

    def decay(self, x: Samples, decibels: float) -> float:
        """Time from the loudest moment until the envelope stays `decibels` below it."""
        shape = self.envelope(x)
        last = np.flatnonzero(shape > shape.max() * 10 ** (-decibels / 20))[-1]
        return float(last - shape.argmax()) / RATE * 1000

    @staticmethod
    def attack(x: Samples) -> float:
        """Tell how far the first 5 ms stand over the 25 ms after them."""
        start, rest = int(0.005 * RATE), int(0.03 * RATE)
        power = x[:rest].astype(np.float64) ** 2
        return float(10 * np.log10(power[:start].sum() / power[start:].sum()))

    def tallest(self, x: Samples) -> float:
        """Tell how far the tallest line above 2 kHz stands over the mean of its third of an octave.

        White noise gives about 10 dB; a line that the ear picks out gives more than 13.
        """
        size = 1 << 16
        freqs = np.fft.rfftfreq(size, 1 / RATE)
        power = np.convolve(np.abs(np.fft.rfft(x.astype(np.float64), size)) ** 2, np.ones(9) / 9, "same")
        found = 0.0
        for centre in np.geomspace(2000, 14000, 80):
            around = power[(freqs > centre / 1.12) & (freqs < centre * 1.12)]
            found = max(found, float(10 * np.log10(around.max() / around.mean())))
        return found


@pytest.fixture(scope="session")
def ear() -> Ear:
    return Ear()


@pytest.fixture(scope="session")
def voice() -> Callable[[str, str, int], Samples]:
    """The real voice, remembered: two hundred of them are drawn by several tests each."""
    return lru_cache(maxsize=None)(render.voice)


@pytest.fixture(scope="session")
def built(tmp_path_factory: pytest.TempPathFactory, voice: Callable[..., Samples]) -> Iterator[tuple[Path, kit.Report]]:
    """One whole kit, written from the remembered voices."""
    out = tmp_path_factory.mktemp("kit")
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(kit, "voice", voice)
        report = kit.build(out)
    yield out, report
