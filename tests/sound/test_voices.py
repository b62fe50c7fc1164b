"""Every surface sounds in every dynamic, at its level, from its first frame to a silent end."""

from __future__ import annotations

import hashlib
import os
import subprocess
import sys
from itertools import combinations
from pathlib import Path

import numpy as np
import pytest

import groundbeat
from groundbeat.errors import KitError
from groundbeat.model.kit import BY_NAME, DYNAMICS
from groundbeat.sound import render
from groundbeat.sound.finish import strength
from groundbeat.sound.levels import CURVES, MEASURED, curve

RATE = 44100
SURFACES = sorted(render.VOICES)
ALWAYS_THREE = ("snare", "rimshot", "hi-hat", "ride", "kick")


def alternates(surface: str) -> range:
    return range(render.VOICES[surface].alternates)


def decibels(ratio: float) -> float:
    return float(20 * np.log10(ratio))


def test_every_surface_of_the_model_has_a_voice_and_no_other_has():
    assert set(render.VOICES) == set(BY_NAME)
    assert all(row.alternates >= 2 for row in render.VOICES.values()), "no repeat sounds stamped"
    assert all(render.VOICES[surface].alternates >= 3 for surface in ALWAYS_THREE)


@pytest.mark.parametrize("surface", SURFACES)
def test_a_voice_is_finite_starts_at_once_and_ends_in_silence(surface, voice):
    for dynamic in DYNAMICS:
        for alternate in alternates(surface):
            x = voice(surface, dynamic, alternate)
            peak = np.abs(x).max()
            assert x.dtype == np.float32 and x.ndim == 1
            assert np.isfinite(x).all()
            assert 0 < peak < 0.5, "two of the loudest at once must not clip"
            assert np.flatnonzero(np.abs(x) > 0.1 * peak)[0] < 0.002 * RATE
            assert np.abs(x[-220:]).max() < peak / 1000
            assert abs(x[0]) < peak / 100 and abs(x[-1]) < peak / 10000
            assert 0.1 * RATE < len(x) <= 2.0 * RATE


@pytest.mark.parametrize("surface", SURFACES)
def test_levels_rise_with_dynamics_as_the_curve_of_the_surface_says(surface, voice):
    groups = [[voice(surface, dynamic, k) for k in alternates(surface)] for dynamic in DYNAMICS]
    levels = [np.mean([decibels(strength(x)) for x in group]) for group in groups]
    peaks = [np.mean([np.abs(x).max() for x in group]) for group in groups]
    assert all(b - a > 3 for a, b in zip(levels, levels[1:], strict=False))
    assert all(b > 1.2 * a for a, b in zip(peaks, peaks[1:], strict=False))
    wanted = [step - curve(surface).ghost for step in curve(surface)]
    assert np.subtract(levels, levels[0]) == pytest.approx(np.array(wanted), abs=1)
    assert 14 < levels[-1] - levels[0] < 23.5


def test_curves_are_as_wide_as_recordings_say_by_the_stated_rule():
    assert set(CURVES) - set(MEASURED) == {"small"}
    for kind, measured in MEASURED.items():
        assert -CURVES[kind].ghost == pytest.approx(12 + measured / 3, abs=0.5)
    assert curve("snare").ghost < curve("hi-hat").ghost < curve("crash").ghost < curve("ride").ghost
    assert curve("kick").ghost == max(row.ghost for row in CURVES.values())


@pytest.mark.parametrize("surface", SURFACES)
def test_alternates_differ_as_a_hand_does_and_are_never_the_same_wave(surface, voice, ear):
    for dynamic in DYNAMICS:
        for a, b in combinations(alternates(surface), 2):
            one, other = voice(surface, dynamic, a), voice(surface, dynamic, b)
            frames = min(len(one), len(other))
            one, other = one[:frames].astype(np.float64), other[:frames].astype(np.float64)
            likeness = one @ other / np.sqrt((one @ one) * (other @ other))
            assert likeness < 0.98, (dynamic, a, b)
            assert 0.12 < abs(decibels(strength(one) / strength(other))) < 1
    centres = [[ear.centroid(voice(surface, dynamic, k)) for k in alternates(surface)] for dynamic in DYNAMICS]
    spread = [1200 * np.log2(max(row) / min(row)) for row in centres]  # cents
    assert max(spread) > 20 and np.mean(spread) < 320, "heard side by side, and still one instrument"


