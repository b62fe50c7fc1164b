"""The drums sound like drums: spectra and decays stand where a drummer expects them."""

from __future__ import annotations

import numpy as np
import pytest

from groundbeat.model.kit import BY_NAME, DYNAMICS, HAND
from groundbeat.sound import render

RATE = 44100

# how far up the centre of the spectrum goes from a ghost to an accent, at least
BRIGHTER = {"snare": 1.8, "rimshot": 1.8, "hi-hat": 1.15, "ride": 1.12, "kick": 1.25}

# milliseconds until 40 dB under the loudest moment
DECAYS = {
    ("kick", "second kick"): (200, 350),
    ("snare", "rimshot"): (120, 220),
    ("cross-stick", "snare rim", "high tom rim", "mid tom rim", "low tom rim", "floor tom rim"): (80, 220),
    ("high tom", "mid tom", "low tom", "floor tom"): (260, 650),
    ("hi-hat", "hi-hat foot"): (50, 130),
    ("half-open hi-hat",): (200, 350),
    ("open hi-hat",): (500, 900),
    ("foot splash",): (400, 700),
    ("ride", "ride bell"): (600, 1100),
    ("ride edge", "crash", "second crash"): (850, 1450),
    ("china",): (400, 700),
    ("splash",): (300, 550),
    ("stack cymbal",): (90, 220),
    ("cowbell",): (150, 300),
    ("wood block", "shell"): (80, 180),
}


def test_every_surface_has_a_stated_decay():
    assert sorted(name for group in DECAYS for name in group) == sorted(render.VOICES)


@pytest.mark.parametrize(("surfaces", "limits"), DECAYS.items(), ids=lambda value: str(value[0]))
def test_decays_are_those_of_the_instrument(surfaces, limits, voice, ear):
    for surface in surfaces:
        for dynamic in DYNAMICS:
            assert limits[0] < ear.decay(voice(surface, dynamic, 0), 40) < limits[1], (surface, dynamic)


@pytest.mark.parametrize("surface", [name for name in sorted(render.VOICES) if BY_NAME[name].limb == HAND])
def test_a_ghost_of_a_hand_is_another_sound_than_an_accent_and_not_a_quiet_one(surface, voice, ear):
    def means(dynamic):
        waves = [voice(surface, dynamic, k) for k in range(render.VOICES[surface].alternates)]
        waves = [x / np.abs(x).max() for x in waves]
        measures = (ear.centroid, lambda x: ear.decay(x, 20), lambda x: ear.decay(x, 40), ear.attack)
        return [np.mean([measure(x) for x in waves]) for measure in measures]

    ghost, accent = means("ghost"), means("accent")
    assert accent[0] > 1.2 * ghost[0], "its spectrum is darker"
    lengths = [max(a / b, b / a) for a, b in zip(ghost[1:3], accent[1:3], strict=True)]
    assert max(lengths) > 1.06, "it dies away in another time"
    assert accent[3] > ghost[3] + 0.9, "it begins more softly"


def test_open_hi_hats_ring_longer_than_half_open_ones_and_those_longer_than_closed_ones(voice, ear):
    closed, half, wide = (
        ear.decay(voice(name, "normal", 0), 40) for name in ("hi-hat", "half-open hi-hat", "open hi-hat")
    )
    assert wide > 1.7 * half > 1.7 * 1.7 * closed


@pytest.mark.parametrize("surface", sorted(render.VOICES))
def test_an_accent_is_brighter_than_a_ghost_of_the_same_peak(surface, voice, ear):
    centres = []
    for dynamic in DYNAMICS:
        waves = [voice(surface, dynamic, k) for k in range(render.VOICES[surface].alternates)]
        centres.append(np.mean([ear.centroid(x / np.abs(x).max()) for x in waves]))
    assert centres[-1] > BRIGHTER.get(surface, 1.05) * centres[0]
    if surface in BRIGHTER:
        assert centres == sorted(centres)


