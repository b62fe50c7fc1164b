"""The arithmetic under the drums is right: membranes, partials, noise, the room."""

from __future__ import annotations

import numpy as np
import pytest

from groundbeat.sound import finish, modes, noise
from groundbeat.sound.setups import SETUPS

RATE = modes.RATE


def test_the_zeros_of_the_membrane_are_zeros_of_its_bessel_functions():
    for m, n, zero in modes.MEMBRANE:
        assert abs(float(modes.bessel(m, zero))) < 2e-5, (m, n)
        inside = modes.bessel(m, np.linspace(0.5, zero - 1e-3, 4000))
        assert np.count_nonzero(np.diff(np.sign(inside))) == n - 1, "the n-th zero, counted from the centre"


def test_a_centre_stroke_wakes_only_modes_without_nodal_diameters():
    _, weights, diameters = modes.membrane(100.0, 0.0)
    assert np.allclose(weights[diameters > 0], 0, atol=1e-12)
    assert np.allclose(weights[diameters == 0], 1)


def test_membrane_ratios_begin_at_one_and_widen_with_the_load_of_air():
    ideal, _, _ = modes.membrane(100.0, 0.3, air=0.0)
    loaded, _, _ = modes.membrane(100.0, 0.3)
    assert ideal[0] == loaded[0] == pytest.approx(100.0)
    assert ideal[1] / ideal[0] == pytest.approx(1.593, abs=0.001)
    assert (loaded[1:] > ideal[1:]).all()


def test_the_bank_of_partials_equals_the_plain_sum():
    rng = np.random.default_rng(5)
    freqs, decays = rng.uniform(50, 15000, 30), rng.uniform(0.05, 2.0, 30)
    weights, phases = rng.uniform(0.1, 1, 30), rng.uniform(0, 6, 30)
    t = np.arange(5001)[:, None] / RATE
    plain = (weights * 10 ** (-3 * t / decays) * np.sin(2 * np.pi * freqs * t + phases)).sum(axis=1)
    assert np.abs(modes.ring(freqs, decays, weights, phases, 5001) - plain).max() < 1e-9


def test_a_glide_starts_sharp_and_comes_to_rest():
    x = modes.glide(np.array([200.0]), np.array([5.0]), np.array([1.0]), 0.2, 0.02, RATE)
    crossings = np.flatnonzero((x[:-1] < 0) & (x[1:] >= 0)) / RATE
    assert 1 / (crossings[1] - crossings[0]) > 1.1 * 200
    assert 1 / (crossings[-1] - crossings[-2]) == pytest.approx(200, rel=0.01)


def test_a_plate_has_its_pairs_evenly_over_frequency_and_is_the_same_each_time():
    freqs = modes.plate(7, 300.0, 15300.0, 20.0)
    assert len(freqs) == 1500
    low, high = np.count_nonzero(freqs < 7800), np.count_nonzero(freqs >= 7800)
    assert abs(low - high) <= 4
    assert (freqs == modes.plate(7, 300.0, 15300.0, 20.0)).all()


def test_a_band_of_noise_decays_by_60_db_in_its_time_and_keeps_to_its_place(ear):
    bands = ((2000.0, 0.0, 0.2, 0.0), (8000.0, -60.0, 0.2, 0.0))
    x = noise.burst(np.random.default_rng(3), RATE // 2, bands)
    before, after = x[:4410], x[8820 : 8820 + 4410]
    assert 20 * np.log10(before.std() / after.std()) == pytest.approx(60, abs=1.5)
    assert ear.share(x, 1000, 8000) > 0.97


@pytest.mark.parametrize("frames", [1, 2, 3, 1000, 1280, 1281, 88200])
def test_padded_lengths_are_never_too_short_and_never_twice_too_long(frames):
    assert frames <= noise.padded(frames) <= max(2 * frames, 2)


def test_the_room_adds_a_tail_and_keeps_the_stroke():
    stroke = np.zeros(1000)
    stroke[0] = 1.0
    ends = []
    for setup in SETUPS.values():
        wet = finish.roomed(stroke, 0.1, setup.room)
        assert wet[0] == pytest.approx(1.0, abs=0.01)
        assert 0.003 < (wet[200:] ** 2).sum() < 0.03
        assert np.abs(finish.roomed(stroke, 0.0, setup.room)[1:]).max() < 1e-12
        power = np.cumsum(wet[200:] ** 2)
        ends.append(np.flatnonzero(power > 0.99 * power[-1])[0] / RATE)
    dry, hall, stage = ends
    assert dry < 0.7 * stage < 0.7 * hall


def test_a_soft_blow_comes_later_and_a_hard_one_at_once():
    soft, hard = finish.blown(np.ones(1000), 0.0026), finish.blown(np.ones(1000), 0.0001)
    assert np.flatnonzero(soft > 0.9)[0] > 200 > 20 > np.flatnonzero(hard > 0.9)[0]
    assert soft[-1] > 0.999


def test_rounding_off_lowers_tall_peaks_and_leaves_quiet_parts():
    x = np.array([1.0, 0.5, 0.01, -1.0])
    soft = finish.softened(x, 1.5)
    assert soft[0] < 0.7 and soft[3] == -soft[0]
    assert soft[2] == pytest.approx(0.01, rel=1e-3)
    assert (finish.softened(x, 0.0) == x).all()
