"""A stage reads as tablature: counts above, a line a surface from the top, and nothing that sounds is left unsaid."""

from __future__ import annotations

import pytest

from groundbeat.codec.groove_read import read_groove
from groundbeat.codec.tab import columns_for, key, tab
from groundbeat.model.beat import Beat
from groundbeat.model.meter import Meter
from groundbeat.variation.stack import grow


def beat(text: str) -> Beat:
    return read_groove("groundbeat = 1\n" + text).base


def shown(text: str) -> str:
    return tab(beat(text))


def test_a_beat_reads_as_it_was_written():
    assert shown('[base]\nhi-hat = "x-X-x-x-x-x-x-x-"\nsnare = "g---O--g-s--O---"\nkick = "o------oo-------"\n') == (
        "        1e&a2e&a3e&a4e&a\nhi-hat |x-X-x-x-x-x-x-x-|\nsnare  |g---O--g-s--O---|\nkick   |o------oo-------|"
    )


def test_lines_stand_from_the_top_of_the_kit_whatever_the_order_of_the_file():
    rows = {"kick": "o-------", "hi-hat-foot": "--x-----", "crash": "x-------", "snare": "--o-----"}
    text = "".join(f'{name} = "{letters}"\n' for name, letters in rows.items())
    lines = shown(f'columns = "eighths"\n[base]\n{text}').split("\n")
    assert [line.partition("|")[0].strip() for line in lines[1:]] == ["crash", "snare", "kick", "hi-hat foot"]
    assert len({len(line) for line in lines[1:]}) == 1


@pytest.mark.parametrize(
    ("head", "counts"),
    [
        ('meter = "4/4"\ncolumns = "eighths"', "1&2&3&4&"),
        ('meter = "3/4"', "1e&a2e&a3e&a"),
        ('meter = "4/4"\ncolumns = "eighth triplets"', "1tl2tl3tl4tl"),
        ('meter = "2/4"\ncolumns = "sixteenth triplets"', "1tl&tl2tl&tl"),
        ('meter = "2/4"\ncolumns = "thirty-seconds"', "1 e & a 2 e & a"),
        ('meter = "6/8"\ncolumns = "eighths"', "123456"),
        ('meter = "6/8"', "1&2&3&4&5&6&"),
        ('meter = "12/8"\ncolumns = "eighths"', "123456789012"),
        ('meter = "7/8"', "1&2&3&4&5&6&7&"),
        ('meter = "5/16"', "12345"),
        ('meter = "2/2"\ncolumns = "eighths"', "1e&a2e&a"),
    ],
)
def test_the_counts_are_those_that_are_spoken(head: str, counts: str):
    base = beat(head + "\n")
    assert shown(head + "\n") == (" " * 2 + counts).rstrip()
    width = base.meter.bar // base.column
    line = shown(f'{head}\n[base]\nkick = "{"o" * width}"\n').split("\n")
    assert line == [(" " * 6 + counts).rstrip(), f"kick |{'o' * width}|"]


def test_bars_are_parted_by_bar_lines():
    assert shown('columns = "eighths"\n[base]\nhi-hat = "x-x-x-x-|xxxxxxxx"\nkick = "o-------|%"\n') == (
        "        1&2&3&4& 1&2&3&4&\n"
        "hi-hat |x-x-x-x-|xxxxxxxx|\n"
        "kick   |o-------|o-------|"
    )  # fmt: skip


def test_graces_stand_below_their_line_and_only_where_there_are_some():
    text = 'columns = "eighths"\n[base]\nride = "x-x-x-x-|%"\nsnare = "oooooo-o|--o---o-"\n'
    assert shown(text + 'snare-graces = "123z/#--|------1-"\n') == (
        "        1&2&3&4& 1&2&3&4&\nride   |x-x-x-x-|x-x-x-x-|\nsnare  |oooooo-o|--o---o-|\ngraces  123z/#         1"
    )


def test_pinned_hands_stand_below_their_line_unless_all_hands_stand_below_all_lines():
    base = beat('columns = "eighths"\n[base]\nsnare = "oooo----"\nsnare-hands = "RLLR----"\nkick = "o-------"\n')
    assert tab(base).split("\n")[1:] == ["snare |oooo----|", "hands  RLLR", "kick  |o-------|"]
    assert tab(base, [("right hand", {0: "R"})]).split("\n")[1:] == [
        "snare      |oooo----|",
        "kick       |o-------|",
        "right hand  R",
    ]


