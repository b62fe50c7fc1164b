"""Strokes mixed offline stand on their frames, keep their power, and choke what they should."""

from __future__ import annotations

import numpy as np
import pytest

from groundbeat.errors import KitError
from groundbeat.sound import kit, mix, render

RATE = 44100


def steady(*surfaces: str, frames: int = 10000):
    """Voices that are plain ones, so that gains and fades can be read off."""
    return {(name, "normal", 0): np.ones(frames, dtype=np.float32) for name in surfaces}


def test_a_stroke_stands_on_its_frame_with_its_gain_and_the_power_of_its_pan():
    voices = steady("snare", frames=100)
    for pan in (-1.0, -0.3, 0.0, 0.8, 1.0):
        out = mix.render([mix.Hit(50, "snare", "normal", 0, 0.5, pan)], voices, RATE)
        assert out.shape == (150, 2) and out.dtype == np.float32
        assert not out[:50].any()
        left, right = out[50]
        assert left**2 + right**2 == pytest.approx(0.25, rel=1e-5)
        assert (right > left) == (pan > 0) or pan == 0
    assert out[50] == pytest.approx([0.0, 0.5], abs=1e-6)


def test_strokes_add_up_in_any_order():
    voices = steady("snare", "kick", frames=30)
    hits = [mix.Hit(20, "snare", "normal", 0), mix.Hit(0, "kick", "normal", 0)]
    out = mix.render(hits, voices, RATE)
    assert (out == mix.render(reversed(hits), voices, RATE)).all()
    assert out[25, 0] == pytest.approx(2 * out[5, 0])
    assert out[45, 0] == pytest.approx(out[5, 0])


def test_a_closed_hi_hat_chokes_an_open_one_within_30_ms_and_nothing_else():
    voices = steady("open hi-hat", "hi-hat", "ride", frames=20000)
    voices["hi-hat", "normal", 0] = np.zeros(10, dtype=np.float32)
    both = [mix.Hit(0, "open hi-hat", "normal", 0), mix.Hit(5000, "hi-hat", "normal", 0)]
    out = mix.render(both, voices, RATE)
    assert out[4999, 0] == pytest.approx(out[10, 0])
    assert 0 < out[5000 + 400, 0] < out[10, 0]
    assert not out[5000 + int(0.03 * RATE) :].any()
    other = mix.render([mix.Hit(0, "ride", "normal", 0), both[1]], voices, RATE)
    assert other[19999, 0] == pytest.approx(other[10, 0])


def test_strokes_of_one_frame_do_not_choke_each_other():
    voices = steady("hi-hat", "hi-hat foot", frames=5000)
    hits = [mix.Hit(0, "hi-hat", "normal", 0), mix.Hit(0, "hi-hat foot", "normal", 0)]
    out = mix.render(hits, voices, RATE)
    assert out[4999, 0] == pytest.approx(2 * np.sqrt(0.5), rel=1e-5)


def test_a_stop_silences_its_own_surface_and_has_no_sound():
    voices = steady("ride", "crash", frames=10000)
    hits = [
        mix.Hit(0, "ride", "normal", 0),
        mix.Hit(0, "crash", "normal", 0),
        mix.Hit(3000, "crash", "normal", 0, stop=True),
    ]
    out = mix.render(hits, voices, RATE)
    assert out[2999, 0] == pytest.approx(2 * out[6000, 0])
    assert out[9999, 0] == pytest.approx(out[6000, 0])


def test_no_strokes_are_no_frames():
    assert mix.render([], {}, RATE).shape == (0, 2)


@pytest.mark.parametrize("hit", [mix.Hit(0, "kick", "normal", 7), mix.Hit(-1, "snare", "normal", 0)])
def test_a_missing_voice_or_a_frame_before_the_start_is_refused(hit):
    with pytest.raises(KitError, match="cannot mix"):
        mix.render([hit], steady("snare"), RATE)


def test_a_dense_bar_of_accents_stays_below_full_scale(voice):
    names = ("kick", "rimshot", "hi-hat", "crash", "floor tom")
    voices = {
        (name, "accent", k): voice(name, "accent", k) for name in names for k in range(render.VOICES[name].alternates)
    }
    step = round(RATE * 60 / 160 / 4)
    hits = [
        mix.Hit(n * step, name, "accent", n % render.VOICES[name].alternates, 1.0, kit.pan(name))
        for n in range(16)
        for name in names
    ]
    peak = np.abs(mix.render(hits, voices, RATE)).max()
    assert 0.4 < peak < 1.0


@pytest.mark.parametrize("surface", ["crash", "second crash", "china", "splash", "stack cymbal"])
def test_a_cymbal_struck_again_rings_on_and_adds_up(surface):
    voices = steady(surface, frames=20000)
    out = mix.render([mix.Hit(0, surface, "normal", 0), mix.Hit(5000, surface, "normal", 0)], voices, RATE)
    assert out[15000, 0] == pytest.approx(2 * out[4999, 0])
