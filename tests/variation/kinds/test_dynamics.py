"""Dynamics: columns worked out by hand, and what may never change."""

from __future__ import annotations

from collections import Counter

import pytest
from hypothesis import given
from hypothesis import strategies as st

from groundbeat.codec.groove_read import read_groove
from groundbeat.errors import GroundbeatError
from groundbeat.model.groove import Groove
from groundbeat.variation.stack import add, grow, make, plain
from tests.strategies import beats, settings_of

MARKS = {"ghost": "g", "soft": "s", "normal": "n", "accent": "A"}


def groove(lines: str, meter: str = "4/4", columns: str = "sixteenths") -> Groove:
    return read_groove(f'groundbeat = 1\nmeter = "{meter}"\ncolumns = "{columns}"\n[base]\n{lines}\n')


ROCK = groove('hi-hat = "x-x-x-x-x-x-x-x-"\nsnare = "----O--g----O--g"\nkick = "o------oo-------"')
SHUFFLE = groove('ride = "x-xx-xx-xx-x"\nsnare = "---O-----O--"\nkick = "o-----o-----"', columns="eighth triplets")
COMPOUND = groove('hi-hat = "xxxxxx"\nsnare = "---O--"\nkick = "o-----"', "6/8", "eighths")
TWO_BARS = groove('hi-hat = "x-x-x-x-x-x-x-|x-x-x-x-x-x-x-"\nsnare = "----O-----O---|----O-----O---"', "7/8")


def stage_of(base: Groove, **settings: str):
    return grow(add(base, "dynamics", settings))[-1]


def row(stage, surface: str) -> str:
    """The dynamics of a line, one sign a stroke."""
    return "".join(MARKS[stroke.dynamic] for stroke in stage.beat.strokes if stroke.surface == surface)


def test_every_third_eighth_is_accented_over_the_bar():
    stage = stage_of(ROCK, surface="riding", every="3")
    assert row(stage, "hi-hat") == "AnnAnnAn"
    assert stage.says == ("cut at the loop; comes round after 3 bars",)
    assert (row(stage, "snare"), row(stage, "kick")) == ("AgAg", "nnn")
    assert len(stage.change.altered) == 3


def test_counting_starts_where_it_is_told_and_reaches_not_back():
    assert row(stage_of(ROCK, surface="riding", every="3", start="2"), "hi-hat") == "nAnnAnnA"
    assert row(stage_of(ROCK, surface="riding", start="6"), "hi-hat") == "nnnnnAAA"
    late = stage_of(ROCK, surface="riding", every="2", start="5")
    assert row(late, "hi-hat") == "nnnnAnAn"
    assert late.says == ()


def test_the_count_runs_on_over_the_bar_line_of_two_bars_of_seven():
    stage = stage_of(TWO_BARS, surface="riding", every="4")
    assert row(stage, "hi-hat") == "AnnnAnnnAnnnAn"
    assert stage.says == ("cut at the loop; comes round after 4 bars",)
    assert stage_of(TWO_BARS, surface="riding", every="7").says == ()


