"""What a word can be changed to: every offered value is one that the file may hold, and none reads like another."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from groundbeat.errors import GroundbeatError
from groundbeat.variation import setting as types
from groundbeat.variation.catalogue import ENTRIES, kind
from groundbeat.variation.choices import choices
from groundbeat.variation.setting import LISTS
from groundbeat.variation.stack import add, edit, grow, make
from tests.strategies import KINDS, beats, grooves, settings_of

USUAL = {"surface": "ride", "dynamic": "ghost", "places": "beats"}  # of settings that a group needs


def paths(name: str) -> list[str]:
    found = []
    for setting in kind(name).settings:
        found += [f"{setting.name}.{inner.name}" for inner in setting.inner] or [setting.name]
    return found


@pytest.mark.parametrize("name", KINDS)
@given(beat=beats(max_bars=2), data=st.data())
def test_every_offered_value_can_be_set(name, beat, data):
    from groundbeat.model.groove import Groove

    groove = add(Groove(base=beat), name, data.draw(settings_of(name)))
    stages = grow(groove)
    for path in paths(name):
        found = choices(groove.variations[0], path, stages[:1])
        head, _, inner = path.partition(".")
        for option in found.options[:: max(1, len(found.options) // 6)]:
            setting = next(one for one in kind(name).settings if one.name == head)
            if inner:
                needed = {one.name: USUAL[one.type.name] for one in setting.inner if one.default is None}
                raw = {head: {**needed, inner: option.value}}
            elif setting.type in LISTS:
                raw = {head: [part for part in option.value.split(", ") if part]}
            else:
                raw = {head: option.value or None}
            edited = edit(groove, 1, raw)
            assert len(grow(edited)) == 2


@given(grooves())
def test_what_stands_there_now_is_among_the_options(groove):
    stages = grow(groove)
    for variation, before in zip(groove.variations, stages, strict=False):
        for path in paths(variation.kind):
            found = choices(variation, path, stages[: before.number + 1])
            if found.control == "one" and found.value:
                values = [option.value for option in found.options]
                assert found.value in values
            assert len({option.value for option in found.options}) == len(found.options)
            assert len({option.text for option in found.options}) == len(found.options)


def test_a_group_and_an_unknown_setting_are_refused_in_words(slack_tide):
    stages = grow(slack_tide)
    with pytest.raises(GroundbeatError, match='name one of its settings, such as "then.at"'):
        choices(slack_tide.variations[3], "then", stages[:4])
    with pytest.raises(GroundbeatError, match="no setting"):
        choices(slack_tide.variations[0], "colour", stages[:1])


def test_places_of_a_triplet_beat_are_offered_as_it_counts():
    from groundbeat.codec.groove_read import read_groove

    groove = read_groove('groundbeat = 1\ncolumns = "eighth triplets"\n[base]\nhi-hat = "x-xx-xx-xx-x"\n')
    stages = grow(add(groove, "embellish", {}))
    values = [option.value for option in choices(stages[1].variation, "at", stages[:1]).options]
    assert {"trip", "let", "trip let", "2let"} <= set(values)
    assert "a" not in values


@pytest.mark.parametrize("entry", ENTRIES, ids=lambda entry: entry.name)
def test_a_new_variation_begins_with_settings_that_hold(entry):
    found = kind(entry.name)
    variation = make(1, found.name, found.start)
    assert variation.kind == entry.name
    needed = {setting.name for setting in found.settings if setting.default is None}
    assert needed <= set(found.start)
    assert all(setting.type in vars(types).values() for setting in found.settings)
