"""Loudness and peaks are those that an independent measurer and plain reasoning find."""

from __future__ import annotations

import numpy as np
import pyloudnorm
import pytest

from groundbeat.sound import loudness

RATE = 44100


def tone(hertz: float, seconds: float = 3.0, level: float = 0.5, phase: float = 0.0) -> np.ndarray:
    wave = level * np.sin(2 * np.pi * hertz * np.arange(int(seconds * RATE)) / RATE + phase)
    return np.stack([wave, wave], axis=1).astype(np.float32)


@pytest.mark.parametrize("hertz", [40.0, 100.0, 997.0, 3000.0, 9000.0])
def test_loudness_is_that_of_an_independent_measurer(hertz):
    x = np.concatenate([tone(hertz), 0.01 * tone(hertz), np.zeros((RATE, 2), dtype=np.float32)])
    other = pyloudnorm.Meter(RATE, filter_class="DeMan").integrated_loudness(x.astype(np.float64))
    assert loudness.loudness(x) == pytest.approx(other, abs=0.02)
    usual = pyloudnorm.Meter(RATE).integrated_loudness(x.astype(np.float64))
    assert loudness.loudness(x) == pytest.approx(usual, abs=0.15), "its other filters are rounder"


def test_a_full_scale_tone_of_997_hertz_on_one_side_has_minus_3_01_lufs():
    x = tone(997.0, level=1.0)
    x[:, 1] = 0
    assert loudness.loudness(x) == pytest.approx(-3.01, abs=0.02)


def test_silence_has_no_loudness_and_no_peak():
    silent = np.zeros((RATE, 2), dtype=np.float32)
    assert loudness.loudness(silent) == loudness.true_peak(silent) == -np.inf


def test_a_true_peak_lies_between_the_frames():
    x = tone(RATE / 4, seconds=0.5, level=1.0, phase=np.pi / 4)
    assert 20 * np.log10(np.abs(x).max()) == pytest.approx(-3.01, abs=0.01)
    inside = np.hanning(len(x))[:, None].astype(np.float32) * x  # without the step of a sudden start
    assert loudness.true_peak(inside) == pytest.approx(0.0, abs=0.05)


def test_the_beat_and_the_densest_bar_take_alternates_in_turn():
    voices = {(s, "accent", k): np.full(10, k + 1.0, dtype=np.float32) for s in loudness.DENSE for k in range(2)}
    step = RATE * 60 / loudness.DENSE_TEMPO / 4
    out = loudness.densest(voices)
    powers = [(out[round(n * step)] ** 2).sum() for n in range(4)]
    assert powers[0] == powers[2] < powers[1] == powers[3]
