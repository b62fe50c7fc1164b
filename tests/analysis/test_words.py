"""What cannot be played is told as a teacher would: who, where, how fast, and from which tempo on it is possible."""

from __future__ import annotations

import pytest
from hypothesis import given

from groundbeat.analysis.limbs import play
from groundbeat.analysis.player import USUAL, read_player
from groundbeat.analysis.saying import listing, span
from groundbeat.analysis.tempo import comfortable, fastest
from groundbeat.analysis.words import because, verdict
from groundbeat.codec.groove_read import read_groove
from groundbeat.variation.stack import base_stage, grow
from tests.strategies import grooves

LEFT = read_player("left-handed")


def groove(lines: str, tempo: int = 92, meter: str = "4/4"):
    return read_groove(f'groundbeat = 1\nmeter = "{meter}"\ntempo = {tempo}\n[base]\n{lines}\n')


def told(lines: str, tempo: int = 92, player=USUAL, meter: str = "4/4"):
    document = groove(lines, tempo, meter)
    return verdict(play(document, base_stage(document), player))


ROCK = 'hi-hat = "x-x-x-x-x-x-x-x-"\nsnare = "----O-------O---"\nkick = "o-------o-------"'
THREE = 'hi-hat = "-----x----------"\nsnare = "-----o----------"\nfloor-tom = "-----o----------"'
TWO_LEFTS = 'snare = "-----------gO---"\nsnare hands = "-----------LL---"'


def test_a_beat_that_can_be_played_needs_no_words():
    assert told(ROCK) == (True, "playable", "", ())


def test_three_things_for_two_hands():
    found = told(THREE)
    assert (found.playable, found.kind) == (False, "impossible")
    (trouble,) = found.troubles
    assert trouble.text == "three things for two hands on the e of 2: hi-hat, snare and floor tom"
    assert (trouble.at, trouble.possible_at, len(trouble.ids)) == (5 * 2520, None, 3)
    assert found.text == f"Impossible: {trouble.text}."


def test_the_same_at_several_places_is_told_once():
    found = told(THREE.replace("-----x----", "-----x---x").replace("-----o----", "-----o---o"))
    (trouble,) = found.troubles
    assert trouble.text.startswith("three things for two hands on the e of 2, and at 1 more place: ")
    assert len(trouble.ids) == 6


def test_two_things_for_one_foot_name_the_foot_of_the_player():
    lines = 'kick = "o---------------"\nsecond-kick = "----o-----------"\nhi-hat-foot = "----x-----------"'
    assert told(lines).troubles[0].text == "two things for the left foot on 2: hi-hat foot and second kick"
    assert (
        told(lines, player=LEFT).troubles[0].text == "two things for the right foot on 2: hi-hat foot and second kick"
    )


def test_three_things_for_two_feet():
    lines = 'kick = "----o-----------"\nsecond-kick = "----o-----------"\nhi-hat-foot = "----x-----------"'
    assert told(lines).troubles[0].text == "three things for two feet on 2: hi-hat foot, kick and second kick"


def test_one_hand_pinned_to_two_things():
    lines = (
        'hi-hat = "----x"\nhi-hat hands = "----R"\nsnare = "----o"\nsnare hands = "----R"'.replace(
            '"----x"', '"----x-----------"'
        )
        .replace('"----R"', '"----R-----------"')
        .replace('"----o"', '"----o-----------"')
    )
    assert told(lines).troubles[0].text == "two things for the right hand on 2: hi-hat and snare"


def test_a_flam_with_both_hands_busy_needs_a_third():
    lines = 'hi-hat = "----x-----------"\nsnare = "----O-----------"\nsnare graces = "----1-----------"'
    (trouble,) = told(lines).troubles
    assert trouble.text == "a flam on 2 needs a third hand: leave out the hi-hat there"


def test_a_flam_of_the_kick_needs_a_second_pedal():
    lines = 'kick = "o---------------"\nkick graces = "1---------------"'
    assert told(lines).troubles[0].text.startswith("a flam with the kick on 1 needs a second foot")
    assert told(lines, player=read_player("double pedal")).playable


def test_beyond_a_floor_says_from_which_tempo_on_it_is_possible():
    # 60000 / 170 / 4 = 88.2 ms; a rising pair is no rebound, so 100 ms hold: 60000 / 4 / 100 = 150
    found = told(TWO_LEFTS, 170)
    (trouble,) = found.troubles
    assert trouble.text == "the left hand from the a of 3 to 4: 88 ms, no faster than 100; possible up to 150"
    assert (trouble.kind, trouble.at, trouble.possible_at) == ("beyond", 11 * 2520, 150)
    assert found.text == f"Too fast at 170: {trouble.text}."
    assert (found.playable, found.kind) == (False, "beyond")
    assert told(TWO_LEFTS, 150).playable