def test_kick_snare_hi_hat_and_crash_together_stay_below_full_scale(voice):
    def loudest(*surfaces: str) -> float:
        return max(np.abs(voice(name, "accent", k)).max() for name in surfaces for k in alternates(name))

    together = (
        loudest("kick", "second kick")
        + loudest("snare", "rimshot", "cross-stick")
        + loudest("hi-hat", "half-open hi-hat", "open hi-hat")
        + loudest("crash", "second crash")
    )
    assert 0.7 < together < 1.0, "below full scale, and not needlessly quiet"


def test_the_kit_is_balanced_as_a_drummer_plays_it(voice):
    def level(surface: str, dynamic: str) -> float:
        return decibels(np.mean([strength(voice(surface, dynamic, k)) for k in alternates(surface)]))

    assert level("rimshot", "accent") > level("snare", "accent")
    assert 6 < level("snare", "accent") - level("hi-hat", "accent") < 12
    assert 6 < level("snare", "normal") - level("ride", "normal") < 12
    assert level("crash", "accent") > level("ride", "accent") + 3
    assert level("snare", "ghost") < level("hi-hat", "normal"), "ghosts lie under the riding hand"
    assert level("cross-stick", "normal") < level("snare", "normal")


def test_clicks_are_short_and_the_strong_one_is_higher_and_louder(ear):
    strong, weak = render.click(True), render.click(False)
    assert max(len(strong), len(weak)) < 0.1 * RATE
    assert np.abs(strong).max() > 1.1 * np.abs(weak).max()
    assert 1.2 < ear.centroid(strong) / ear.centroid(weak) < 1.5
    for x in (strong, weak):
        assert np.flatnonzero(np.abs(x) > 0.1 * np.abs(x).max())[0] < 0.002 * RATE
        assert np.abs(x[-100:]).max() < np.abs(x).max() / 1000


DRAWN = (
    ("kick", "ghost", 0), ("snare", "accent", 3), ("hi-hat", "soft", 2), ("china", "accent", 0),
    ("ride bell", "normal", 1), ("cowbell", "soft", 1), ("floor tom", "normal", 1),
)  # fmt: skip
SCRIPT = f"""
import hashlib
from groundbeat.sound import encode, render
print(" ".join(hashlib.sha256(render.voice(*key).tobytes()).hexdigest() for key in {DRAWN!r}))
print(hashlib.sha256(encode.ogg(render.voice("snare", "normal", 0), 44100)).hexdigest())
"""


def test_samples_and_files_are_the_same_bytes_whatever_the_hash_seed(voice):
    told = set()
    for seed in ("1", "2"):
        environment = os.environ | {
            "PYTHONHASHSEED": seed,
            "PYTHONPATH": str(Path(groundbeat.__file__).parent.parent),
        }
        run = subprocess.run(
            [sys.executable, "-c", SCRIPT], env=environment, capture_output=True, text=True, check=True
        )
        told.add(run.stdout)
    assert len(told) == 1
    here = " ".join(hashlib.sha256(voice(*key).tobytes()).hexdigest() for key in DRAWN)
    assert told.pop().splitlines()[0] == here


@pytest.mark.parametrize(
    ("key", "message"),
    [
        (("snair", "normal", 0), 'no sound for "snair"; did you mean "snare"'),
        (("snare", "forte", 0), 'no dynamic "forte"; known are ghost, soft, normal, accent'),
        (("snare", "normal", 4), "no alternate 4 of snare; there are 4, counted from 0"),
        (("snare", "normal", -1), "no alternate -1 of snare"),
    ],
)
def test_an_unknown_voice_is_refused_in_words(key, message):
    with pytest.raises(KitError, match=message):
        render.voice(*key)
