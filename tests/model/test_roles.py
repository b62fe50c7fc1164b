"""Who does what is found from the strokes, and can be corrected."""

from __future__ import annotations

import pytest

from groundbeat.codec.groove_read import read_groove
from groundbeat.model.roles import find_backbeats, find_roles


def beat(lines: str, meter: str = "4/4", columns: str = "sixteenths"):
    return read_groove(f'groundbeat = 1\nmeter = "{meter}"\ncolumns = "{columns}"\n[base]\n{lines}\n').base


HALF_TIME = 'hi-hat = "x-x-x-x-x-x-x-x-"\nsnare = "g-------O-----g-"\nkick = "o-----o---------"'


@pytest.mark.parametrize(
    ("lines", "meter", "found"),
    [
        ('snare = "----O-------O---"', "4/4", ["1/4", "3/4"]),
        ('cross-stick = "----x-------x---"', "4/4", ["1/4", "3/4"]),
        ('snare = "----g--g-g--O---"', "4/4", ["3/4"]),
        (HALF_TIME, "4/4", ["1/2"]),
        ('snare = "--------------O-"', "4/4", []),
        ('snare = "------O-----"', "6/8", ["3/8"]),
        ('snare = "------O-----------O-----"', "12/8", ["3/8", "9/8"]),
        ('snare = "----o---o---"', "3/4", ["1/4", "1/2"]),
        ('snare = "----O-----g-g-"', "7/8", ["1/4"]),
        ('floor-tom = "----O-------O---"', "4/4", []),
    ],
)
def test_backbeats_are_found_where_the_meter_has_them(lines, meter, found):
    names = find_backbeats(beat(lines, meter))
    assert [name.split("@")[1] for name in names] == found


@pytest.mark.parametrize(
    ("lines", "riding"),
    [
        ('hi-hat = "x-x-x-x-x-x-x-x-"\nride = "x---------------"', ("hi-hat",)),
        ('hi-hat = "--x---x---x---x-"\nride = "x-x-x-x-x-x-x-x-"', ("ride",)),
        ('floor-tom = "o-o-o-o-o-o-o-o-"\nsnare = "ggggOgggggggOggg"', ("floor tom",)),
        ('hi-hat = "x-x---x-x-x-x---"\nopen-hi-hat = "----x---------x-"', ("hi-hat", "open hi-hat")),
        ('hi-hat = "x---x---x---x---"\nride = "--x---x---x---x-"', ("hi-hat",)),
        ('snare = "gggggggggggggggg"\nkick = "o---------------"\nhi-hat-foot = "x---x---x---x---"', ()),
    ],
)
def test_the_riding_hand_is_the_busiest_that_is_not_the_snare(lines, riding):
    assert find_roles(beat(lines)).riding == riding


def test_a_correction_holds_while_its_surface_sounds():
    lines = 'hi-hat = "x-x-x-x-x-x-x-x-"\nride = "x---------------"'
    assert find_roles(beat(lines), corrections=(("riding", "ride"),)).riding == ("ride",)
    assert find_roles(beat('hi-hat = "x---------------"'), corrections=(("riding", "ride"),)).riding == ("hi-hat",)


def test_kicks_and_feet_have_their_roles():
    found = find_roles(
        beat('kick = "o---------------"\nsecond-kick = "--o-------------"\nfoot-splash = "----x-----------"')
    )
    assert (found.kick, found.hihat_foot) == (("kick", "second kick"), ("foot splash",))
