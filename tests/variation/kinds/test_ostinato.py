"""How an ostinato opens, accents and softens its hits, and what lets it come out even."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from groundbeat.codec.groove_read import read_groove
from groundbeat.errors import GroundbeatError
from groundbeat.model.groove import Groove
from groundbeat.variation import stack
from groundbeat.variation.stack import add, grow, make, plain
from tests.strategies import beats, settings_of


def groove(lines: str, meter: str = "4/4", columns: str = "sixteenths") -> Groove:
    return read_groove(f'groundbeat = 1\nmeter = "{meter}"\ncolumns = "{columns}"\n[base]\n{lines}\n')


HEADLAND = groove('hi-hat = "x-x-x-x-x-x-x-x-"\nsnare = "----O-------O---"\nkick = "o------oo-------"')
SHUFFLE = groove('hi-hat = "x-xx-xx-xx-x"\nsnare = "---O-----O--"\nkick = "o-----o-----"', columns="eighth triplets")
SEVEN = groove('ride = "x-x-x-x-x-x-x-"\nsnare = "----O-----O---"\nkick = "o-------o-----"', "7/8")
TWO_BARS = groove('hi-hat = "x-x-x-x-x-x-x-x-|x-x-x-x-x-x-x-x-"')
_MARKS = {"normal": "", "accent": "A", "ghost": "g", "soft": "s"}


def last(base: Groove, **settings: object):
    return grow(add(base, "ostinato", settings))[-1]


def offered(stage) -> list[str]:
    return [offer.text for offer in stage.offers]


def hits(stage, surface: str, column: int = 2520) -> str:
    """The columns of a surface with a letter for what is not normal: "0 4A"."""
    row = [f"{s.at // column}{_MARKS[s.dynamic]}" for s in stage.beat.strokes if s.surface == surface]
    return " ".join(row)


def test_hits_on_the_open_hihat():
    """Eighths with the & of 4 open: 14 was there and is altered, the rest are kept."""
    stage = last(HEADLAND, cell="eighth", open="4&")
    assert (hits(stage, "hi-hat"), hits(stage, "open hi-hat")) == ("0 2 4 6 8 10 12", "14")
    assert stage.change.altered == ("0/hi-hat@7/8",)
    assert len(stage.change.kept) == 7 + 2 + 3


def test_an_added_hit_may_be_open():
    stage = last(HEADLAND, cell="sixteenth", open="a")
    assert hits(stage, "open hi-hat") == "3 7 11 15"
    assert hits(stage, "hi-hat") == "0 1 2 4 5 6 8 9 10 12 13 14"


def test_what_is_no_hihat_cannot_be_opened():
    stage = last(SEVEN, cell="eighth", open="upbeats beats")
    assert stage.says == ("the ride cannot be opened; only the hi-hat can",)
    assert hits(stage, "open hi-hat") == ""


def test_accents_of_the_pattern():
    """Sixteenths accented with the kick: 0 and 8 were there, 7 is new."""
    stage = last(HEADLAND, cell="sixteenth", accent="kick")
    assert hits(stage, "hi-hat") == "0A 1 2 3 4 5 6 7A 8A 9 10 11 12 13 14 15"
    assert stage.change.altered == ("0/hi-hat@0", "0/hi-hat@1/2")


def test_accents_off_the_columns_of_the_beat():
    """Sixteenths over eighth triplets: e lies a sixteenth after the beat, on no column."""
    stage = last(SHUFFLE, cell="sixteenth", accent="e")
    accents = [s.at for s in stage.beat.strokes if s.surface == "hi-hat" and s.dynamic == "accent"]
    assert accents == [2520, 12600, 22680, 32760]


def test_first_and_free_count_among_the_hits():
    """Dotted eighths hit 0 3 6 9 12 15. The first e that is hit is 9; of the upbeats 6 is hit, and nothing else is there."""
    stage = last(HEADLAND, cell="dotted eighth", open="first e", accent="upbeats free")
    assert (hits(stage, "hi-hat"), hits(stage, "open hi-hat")) == ("0 3 6A 12 15", "9")
    assert hits(last(HEADLAND, cell="eighth", accent="beats free"), "hi-hat") == "0 2 4 6 8 10 12 14"


def test_new_hits_have_their_dynamic_and_old_ones_keep_theirs():
    stage = last(HEADLAND, cell="sixteenth", dynamic="soft", accent="1e")
    assert hits(stage, "hi-hat") == "0 1A 2 3s 4 5s 6 7s 8 9s 10 11s 12 13s 14 15s"


def test_a_place_without_a_hit_is_said():
    assert last(HEADLAND, cell="quarter", accent="4a").says == ("the pattern has no stroke at 4a",)
    assert last(HEADLAND, cell="quarter", open="stage 5").says == ("found no stroke that stage 5 brought",)


def test_quarters_in_seven_eight():
    """Seven quarters fill two bars of 7/8: hits on 0 4 8 12, the group starts are 0 4 8."""
    stage = last(SEVEN, cell="quarter", accent="beats", dynamic="ghost")
    assert hits(stage, "ride") == "0A 4A 8A 12"
    assert stage.says == ("cut at the loop; comes round after 2 bars",)
    assert offered(stage) == ["Lengthen the beat to 2 bars: it comes out even"]


@pytest.mark.parametrize(
    ("base", "cell", "rounds", "bars"),
    [
        (HEADLAND, "eighth", 0, 0),
        (HEADLAND, "dotted eighth", 3, 3),
        (TWO_BARS, "dotted eighth", 3, 6),  # two bars repeated whole: after six bars three of them have passed
        (HEADLAND, "whole sixteenth", 17, 0),  # seventeen sixteenths: longer than any beat may be
    ],
)
def test_lengthening_is_offered_where_a_beat_can_be_so_long(base, cell, rounds, bars):
    stage = last(base, cell=cell)
    assert stage.says == ((f"cut at the loop; comes round after {rounds} bars",) if rounds else ())
    assert offered(stage) == ([f"Lengthen the beat to {bars} bars: it comes out even"] if bars else [])


def test_taking_up_the_offer_puts_a_length_before_it_and_keeps_its_promise():
    cut = stack.add(TWO_BARS, "ostinato", {"cell": "dotted eighth"})
    longer = stack.accept(cut, stack.grow(cut), 1, 0)
    assert [(v.kind, v.settings) for v in longer.variations] == [
        ("length", (("bars", "6"),)), ("ostinato", (("cell", "dotted eighth"),)),
    ]  # fmt: skip
    stage = stack.grow(longer)[-1]
    assert (stage.says, stage.offers, stage.beat.bars) == ((), (), 6)
    with pytest.raises(GroundbeatError, match="this stage has 0 offers"):
        stack.accept(longer, stack.grow(longer), 1, 0)


def test_the_offer_is_true():
    twice = groove('hi-hat = "x-x-x-x-x-x-x-x-|x-x-x-x-x-x-x-x-|x-x-x-x-x-x-x-x-"')
    assert last(twice, cell="dotted eighth").says == ()


@pytest.mark.parametrize(
    ("settings", "said"),
    [
        ({"cell": "sixteenth sixteenth eighth"}, "Let the riding hand repeat two sixteenths and an eighth."),
        (
            {"cell": "eighth", "open": "4&", "accent": "backbeats", "dynamic": "ghost", "restart": "bar"},
            "Let the riding hand repeat an eighth, beginning anew in each bar, open at the & of 4, accented at the "
            "backbeats, adding ghost notes.",
        ),
        (
            {"cell": "eighth", "open": "kick", "surface": "hi-hat"},
            "Let the hi-hat repeat an eighth, open where the kick sounds.",
        ),
    ],
)
def test_the_sentence_says_every_setting(settings, said):
    assert plain(make(1, "ostinato", settings)) == said


@pytest.mark.parametrize(
    ("settings", "field", "message"),
    [
        ({"cell": "eighth", "dynamic": "loud"}, "dynamic", '"loud" is not a dynamic'),
        ({"cell": "eighth", "open": "17e"}, "open", "the numbers of a bar go from 1 to 15"),
        ({"cell": "eighth", "accent": "a1"}, "accent", "can be read two ways"),
    ],
)
def test_what_is_out_of_range_is_named(settings, field, message):
    with pytest.raises(GroundbeatError, match=message) as caught:
        make(1, "ostinato", settings)
    assert caught.value.field == field


@given(beats(), st.data())
def test_opening_accents_and_dynamics_change_no_place(beat, data):
    raw = data.draw(settings_of("ostinato"))
    bare = {name: raw[name] for name in ("surface", "cell", "restart") if name in raw}
    plain_stage, stage = (grow(add(Groove(base=beat), "ostinato", each))[-1] for each in (bare, raw))
    spots = [sorted((s.at, s.instrument) for s in each.beat.strokes) for each in (plain_stage, stage)]
    assert spots[0] == spots[1]
    assert plain_stage.change.left_out == stage.change.left_out


@given(beats(), st.data())
def test_an_ostinato_laid_twice_is_laid_once(beat, data):
    """Where the target stays the same surface, the second time keeps every stroke."""
    raw = data.draw(settings_of("ostinato")) | {"surface": "cowbell", "accent": "beats", "open": "ones"}
    groove_once = add(Groove(base=beat), "ostinato", raw)
    once, twice = grow(add(groove_once, "ostinato", raw))[1:]
    assert once.beat == twice.beat
