"""Three kits are three sounds of one loudness: measured in the files that the page plays."""

from __future__ import annotations

import json
from itertools import combinations
from pathlib import Path
from typing import Any

import numpy as np
import pyloudnorm
import pytest

from groundbeat.model.kit import DYNAMICS
from groundbeat.site.build import make_kits
from groundbeat.sound import encode, kit, loudness, render
from groundbeat.sound.setups import DRY, HALL, SETUPS, STAGE, address

RATE = 44100
LIMIT = 1_500_000  # bytes of one kit's Ogg files
NAMES = list(SETUPS)


@pytest.fixture(scope="module")
def made() -> Path:
    return make_kits()


@pytest.fixture(scope="module")
def reports(made) -> dict[str, Any]:
    return json.loads((made / "report.json").read_text())


@pytest.fixture(scope="module")
def kits(made) -> dict[str, dict[tuple[str, str, int], np.ndarray]]:
    found = {}
    for setup in SETUPS.values():
        listed = made / "kit" / address(setup)
        manifest = json.loads(listed.read_text())
        parts = {
            part: encode.decode((listed.parent / names["ogg"]).read_bytes())
            for part, names in manifest["parts"].items()
        }
        assert manifest["kit"] == setup.name
        found[setup.name] = kit.cut(manifest["voices"], parts)
    return found


def mean(kits, name, measure, dynamics=DYNAMICS):
    """Take the mean of a measure over all surfaces, one number for a kit."""
    return np.mean([measure(kits[name][s, d, 0]) for s in render.VOICES for d in dynamics])


def test_every_kit_has_the_same_voices_and_is_small(kits, reports):
    assert kits["dry"].keys() == kits["hall"].keys() == kits["stage"].keys()
    assert list(reports) == NAMES
    for report in reports.values():
        assert report["ogg"] < LIMIT and report["voices"] == len(kits["dry"])
        assert sum(part["ogg"] for part in report["parts"].values()) == report["ogg"]


def test_the_kits_are_equally_loud_by_an_independent_measurer(kits, reports):
    meter = pyloudnorm.Meter(RATE)
    found = {name: meter.integrated_loudness(loudness.beat(kits[name]).astype(np.float64)) for name in NAMES}
    assert max(found.values()) - min(found.values()) < 0.5, found
    for name in NAMES:
        assert reports[name]["loudness"] == pytest.approx(found[name], abs=0.1), "and the report says so"


def test_the_densest_bar_stays_a_decibel_under_full_scale(kits, reports):
    for name in NAMES:
        found = loudness.true_peak(loudness.densest(kits[name]))
        assert -6 < found < -1, name
        assert reports[name]["densest"] == pytest.approx(found, abs=0.01)


def test_strokes_of_every_kit_start_at_once_and_end_in_silence(kits):
    for name, voices in kits.items():
        for key, x in voices.items():
            peak = np.abs(x).max()
            assert 0.0005 < peak < 0.5, (name, key)
            assert np.flatnonzero(np.abs(x) > 0.1 * peak)[0] < 0.002 * RATE, (name, key)
            assert np.abs(x[-220:]).max() < peak / 200, (name, key)


def test_no_voice_is_the_same_in_two_kits(kits):
    for one, other in combinations(NAMES, 2):
        for key, x in kits[one].items():
            if key[1] not in ("ghost", "accent") or key[2]:
                continue  # two of four dynamics tell as much in half the time
            y = kits[other][key]
            frames = min(len(x), len(y))
            x, y = x[:frames].astype(np.float64), y[:frames].astype(np.float64)
            # bells and blocks are not tuned: the same thing in another room
            most = 0.9999 if render.VOICES[key[0]].part == "extras" else 0.98
            assert x @ y / np.sqrt((x @ x) * (y @ y)) < most, (one, other, key)


def test_the_hall_is_warm_and_rings_the_stage_is_bright_and_the_dry_room_is_short(kits, ear):
    dry, hall, stage = (mean(kits, name, ear.centroid) for name in NAMES)
    assert hall < 0.9 * dry < 0.9 * 0.93 * stage
    drums = ("kick", "snare", "rimshot", "high tom", "floor tom")

    def rest(name):  # what is left a fifth of a second after the blow, in decibels under its peak
        left = [kits[name][s, "normal", 0] for s in drums]
        return np.mean([20 * np.log10(ear.envelope(x, 20)[int(0.2 * RATE)] / np.abs(x).max()) for x in left])

    assert rest("hall") > rest("dry") + 4
    assert rest("hall") > rest("stage") + 2


@pytest.mark.parametrize(("surface", "field"), [("snare", "snare"), ("high tom", "toms"), ("kick", "kick")])
def test_drums_are_tuned_as_the_setup_says(surface, field, kits, ear):
    def pitch(name):
        x = kits[name][surface, "soft", 0][int(0.03 * RATE) :]
        freqs, power = ear.spectrum(x)
        return freqs[np.where(freqs < 400, power, 0).argmax()]

    for setup in (HALL, STAGE):
        wanted = getattr(setup, field) / getattr(DRY, field)
        assert pitch(setup.name) / pitch("dry") == pytest.approx(wanted, rel=0.04)


def test_an_accent_is_brighter_than_a_ghost_in_every_kit(kits, ear):
    for name, voices in kits.items():
        for surface in render.VOICES:
            ghost, accent = (ear.centroid(voices[surface, dynamic, 0]) for dynamic in ("ghost", "accent"))
            assert accent > 1.1 * ghost, (name, surface)


@pytest.mark.parametrize("name", NAMES)
def test_no_two_alternates_of_a_kit_are_alike(name, kits):
    for surface, row in render.VOICES.items():
        for dynamic in DYNAMICS:
            for a, b in combinations(range(row.alternates), 2):
                one, other = (kits[name][surface, dynamic, k].astype(np.float64) for k in (a, b))
                frames = min(len(one), len(other))
                one, other = one[:frames], other[:frames]
                assert one @ other / np.sqrt((one @ one) * (other @ other)) < 0.98, (surface, dynamic, a, b)


@pytest.mark.parametrize("name", ["hall", "stage"])
def test_decays_of_the_other_kits_follow_the_dry_one(name, kits, ear):
    """The dry kit's are in test_character; a room and other heads make them longer or shorter, but not another thing."""
    for surface in render.VOICES:
        dry, other = (ear.decay(kits[which][surface, "normal", 0], 20) for which in ("dry", name))
        assert 0.6 * dry - 10 < other < 3 * dry + 40, (surface, dry, other)


def test_the_spectrum_rises_with_every_step_of_dynamics_in_every_kit(kits, ear):
    for name, voices in kits.items():
        for surface in ("snare", "rimshot", "hi-hat", "ride", "kick"):
            count = range(render.VOICES[surface].alternates)
            centres = [np.mean([ear.centroid(voices[surface, dynamic, k]) for k in count]) for dynamic in DYNAMICS]
            assert centres == sorted(centres), (name, surface)