def test_a_long_beat_goes_on_in_systems_below_each_other():
    lines = tab(beat('[base]\nhi-hat = "x-x-x-x-x-x-x-x-|%|%|%|%|%"\n')).split("\n")
    assert [line.count("|") for line in lines] == [0, 5, 0, 0, 3]
    assert [line.count("1") for line in lines] == [4, 0, 0, 2, 0]


def test_the_key_names_the_letters_that_stand_there_and_no_others():
    base = beat('columns = "eighths"\n[base]\nhi-hat = "x-X-----"\nsnare = "g-s-----"\nsnare-graces = "1-2-----"\n')
    assert key([base]) == "x stroke, X accent, g ghost, s soft; graces: 1 flam, 2 drag"
    assert key([Beat(Meter.of("4/4"))]) == ""


def test_finer_columns_are_taken_where_they_hold_every_stroke():
    text = (
        'meter = "2/4"\ncolumns = "eighths"\n[base]\nkick = "o---"\nsnare-columns = "sixteenths"\nsnare = "---o----"\n'
    )
    assert columns_for(beat(text)) == "sixteenths"
    assert shown(text) == "       1e&a2e&a\nsnare |---o----|\nkick  |o-------|"
    triplets = text.replace("sixteenths", "eighth triplets").replace("---o----", "--o--o")
    assert columns_for(beat(triplets)) == "sixteenth triplets"  # holds eighths and triplets alike
    assert "snare |----o-----o-|" in shown(triplets)


def test_strokes_that_fit_no_columns_are_told_below():
    text = '[base]\nkick = "o---------------"\n[[detail]]\nat = "2[2/7]"\nsurface = "snare"\ndynamic = "ghost"\n'
    assert columns_for(beat(text)) == "sixteenths"
    lines = shown(text).split("\n")
    assert lines[-1] == "off the columns: snare, ghost, part 2 of 7 of 2"
    two = shown(text.replace("o---------------", "o---------------|%").replace('"2[', '"2:2['))
    assert two.split("\n")[-1] == "off the columns: snare, ghost, part 2 of 7 of 2 in bar 2"


def test_mixed_divisions_lose_no_stroke():
    base = beat(
        '[base]\nhi-hat = "xxxxxxxxxxxxxxxx"\nsnare-columns = "eighth triplets"\nsnare = "-o--o--o--o-"\n'
        'floor-tom-columns = "thirty-seconds"\nfloor-tom = "-o------------------------------"\n'
    )
    text = tab(base)
    drawn = sum(letter in "xXoOgs" for line in text.split("\n")[1:] if "|" in line for letter in line.split("|", 1)[1])
    told = sum(line.startswith("off the columns") for line in text.split("\n"))
    assert drawn + told == len(base.strokes) == 21


def test_an_empty_beat_is_its_counts():
    assert tab(Beat(Meter.of("4/4"))) == "  1e&a2e&a3e&a4e&a"


def test_every_stage_of_slack_tide_in_tablature(slack_tide: str):
    stages = grow(read_groove(slack_tide))
    rows = [dict(line.rsplit("|", 2)[:2] for line in tab(stage.beat).split("\n")[1:]) for stage in stages]
    told = [{name.strip(): row for name, row in lines.items()} for lines in rows]
    kick, base = "o------oo-------", "x-x-x-x-x-x-x-x-"
    assert told == [
        {"hi-hat": base, "snare": "----O-------O---", "kick": kick},
        {"hi-hat": base, "snare": "-----O------O---", "kick": kick},
        {"hi-hat": base, "snare": "-g-g-O---g-gOg--", "kick": kick},
        {"hi-hat": "xxx-xxx-xxx-xxx-", "snare": "-g-g-O---g-gOg--", "kick": kick},
        {"ride bell": "x---x---x---x---", "ride": "-xx--xx--xx--xx-", "snare": "-g-g-O---g-gOg--", "kick": kick},
    ]


@pytest.fixture
def slack_tide() -> str:
    from pathlib import Path

    return (Path(__file__).resolve().parents[2] / "examples/slack-tide.toml").read_text(encoding="utf-8")
