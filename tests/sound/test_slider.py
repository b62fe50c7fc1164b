"""Wherever the slider from the base beat to a stage stands, it is about as loud: measured as ITU-R BS.1770 asks."""

from __future__ import annotations

from pathlib import Path

import pytest

from groundbeat.codec.groove_read import read_groove
from groundbeat.sound import mix, stage
from groundbeat.sound.loudness import loudness
from groundbeat.timeline.unroll import unroll
from groundbeat.variation.stack import grow

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
RATE = 44100


@pytest.fixture(scope="module")
def known() -> dict:
    return {}


@pytest.mark.parametrize(
    ("name", "number"), [("slack-tide.toml", 4), ("lantern-walk.toml", -1), ("kinds/feel.toml", 1)]
)
def test_no_place_of_the_slider_is_louder_or_softer_than_its_ends_by_a_loudness_unit(
    name: str, number: int, known: dict
):
    groove = read_groove((EXAMPLES / name).read_text(encoding="utf-8"))
    stages = grow(groove)
    line = unroll(groove, stages, number % len(stages))
    unit = groove.base.meter.tempo_unit[1]

    def heard(share: float) -> float:
        laid = stage.lay([stage.Part(line, 2)], groove.tempo, unit, stage.Heard(share))
        return loudness(mix.render(laid.hits, stage.voices_for(laid.hits, known), RATE))

    ends = heard(0), heard(1)
    for share in (0.25, 0.5, 0.75):
        assert min(ends) - 1 < heard(share) < max(ends) + 0.1


def test_the_powers_of_the_two_layers_add_up_to_one_and_the_ends_are_exact():
    assert (stage.shares(0.0), stage.shares(1.0)) == ((1.0, 0.0), (0.0, 1.0))
    last = 0.0
    for step in range(1, 1001):
        base, now = stage.shares(step / 1000)
        assert base * base + now * now == pytest.approx(1, abs=1e-15)
        assert now > last
        last = now
