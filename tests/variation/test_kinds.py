"""What each kind does beyond the examples: edges that a teacher would ask about."""

from __future__ import annotations

import pytest

from groundbeat.codec.groove_read import read_groove
from groundbeat.errors import GroundbeatError
from groundbeat.variation.notes import read_amount, read_cell
from groundbeat.variation.stack import add, edit, grow, make, move, onto, plain, remove, switch


def groove(lines: str, meter: str = "4/4", columns: str = "sixteenths"):
    return read_groove(f'groundbeat = 1\nmeter = "{meter}"\ncolumns = "{columns}"\n[base]\n{lines}\n')


ROCK = groove('hi-hat = "x-x-x-x-x-x-x-x-"\nsnare = "----O-------O---"\nkick = "o-------o-------"')


def columns(stage, surface):
    return [stroke.at // 2520 for stroke in stage.beat.strokes if stroke.surface == surface]


def last(base, kind, **settings):
    return grow(add(base, kind, {name.replace("_", "-").strip("-"): value for name, value in settings.items()}))[-1]


def test_displacing_the_whole_beat_keeps_every_distance():
    stage = last(ROCK, "displace", by="1/16 later")
    assert columns(stage, "snare") == [5, 13]
    assert columns(stage, "kick") == [1, 9]
    assert len(stage.change.moved) == 12


def test_what_passes_the_end_crosses_the_loop():
    stage = last(ROCK, "displace", surface="snare", at="4", by="1/4 later")
    assert columns(stage, "snare") == [0, 4]
    assert stage.change.crossed == ("0/snare@3/4",)


def test_displacing_by_a_whole_cycle_moves_nothing():
    stage = last(ROCK, "displace", by="1/1 later")
    assert not stage.change.moved
    assert len(stage.change.kept) == 12


def test_of_equal_strokes_the_one_that_did_not_move_stays():
    stage = last(ROCK, "displace", surface="hi-hat", at="1", by="1/8 later")
    (merge,) = stage.change.merged
    assert merge.id == "0/hi-hat@1/8"
    assert merge.parents == ("0/hi-hat@1/8", "0/hi-hat@0")


def test_all_selected_strokes_move_before_any_of_them_meet():
    """Eighths moved by an eighth land on each other's places and merge with none."""
    stage = last(ROCK, "displace", surface="hi-hat", by="1/8 later")
    assert not stage.change.merged
    assert columns(stage, "hi-hat") == [0, 2, 4, 6, 8, 10, 12, 14]


def test_the_louder_brings_its_grace_along():
    base = groove('snare = "----O--g--------"\nsnare-graces = "----1--2--------"')
    stage = last(base, "displace", surface="snare", at="2", by="3/16 later")
    (stroke,) = stage.beat.strokes
    assert (stroke.id, stroke.at // 2520, stroke.dynamic, stroke.grace) == ("0/snare@1/4", 7, "accent", "flam")


def test_embellish_never_lands_on_its_own_instrument():
    base = groove('rimshot = "-o--------------"\nhi-hat = "x---------------"')
    stage = last(base, "embellish", surface="snare", at="1e 1a")
    assert columns(stage, "snare") == [3]


def test_embellish_clear_of_a_role_follows_the_role():
    base = groove('ride = "x-xx----x-------"\nsnare = "----O-------O---"')
    stage = last(base, "embellish", at="e a", **{"clear-of": ["riding"]})
    assert columns(stage, "snare") == [1, 4, 5, 7, 9, 11, 12, 13, 15]


def test_extra_kicks_come_in_at_their_dynamic():
    stage = last(ROCK, "embellish", surface="kick", at="2& 3a", dynamic="soft", grace="diddle")
    added = [stroke for stroke in stage.beat.strokes if stroke.id in stage.change.added]
    assert [(s.at // 2520, s.surface, s.dynamic, s.grace) for s in added] == [
        (6, "kick", "soft", "diddle"),
        (11, "kick", "soft", "diddle"),
    ]


def test_an_ostinato_that_begins_anew_in_each_bar():
    base = groove('hi-hat = "x-x-x-x-x-x-x-x-|x-x-x-x-x-x-x-x-"')
    through = last(base, "ostinato", cell="dotted eighth")
    anew = last(base, "ostinato", cell="dotted eighth", restart="bar")
    assert columns(through, "hi-hat") == [0, 3, 6, 9, 12, 15, 18, 21, 24, 27, 30]
    assert columns(anew, "hi-hat") == [0, 3, 6, 9, 12, 15, 16, 19, 22, 25, 28, 31]
    assert anew.says == ("cut at every bar line",)


def test_rests_in_a_cell_are_silent():
    stage = last(ROCK, "ostinato", cell="eighth rest eighth")
    assert columns(stage, "hi-hat") == [2, 6, 10, 14]
    assert stage.says == ()


def test_an_ostinato_takes_over_the_whole_instrument():
    base = groove('hi-hat = "x-x-x-x-x-x-x---"\nopen-hi-hat = "--------------x-"')
    stage = last(base, "ostinato", cell="quarter")
    assert {stroke.surface for stroke in stage.beat.strokes} == {"hi-hat"}
    assert columns(stage, "hi-hat") == [0, 4, 8, 12]


def test_an_ostinato_of_the_foot_needs_no_foot_in_the_beat():
    stage = last(ROCK, "ostinato", surface="hi-hat foot", cell="quarter rest quarter")
    assert columns(stage, "hi-hat foot") == [4, 12]


def test_orchestrate_merges_on_a_taken_place():
    base = groove('hi-hat = "x-x-------------"\nride = "s---------------"')
    stage = last(base, "orchestrate", surface="hi-hat", to="ride")
    assert [(s.id, s.surface) for s in stage.beat.strokes] == [("0/hi-hat@0", "ride"), ("0/hi-hat@1/8", "ride")]
    assert stage.change.merged[0].parents == ("0/hi-hat@0", "0/ride@0")


def test_a_hand_pin_goes_when_a_foot_takes_over():
    base = groove('snare = "o---------------"\nsnare-hands = "L---------------"')
    assert last(base, "orchestrate", surface="snare", to="kick").beat.strokes[0].hand == ""


@pytest.mark.parametrize(
    ("kind", "settings", "said"),
    [
        ("displace", {"surface": "backbeat voice", "by": "1/16 later"}, "found no backbeat"),
        ("displace", {"surface": "riding", "by": "1/16 later"}, "found no riding hand"),
        ("displace", {"surface": "ride", "by": "1/16 later"}, "found no ride"),
        ("displace", {"surface": "floor tom", "at": "3e", "by": "1/16 later"}, "found no floor tom at 3e"),
        ("displace", {"at": "first backbeat", "by": "1/16 later"}, "found no backbeat"),
        ("embellish", {"at": "trip"}, "found no trip in sixteenths of 4/4"),
        ("embellish", {"surface": "riding"}, "found no riding hand"),
        ("embellish", {"at": "3:1"}, "found no 1 in bar 3 in sixteenths of 4/4"),
        ("ostinato", {"cell": "quarter"}, "found no riding hand"),
        ("touch-up", {"changes": ["- kick 2&"]}, "found no kick at the & of 2"),
        ("touch-up", {"changes": ["+ snare 7"]}, "this beat has no 7"),
        ("touch-up", {"changes": ["+ floor tom 1"]}, "the floor tom already sounds at 1; nothing added there"),
    ],
)
def test_what_is_not_there_is_said_and_the_rest_goes_on(kind, settings, said):
    base = groove('floor-tom = "o-------o-------"\nkick = "o---------------"')
    if "riding" in (settings.get("surface"), "riding" if kind == "ostinato" else ""):
        base = groove('kick = "o---------------"')
    stage = grow(add(add(base, kind, settings), "displace", {"surface": "kick", "by": "1/8 later"}))
    assert said in stage[1].says
    assert columns(stage[2], "kick") == [2]


def test_the_upbeat_is_read_as_let_on_a_triplet_beat():
    base = groove('hi-hat = "x-xx-xx-xx-x"\nkick = "o-----------"', columns="eighth triplets")
    stage = last(base, "embellish", surface="snare", at="&")
    assert [stroke.at for stroke in stage.beat.strokes if stroke.surface == "snare"] == [6720, 16800, 26880, 36960]
    assert stage.says == ("& is read as let on this beat",)


def test_the_first_backbeat_stays_the_first_of_the_base_beat():
    """Backbeats are followed: moving the first behind the second does not make the second the first."""
    one = add(ROCK, "displace", {"at": "first backbeat", "by": "5/8 later"})
    two = add(one, "orchestrate", {"at": "first backbeat", "to": "cross-stick"})
    stage = grow(two)[-1]
    assert columns(stage, "cross-stick") == [14]


@pytest.mark.parametrize(
    ("kind", "settings", "field", "said"),
    [
        ("displace", {}, "by", 'displace needs "by"'),
        ("displace", {"by": "1/100 later"}, "by", "not a whole number of ticks; try 1/96"),
        ("displace", {"by": "0/4 later"}, "by", "moves nothing"),
        ("displace", {"by": "17/1 later"}, "by", "at most 16 whole notes"),
        ("displace", {"by": "a bit"}, "by", "not an amount"),
        ("displace", {"by": "1/16 later", "at": "backbeet"}, "at", "not a place"),
        ("displace", {"by": "1/16 later", "at": "a1"}, "at", "two ways"),
        ("displace", {"by": "1/16 later", "amount": "2"}, "amount", 'no setting "amount"'),
        ("displace", {"by": 3}, "by", "not text"),
        ("embellish", {"dynamic": "loud"}, "dynamic", "not a dynamic"),
        ("embellish", {"grace": "trill"}, "grace", "not a grace"),
        ("embellish", {"clear-of": ["kick", "tuba"]}, "clear-of.#1", "neither a surface nor a role"),
        ("ostinato", {"cell": "sixteenth sixteen"}, "cell", "not a note value"),
        ("ostinato", {"cell": "eighth rest"}, "cell", "rests alone"),
        ("ostinato", {"cell": "eighth", "restart": "beat"}, "restart", "never, bar"),
        ("orchestrate", {"to": "riding"}, "to", "not a surface"),
        ("orchestrate", {"to": "ride", "then": {"at": "beats"}}, "then.to", 'needs "to"'),
        ("touch-up", {"changes": ["+ snare"]}, "changes.#0", "not a change"),
        ("touch-up", {"changes": ["= snare 2"]}, "changes.#0", "changes nothing"),
    ],
)
def test_a_setting_out_of_range_names_field_and_what_is_allowed(kind, settings, field, said):
    with pytest.raises(GroundbeatError, match=said) as caught:
        make(1, kind, settings)
    assert caught.value.field == field


def test_an_unknown_kind_offers_the_nearest():
    with pytest.raises(GroundbeatError, match='did you mean "displace"'):
        make(1, "displaced", {})


def test_the_stack_is_edited_without_touching_the_old_one():
    one = add(ROCK, "displace", {"by": "1/16 later"})
    two = add(one, "ostinato", {"cell": "quarter"}, after=0)
    assert [v.key for v in two.variations] == [2, 1]
    assert [v.key for v in move(two, 1, 1).variations] == [1, 2]
    assert [v.on for v in switch(two, 1, False).variations] == [True, False]
    assert dict(edit(two, 1, {"by": "1/8 earlier", "surface": "snare"}).variations[1].settings) == {
        "surface": "snare",
        "by": "1/8 earlier",
    }
    assert edit(edit(two, 1, {"surface": "snare"}), 1, {"surface": None}) == two
    assert remove(two, 2).variations == one.variations
    with pytest.raises(GroundbeatError, match="no variation with key 9"):
        remove(two, 9)


def test_variations_go_onto_another_beat_with_their_keys():
    stack = add(remove(add(ROCK, "displace", {"by": "1/16 later"}), 1), "ostinato", {"cell": "quarter"})
    moved = onto(groove('ride = "x-x-x-x-x-x-x-x-"'), stack)
    assert [v.key for v in moved.variations] == [2]
    assert columns(grow(moved)[-1], "ride") == [0, 4, 8, 12]


@pytest.mark.parametrize(
    ("kind", "settings", "said"),
    [
        (
            "displace",
            {"surface": "backbeat voice", "at": "first backbeat", "by": "1/16 later"},
            "Move the first backbeat of the backbeat voice a sixteenth later.",
        ),
        (
            "displace",
            {"surface": "snare", "at": "2", "by": "5/16 earlier"},
            "Move the 2 of the snare five sixteenths earlier.",
        ),
        (
            "embellish",
            {"except": "4a", "clear-of": ["kick"]},
            "Add ghost notes on the snare at every e and a, clear of the kick, except the a of 4.",
        ),
        (
            "ostinato",
            {"cell": "sixteenth sixteenth eighth"},
            "Let the riding hand repeat two sixteenths and an eighth.",
        ),
        (
            "orchestrate",
            {"surface": "riding", "to": "ride", "then": {"at": "beats", "to": "ride bell"}},
            "Play every stroke of the riding hand on the ride, the beats on the ride bell.",
        ),
        ("touch-up", {"changes": ["+ snare 3a ghost"]}, "By hand: add a ghost on the snare at the a of 3."),
    ],
)
def test_a_sentence_reads_as_a_teacher_would_say_it(kind, settings, said):
    assert plain(make(1, kind, settings)) == said


def test_amounts_and_cells_are_exact():
    assert read_amount("1/12 later") == 3360
    assert [note.ticks for note in read_cell("dotted quarter eighth triplet half")] == [15120, 3360, 20160]
