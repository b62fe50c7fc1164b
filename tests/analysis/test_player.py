"""Who plays, as text."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from groundbeat.analysis.limits import LIMBS
from groundbeat.analysis.player import MAX_TEXT, USUAL, WORDS, Player, player_text, read_player
from groundbeat.errors import RequestError


def test_nothing_said_is_the_usual_player():
    assert read_player("") == USUAL == read_player(" ; ;") == Player()
    assert player_text(USUAL) == ""


def test_every_word_is_read():
    player = read_player("left-handed; OPEN-HANDED;double  pedal; drop clutch")
    assert player[:4] == (True, True, True, True)
    assert player_text(player) == "left-handed; open-handed; double pedal; drop clutch"


@given(st.sets(st.sampled_from(WORDS)), st.dictionaries(st.sampled_from(LIMBS), st.integers(10, 160)), st.randoms())
def test_a_player_is_read_back_from_its_text_in_any_order(words, counts, random):
    parts = [*words, *(f"{limb} {count}" for limb, count in counts.items())]
    random.shuffle(parts)
    player = read_player("; ".join(parts))
    assert read_player(player_text(player)) == player
    assert dict(player.counts) == counts


def test_a_test_is_kept_by_the_limb_and_counts_for_what_it_does():
    right, left = read_player("left hand 41"), read_player("left-handed; left hand 41")
    assert right.limits.other == left.limits.lead == pytest.approx(2.5)
    assert right.limits.lead == left.limits.other == 1.0
    foot = read_player("left-handed; left foot 26")
    assert foot.limits.kick == pytest.approx(2.5) and foot.limits.pedal == 1.0


def test_a_left_handed_player_has_all_limbs_mirrored():
    assert USUAL.limbs == ("right hand", "left hand", "right foot", "left foot")
    assert Player(left_handed=True).limbs == ("left hand", "right hand", "left foot", "right foot")


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("lefthanded", 'did you mean "left-handed"'),
        ("left hand", '"left hand 55"'),
        ("left hand many", "says nothing of a player"),
        ("left hand -5", "says nothing of a player"),
        ("left hand ²5", "says nothing of a player"),
        ("third hand 50", "says nothing of a player"),
        ("left hand 5", "between 10 and 160"),
        ("x" * (MAX_TEXT + 1), "at most 200 characters"),
    ],
)
def test_what_cannot_be_read_is_named(text, told):
    with pytest.raises(RequestError, match=told) as caught:
        read_player(text)
    assert caught.value.field == "player"
