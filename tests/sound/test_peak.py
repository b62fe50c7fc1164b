"""The true peak is found between samples, and a file keeps 1 dB of room."""

from __future__ import annotations

import numpy as np
import pytest

from groundbeat.sound import peak

RATE = 44100


def tone(frequency: float, level: float, phase: float = 0.0, frames: int = 5000):
    wave = level * np.sin(2 * np.pi * frequency * np.arange(frames) / RATE + phase)
    wave *= np.sin(np.pi * np.arange(frames) / frames) ** 2
    return np.stack([wave, 0.3 * wave], axis=1).astype(np.float32)


def test_a_peak_between_samples_is_found():
    # A quarter of the rate, half a sample aside: every sample is at most 0.71 of the wave.
    sound = tone(RATE / 4, 1.0, np.pi / 4)
    assert np.abs(sound).max() == pytest.approx(np.sqrt(0.5), abs=1e-3)
    assert peak.true_peak(sound) == pytest.approx(1.0, abs=2e-3)


@pytest.mark.parametrize("frequency", [50, 440, 3000, 9000, 15000])
def test_it_is_within_a_quarter_of_a_decibel_of_a_tone(frequency: float):
    # Four points a sample miss a peak by at most 1 - cos(pi f / 4 rate).
    found = peak.true_peak(tone(frequency, 0.8, 0.4))
    assert 20 * np.log10(found / 0.8) == pytest.approx(0, abs=0.35)


def test_it_finds_the_same_wherever_blocks_begin():
    sound = np.zeros((peak.BLOCK * 2 + 100, 2), dtype=np.float32)
    spike = tone(RATE / 4, 1.0, np.pi / 4, frames=400)
    wanted = peak.true_peak(spike)
    for at in (0, 5, peak.BLOCK - 200, peak.BLOCK - 3, len(sound) - 400):
        moved = sound.copy()
        moved[at : at + 400] = spike
        assert peak.true_peak(moved) == pytest.approx(wanted, rel=1e-9)


def test_looking_only_where_it_may_be_high_finds_the_same_where_it_is_high():
    rng = np.random.default_rng(3)
    noise = (rng.uniform(-1, 1, (20000, 2)) * np.linspace(0.1, 1.2, 20000)[:, None]).astype(np.float32)
    assert peak.true_peak(noise, peak.MOST) == peak.true_peak(noise) > 1
    quiet = tone(RATE / 4, 0.5, np.pi / 4)
    assert peak.true_peak(quiet, peak.MOST) <= peak.MOST


def test_silence_has_no_peak():
    assert peak.true_peak(np.zeros((10, 2), dtype=np.float32)) == 0
    assert peak.true_peak(np.zeros((0, 2), dtype=np.float32)) == 0


@pytest.mark.parametrize("level", [0.2, 0.885, 0.92, 1.0, 1.7, 4.0])
def test_what_is_too_loud_is_made_quieter_as_a_whole_and_no_more_than_needed(level: float):
    sound = tone(441, level)
    out, quieter = peak.lowered(sound)
    assert peak.true_peak(out) <= 10 ** (-1 / 20) + 1e-6
    assert out == pytest.approx(sound * 10 ** (-quieter / 20), rel=1e-6)
    assert (quieter == 0) == (level < 0.89)
    if quieter:
        assert peak.true_peak(out) > 10 ** (-1.11 / 20)
