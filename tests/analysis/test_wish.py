"""A wish in a teacher's words is read tolerantly, and what is not understood is said with what is."""

from __future__ import annotations

import pytest

from groundbeat.analysis.wish import ANYTHING, DIRECTIONS, OFFERED, Way, reached, read_wish
from groundbeat.errors import RequestError


@pytest.mark.parametrize("text", OFFERED)
def test_every_wish_that_is_offered_is_read_and_said_as_it_is_offered(text: str):
    wish = read_wish(text)
    assert wish.text == text
    assert wish.easier == (text == "easier")
    assert bool(wish.ways) == (text not in (ANYTHING, "easier"))


@pytest.mark.parametrize(
    ("text", "read"),
    [
        ("", "something new"),
        ("  Surprise me! ", "something new"),
        ("a bit harder please", "a little harder"),
        ("much more difficult", "much harder"),
        ("Busier, but quieter", "busier and quieter"),
        ("a little less busy", "a little airier"),
        ("less simple", "harder"),
        ("fewer notes", "airier"),
        ("more notes", "busier"),
        ("more ghost notes", "more ghosts"),
        ("fewer ghost notes", "fewer ghosts"),
        ("a quieter sound", "quieter"),
        ("another colour", "new sound"),
        ("something for my left hand", "for the left hand"),
        ("something for the left foot", "for the feet"),
        ("funkier & louder", "more syncopated and louder"),
        ("easier and quieter", "simpler and quieter"),
        ("harder harder", "harder"),
    ],
)
def test_words_are_read_as_they_are_meant(text: str, read: str):
    assert read_wish(text).text == read


@pytest.mark.parametrize(
    "text", ["purple", "harder than purple", "not harder", "fewer feet", "a little", ", ,", "1234"]
)
def test_what_is_not_understood_is_said_with_what_is(text: str):
    if text == ", ,":
        assert read_wish(text).text == ANYTHING
        return
    with pytest.raises(
        RequestError, match="is not understood at .*understood are, and joined by and: something new"
    ) as caught:
        read_wish(text)
    assert caught.value.field == "wish"


def test_a_slip_of_the_pen_is_pointed_at():
    with pytest.raises(RequestError, match='at "bussier"; did you mean "busier"; understood'):
        read_wish("bussier")


def test_a_wish_of_two_directions_asks_for_both():
    both = read_wish("busier and quieter")
    assert both.ways == (*read_wish("busier").ways, *read_wish("quieter").ways)


@pytest.mark.parametrize("name", list(DIRECTIONS))
def test_a_little_goes_less_far_than_much(name: str):
    sign = DIRECTIONS[name].sign
    small, plain, much = (read_wish(f"{amount}{name}").ways[0] for amount in ("a little ", "", "much "))
    near = [abs(way.least if sign > 0 else way.most) for way in (small, plain, much)]
    far = [abs(way.most if sign > 0 else way.least) for way in (small, plain, much)]
    assert near == sorted(near) and near[0] < near[2]
    assert far == sorted(far)
    assert all((way.least > 0) == (sign > 0) and (way.most > 0) == (sign > 0) for way in (small, plain, much))


def test_only_a_wish_for_harder_may_be_less_comfortable():
    assert [text for text in OFFERED if read_wish(text).harder] == ["a little harder", "harder", "much harder"]


def test_a_way_is_reached_within_its_range_and_unknown_without_its_measures():
    way = Way(("density", "speed"), 3, 10)
    assert reached(way, {"density": 5, "speed": -2}) is True
    assert reached(way, {"density": 5, "speed": -3}) is False
    assert reached(way, {"density": 8, "speed": 3}) is False
    assert reached(way, {"density": 8}) is None
