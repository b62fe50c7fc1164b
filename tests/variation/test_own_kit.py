"""On a student's kit nothing sounds that is not owned, no stroke is lost, and the document stays the teacher's."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from groundbeat.codec.groove_read import read_groove
from groundbeat.errors import KitError
from groundbeat.model.beat import Beat, base_beat
from groundbeat.model.groove import Groove
from groundbeat.model.kit import BY_NAME, FEET_ONLY, SURFACES
from groundbeat.model.own_kit import _STAND_INS, PAD, PRESETS, THINGS, Kit, read_kit
from groundbeat.variation.on_kit import fit, fit_stages, fitted_threads, hinders
from groundbeat.variation.stack import add, grow
from tests.conftest import EXAMPLES
from tests.strategies import beats, grooves

SLACK_TIDE = read_groove((EXAMPLES / "slack-tide.toml").read_text())
EVERYTHING = ", ".join(THINGS)
kit_texts = st.one_of(
    st.just(PAD), st.sampled_from([text for _, text in PRESETS if text]),
    st.lists(st.sampled_from(list(THINGS)), min_size=1, unique=True).map(", ".join),
)  # fmt: skip


def kit(text: str) -> Kit:
    found = read_kit(text)
    assert found is not None
    return found


def groove(*lines: str) -> Groove:
    return read_groove("groundbeat = 1\n[base]\n" + "\n".join(lines))


def heard(beat: Beat) -> list[tuple[int, str]]:
    return [(stroke.at // 2520, stroke.surface) for stroke in beat.strokes]


# ---- laws ------------------------------------------------------------------------------------------------------------


@given(beats(), kit_texts)
def test_only_what_is_owned_sounds(beat: Beat, text: str):
    owned = kit(text)
    assert {stroke.surface for stroke in fit(beat, owned).beat.strokes} <= owned.owned


@given(beats(), kit_texts)
def test_every_stroke_sounds_or_is_told_as_silent(beat: Beat, text: str):
    fitted = fit(beat, kit(text))
    ids = [stroke.id for stroke in fitted.beat.strokes] + [stroke.id for stroke in fitted.silent]
    assert sorted(ids) == sorted(stroke.id for stroke in beat.strokes)


@given(beats(), kit_texts)
def test_only_the_surface_of_a_stroke_changes(beat: Beat, text: str):
    written = {stroke.id: stroke for stroke in beat.strokes}
    for stroke in fit(beat, kit(text)).beat.strokes:
        old = written[stroke.id]
        assert (stroke.at, stroke.dynamic, stroke.grace, stroke.hand) == (old.at, old.dynamic, old.grace, old.hand)
        assert (stroke.origin, stroke.changed_by) == (old.origin, old.changed_by)
        assert (stroke.surface in FEET_ONLY) == (old.surface in FEET_ONLY)


@given(beats(), kit_texts)
def test_fitting_twice_is_fitting_once(beat: Beat, text: str):
    once = fit(beat, kit(text)).beat
    again = fit(once, kit(text))
    assert again.beat == once and again.silent == ()


@given(beats(), kit_texts)
def test_what_is_fitted_can_stand_as_a_beat(beat: Beat, text: str):
    fitted = fit(beat, kit(text)).beat
    made = base_beat(fitted.meter, fitted.bars, fitted.columns, fitted.strokes)  # raises where two meet
    assert [(s.at, s.surface) for s in made.strokes] == [(s.at, s.surface) for s in fitted.strokes]


@given(beats(), kit_texts)
def test_a_silent_stroke_has_a_louder_one_in_its_place_or_nothing_to_strike(beat: Beat, text: str):
    owned = kit(text)
    fitted = fit(beat, owned)
    standing = {(s.at, BY_NAME[s.surface].instrument): s for s in fitted.beat.strokes}
    for stroke in fitted.silent:
        name = owned.struck[stroke.surface]
        assert not name or standing[stroke.at, BY_NAME[name].instrument].level >= stroke.level


@given(grooves())
def test_a_kit_that_has_everything_changes_nothing(groove: Groove):
    stages = grow(groove)
    seen = fit_stages(stages, kit(EVERYTHING))
    assert seen.says == ()
    assert all(one is other for one, other in zip(seen.stages, stages, strict=True))


@given(grooves(), kit_texts)
def test_the_lineage_is_that_of_the_document(groove: Groove, text: str):
    stages = grow(groove)
    for one, other in zip(fit_stages(stages, kit(text)).stages, stages, strict=True):
        assert (one.change, one.variation, one.number, one.backbeats) == (
            other.change, other.variation, other.number, other.backbeats,
        )  # fmt: skip
        assert one.says[: len(other.says)] == other.says


@given(grooves(), kit_texts)
def test_threads_join_what_sounds_and_nothing_else(groove: Groove, text: str):
    stages = fit_stages(grow(groove), kit(text)).stages
    for before, after in zip(stages, stages[1:], strict=False):
        rows = fitted_threads(before.beat, after.beat, after.change)
        assert [row.id for row in rows if row.start] == [stroke.id for stroke in before.beat.strokes]
        places = {(stroke.at, stroke.surface) for stroke in after.beat.strokes}
        ends = [row.end for row in rows if row.end]
        assert set(ends) == places
        for row in rows:
            assert (row.fate == "added") == (row.start is None)
            assert (row.fate == "left out") == (row.end is None)


# ---- the table -------------------------------------------------------------------------------------------------------


def test_every_surface_belongs_to_one_thing_and_has_a_row_in_the_table():
    belonging = [surface for surfaces in THINGS.values() for surface in surfaces]
    assert sorted(belonging) == sorted(row.name for row in SURFACES)
    assert set(_STAND_INS) == set(belonging)
    for name, row in _STAND_INS.items():
        assert set(row) <= set(belonging) - {name}
        assert all(BY_NAME[other].limb == BY_NAME[name].limb for other in row)


def test_the_presets_read_and_are_written_as_they_stand():
    assert read_kit("") is None and read_kit(" , ") is None
    for _, text in PRESETS[1:]:
        assert kit(text).text == text
    assert kit("Snare , KICK").text == "kick, snare"
    toms = [row for row in kit(dict(PRESETS)["four toms, two cymbals"]).owned if row.endswith(" tom")]
    assert len(toms) == 4


@pytest.mark.parametrize(("text", "match"), [("gong", "no part of a kit"), ("snare, rids", 'did you mean "ride"')])
def test_what_is_no_part_of_a_kit_is_refused(text: str, match: str):
    with pytest.raises(KitError, match=match) as error:
        read_kit(text)
    assert error.value.field == "kit"


@pytest.mark.parametrize(
    ("owned", "written", "struck"),
    [
        ("snare, hi-hat, ride, crash", "stack cymbal", "hi-hat"),
        ("snare, hi-hat, ride, crash", "china", "crash"),
        ("snare, hi-hat, ride", "crash", "ride edge"),
        ("snare, hi-hat", "crash", "open hi-hat"),
        ("snare, hi-hat", "ride bell", "hi-hat"),
        ("snare, ride, cowbell", "ride bell", "ride bell"),
        ("snare, hi-hat, cowbell", "ride bell", "cowbell"),
        ("snare, high tom, floor tom", "low tom", "floor tom"),
        ("snare, high tom, floor tom", "mid tom", "high tom"),
        ("snare", "low tom", "snare"),
        ("snare", "hi-hat", "snare rim"),
        ("kick", "second kick", "kick"),
        ("snare", "kick", ""),
        ("snare, ride", "hi-hat foot", ""),
        ("kick", "snare", ""),
        ("pad", "crash", "snare"),
        ("pad", "kick", ""),
    ],
)
def test_what_stands_in(owned: str, written: str, struck: str):
    assert kit(owned).struck[written] == struck


# ---- what is said ----------------------------------------------------------------------------------------------------


def test_the_stack_cymbal_is_played_on_the_hihat_and_that_is_said():
    stages = grow(groove('stack-cymbal = "x---------------"', 'snare = "----o-----------"'))
    seen = fit_stages(stages, kit("snare, hi-hat, ride"))
    assert seen.says == ("The stack cymbal is played on the hi-hat: your kit does not have it.",)
    assert heard(seen.stages[0].beat) == [(0, "hi-hat"), (4, "snare")]


def test_of_two_on_one_instrument_the_louder_stays_and_the_other_is_told():
    stages = grow(groove('stack-cymbal = "X---g---x-------"', 'hi-hat = "x---x---x-------"'))
    seen = fit_stages(stages, kit("snare, hi-hat"))
    strokes = seen.stages[0].beat.strokes
    assert [(s.at // 2520, s.dynamic, s.id.partition("@")[0]) for s in strokes] == [
        (0, "accent", "0/stack cymbal"), (4, "normal", "0/hi-hat"), (8, "normal", "0/hi-hat"),
    ]  # fmt: skip
    assert seen.stages[0].says == (
        "on your kit the hi-hat is silent at 1: the hi-hat is struck there already",
        "on your kit the stack cymbal is silent at 2 and 3: the hi-hat is struck there already",
    )


def test_on_a_pad_only_loudness_and_hands_are_left():
    seen = fit_stages(grow(SLACK_TIDE), kit(PAD))
    assert all(stroke.surface == "snare" for stage in seen.stages for stroke in stage.beat.strokes)
    assert seen.says[0].startswith("Hands play everything on the pad")
    assert seen.says[1].startswith("Feet tap the floor")
    base = seen.stages[0].beat
    assert [s.at // 2520 for s in base.strokes] == [0, 2, 4, 6, 8, 10, 12, 14]
    assert [s.dynamic for s in base.strokes] == ["normal", "normal", "accent", "normal"] * 2


def test_a_foot_without_a_pedal_is_said_to_tap_the_floor():
    seen = fit_stages(grow(groove('snare = "o---------------"', 'kick = "o---------------"')), kit("snare"))
    assert seen.says == ("The kick is silent: your kit does not have it, and the foot taps the floor.",)


def test_a_stroke_that_falls_silent_ends_and_comes_back_without_a_change_of_the_document():
    of = groove('hi-hat = "x---x-----------"', 'snare = "----O-----------"')
    of = add(of, "displace", {"surface": "snare", "by": "1/16 later"})
    of = add(of, "displace", {"surface": "snare", "by": "1/16 earlier"})
    first, second, third = fit_stages(grow(of), kit(PAD)).stages
    assert [len(stage.beat.strokes) for stage in (first, second, third)] == [2, 3, 2]
    there = {row.id: row.fate for row in fitted_threads(first.beat, second.beat, second.change)}
    back = {row.id: row.fate for row in fitted_threads(second.beat, third.beat, third.change)}
    assert there == {"0/hi-hat@0": "kept", "0/hi-hat@1/4": "added", "0/snare@1/4": "moved"}
    assert back == {"0/hi-hat@0": "kept", "0/hi-hat@1/4": "left out", "0/snare@1/4": "moved"}
    assert second.change.added == ()


def test_a_stroke_that_merges_in_the_document_merges_on_the_kit():
    of = groove('snare = "----O--g--------"', 'stack-cymbal = "x---------------"')
    of = add(of, "displace", {"surface": "snare", "at": "2", "by": "3/16 later"})
    before, after = fit_stages(grow(of), kit("snare, hi-hat")).stages
    fates = {row.id: (row.fate, row.end) for row in fitted_threads(before.beat, after.beat, after.change)}
    assert fates["0/snare@7/16"] == ("merged", (7 * 2520, "snare"))
    assert fates["0/snare@1/4"] == ("moved", (7 * 2520, "snare"))
    assert fates["0/stack cymbal@0"] == ("kept", (0, "hi-hat"))


def test_edits_are_hindered_only_where_they_would_not_mean_what_is_seen():
    stages = grow(
        groove('stack-cymbal = "x---------------"', 'snare = "----o-----------"', 'ride = "--x-------------"')
    )
    owned = kit("snare, hi-hat, ride")
    assert hinders(owned, stages, ["snare"]) == ""
    assert hinders(owned, stages, ["ride", "ride bell"]) == ""
    assert hinders(owned, stages, []) == ""
    assert "also plays what is written on other surfaces" in hinders(owned, stages, ["open hi-hat"])
    assert "does not have the crash" in hinders(owned, stages, ["snare", "crash"])
    assert "practice pad" in hinders(kit(PAD), stages, ["snare"])
