"""Sheets for a class: what is asked for is what the beat plays, and the answers are right."""

from __future__ import annotations

from itertools import islice, pairwise, permutations, product
from pathlib import Path

import pytest

from groundbeat.codec.groove_read import read_groove
from groundbeat.errors import VariationError
from groundbeat.model.groove import Groove
from groundbeat.model.own_kit import read_kit
from groundbeat.variation import stack
from groundbeat.variation.sheets import HEADINGS, MOST_SEED, UNSAID, Item, letter, make_sheet, shuffled

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
SLACK_TIDE = read_groove((EXAMPLES / "slack-tide.toml").read_text(encoding="utf-8"))
SIXTEENTH = 2520
HEAD = 'groundbeat = 1\nmeter = "{}"\ncolumns = "{}"\n[base]\n'


def columns(item: Item, surface: str, column: int = SIXTEENTH) -> list[int]:
    return [stroke.at // column for stroke in item.stage.beat.strokes if stroke.surface == surface]


def figure(item: Item, column: int = SIXTEENTH) -> list[int]:
    return [stroke.at // column for stroke in item.stage.beat.strokes if stroke.id in item.figure]


# --- every place in turn


def test_the_backbeats_of_slack_tide_stand_on_every_place_of_their_beat():
    sheet = make_sheet(SLACK_TIDE, "turns", 0)
    assert sheet.of == "backbeats"
    assert [columns(item, "snare") for item in sheet.items] == [[4, 12], [5, 13], [6, 14], [7, 15]]
    assert [item.begins for item in sheet.items] == [
        "begins on 2",
        "begins on the e of 2",
        "begins on the & of 2",
        "begins on the a of 2",
    ]
    assert [item.label for item in sheet.items] == ["1", "2", "3", "4"]
    assert sheet.items[0].sentence == "As it was."
    assert "3 steps of a sixteenth" in sheet.items[3].sentence


def test_the_kick_goes_round_the_bar_and_the_rest_stays():
    sheet = make_sheet(SLACK_TIDE, "turns", 0, of="kick")
    assert len(sheet.items) == 16
    for turn, item in enumerate(sheet.items):
        assert columns(item, "kick") == sorted((at + turn) % 16 for at in (0, 7, 8))
        assert figure(item) == columns(item, "kick")
        assert columns(item, "snare") == [4, 12]
        assert columns(item, "hi-hat") == list(range(0, 16, 2))
    assert sheet.items[9].begins == "begins on the e of 3"  # what stood on 1, nine sixteenths on


def test_a_figure_made_on_a_stage_is_that_stages_and_nothing_after_it_counts():
    sheet = make_sheet(SLACK_TIDE, "turns", 1)
    assert [columns(item, "snare") for item in sheet.items] == [[5, 12], [6, 13], [7, 14], [4, 15]]
    assert all(columns(item, "ride") == [] for item in sheet.items)


def test_a_variation_that_permutes_is_what_is_shown_wherever_it_stands():
    # In the middle of the others: the stage after each turn is drawn, not the last stage.
    groove = stack.add(SLACK_TIDE, "permute", {"surface": "kick", "turn": "3", "within": "half bar"}, after=1)
    for number in range(6):
        sheet = make_sheet(groove, "turns", number)
        assert sheet.of == "5"
        assert len(sheet.items) == 8
        # By hand: 0 7 in the first half, 8 in the second, each round its eight sixteenths.
        for turn, item in enumerate(sheet.items):
            assert columns(item, "kick") == sorted([turn % 8, (7 + turn) % 8, 8 + turn % 8])
            assert columns(item, "snare") == [5, 12]
            assert item.stage.number == 2
    assert [value for value, _ in sheet.choices] == ["5", "backbeats", "kick"]


def test_of_several_the_nearest_at_or_before_the_stage_is_chosen():
    two = stack.add(SLACK_TIDE, "permute", {"surface": "kick"}, after=1)
    two = stack.add(two, "permute", {"surface": "snare"})
    assert [make_sheet(two, "turns", number).of for number in range(7)] == ["5"] * 6 + ["6"]


def test_a_variation_that_is_off_can_be_turned_too():
    groove = stack.add(SLACK_TIDE, "permute", {"surface": "kick", "turn": "3"}, after=0)
    off = stack.switch(groove, 5, False)
    rows = [[columns(item, "kick") for item in make_sheet(each, "turns", 1).items] for each in (groove, off)]
    assert rows[0] == rows[1] and len(rows[0]) == 16


def test_a_step_is_a_column():
    text = HEAD.format("12/8", "eighths") + 'kick = "o-----o-----"\nsnare = "---O-----O--"\n'
    groove = read_groove(text)
    assert [columns(item, "kick", 5040) for item in make_sheet(groove, "turns", 0, of="kick").items][:3] == [
        [0, 6],
        [1, 7],
        [2, 8],
    ]
    # The backbeats are eighths 4 and 10, each the first of a group of three.
    assert [columns(item, "snare", 5040) for item in make_sheet(groove, "turns", 0).items] == [[3, 9], [4, 10], [5, 11]]


def test_a_stroke_that_is_taken_in_by_another_still_tells_where_the_figure_is():
    text = HEAD.format("4/4", "sixteenths") + 'snare = "----O--o----O---"\n'
    groove = stack.add(read_groove(text), "permute", {"surface": "snare", "at": "2", "turn": "1"})
    third = make_sheet(groove, "turns", 1).items[3]
    # The backbeat of 2 has come to the a of 2, where a softer one was: the louder stays and is the figure.
    assert columns(third, "snare") == [7, 12]
    assert figure(third) == [7]
    assert third.begins == "begins on the a of 2"


def test_the_document_stays_as_it_is():
    before = repr(SLACK_TIDE)
    for name in HEADINGS:
        make_sheet(SLACK_TIDE, name, 2)
    assert repr(SLACK_TIDE) == before


# --- write the count


def test_the_blanks_of_slack_tide_are_where_something_sounds_with_what_is_counted_there():
    (item,) = make_sheet(SLACK_TIDE, "count", 1).items
    # By hand: hi-hat on eighths, snare on columns 5 and 12, kick on 0 7 8.
    assert [(blank.at // SIXTEENTH, blank.answer) for blank in item.blanks] == [
        (0, "1"), (2, "&"), (4, "2"), (5, "e"), (6, "&"), (7, "a"), (8, "3"), (10, "&"), (12, "4"), (14, "&"),
    ]  # fmt: skip
    assert item.blanks[3].words == "e of 2"


@pytest.mark.parametrize("path", sorted(EXAMPLES.rglob("*.toml")), ids=lambda path: path.stem)
def test_the_blanks_are_the_places_of_the_strokes(path: Path):
    groove = read_groove(path.read_text(encoding="utf-8"))
    for stage in stack.grow(groove):
        sheet = make_sheet(groove, "count", stage.number)
        assert [blank.at for blank in sheet.items[0].blanks] == sorted({stroke.at for stroke in stage.beat.strokes})
        for surface, _ in sheet.choices[1:]:
            (item,) = make_sheet(groove, "count", stage.number, of=surface).items
            assert [blank.at for blank in item.blanks] == [
                stroke.at for stroke in stage.beat.strokes if stroke.surface == surface
            ]
            assert item.stage.beat.strokes == stage.beat.strokes  # the other lines are drawn all the same


def test_one_line_alone_can_be_counted():
    sheet = make_sheet(SLACK_TIDE, "count", 2, of="snare")
    assert sheet.choices[:2] == (("", "everything that sounds"), ("hi-hat", "the hi-hat alone"))
    assert [blank.answer for blank in sheet.items[0].blanks] == ["e", "a", "e", "e", "a", "4", "e"]
    assert "where the snare sounds" in sheet.task


def test_where_nothing_is_said_aloud_a_dash_is_the_answer_and_the_sheet_says_so():
    text = HEAD.format("2/4", "thirty-seconds") + 'snare = "oo--oo----------"\n'
    sheet = make_sheet(read_groove(text), "count", 0)
    assert [blank.answer for blank in sheet.items[0].blanks] == ["1", UNSAID, "&", UNSAID]
    assert "draw a dash" in sheet.task
    assert "dash" not in make_sheet(SLACK_TIDE, "count", 0).task


def test_triplets_are_counted_as_triplets():
    text = HEAD.format("4/4", "eighth triplets") + 'snare = "ooo---------"\n'
    assert [blank.answer for blank in make_sheet(read_groove(text), "count", 0).items[0].blanks] == ["1", "trip", "let"]


# --- which stage do you hear?


@pytest.mark.parametrize("seed", [1, 2, 77, MOST_SEED])
def test_letters_and_order_are_permutations_of_the_stages_and_stay_the_same(seed: int):
    sheet = make_sheet(SLACK_TIDE, "hear", 0, seed=seed)
    assert [item.label for item in sheet.items] == ["A", "B", "C", "D", "E"]
    assert sorted(item.stage.number for item in sheet.items) == [0, 1, 2, 3, 4]
    assert sorted(play.label for play in sheet.plays) == ["A", "B", "C", "D", "E"]
    assert sheet == make_sheet(SLACK_TIDE, "hear", 4, seed=seed)


def test_the_key_names_the_stage_that_stands_under_the_letter():
    sheet = make_sheet(SLACK_TIDE, "hear", 0, seed=3)
    numbers = {item.label: item.stage.number for item in sheet.items}
    assert [numbers[play.label] for play in sheet.plays] == [play.stage for play in sheet.plays]
    told = {play.stage: play.told for play in sheet.plays}
    assert told[0] == "the base beat"
    assert told[3] == "stage 3: Let the riding hand repeat two sixteenths and an eighth."


def test_another_number_gives_another_order_and_so_does_another_beat():
    def orders(groove: Groove, seed: int) -> tuple[list[int], list[str]]:
        sheet = make_sheet(groove, "hear", 0, seed=seed)
        return [item.stage.number for item in sheet.items], [play.label for play in sheet.plays]

    assert len({str(orders(SLACK_TIDE, seed)) for seed in range(1, 41)}) > 30
    other = stack.onto(read_groove((EXAMPLES / "lantern-walk.toml").read_text(encoding="utf-8")), SLACK_TIDE)
    assert sum(orders(SLACK_TIDE, seed) == orders(other, seed) for seed in range(1, 41)) < 5


def test_a_new_name_or_note_or_tempo_leaves_the_order_as_it_is():
    text = (EXAMPLES / "slack-tide.toml").read_text(encoding="utf-8")
    renamed = read_groove(
        text.replace('"Slack Tide"', '"Neap"').replace("92", "70").replace("Under the knuckles.", "Low.")
    )
    assert [play.label for play in make_sheet(renamed, "hear", 0, seed=9).plays] == [
        play.label for play in make_sheet(SLACK_TIDE, "hear", 0, seed=9).plays
    ]


def test_stages_that_sound_alike_stand_on_the_sheet_once():
    twice = stack.switch(stack.add(SLACK_TIDE, "displace", {"by": "1/8 later", "surface": "crash"}), 1, False)
    sheet = make_sheet(twice, "hear", 0)
    # Stage 1 is off and stage 5 finds no crash: neither can be told from the one before it.
    assert sorted(item.stage.number for item in sheet.items) == [0, 2, 3, 4]


def test_a_beat_is_played_for_at_least_four_bars():
    two = read_groove(
        HEAD.format("4/4", "eighths").replace("[base]", "bars = 3\n[base]")
        + f'kick = "{"o-------" * 3}"\n[[variation]]\nkind = "displace"\nsurface = "kick"\nby = "1/8 later"\n'
    )
    assert {play.passes for play in make_sheet(two, "hear", 0).plays} == {2}
    assert {play.passes for play in make_sheet(SLACK_TIDE, "hear", 0).plays} == {4}


def test_every_order_is_as_likely_as_another():
    # Numbers that leave every rest equally often give every one of the 24 orders once.
    rests = product(range(4), range(3), range(2))
    assert sorted(shuffled(4, iter(rest)) for rest in rests) == list(permutations(range(4)))


def test_letters_go_on_after_z():
    assert [letter(at) for at in (0, 25, 26, 27, 51, 52)] == ["A", "Z", "AA", "AB", "AZ", "BA"]
    names = [letter(at) for at in range(80)]
    assert len(set(names)) == 80 and all(len(one) <= len(other) for one, other in pairwise(names))


# --- on a student's kit, and what cannot be


def test_on_a_kit_the_sheets_show_what_is_played_there():
    pad = read_kit("pad")
    assert pad is not None
    assert {
        stroke.surface
        for item in make_sheet(SLACK_TIDE, "hear", 0, kit=pad).items
        for stroke in item.stage.beat.strokes
    } == {"snare"}
    turned = make_sheet(SLACK_TIDE, "turns", 0, kit=pad)
    assert all({stroke.surface for stroke in item.stage.beat.strokes} == {"snare"} for item in turned.items)


@pytest.mark.parametrize(
    ("name", "number", "more", "told", "field"),
    [
        ("heard", 0, {}, '"heard" is not a sheet; did you mean "hear"', "sheet"),
        ("count", 5, {}, "there are stages 0 to 4, not 5", "stage"),
        ("count", -1, {}, "there are stages 0 to 4, not -1", "stage"),
        ("count", 0, {"of": "crash"}, 'no sheet can be made of "crash" here', "of"),
        ("turns", 0, {"of": "7"}, 'no sheet can be made of "7" here', "of"),
        ("hear", 0, {"seed": 0}, "from 1 to 9999, not 0", "seed"),
        ("hear", 0, {"seed": 10_000}, "from 1 to 9999, not 10000", "seed"),
    ],
)
def test_what_cannot_be_is_told(name: str, number: int, more: dict[str, object], told: str, field: str):
    with pytest.raises(VariationError, match=told) as error:
        make_sheet(SLACK_TIDE, name, number, **more)  # type: ignore[arg-type]
    assert error.value.field == field


def test_a_beat_with_nothing_to_turn_to_count_or_to_tell_apart_says_so():
    silent = read_groove(HEAD.format("4/4", "eighths") + 'hi-hat = "--------"\n')
    with pytest.raises(VariationError, match="stage 0 is silent"):
        make_sheet(silent, "count", 0)
    with pytest.raises(VariationError, match="no backbeats and no kick to turn"):
        make_sheet(silent, "turns", 0)
    with pytest.raises(VariationError, match="sound alike"):
        make_sheet(silent, "hear", 0)


def test_the_numbers_of_the_order_are_those_of_splitmix64():
    from groundbeat.variation.sheets import _mixed

    # The first three outputs of the generator begun with 1234567, as its published test values have them.
    assert list(islice(_mixed(1234567), 3)) == [6457827717110365317, 3203168211198807973, 9817491932198370423]
