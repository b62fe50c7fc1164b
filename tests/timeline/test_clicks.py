"""Where clicks fall, in every meter, under swing and over rounds, and what is counted before the beat begins."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from groundbeat.codec.groove_read import read_groove
from groundbeat.errors import TimelineError
from groundbeat.timeline.clicks import KINDS, QUIET
from groundbeat.timeline.unroll import unroll
from groundbeat.variation.stack import grow
from tests.conftest import ROOT
from tests.strategies import grooves

EIGHTH = 5040


def groove(meter: str = "4/4", bars: int = 1, more: str = "", grouping: str = "", columns: str = "sixteenths"):
    """A beat with a kick on the 1 of bar 1, or with the lines in `more`."""
    count, unit = map(int, meter.split("/"))
    width = {"sixteenths": 2520, "eighths": 5040, "eighth triplets": 3360, "sixteenth triplets": 1680}[columns]
    row = "o".ljust(bars * count * 40320 // unit // width, "-")
    head = f'groundbeat = 1\nmeter = "{meter}"\ncolumns = "{columns}"\n'
    if bars > 1:
        head += f"bars = {bars}\n"
    if grouping:
        head += f'grouping = "{grouping}"\n'
    return read_groove(head + (more or f'[base]\nkick = "{row}"\n'))


def laid(found, kind, start=0, end=0, bars_before=0):
    return unroll(found, grow(found), 0, start, end, kind, bars_before)


def eighths(found, kind, **more):
    """Places of the clicks in eighths, round by round."""
    line = laid(found, kind, **more)
    rounds = [[] for _ in range(line.rounds)]
    for click in line.clicks:
        turn, at = divmod(click.at, line.loop)
        rounds[turn].append(Fraction(at, EIGHTH * line.parts))
    return rounds


def marks(clicks):
    """Strong clicks as S, weak ones as w, the softer kind of each as s and dot."""
    return "".join({(1, 0): "S", (0, 0): "w", (1, 1): "s", (0, 1): "."}[click.strong, click.quiet] for click in clicks)


@pytest.mark.parametrize(
    ("meter", "grouping", "kind", "places"),
    [
        ("4/4", "", "beats", [0, 2, 4, 6]),
        ("4/4", "", "eighths", [0, 1, 2, 3, 4, 5, 6, 7]),
        ("4/4", "", "off-beats", [1, 3, 5, 7]),
        ("4/4", "", "ones", [0]),
        ("6/8", "", "beats", [0, 3]),
        ("6/8", "", "eighths", [0, 1, 2, 3, 4, 5]),
        ("6/8", "", "triplets", [0, 1, 2, 3, 4, 5]),
        ("6/8", "", "off-beats", [1, 2, 4, 5]),
        ("7/8", "", "beats", [0, 2, 4]),
        ("7/8", "3+2+2", "beats", [0, 3, 5]),
        ("7/8", "3+2+2", "off-beats", [1, 2, 4, 6]),
        ("7/8", "3+2+2", "ones", [0]),
        ("2/2", "", "off-beats", [2, 6]),
        ("5/8", "3+2", "eighths", [0, 1, 2, 3, 4]),
    ],
)
def test_a_click_follows_the_meter_and_its_grouping(meter, grouping, kind, places):
    assert eighths(groove(meter, grouping=grouping), kind) == [places]


def test_triplets_are_three_to_a_quarter_and_sixteenths_four():
    assert eighths(groove("3/4"), "triplets") == [[Fraction(2 * k, 3) for k in range(9)]]
    assert eighths(groove("3/4"), "sixteenths") == [[Fraction(k, 2) for k in range(12)]]
    third = Fraction(2, 3)
    assert eighths(groove("7/8"), "triplets") == [[0, third, 2 * third, 2, 2 + third, 2 + 2 * third, 4, 5, 6]]


def test_the_one_is_strong_and_what_lies_between_beats_is_quiet():
    assert marks(laid(groove(bars=2), "eighths").clicks) == "S.w.w.w." * 2
    assert marks(laid(groove("6/8"), "eighths").clicks) == "S..w.."
    assert marks(laid(groove("7/8"), "sixteenths").clicks) == "S...w...w....."
    assert marks(laid(groove(), "off-beats").clicks) == "wwww"
    assert marks(laid(groove(bars=2), "ones").clicks) == "SS"


def test_clicks_swing_with_the_stage_and_triplets_stay_even():
    swung = groove(more='[base]\nhi-hat = "x-x-x-x-x-x-x-x-"\n[feel]\nswing = "eighths 2:1"\n')
    third = Fraction(2, 3)
    assert eighths(swung, "eighths") == [[2 * k + off for k in range(4) for off in (0, 2 * third)]]
    assert eighths(swung, "off-beats") == [[2 * k + 2 * third for k in range(4)]]
    assert eighths(swung, "triplets") == [[2 * k + off * third for k in range(4) for off in range(3)]]
    assert eighths(swung, "beats") == [[0, 2, 4, 6]]


@pytest.mark.parametrize(
    ("bars", "rounds"), [(1, [[0], []]), (2, [[0]]), (3, [[0, 2], [1]]), (4, [[0, 2]]), (5, [[0, 2, 4], [1, 3]])]
)
def test_every_other_bar_is_silent_over_the_loop_point_too(bars, rounds):
    expected = [[8 * bar + place for bar in row for place in (0, 2, 4, 6)] for row in rounds]
    assert eighths(groove(bars=bars), "every other bar") == expected


def test_every_other_piece_of_a_loop_that_is_a_part_is_silent():
    """From 3 of bar 1 to the end of bar 2 it is half a bar, then a bar; from 2 to 4 of bar 1 it is one piece."""
    two = groove(bars=2)
    assert eighths(two, "every other bar", start=20160, end=80640) == [[0, 2]]
    assert eighths(two, "every other bar", start=10080, end=30240) == [[0, 2], []]
    # A piece between two beats counts although no click stands in it.
    assert eighths(two, "every other bar", start=35280, end=80640) == [[]]
    assert eighths(two, "every other bar", start=35280, end=40320) == [[], []]


@pytest.mark.parametrize(
    ("meter", "grouping", "rounds"),
    [
        ("4/4", "", [[0, 2, 4, 6], [0, 4], [0], []]),
        ("3/4", "", [[0, 2, 4], [0, 4], [0], []]),
        ("6/8", "", [[0, 3], [0], []]),
        ("7/8", "", [[0, 2, 4], [0, 4], [0], []]),
        ("12/8", "", [[0, 3, 6, 9], [0, 6], [0], []]),
        ("3/8", "3", [[0], []]),
    ],
)
def test_a_shrinking_click_loses_beats_each_round_and_begins_again(meter, grouping, rounds):
    assert eighths(groove(meter, grouping=grouping), "shrinking") == rounds


def test_a_shrinking_click_of_a_part_has_what_the_part_holds():
    assert eighths(groove(), "shrinking", start=10080, end=30240) == [[0, 2], [2], []]
    assert eighths(groove(), "shrinking", start=5040, end=10080) == [[]]


def test_the_clicks_of_a_part_are_those_that_lie_in_it():
    assert eighths(groove(), "eighths", start=15120, end=35280) == [[0, 1, 2, 3]]
    assert marks(laid(groove(), "eighths", 15120, 35280).clicks) == ".w.w"


@given(grooves(max_variations=2), st.sampled_from(KINDS), st.integers(0, 2))
def test_clicks_lie_within_their_rounds_in_order_and_no_two_at_a_place(found, kind, bars):
    stages = grow(found)
    line = unroll(found, stages, len(stages) - 1, clicks=kind, bars_before=bars)
    places = [click.at for click in line.clicks]
    assert places == sorted(set(places))
    assert all(0 <= at < line.rounds * line.loop for at in places)
    if bars:
        counted = [click.at for click in line.count_in.clicks]
        assert counted == sorted(set(counted)) and counted[0] == 0 and counted[-1] < line.count_in.loop
        assert line.count_in.loop == bars * stages[-1].beat.meter.bar * line.parts
    else:
        assert line.count_in is None


def test_the_kind_of_click_moves_no_stroke(slack_tide):
    stages = grow(slack_tide)
    told = {unroll(slack_tide, stages, 3, clicks=kind)[:4] for kind in KINDS}
    assert len(told) == 1


@pytest.mark.parametrize(
    ("more", "bar"),
    [
        ('kick = "o-------o-------"', "Ssss"),
        ('kick = "o-----o---------"', "S.s.s.s."),
        ('kick = "o--o------------"', "S...s...s...s..."),
        ('kick = "----------------"\nsnare = "O---------------"', "Ssss"),
    ],
)
def test_a_count_in_has_the_parts_of_the_first_bar(more, bar):
    assert marks(laid(groove(more=f"[base]\n{more}\n"), "beats", bars_before=1).count_in.clicks) == bar
    assert marks(laid(groove(more=f"[base]\n{more}\n"), "beats", bars_before=2).count_in.clicks) == bar * 2


def test_a_count_in_counts_triplets_and_sixes_where_they_are_played():
    trip = groove(more='[base]\nkick = "o-o---------"\n', columns="eighth triplets")
    assert marks(laid(trip, "beats", bars_before=1).count_in.clicks) == "S..s..s..s.."
    six = groove(more='[base]\nkick = "oooooo------------------"\n', columns="sixteenth triplets")
    assert marks(laid(six, "beats", bars_before=1).count_in.clicks) == "S.....s.....s.....s....."


def test_only_the_first_bar_decides_the_count():
    late = groove(more=f'[base]\nkick = "{"o---------------oooooooooooooooo"}"\n', bars=2)
    assert marks(laid(late, "beats", bars_before=1).count_in.clicks) == "Ssss"


def test_over_eight_the_numbers_are_counted_and_the_beats_stand_out():
    assert marks(laid(groove("6/8"), "beats", bars_before=1).count_in.clicks) == "Swwsww"
    assert marks(laid(groove("7/8", grouping="3+2+2"), "beats", bars_before=1).count_in.clicks) == "Swwswsw"
    fine = groove("6/8", more='[base]\nkick = "oo----------"\n')
    assert marks(laid(fine, "beats", bars_before=1).count_in.clicks) == "S.w.w.s.w.w."


def test_a_count_in_ends_where_the_loop_begins():
    """A loop from 3: counted 3 4 1 2, with the 1 in the middle."""
    count = laid(groove(), "beats", 20160, 40320, 1).count_in
    assert (count.loop, marks(count.clicks)) == (40320, "ssSs")
    assert [click.at for click in count.clicks] == [0, 10080, 20160, 30240]


def test_a_count_in_swings():
    swung = groove(more='[base]\nhi-hat = "x-x-x-x-x-x-x-x-"\n[feel]\nswing = "eighths 2:1"\n')
    count = laid(swung, "beats", bars_before=1).count_in
    assert [Fraction(click.at, 3) for click in count.clicks][:4] == [0, 6720, 10080, 16800]


def test_what_there_is_not_is_refused(slack_tide):
    with pytest.raises(TimelineError, match='no click "cowbell"; there are beats, eighths'):
        laid(slack_tide, "cowbell")
    with pytest.raises(TimelineError, match="0 to 2 bars, not 3"):
        laid(slack_tide, "beats", bars_before=3)


def test_the_page_has_the_same_gain_for_a_quiet_click():
    assert f"export const QUIET = {QUIET};" in (ROOT / "web" / "audio" / "line.js").read_text()


def words(clicks):
    return " ".join(click.say or "." for click in clicks)


@pytest.mark.parametrize(
    ("meter", "kind", "wanted"),
    [
        ("4/4", "beats", "1 2 3 4"),
        ("4/4", "off-beats", "& & & &"),
        ("3/4", "sixteenths", "1 e & a 2 e & a 3 e & a"),
        ("2/4", "triplets", "1 trip let 2 trip let"),
        ("2/2", "triplets", "1 trip let & trip let 2 trip let & trip let"),
        ("2/2", "sixteenths", "1 . e . & . a . 2 . e . & . a ."),
        ("6/8", "sixteenths", "1 & 2 & 3 & 4 & 5 & 6 &"),
        ("6/8", "triplets", "1 2 3 4 5 6"),
        ("7/8", "beats", "1 3 5"),
        ("5/8", "triplets", "1 2 3 4 trip let"),
        ("15/16", "eighths", "1 3 4 6 7 9 10 12 13 15"),
    ],
)
def test_every_click_has_the_word_that_is_counted_there(meter, kind, wanted):
    assert words(laid(groove(meter), kind).clicks) == wanted


def test_words_stay_with_their_places_over_rounds_and_in_a_part():
    assert words(laid(groove("4/4"), "shrinking").clicks) == "1 2 3 4 1 3 1"
    assert words(laid(groove("4/4"), "eighths", start=10080, end=30240).clicks) == "2 & 3 &"


@pytest.mark.parametrize(
    ("columns", "row", "wanted"),
    [
        ("sixteenths", "o---", "1 2 3 4"),
        ("sixteenths", "o-o-", "1 & 2 & 3 & 4 &"),
        ("sixteenths", "oo--", "1 e & a 2 e & a 3 e & a 4 e & a"),
        ("eighth triplets", "oo-", "1 trip let 2 trip let 3 trip let 4 trip let"),
        (
            "sixteenth triplets",
            "oooooo",
            "1 trip let & trip let 2 trip let & trip let 3 trip let & trip let 4 trip let & trip let",
        ),
    ],
)
def test_a_count_in_says_the_syllables_of_the_first_bar(columns, row, wanted):
    found = groove("4/4", more=f'[base]\nkick = "{row * 4}"\n', columns=columns)
    assert words(laid(found, "beats", bars_before=1).count_in.clicks) == wanted