def test_strokes_that_fall_together_count_as_one():
    """Columns 0 2 4 6 7 8 10 12 14 15 sound; every second of them are 0 4 7 10 14, with all that stands there."""
    stage = stage_of(ROCK, every="2")
    loud = [(s.at // 2520, s.surface) for s in stage.beat.strokes if s.dynamic == "accent"]
    assert loud == [
        (0, "hi-hat"),
        (0, "kick"),
        (4, "hi-hat"),
        (4, "snare"),
        (7, "snare"),
        (7, "kick"),
        (10, "hi-hat"),
        (12, "snare"),
        (14, "hi-hat"),
    ]


def test_the_others_are_all_other_strokes_of_the_target():
    stage = stage_of(ROCK, surface="riding", at="beats", rest="ghost")
    assert row(stage, "hi-hat") == "AgAgAgAg"
    assert row(stage, "snare") == "AgAg"
    assert row(stage_of(SHUFFLE, surface="riding", at="beats", to="normal", rest="soft"), "ride") == "nsnsnsns"


def test_louder_and_softer_move_one_step_and_stop_at_the_ends():
    base = groove('snare = "gsoO------------"')
    assert row(stage_of(base, surface="snare", to="louder"), "snare") == "snAA"
    assert row(stage_of(base, surface="snare", to="softer"), "snare") == "ggsn"


@pytest.mark.parametrize(("to", "mark"), [("accent", "A"), ("normal", "n"), ("soft", "s"), ("ghost", "g")])
def test_a_dynamic_by_its_name_is_given_to_all(to: str, mark: str):
    assert row(stage_of(COMPOUND, surface="hi-hat", to=to), "hi-hat") == mark * 6


def test_a_swell_rises_in_each_bar_and_a_long_one_over_the_loop():
    """Of 7 strokes: 3i/6 rounded, half up: 0 1 1 2 2 3 3. Of 14: 3i/13: 0 0 0 1 1 1 1 2 2 2 2 3 3 3."""
    assert row(stage_of(TWO_BARS, surface="riding", to="swell"), "hi-hat") == "gssnnAA" * 2
    assert row(stage_of(TWO_BARS, surface="riding", to="fade"), "hi-hat") == "AAnnssg" * 2
    assert row(stage_of(TWO_BARS, surface="riding", to="long swell"), "hi-hat") == "gggssssnnnnAAA"
    assert row(stage_of(TWO_BARS, surface="riding", to="long fade"), "hi-hat") == "AAAnnnnssssggg"


def test_a_swell_of_few_strokes_still_arrives():
    base = groove('snare = "o---o---o-------"')
    assert row(stage_of(base, surface="snare", to="swell", at="1"), "snare") == "Ann"
    assert row(stage_of(base, surface="snare", to="fade", at="1"), "snare") == "gnn"
    assert row(stage_of(base, surface="snare", to="swell", at="1 2"), "snare") == "gAn"
    assert row(stage_of(base, surface="snare", to="swell"), "snare") == "gnA"


def test_strokes_that_fall_together_swell_alike():
    stage = stage_of(COMPOUND, to="swell")
    levels: dict[int, set[str]] = {}
    for stroke in stage.beat.strokes:
        levels.setdefault(stroke.at, set()).add(stroke.dynamic)
    assert [sorted(levels[at]) for at in sorted(levels)] == [
        ["ghost"], ["soft"], ["soft"], ["normal"], ["normal"], ["accent"],
    ]  # fmt: skip


def test_accents_that_are_there_move_on_along_their_strokes():
    stage = stage_of(ROCK, surface="snare", to="as they are", shift="1")
    assert row(stage, "snare") == "gAgA"
    assert [s.at // 2520 for s in stage.beat.strokes if s.surface == "snare"] == [4, 7, 12, 15]
    assert row(stage_of(ROCK, surface="snare", to="as they are", shift="2"), "snare") == "AgAg"


def test_what_was_just_given_moves_on_as_well():
    assert row(stage_of(ROCK, surface="riding", every="3", shift="1"), "hi-hat") == "nAnnAnnA"
    assert row(stage_of(ROCK, surface="riding", every="3", shift="2"), "hi-hat") == "AnAnnAnn"
    assert row(stage_of(ROCK, surface="riding", every="4", rest="soft", shift="9"), "hi-hat") == "sAsssAss"


def test_only_the_strokes_at_the_places_move_their_dynamics_on():
    base = groove('hi-hat = "X-x-x-x-s-x-x-g-"')
    assert row(stage_of(base, surface="hi-hat", at="beats", to="as they are", shift="1"), "hi-hat") == "nnAnnnsg"


def test_where_strokes_fall_together_each_line_moves_on_by_itself():
    base = groove('hi-hat = "X-x-x-x---------"\nkick = "o---O-----------"')
    stage = stage_of(base, to="as they are", shift="1")
    assert (row(stage, "hi-hat"), row(stage, "kick")) == ("nAnn", "An")
    assert stage.says == ("strokes fall together: the dynamics of each line move on by themselves",)
    apart = groove('high-tom = "O-o-------------"\nfloor-tom = "----o-o---------"')
    stage = stage_of(apart, to="as they are", shift="2")
    assert (row(stage, "high tom"), row(stage, "floor tom")) == ("nn", "An")
    assert stage.says == ()


@pytest.mark.parametrize(
    ("settings", "said"),
    [
        ({"surface": "floor tom"}, ("found no floor tom",)),
        ({"surface": "snare", "at": "1"}, ("found no snare at 1",)),
        ({"surface": "snare", "start": "9", "rest": "ghost"}, ("there is no ninth of them",)),
        ({"surface": "snare", "at": "backbeats"}, ("nothing changes: these strokes are that loud already",)),
        (
            {"surface": "kick", "to": "as they are", "shift": "3"},
            ("nothing changes: these strokes are that loud already",),
        ),
    ],
)
def test_what_is_not_there_is_said_and_nothing_changes(settings: dict[str, str], said: tuple[str, ...]):
    stage = stage_of(ROCK, **settings)
    assert stage.says == said
    assert stage.beat == ROCK.base


@pytest.mark.parametrize(
    ("settings", "field", "said"),
    [
        ({"every": "0"}, "every", "every: 0 is out of range; it goes from 1 to 16"),
        ({"every": "17"}, "every", "every: 17 is out of range; it goes from 1 to 16"),
        ({"start": "0"}, "start", "start: 0 is out of range; it goes from 1 to 16"),
        ({"shift": "32"}, "shift", "shift: 32 is out of range; it goes from 0 to 31"),
        ({"to": "loud"}, "to", 'to: "loud" is not one of accent, normal, soft'),
        ({"rest": "accent"}, "rest", 'rest: "accent" is not one of as they are, ghost, soft, normal'),
    ],
)
def test_what_is_out_of_range_names_field_value_and_range(settings: dict[str, str], field: str, said: str):
    with pytest.raises(GroundbeatError, match=said) as caught:
        make(1, "dynamics", settings)
    assert caught.value.field == field


@pytest.mark.parametrize(
    ("settings", "said"),
    [
        ({"surface": "riding", "every": "3"}, "Accent every third stroke of the riding hand."),
        ({"surface": "snare", "to": "ghost", "at": "e a"}, "Ghost every e and a of the snare."),
        (
            {"surface": "riding", "at": "upbeats", "every": "2", "start": "2", "rest": "soft"},
            "Accent the upbeats of the riding hand, every second of them, from the second on, the others soft.",
        ),
        ({"surface": "kick", "to": "soft", "start": "3"}, "Play every stroke of the kick softly, from the third on."),
        ({"to": "softer"}, "Play every stroke of the whole beat one step softer."),
        (
            {"surface": "snare", "to": "swell", "at": "stage 0"},
            "Let what the base beat has of the snare swell from ghost to accent in each bar.",
        ),
        (
            {"surface": "riding", "to": "long fade", "every": "2"},
            "Let every second stroke of the riding hand fade from accent to ghost over the whole loop.",
        ),
        (
            {"surface": "riding", "to": "as they are", "shift": "1"},
            "Move the dynamics of every stroke of the riding hand on by one stroke.",
        ),
        (
            {"surface": "riding", "every": "3", "shift": "2"},
            "Accent every third stroke of the riding hand, then move the dynamics on by 2 strokes.",
        ),
        (
            {"surface": "riding", "to": "as they are", "every": "3", "rest": "ghost"},
            "Leave every third stroke of the riding hand unchanged, the others ghosted.",
        ),
    ],
)
def test_a_sentence_reads_as_a_teacher_would_say_it(settings: dict[str, str], said: str):
    assert plain(make(1, "dynamics", settings)) == said


@given(beats(), st.data())
def test_only_dynamics_ever_change(beat, data):
    stage = grow(add(Groove(base=beat), "dynamics", data.draw(settings_of("dynamics"))))[-1]
    assert [(s.id, s.at, s.surface, s.grace, s.hand) for s in stage.beat.strokes] == [
        (s.id, s.at, s.surface, s.grace, s.hand) for s in beat.strokes
    ]
    assert not (stage.change.moved or stage.change.added or stage.change.left_out or stage.change.merged)


@given(beats(), st.integers(0, 31))
def test_moving_on_takes_no_dynamic_away_and_the_rest_of_the_way_brings_all_back(beat, shift):
    line = [stroke for stroke in beat.strokes if stroke.surface == "snare"]
    if not line:
        return
    asked = {"surface": "snare", "to": "as they are"}
    once = add(Groove(base=beat), "dynamics", asked | {"shift": str(shift)})
    there = grow(once)[-1].beat
    assert Counter(s.dynamic for s in there.strokes) == Counter(s.dynamic for s in beat.strokes)
    back = grow(add(once, "dynamics", asked | {"shift": str(-shift % len(line))}))[-1].beat
    assert [s.dynamic for s in back.strokes] == [s.dynamic for s in beat.strokes]


@given(beats(), st.sampled_from(["accent", "normal", "soft", "ghost", "swell", "long fade"]), st.integers(1, 16))
def test_doing_it_twice_is_doing_it_once(beat, to, every):
    """A dynamic that is given does not depend on the one that was there."""
    once = add(Groove(base=beat), "dynamics", {"to": to, "every": str(every), "rest": "soft"})
    stages = grow(add(once, "dynamics", {"to": to, "every": str(every), "rest": "soft"}))
    assert stages[2].beat == stages[1].beat


@given(beats(), st.sampled_from(["swell", "fade", "long swell", "long fade"]))
def test_a_swell_never_falls_and_a_fade_never_rises(beat, to):
    stage = grow(add(Groove(base=beat), "dynamics", {"to": to}))[-1].beat
    sign = 1 if "swell" in to else -1
    for before, after in zip(stage.strokes, stage.strokes[1:], strict=False):
        if "long" in to or stage.bar_of(before.at) == stage.bar_of(after.at):
            assert sign * (after.level - before.level) >= 0
