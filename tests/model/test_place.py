"""Places are read, written and found as drummers count."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from groundbeat.errors import PlaceError
from groundbeat.model.count import spoken_at, syllable
from groundbeat.model.meter import QUARTER, Meter
from groundbeat.model.place import COLUMNS, offset_in, place_at, place_text, read_place
from tests.strategies import meters

FOUR = Meter.of("4/4")


@pytest.mark.parametrize(
    ("text", "meter", "tick"),
    [
        ("1", "4/4", 0),
        ("2e", "4/4", QUARTER * 5 // 4),
        ("4a", "4/4", QUARTER * 15 // 4),
        ("2[3/6]", "4/4", QUARTER + QUARTER // 3),
        ("3let", "4/4", 2 * QUARTER + QUARTER * 2 // 3),
        ("1[2/7]", "4/4", QUARTER // 7),
        ("2e", "2/2", 2 * QUARTER + QUARTER // 2),
        ("4", "6/8", 3 * QUARTER // 2),
        ("4&", "6/8", 3 * QUARTER // 2 + QUARTER // 4),
        ("9", "15/16", 2 * QUARTER),
    ],
)
def test_a_place_falls_where_it_is_counted(text, meter, tick):
    assert offset_in(read_place(text), Meter.of(meter)) == tick


@pytest.mark.parametrize(("text", "meter"), [("5", "4/4"), ("8", "7/8"), ("1[2/11]", "4/4")])
def test_a_place_that_a_meter_lacks_is_none_of_it(text, meter):
    assert offset_in(read_place(text), Meter.of(meter)) is None


@pytest.mark.parametrize(
    "text", ["", "e2x", "2x", "0", "2[0/4]", "2[5/4]", "2[1/0]", "17:1", "2:", ":2", "2.5", "-1", "２"]
)
def test_what_is_no_place_says_how_one_is_written(text):
    with pytest.raises(PlaceError, match=r"place|bars|numbers|parts"):
        read_place(text)


@pytest.mark.parametrize(
    ("text", "readings"), [("a1", ['"1a"']), ("a2", ['"2a"', '"1a"']), ("2:e3", ['"2:3e"', '"2:2e"'])]
)
def test_a_leading_syllable_shows_both_readings(text, readings):
    with pytest.raises(PlaceError) as caught:
        read_place(text)
    assert all(reading in caught.value.message for reading in readings)


@given(meters(), st.integers(0, 16 * 2 * QUARTER))
def test_every_tick_has_a_name_that_leads_back_to_it(meter, tick):
    tick %= 2 * meter.bar
    place = place_at(tick, meter)
    assert read_place(place_text(place)) == place
    offset = offset_in(place, meter)
    assert offset is not None
    assert (place.bar - 1) * meter.bar + offset == tick


@pytest.mark.parametrize(
    ("columns", "spoken"),
    [
        ("eighths", "1 & 2 &"),
        ("sixteenths", "1 e & a 2 e & a"),
        ("eighth triplets", "1 trip let 2 trip let"),
        ("sixteenth triplets", "1 trip let & trip let 2 trip let & trip let"),
    ],
)
def test_counts_are_spoken_as_the_books_say(columns, spoken):
    ticks = COLUMNS[columns]
    told = [syllable(tick, FOUR, columns) for tick in range(0, 2 * QUARTER, ticks)]
    assert " ".join(told) == spoken


def test_thirty_seconds_between_the_syllables_are_silent():
    told = [syllable(tick, FOUR, "thirty-seconds") for tick in range(0, QUARTER, COLUMNS["thirty-seconds"])]
    assert told == ["1", "", "e", "", "&", "", "a", ""]


def test_over_eight_numbers_are_eighths():
    six = Meter.of("6/8")
    told = [syllable(tick, six, "sixteenths") for tick in range(0, six.bar, COLUMNS["sixteenths"])]
    assert told == ["1", "&", "2", "&", "3", "&", "4", "&", "5", "&", "6", "&"]


def test_a_label_names_the_bar_only_where_there_are_several():
    assert spoken_at(QUARTER * 5 // 4, FOUR, 1) == "e of 2"
    assert spoken_at(4 * QUARTER, FOUR, 2) == "1 in bar 2"
