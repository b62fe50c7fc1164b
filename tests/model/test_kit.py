"""The kit is one table that everything else can rely on."""

from __future__ import annotations

import pytest

from groundbeat.errors import BeatError, KitError
from groundbeat.model.beat import Stroke, base_beat
from groundbeat.model.kit import SURFACES, surface
from groundbeat.model.meter import Meter

FOUR = Meter.of("4/4")


@pytest.mark.parametrize("field", ["name", "number", "row", "short"])
def test_what_tells_surfaces_apart_is_unique(field):
    values = [getattr(row, field) for row in SURFACES]
    assert len(values) == len(set(values))


def test_published_numbers_of_surfaces_do_not_change():
    """Append new ones; these stand in links."""
    assert [row.name for row in sorted(SURFACES, key=lambda row: row.number)] == [
        "kick", "snare", "hi-hat", "ride", "open hi-hat", "hi-hat foot", "floor tom", "crash", "cross-stick", "rimshot",
        "ride bell", "high tom", "mid tom", "low tom", "half-open hi-hat", "second kick", "snare rim", "high tom rim",
        "mid tom rim", "low tom rim", "floor tom rim", "foot splash", "ride edge", "second crash", "china", "splash",
        "stack cymbal", "cowbell", "wood block", "shell",
    ]  # fmt: skip


def test_every_row_is_complete():
    for row in SURFACES:
        assert row.limb in ("hand", "foot")
        assert row.material in ("metal", "drum", "either")
        assert 35 <= row.key <= 81, "a General MIDI percussion key"
        assert row.staff[0] in "ABCDEFG"
        assert row.staff[1] in "456"


@pytest.mark.parametrize(
    ("said", "meant"), [("Ride-Bell", "ride bell"), ("hi hat", "hi-hat"), ("  floor  tom ", "floor tom")]
)
def test_hyphens_and_spaces_stand_for_each_other(said, meant):
    assert surface(said).name == meant


def test_an_unknown_surface_offers_the_nearest():
    with pytest.raises(KitError, match='did you mean "snare"'):
        surface("snair")


def test_two_strokes_of_one_instrument_at_a_place_are_refused():
    with pytest.raises(BeatError, match="one hi-hat is struck once"):
        base_beat(FOUR, 1, "sixteenths", [Stroke(0, "hi-hat"), Stroke(0, "open hi-hat")])


def test_a_foot_has_no_hand():
    with pytest.raises(KitError, match="played by a foot"):
        base_beat(FOUR, 1, "sixteenths", [Stroke(0, "kick", hand="R")])


def test_a_stroke_behind_the_end_is_refused():
    with pytest.raises(BeatError, match="the cycle ends at 1"):
        base_beat(FOUR, 1, "sixteenths", [Stroke(FOUR.bar, "kick")])


def test_a_beat_can_be_hashed_and_compared():
    one = base_beat(FOUR, 1, "sixteenths", [Stroke(0, "kick"), Stroke(10080, "snare")])
    two = base_beat(FOUR, 1, "sixteenths", [Stroke(10080, "snare"), Stroke(0, "kick")])
    assert one == two
    assert hash(one) == hash(two)
