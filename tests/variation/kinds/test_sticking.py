"""Sticking: columns and hands worked out by hand, and what the pattern may never touch."""

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


ROCK = groove('hi-hat = "x-x-x-x-x-x-x-x-"\nsnare = "----O--s----O--s"\nkick = "o------oo-------"')
SHUFFLE = groove('ride = "x-xx-xx-xx-x"\nsnare = "---O-----O--"\nkick = "o-----o-----"', columns="eighth triplets")
TWO_BARS = groove('hi-hat = "x-x-x-x-x-x-x-|x-x-x-x-x-x-x-"\nsnare = "----O-----O---|----O-----O---"', "7/8")
MARKS = {"ghost": "g", "soft": "s", "normal": "", "accent": "A"}


def stage_of(base: Groove, **settings: str):
    return grow(add(base, "sticking", {name.replace("_", "-"): value for name, value in settings.items()}))[-1]


def line(stage, surface: str, ticks: int = 2520) -> str:
    """Columns with dynamic and hand: "4AL" is an accent on column 4 with the left hand."""
    return " ".join(f"{s.at // ticks}{MARKS[s.dynamic]}{s.hand}" for s in stage.beat.strokes if s.surface == surface)


def cols(stage, surface: str, ticks: int = 2520) -> list[int]:
    return [stroke.at // ticks for stroke in stage.beat.strokes if stroke.surface == surface]


def test_a_paradiddle_between_hi_hat_and_snare():
    stage = stage_of(ROCK)
    assert line(stage, "hi-hat") == "0R 2R 3R 5R 8R 10R 11R 13R"
    assert line(stage, "snare") == "1gL 4AL 6gL 7sL 9gL 12AL 14gL 15sL"
    assert line(stage, "kick") == "0 7 8"
    assert stage.says == ()
    assert stage.change.left_out == ("0/hi-hat@1/4", "0/hi-hat@3/8", "0/hi-hat@3/4", "0/hi-hat@7/8")
    assert len(stage.change.altered) == 8 and len(stage.change.added) == 8


def test_turned_round_the_backbeats_stay_under_the_other_hand():
    stage = stage_of(ROCK, turned="inverted")
    assert line(stage, "hi-hat") == "1R 4R 6R 7R 9R 12R 14R 15R"
    assert line(stage, "snare") == "0gL 2gL 3gL 4A 5gL 8gL 10gL 11gL 12A 13gL"
    given_up = stage_of(ROCK, turned="inverted", keep="nothing")
    assert line(given_up, "snare") == "0gL 2gL 3gL 5gL 8gL 10gL 11gL 13gL"


def test_three_letters_in_eighth_triplets():
    stage = stage_of(SHUFFLE, pattern="RLL", step="eighth triplet")
    assert line(stage, "ride", 3360) == "0R 3R 6R 9R"
    assert line(stage, "snare", 3360) == "1gL 2gL 3A 4gL 5gL 7gL 8gL 9A 10gL 11gL"
    assert stage.says == ()


def test_it_runs_on_over_the_bar_line_and_is_cut_at_the_loop():
    stage = stage_of(TWO_BARS)
    assert cols(stage, "hi-hat") == [0, 2, 3, 5, 8, 10, 11, 13, 16, 18, 19, 21, 24, 26, 27]
    assert cols(stage, "snare") == [1, 4, 6, 7, 9, 10, 12, 14, 15, 17, 18, 20, 22, 23, 24, 25]
    assert stage.says == ("cut at the loop; comes round after 4 bars",)


def test_k_adds_a_kick_where_none_sounds_and_silence_is_silent():
    """RLKRL-: R 0 3 6 9 12 15, L 1 4 7 10 13, K 2 8 14, silent 5 11; a kick is on 8 already."""
    stage = stage_of(ROCK, pattern="RLKRL-")
    assert cols(stage, "hi-hat") == [0, 3, 6, 9, 12, 15]
    assert line(stage, "snare") == "1gL 4AL 7sL 10gL 12A 13gL"
    assert line(stage, "kick") == "0 2 7 8 14"


def test_only_in_the_places_that_are_named():
    """In bar 2 of 7/8 the letters go on counting from the start: column 14 is the 7th letter, a left."""
    stage = stage_of(TWO_BARS, at="2:all")
    assert cols(stage, "hi-hat") == [0, 2, 4, 6, 8, 10, 12, 16, 18, 19, 21, 24, 26, 27]
    assert cols(stage, "snare") == [4, 10, 14, 15, 17, 18, 20, 22, 23, 24, 25]
    fill = stage_of(ROCK, at="4 4e 4& 4a")
    assert line(fill, "hi-hat") == "0 2 4 6 8 10 13R"
    assert line(fill, "snare") == "4A 7s 12AL 14gL 15sL"


def test_a_step_finer_than_the_columns_fills_the_places_that_are_named():
    stage = stage_of(ROCK, pattern="RL", step="thirty-second", at="1:all")
    assert cols(stage, "hi-hat") == list(range(16))
    assert [s.at for s in stage.beat.strokes if s.hand == "L"] == list(range(1260, 40320, 2520))


def test_in_free_places_it_fills_up_and_touches_nothing():
    stage = stage_of(ROCK, at="free")
    assert line(stage, "hi-hat") == "0 2 3R 4 5R 6 8 10 11R 12 13R 14"
    assert line(stage, "snare") == "1gL 4A 7s 9gL 12A 15s"
    assert not stage.change.left_out and not stage.change.altered


def test_places_of_strokes_are_where_those_stand():
    stage = stage_of(ROCK, at="backbeats", turned="inverted")
    assert line(stage, "hi-hat") == "0 2 4R 6 8 10 12R 14"
    assert line(stage, "snare") == "4A 7s 12A 15s"


def test_accents_and_the_dynamic_of_the_left():
    stage = stage_of(ROCK, accent="beats 4a", left_dynamic="normal")
    assert line(stage, "hi-hat") == "0AR 2R 3R 5R 8AR 10R 11R 13R"
    assert line(stage, "snare") == "1L 4AL 6L 7sL 9L 12AL 14L 15AL"


def test_both_hands_on_one_drum():
    stage = stage_of(ROCK, right="snare", left="snare")
    hands = "".join(s.hand for s in stage.beat.strokes if s.surface == "snare")
    assert hands == "RLRRLRLL" * 2
    assert cols(stage, "hi-hat") == [0, 2, 4, 6, 8, 10, 12, 14]


def test_each_hand_goes_where_it_is_told():
    stage = stage_of(ROCK, pattern="RL", right="floor tom", left="high tom", left_dynamic="accent")
    assert cols(stage, "floor tom") == list(range(0, 16, 2))
    assert line(stage, "high tom").split()[0] == "1AL"
    assert cols(stage, "snare") == [4, 7, 12, 15]


def test_a_stroke_that_is_hit_keeps_its_surface_and_its_grace():
    base = groove(
        'open-hi-hat = "x---------------"\ncross-stick = "----x-----------"\nsnare = "------o---------"\n'
        'snare-graces = "------2---------"'
    )
    stage = stage_of(base, right="hi-hat")
    assert (cols(stage, "open hi-hat"), cols(stage, "hi-hat")) == ([0], [2, 3, 5, 8, 10, 11, 13])
    assert (cols(stage, "cross-stick"), cols(stage, "snare")) == ([4], [1, 6, 7, 9, 12, 14, 15])
    assert [(s.grace, s.hand) for s in stage.beat.strokes if s.at == 15120] == [("drag", "L")]


@pytest.mark.parametrize(
    ("settings", "said"),
    [
        ({"right": "ride"}, None),
        ({"right": "kick"}, "the right hand needs one surface of its own; the kick is none; nothing was changed"),
        (
            {"left": "everything"},
            "the left hand needs one surface of its own; the whole beat is none; nothing was changed",
        ),
        ({"at": "trip"}, "found nothing at trip"),
        ({"at": "soft", "pattern": "RL", "step": "eighth"}, None),
        ({"accent": "3:1"}, "found no hand to accent at 3:1"),
        ({"accent": "ghosts"}, "found no ghost"),
    ],
)
def test_what_cannot_be_is_said(settings: dict[str, str], said: str | None):
    stage = grow(add(ROCK, "sticking", settings))[-1]
    if said is None:
        assert stage.says == ()
        return
    assert said in stage.says
    if "accent" not in settings:
        assert stage.beat == ROCK.base


def test_without_a_riding_hand_nothing_is_done():
    base = groove('kick = "o---------------"')
    stage = stage_of(base)
    assert (stage.says, stage.beat) == (("found no riding hand",), base.base)


@pytest.mark.parametrize(
    ("settings", "field", "said"),
    [
        ({"pattern": "RLX"}, "pattern", '"X" at 3 is not a hand'),
        ({"pattern": "KK"}, "pattern", "needs a hand"),
        ({"step": "eighth eighth"}, "step", "is not one note"),
        ({"turned": "round"}, "turned", 'turned: "round" is not one of as written, inverted'),
        ({"keep": "all"}, "keep", 'keep: "all" is not one of backbeats, nothing'),
        ({"left-dynamic": "loud"}, "left-dynamic", "not a dynamic"),
        ({"right": "tuba"}, "right", "neither a surface nor a role"),
    ],
)
def test_what_is_out_of_range_names_field_and_what_is_allowed(settings: dict[str, str], field: str, said: str):
    with pytest.raises(GroundbeatError, match=said) as caught:
        make(1, "sticking", settings)
    assert caught.value.field == field


@pytest.mark.parametrize(
    ("settings", "said"),
    [
        (
            {},
            "Lay RLRR LRLL in sixteenths over the riding surface with the right hand and the snare with the left.",
        ),
        (
            {"pattern": "RLK", "step": "eighth triplet", "right": "floor tom", "at": "2:all", "turned": "inverted"},
            "Lay RLK in eighth triplets over the floor tom with the right hand and the snare with the left, the hands "
            "turned round, only at every place in bar 2.",
        ),
        (
            {"accent": "2 4", "left-dynamic": "normal", "keep": "nothing"},
            "Lay RLRR LRLL in sixteenths over the riding surface with the right hand and the snare with the left, "
            "accented at 2 and 4, the left hand's new strokes plain, taking over the backbeats too.",
        ),
    ],
)
def test_a_sentence_reads_as_a_teacher_would_say_it(settings: dict[str, str], said: str):
    assert plain(make(1, "sticking", settings)) == said


@given(beats(), st.data())
def test_other_lines_and_kicks_are_never_touched(beat, data):
    asked = data.draw(settings_of("sticking"))
    stage = grow(add(Groove(base=beat), "sticking", asked))[-1]
    added = {s.id: s for s in stage.beat.strokes if s.id in stage.change.added}
    gone = set(stage.change.left_out) | set(stage.change.altered)
    touched = {s.instrument for s in beat.strokes if s.id in gone}
    hands = {s.instrument for s in added.values() if s.hand}
    assert len(touched | hands) <= 2
    assert not touched.intersection({"kick", "second kick", "hi-hat pedal"})
    assert all(s.hand or s.surface == "kick" for s in added.values())
    assert not (stage.change.moved or stage.change.merged)


@given(beats(), st.data())
def test_backbeats_are_never_lost_by_default(beat, data):
    asked = data.draw(settings_of("sticking"))
    asked.pop("keep", None)
    stage = grow(add(Groove(base=beat), "sticking", asked))[-1]
    assert not set(find_backbeats(beat)).intersection(stage.change.left_out)


@given(beats(), st.data())
def test_laying_a_pattern_twice_is_laying_it_once(beat, data):
    """With surfaces by their names and at all places: roles and places may have changed in between."""
    asked = data.draw(settings_of("sticking")) | {"right": "ride", "left": "snare", "at": "all"}
    asked.pop("accent", None)
    once = add(Groove(base=beat), "sticking", asked)
    stages = grow(add(once, "sticking", asked))
    assert stages[2].beat == stages[1].beat


@given(beats(), st.data())
def test_turned_round_twice_is_the_pattern_itself(beat, data):
    asked = data.draw(settings_of("sticking")) | {"turned": "as written"}
    pattern = str(asked.get("pattern", "RLRRLRLL"))
    swapped = asked | {"pattern": pattern.translate(str.maketrans("RL", "LR")), "turned": "inverted"}
    one, two = (grow(add(Groove(base=beat), "sticking", each))[-1] for each in (asked, swapped))
    assert (one.beat, one.says) == (two.beat, two.says)