@pytest.mark.parametrize("surface", ["snare", "rimshot"])
def test_the_snare_has_wires_that_outlast_the_stick(surface, voice, ear):
    for dynamic in DYNAMICS:
        x = voice(surface, dynamic, 0)
        wires = ear.band(x, 2000, 8000)
        assert ear.share(x, 2000, 8000) > 0.06, dynamic
        assert 120 < ear.decay(wires, 40) < 200, dynamic
        assert ear.tallest(x) < 13, "noise, not tones"
    assert ear.share(voice(surface, "accent", 0), 2000, 8000) > 0.2


def test_the_rim_has_hardly_any_wires_and_the_cross_stick_is_wood(voice, ear):
    assert ear.share(voice("cross-stick", "normal", 0), 800, 3500) > 0.5
    assert ear.share(voice("snare rim", "normal", 0), 600, 7000) > 0.85


@pytest.mark.parametrize("surface", ["kick", "second kick"])
def test_the_kick_is_low_drops_in_pitch_and_has_a_click(surface, voice, ear):
    x = voice(surface, "accent", 0)
    freqs, power = ear.spectrum(x)
    assert 45 < freqs[power.argmax()] < 80
    assert ear.share(x, 20, 120) > 0.6

    early, late = x[: int(0.012 * RATE)], x[int(0.05 * RATE) : int(0.2 * RATE)]
    assert ear.centroid(ear.band(early, 20, 250)) > 1.25 * ear.centroid(ear.band(late, 20, 250))

    click = ear.envelope(ear.band(x, 2000, 4000))
    assert click[: int(0.01 * RATE)].max() > 0.04 * ear.envelope(x).max()
    assert click[int(0.04 * RATE) :].max() < 0.06 * click.max(), "the click is over at once"


def test_the_toms_descend(voice, ear):
    pitches = []
    for surface in ("high tom", "mid tom", "low tom", "floor tom"):
        freqs, power = ear.spectrum(voice(surface, "normal", 0)[int(0.05 * RATE) :])
        pitches.append(freqs[power.argmax()])
    assert all(1.15 < above / below < 1.45 for above, below in zip(pitches, pitches[1:], strict=False))
    assert 150 < pitches[0] < 190 and 70 < pitches[-1] < 90


def test_the_closed_hi_hat_is_high_and_does_not_whistle(voice, ear):
    for dynamic in DYNAMICS:
        for alternate in range(render.VOICES["hi-hat"].alternates):
            x = voice("hi-hat", dynamic, alternate)
            assert ear.share(x, 5000, 20000) > (0.65 if dynamic == "ghost" else 0.8)
            assert ear.tallest(x) < 13
    tone = 0.15 * np.abs(x).max() * np.sin(np.arange(len(x)) * 2 * np.pi * 6800 / RATE)
    assert ear.tallest(x + tone) > 13, "the measure hears a whistle when there is one"


@pytest.mark.parametrize("surface", ["open hi-hat", "half-open hi-hat", "ride", "crash", "china", "stack cymbal"])
def test_no_cymbal_whistles_through_its_wash(surface, voice, ear):
    assert np.mean([ear.tallest(voice(surface, dynamic, 0)) for dynamic in DYNAMICS]) < 14.5


def test_the_ride_has_a_ping_over_a_wash(voice, ear):
    for dynamic in ("soft", "normal", "accent"):
        shape = 20 * np.log10(ear.envelope(voice("ride", dynamic, 0), 10) + 1e-9)
        start, near, far = shape.max(), shape[int(0.1 * RATE)], shape[int(0.4 * RATE)]
        assert 8 < start - near < 18, "the ping stands out"
        assert near - far < 18, "the wash goes on"


def test_the_bell_has_tones_where_the_bow_has_none(voice, ear):
    assert ear.tallest(voice("ride bell", "normal", 0)) > ear.tallest(voice("ride", "normal", 0)) + 3


def test_a_crash_swells_and_spreads_over_the_whole_spectrum(voice, ear):
    x = voice("crash", "accent", 0)
    assert ear.share(x, 300, 3000) > 0.15 and ear.share(x, 3000, 7000) > 0.2 and ear.share(x, 7000, 18000) > 0.1
    high = ear.envelope(ear.band(x, 6000, 14000), 3)
    assert high[int(0.004 * RATE) : int(0.06 * RATE)].max() > high[: int(0.002 * RATE)].max()
    assert ear.centroid(voice("second crash", "accent", 0)) < ear.centroid(x)
