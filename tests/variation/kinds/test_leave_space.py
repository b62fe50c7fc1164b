"""Leave space: columns worked out by hand, and what always stays."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from groundbeat.codec.groove_read import read_groove
from groundbeat.errors import GroundbeatError
from groundbeat.model.groove import Groove
from groundbeat.model.roles import find_backbeats
from groundbeat.variation.stack import add, grow, make, plain
from tests.strategies import beats, settings_of


def groove(lines: str, meter: str = "4/4", columns: str = "sixteenths") -> Groove:
    return read_groove(f'groundbeat = 1\nmeter = "{meter}"\ncolumns = "{columns}"\n[base]\n{lines}\n')


ROCK = groove('hi-hat = "x-x-x-x-x-x-x-x-"\nsnare = "----O--g----O--g"\nkick = "o------oo-------"')
SHUFFLE = groove('ride = "x-xx-xx-xx-x"\nsnare = "---O-----O--"\nkick = "o-----o-----"', columns="eighth triplets")
COMPOUND = groove('hi-hat = "xxxxxx"\nsnare = "---O--"\nkick = "o----o"', "6/8", "eighths")
TWO_BARS = groove('hi-hat = "x-x-x-x-x-x-x-|x-x-x-x-x-x-x-"\nsnare = "----O-----O---|----O-----O---"', "7/8")


def stage_of(base: Groove, **settings):
    return grow(add(base, "leave-space", {"with" if name == "lined" else name: v for name, v in settings.items()}))[-1]


def cols(stage, surface: str, ticks: int = 2520) -> list[int]:
    return [stroke.at // ticks for stroke in stage.beat.strokes if stroke.surface == surface]


def test_the_riding_hand_leaves_room_for_the_backbeat():
    stage = stage_of(ROCK, lined=["backbeat voice"], at="backbeats")
    assert stage.says == ("found no backbeat",)
    stage = stage_of(ROCK, lined=["backbeat voice"])
    assert cols(stage, "hi-hat") == [0, 2, 6, 8, 10, 14]
    assert cols(stage, "snare") == [4, 7, 12, 15]
    assert stage.change.left_out == ("0/hi-hat@1/4", "0/hi-hat@3/4")


def test_what_the_others_line_up_with_is_never_meant_itself():
    stage = stage_of(ROCK, surface="everything", lined=["kick"])
    assert (cols(stage, "hi-hat"), cols(stage, "snare"), cols(stage, "kick")) == (
        [2, 4, 6, 10, 12, 14],
        [4, 12, 15],
        [0, 7, 8],
    )


def test_several_lines_are_joined_by_or():
    stage = stage_of(SHUFFLE, lined=["kick", "snare"])
    assert cols(stage, "ride", 3360) == [2, 5, 8, 11]


def test_every_third_is_counted_through_the_loop():
    stage = stage_of(TWO_BARS, every="3")
    assert cols(stage, "hi-hat") == [2, 4, 8, 10, 14, 16, 20, 22, 26]
    assert stage.says == ("cut at the loop; comes round after 6 bars",)
    assert cols(stage_of(TWO_BARS, every="3", start="3"), "hi-hat") == [0, 2, 6, 8, 12, 14, 18, 20, 24, 26]


def test_only_what_lines_up_is_counted():
    """Hats with kick or snare stand on 0 4 8 12; every second of those from the second on are 4 and 12."""
    stage = stage_of(ROCK, lined=["kick", "backbeat voice"], every="2", start="2")
    assert cols(stage, "hi-hat") == [0, 2, 6, 8, 10, 14]


def test_places_say_which():
    assert cols(stage_of(ROCK, at="upbeats"), "hi-hat") == [0, 4, 8, 12]
    assert cols(stage_of(COMPOUND, at="2 5"), "hi-hat", 5040) == [0, 2, 3, 5]


def test_backbeats_stay_unless_they_are_given_up():
    kept = stage_of(ROCK, surface="snare")
    assert cols(kept, "snare") == [4, 12]
    assert kept.says == ("2 backbeats stay",)
    assert stage_of(ROCK, surface="snare", at="2").says == ("a backbeat stays",)
    given_up = stage_of(ROCK, surface="snare", keep="nothing")
    assert cols(given_up, "snare") == []
    assert given_up.says == ()


def test_backbeats_that_moved_stay_as_well():
    moved = add(ROCK, "displace", {"at": "first backbeat", "by": "1/16 later"})
    assert cols(grow(add(moved, "leave-space", {"surface": "snare"}))[-1], "snare") == [5, 12]


def test_thinning_keeps_the_loudest_then_the_beats_then_evenly():
    """Two accents first; of the equal plain ones on beats 0 4 8 12 the 1st and 3rd have room."""
    base = groove('hi-hat = "x-X-x-x-x-X-x-x-"')
    assert cols(stage_of(base, **{"down-to": "2"}), "hi-hat") == [2, 10]
    assert cols(stage_of(base, **{"down-to": "4"}), "hi-hat") == [0, 2, 8, 10]
    assert cols(stage_of(base, **{"down-to": "5"}), "hi-hat") == [0, 2, 4, 8, 10]
    assert cols(stage_of(base, **{"down-to": "7"}), "hi-hat") == [0, 2, 4, 6, 8, 10, 12]


def test_thinning_goes_bar_by_bar_on_the_beats_of_the_meter():
    """Beats of 7/8 are eighths 1 3 5: columns 0 4 8."""
    stage = stage_of(TWO_BARS, **{"down-to": "3"})
    assert cols(stage, "hi-hat") == [0, 4, 8, 14, 18, 22]
    assert cols(stage_of(TWO_BARS, **{"down-to": "1"}), "hi-hat") == [0, 14]
    assert cols(stage_of(COMPOUND, **{"down-to": "4"}), "hi-hat", 5040) == [0, 1, 3, 4]


def test_thinning_counts_the_backbeats_in_and_never_takes_them():
    stage = stage_of(ROCK, surface="snare", **{"down-to": "3"})
    assert cols(stage, "snare") == [4, 7, 12]
    stage = stage_of(ROCK, surface="snare", **{"down-to": "1"})
    assert cols(stage, "snare") == [4, 12]
    assert stage.says == ("the backbeats alone are more than 1 in a bar",)
    assert cols(stage_of(ROCK, surface="snare", keep="nothing", **{"down-to": "1"}), "snare") == [4]


@pytest.mark.parametrize(
    ("settings", "said"),
    [
        ({"surface": "ride"}, "found no ride"),
        ({"at": "e"}, "found no riding hand at e"),
        ({"with": ["floor tom"]}, "nothing of the riding hand lines up with the floor tom"),
        ({"surface": "kick", "with": ["kick"]}, "nothing of the kick lines up with the kick"),
        ({"start": "9"}, "there is no ninth of them"),
        ({"down-to": "8"}, "no bar has more than 8 of them; nothing was left out"),
    ],
)
def test_what_is_not_there_is_said_and_nothing_changes(settings, said: str):
    stage = grow(add(ROCK, "leave-space", settings))[-1]
    assert stage.says == (said,)
    assert stage.beat == ROCK.base


@pytest.mark.parametrize(
    ("settings", "field", "said"),
    [
        ({"every": "17"}, "every", "every: 17 is out of range; it goes from 1 to 16"),
        ({"start": "0"}, "start", "start: 0 is out of range; it goes from 1 to 16"),
        ({"down-to": "33"}, "down-to", "down-to: 33 is out of range; it goes from 0 to 32"),
        ({"keep": "accents"}, "keep", 'keep: "accents" is not one of nothing, backbeats'),
        ({"with": ["tuba"]}, "with.#0", 'with: "tuba" is neither a surface nor a role'),
    ],
)
def test_what_is_out_of_range_names_field_value_and_range(settings, field: str, said: str):
    with pytest.raises(GroundbeatError, match=said) as caught:
        make(1, "leave-space", settings)
    assert caught.value.field == field


@pytest.mark.parametrize(
    ("settings", "said"),
    [
        (
            {"with": ["backbeat voice"]},
            "Leave out every stroke of the riding hand where the backbeat voice sounds too.",
        ),
        ({"surface": "everything", "every": "3"}, "Leave out every third stroke of the whole beat."),
        (
            {"surface": "snare", "at": "ghosts", "every": "2", "start": "2"},
            "Leave out the ghosts of the snare, every second of them, from the second on.",
        ),
        ({"down-to": "1"}, "Thin out every stroke of the riding hand, to at most 1 in a bar."),
        (
            {"surface": "snare", "down-to": "4", "with": ["hi-hat", "kick"], "keep": "nothing"},
            "Thin out every stroke of the snare where the kick or the hi-hat sounds too, to at most 4 in a bar, "
            "the backbeats too.",
        ),
    ],
)
def test_a_sentence_reads_as_a_teacher_would_say_it(settings, said: str):
    assert plain(make(1, "leave-space", settings)) == said


@given(beats(), st.data())
def test_strokes_are_left_out_and_nothing_else_is_done(beat, data):
    asked = data.draw(settings_of("leave-space"))
    stage = grow(add(Groove(base=beat), "leave-space", asked))[-1]
    out = set(stage.change.left_out)
    assert stage.beat.strokes == tuple(stroke for stroke in beat.strokes if stroke.id not in out)
    if asked.get("keep") != "nothing":
        assert not out.intersection(find_backbeats(beat))


@given(beats(), st.integers(1, 32), st.sampled_from(["everything", "riding", "snare"]))
def test_no_bar_has_more_than_was_asked_or_its_backbeats(beat, limit, target):
    base = Groove(base=beat)
    asked = {"surface": target, "down-to": str(limit)}
    after = grow(add(base, "leave-space", asked))[-1].beat
    all_out = {s.id for s in grow(add(base, "leave-space", {"surface": target, "keep": "nothing"}))[-1].beat.strokes}
    backbeats = set(find_backbeats(beat))
    for bar in range(1, beat.bars + 1):
        was = [s for s in beat.strokes if s.id not in all_out and beat.bar_of(s.at) == bar]
        now = [s for s in after.strokes if s.id not in all_out and beat.bar_of(s.at) == bar]
        held = sum(s.id in backbeats for s in was)
        assert len(now) == min(len(was), max(limit, held))


@given(beats(), st.integers(1, 32))
def test_thinning_twice_is_thinning_once(beat, limit):
    asked = {"surface": "snare", "down-to": str(limit)}
    once = add(Groove(base=beat), "leave-space", asked)
    stages = grow(add(once, "leave-space", asked))
    assert stages[2].beat == stages[1].beat