def test_bars_are_named_where_there_are_several():
    lines = 'snare = "----------------|-----------gO---"\nsnare hands = "----------------|-----------LL---"'
    assert told(lines, 170).troubles[0].text.startswith("the left hand from the a of 3 to 4 in bar 2: 88 ms")


def test_odd_meters_count_their_own_numbers():
    lines = 'hi-hat = "-------x------"\nsnare = "-------o------"\nfloor-tom = "-------o------"'
    assert told(lines, meter="7/8").troubles[0].text.startswith("three things for two hands on the & of 4: ")


def test_worse_things_come_first():
    lines = (
        'hi-hat = "x---------x-----"\nsnare = "o---------o-----"\nfloor-tom = "o---------o-----"\n'
        'crash = "----------x-----"'
    )
    first, second = told(lines).troubles
    assert first.text.startswith("four things for two hands on the & of 3")
    assert second.text.startswith("three things for two hands on 1")


def test_a_hi_hat_that_rings_is_told_and_can_be_played():
    lines = 'hi-hat = "x-x-x-x-x-x-x-x-"\nkick = "o-------o-------"\nsecond-kick = "----o-----------"'
    found = told(lines)
    assert found.playable
    assert found.text == "The hi-hat rings on 2 because the left foot is on the second kick."
    assert found.troubles[0].kind == "rings"
    assert told(lines, player=read_player("drop clutch")).text == ""


def test_the_tempos_of_the_example_are_set_by_the_left_hand(slack_tide):
    playing = play(slack_tide, grow(slack_tide)[2])
    fast, easy = fastest(playing), comfortable(playing)
    assert (fast.bpm, easy.bpm) == (150, 100)
    assert because(fast, "fastest").startswith("the left hand at a of 3, 4, e of 4: three in a row, 100 ms apart there")
    assert because(easy, "comfortable").startswith(
        "the left hand at a of 3, 4, e of 4: three in a row, 150 ms apart there"
    )


def test_a_pair_is_told_with_its_gap_at_that_tempo():
    document = groove(TWO_LEFTS, 92)
    found = fastest(play(document, base_stage(document)))
    assert because(found, "fastest") == "the left hand from the a of 3 to 4: one hand in a row, 100 ms apart there"


def test_nothing_in_the_way_is_said_too():
    document = groove('snare = "o---------------"')
    playing = play(document, base_stage(document))
    assert (
        because(fastest(playing), "fastest")
        == "no limb is past its limit up to 400, the fastest that a groove can have"
    )
    assert because(comfortable(playing), "comfortable").startswith("everything stays comfortable up to 400")


def test_what_is_impossible_has_no_tempo():
    document = groove(THREE)
    assert because(fastest(play(document, base_stage(document))), "fastest").startswith("three things for two hands")


@pytest.mark.parametrize(
    ("start", "end", "words"),
    [(7 * 2520, 8 * 2520, "the a of 2 to 3 in bar 1"), (15 * 2520, 16 * 2520, "the a of 4 in bar 1 to 1 in bar 2")],
)
def test_a_span_names_its_bars_once_where_it_can(start, end, words):
    beat = groove('snare = "o---------------|----------------"').base
    assert span(start, end, beat) == words


def test_a_list_of_places_names_one_bar_once():
    beat = groove('snare = "o---------------|----------------"').base
    assert listing([27 * 2520, 28 * 2520], beat) == "a of 3, 4 in bar 2"
    assert listing([15 * 2520, 16 * 2520], beat) == "a of 4 in bar 1, 1 in bar 2"


@given(grooves(max_variations=2))
def test_every_trouble_is_true_and_has_words(document):
    stages = grow(document)
    playing = play(document, stages[-1])
    found = verdict(playing)
    ids = {stroke.id for stroke in stages[-1].beat.strokes}
    assert found.playable == playing.playable == (found.kind == "playable")
    assert bool(found.text) == bool(found.troubles)
    for trouble in found.troubles:
        assert trouble.text and set(trouble.ids) <= ids
        if trouble.possible_at is not None:
            assert trouble.possible_at * 100 < playing.tempo, (
                "it is beyond a floor at this tempo, so it needs a slower one"
            )
    assert because(fastest(playing), "fastest")
    assert because(comfortable(playing), "comfortable")
