"""Ideas for a purpose fit the beat, change it, and say why."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from groundbeat.codec.groove_read import read_groove
from groundbeat.errors import GroundbeatError
from groundbeat.variation.purposes import OFFERED, PURPOSES, idea, offers
from groundbeat.variation.stack import add, grow, make, plain
from tests.strategies import grooves


@pytest.mark.parametrize("purpose", PURPOSES)
def test_every_idea_is_a_variation_with_a_reason(purpose):
    ideas = PURPOSES[purpose]
    assert len(ideas) >= 4
    for one in ideas:
        assert plain(make(1, one.kind, one.settings)).endswith(".")
        assert one.reason.endswith(".") and len(one.reason) > 20
    assert len({(one.kind, str(one.settings)) for one in ideas}) == len(ideas)


@pytest.mark.parametrize("purpose", PURPOSES)
def test_slack_tide_gets_ideas_for_every_purpose(purpose, slack_tide):
    for stage in grow(slack_tide):
        found = offers(stage, purpose)
        assert 1 <= len(found) <= OFFERED
        for offer in found:
            begun = idea(purpose, offer.number)
            assert (begun.kind, begun.reason) == (offer.kind, offer.reason)


@given(grooves(max_variations=2), st.sampled_from(sorted(PURPOSES)))
def test_what_is_offered_changes_the_beat_and_has_nothing_to_complain_of(groove, purpose):
    stages = grow(groove)
    for offer in offers(stages[-1], purpose, groove.roles):
        begun = idea(purpose, offer.number)
        grown = grow(add(groove, begun.kind, begun.settings))
        assert plain(make(1, begun.kind, begun.settings)) == offer.sentence
        assert grown[-1].beat != stages[-1].beat
        assert not [text for text in grown[-1].says if text.startswith("found no")]


def test_a_beat_without_a_backbeat_is_not_offered_to_move_it():
    groove = read_groove('groundbeat = 1\n[base]\nhi-hat = "x-x-x-x-x-x-x-x-"\n')
    said = [offer.sentence for offer in offers(grow(groove)[0], "funkier")]
    assert said and not [text for text in said if text.startswith("Move")]


def test_what_is_no_purpose_is_refused_in_words(slack_tide):
    with pytest.raises(GroundbeatError, match='"louder" is not a purpose; known are funkier'):
        offers(grow(slack_tide)[0], "louder")
    with pytest.raises(GroundbeatError, match="there are ideas 0 to"):
        idea("busier", 99)
