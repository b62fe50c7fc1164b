"""Hand-written tablature is read by the common letters and names, and whatever is doubtful or left out is told."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from groundbeat.codec import tab_layout, tab_read
from groundbeat.codec.tab import tab
from groundbeat.codec.tab_letters import meaning
from groundbeat.codec.tab_names import Named, line_named
from groundbeat.codec.tab_read import looks_like_tab, read_tab
from groundbeat.errors import TabError
from groundbeat.model.kit import SURFACES

DOC = (Path(__file__).resolve().parents[2] / "engine/groundbeat/codec/TAB.md").read_text(encoding="utf-8")


def letters(text: str) -> dict[str, str]:
    """The lines of what was read, bars parted by |."""
    rows = [line.rsplit("|", 1)[0].split("|", 1) for line in tab(read_tab(text).beat).split("\n") if "|" in line]
    return {name.strip(): row for name, row in rows}


def said(text: str) -> str:
    return "\n".join(read_tab(text).says)


def section(heading: str) -> str:
    return DOC.split(f"## {heading}\n", 1)[1].split("\n## ", 1)[0]


def table(heading: str) -> list[list[str]]:
    rows = [line.strip("|").split("|") for line in section(heading).split("\n") if line.startswith("|")]
    return [[cell.strip() for cell in row] for row in rows[2:]]


def test_the_example_of_the_document_reads_as_the_document_says():
    text, read_as, told = re.findall(r"```text\n(.*?)```", section("An example"), re.DOTALL)
    found = read_tab(text)
    assert tab(found.beat) + "\n" == read_as
    assert "\n".join(found.says) + "\n" == told
    assert (found.title, found.tempo) == ("Low Water", 9200)


def test_the_names_in_the_document_are_read_as_it_says():
    rows = table("Names of lines")
    assert len(rows) > 20
    for names, meant in rows:
        for name in re.findall(r"`([^`]+)`", names):
            found = line_named(name)
            assert found is not None and found.surface == meant.split(" (told")[0], name
            assert bool(found.doubt) == ("(told" in meant), name
    assert all(line_named(surface.name) == Named(surface.name, "", True) for surface in SURFACES)


def test_the_letters_in_the_document_are_those_that_are_read():
    for cell, *meant in table("Letters"):
        for words, lines in zip(meant, (["HH"], ["CC", "ride", "R"], ["SN", "FT", "BD"]), strict=True):
            for name in lines:
                named = line_named(name)
                assert named is not None
                found = meaning(cell.strip("`"), named)
                known = words != "-" and not (cell == "`@`" and name == "BD")
                ours = named.own and cell in ("`s`",)
                if words == "-":
                    assert found is None, (cell, name)
                elif known and not ours and not named.own:
                    assert found is not None, (cell, name)
                    part = words.split(":")[0] if ":" in words else ""
                    if not part:
                        assert bool(found.doubt) == ("*" in words), (cell, name)


def test_the_limits_in_the_document_are_those_of_the_code():
    limits = [int(row[1]) for row in table("Limits")]
    assert limits == [tab_read.MAX_TEXT, tab_read.MAX_LINES, tab_layout.MAX_WIDTH, tab_read.MAX_TAB_BARS]


@pytest.mark.parametrize(
    ("text", "surface", "dynamic", "grace"),
    [
        ("HH|o-------", "open hi-hat", "normal", ""),
        ("HH|O-------", "open hi-hat", "accent", ""),
        ("HH|X-------", "half-open hi-hat", "normal", ""),
        ("hi-hat|X-------", "hi-hat", "accent", ""),
        ("SN|x-------", "cross-stick", "normal", ""),
        ("SN|@-------", "rimshot", "normal", ""),
        ("SN|f-------", "snare", "normal", "flam"),
        ("SN|d-------", "snare", "normal", "drag"),
        ("SN|b-------", "snare", "soft", "buzz"),
        ("SN|B-------", "snare", "accent", "buzz"),
        ("SN|g-------", "snare", "ghost", ""),
        ("FT|x-------", "floor tom rim", "normal", ""),
        ("RD|b-------", "ride bell", "normal", ""),
        ("CC|s-------", "splash", "normal", ""),
        ("crash|s-------", "crash", "soft", ""),
        ("CC|c-------", "china", "normal", ""),
        ("CC|#-------", "crash", "normal", "choke"),
        ("Hf|x-------", "hi-hat foot", "normal", ""),
        ("BD|O-------", "kick", "accent", ""),
    ],
)
def test_a_letter_means_what_it_means_on_its_line(text: str, surface: str, dynamic: str, grace: str):
    (stroke,) = read_tab(f"{text}|\n").beat.strokes
    assert (stroke.at, stroke.surface, stroke.dynamic, stroke.grace) == (0, surface, dynamic, grace)


@pytest.mark.parametrize(
    ("text", "meter", "columns"),
    [
        ("HH|xxxxxxxx|", "4/4", "eighths"),
        ("HH|x---x---x---x---|", "4/4", "sixteenths"),
        ("HH|x--xx--xx--x|", "4/4", "eighth triplets"),
        ("6/8\nHH|x-x-x-x-x-x-|", "6/8", "sixteenths"),
        ("Time: 3/4\nHH|x-xxx-xxx-xx|", "3/4", "sixteenths"),
        ("HH|x-xxx-x|", "7/8", "eighths"),
        ("HH|" + "x-" * 16 + "|", "4/4", "thirty-seconds"),
        ("HH|" + "x-" * 12 + "|", "4/4", "sixteenth triplets"),
        ("   1e&a2e&a3e&a\nHH|x-x-x-x-x-x-|", "3/4", "sixteenths"),
        ("HH|x-x-x-x-x-x-|\n   1&2&3&4&5&6&", "6/8", "sixteenths"),
        ("Counts: 1tl2tl3tl\nRide  : x-xx-xx-x", "3/4", "eighth triplets"),
        ("   1 & a 2 & a \nHH|x - x x - x |", "6/8", "eighths"),
        ("   1234567890\nHH|xxxxxxxxxx|", "10/8", "eighths"),
        ("HH|x---|", "4/4", "eighths"),
    ],
)
def test_meter_and_columns_come_from_the_head_the_counts_or_the_length(text: str, meter: str, columns: str):
    beat = read_tab(text).beat
    assert (str(beat.meter), beat.columns) == (meter, columns)


def test_twelve_columns_alone_may_be_several_meters_and_that_is_told():
    assert "read as 4/4 and may be 3/4, 6/8 or 12/8" in said("HH|x-xx-xx-xx-x|")
    assert said("HH|x-xx-xx-xx-x|x-x-x-x-x-x-x-x-|").startswith("The bars have different columns (12, 16)")
    assert said("Time: 12/8\nHH|x-xx-xx-xx-x|") == ""


@pytest.mark.parametrize(
    "text",
    [
        "HH|x-x-x-x-|x-x-x-x-|\nBD|o-------|o---o---|",
        "HH||x-x-x-x-||x-x-x-x-||\nBD||o-------||o---o---||",
        "HH|x-x-x-x-|%|\nBD|o-------|o---o---|",
        "HH|x-x-x-x-|\nBD|o-------|\n\nHH|x-x-x-x-|\nBD|o---o---|",
        "HH|x-x-x-x-|\nBD|o-------|\nHH|x-x-x-x-|\nBD|o---o---|",
        "HH: x-x-x-x-\nBD: o-------\n\nHH: x-x-x-x-\nBD: o---o---",
        "HH\t|x.x.x.x.|x.x.x.x.|\r\nBD\t|o.......|o...o...|",
        "HH |x-x- x-x-| x-x- x-x-|\nBD |o--- ----| o--- o---|",
        "HH|x x x x |x x x x |\nBD|o       |o   o   |",
        "HH|x\u2013x\u2013x\u2013x\u2013|\u00d7\u2013x\u2013x\u2013x\u2013|\nBD|o-------|o---o---|",
        "HH|x-x-x-x-|x-x-x-x-|\n\nBD|o-------|o---o---|",
        "Counts: 1&2&3&4&\nHH|x-x-x-x-|x-x-x-x-|\nBD|o-------|o---o---|",
        "  1&2&3&4&1&2&3&4&\nHH x-x-x-x-x-x-x-x-\nBD o-------o---o---",
    ],
)
def test_the_same_two_bars_are_read_however_they_are_laid_out(text: str):
    assert letters(text) == {"hi-hat": "x-x-x-x-|x-x-x-x-", "kick": "o-------|o---o---"}


def test_repeats_are_written_out_unless_they_repeat_everything():
    bar = "SN|--o---o-|"
    assert read_tab(f"{bar} x4").beat.bars == 1
    assert said(f"{bar} (x4)") == "It is to be played 4 times; it is here once, and loops."
    for text in (f"{bar} x3\n\nFT|oooooooo|", f"{bar}\nrepeat 3 times\nFT|oooooooo|", f"{bar} 3x\n\nFT|oooooooo|"):
        assert letters(text)["floor tom"] == "--------|--------|--------|oooooooo"
        assert "Repeats are written out." in said(text)
    assert letters("SN|:--o-----:|o-------|")["snare"] == "--o-----|--o-----|o-------"
    assert letters("SN|o-------|:--o-----:| x3")["snare"] == "o-------|--o-----|--o-----|--o-----"


def test_bars_are_chosen_and_sixteen_of_more_are_taken():
    text = "SN|o-------|%|%|%|%|%|%|%|%|%|%|%|%|%|%|%|-o------|"
    assert read_tab(text).beat.bars == 16
    assert said(text) == "Read bars 1-16 of 17. A beat has at most 16; others may be chosen."
    found = read_tab(text, (16, 17))
    assert [stroke.at for stroke in found.beat.strokes] == [0, 40320 + 5040]
    assert found.says == ("Read bars 16-17 of 17.",)
    with pytest.raises(TabError, match=r"asked for bars 3-18, but the text has 17; try 1-16"):
        read_tab(text, (3, 18))


def test_a_short_line_ends_in_silence_and_a_long_one_is_cut_where_nothing_is_lost():
    assert letters("HH|x-x-x-x-|\nSN|--o---o|\nBD|o-------|")["snare"] == "--o---o-"
    assert said("HH|x-x-x-x-|\nSN|--o---o|\nBD|o-------|") == (
        "SN has 7 columns in bar 1 of its line, most lines have 8; its end is read as silence (line 2, column 11)."
    )
    assert letters("HH|x-x-x-x-|\nSN|--o---o--|\nBD|o-------|")["snare"] == "--o---o-"
    with pytest.raises(TabError, match="line 2, column 12: SN has 9 columns in bar 1 of its line, most lines have 8"):
        read_tab("HH|x-x-x-x-|\nSN|--o---o-o|\nBD|o-------|")


def test_unknown_names_and_letters_are_told_with_their_place_and_left_out():
    told = said("HH|x-x-x-x-|\nSnar e|--o---o-|\nBD|o---q---|")
    assert '"Snar e" is no line that is known; did you mean "' in told
    assert "The line was left out (line 2)." in told
    assert '"q" on BD is no letter that is known there, and was left out (line 3, column 8).' in told


def test_of_many_remarks_the_first_are_told():
    letters = "abcdefghijklmnopqrstuvwxyz"
    told = read_tab(
        "HH|x-x-x-x-|\n" + "".join(f"{one}{two}{one}q|x-x-x-x-|\n" for one in letters for two in "wyz")
    ).says
    assert len(told) == tab_read.MOST_SAID + 1 and told[-1] == "There are 54 more remarks like these."
    assert "did you mean" in told[0] or "known are names" in told[0]


def test_text_around_the_tablature_is_left_out_and_told():
    told = said("Verse, played softly\nHH|x-x-x-x-|\nlet it breathe | and again\n")
    assert told == (
        'Text that is no tablature was left out: line 1 "Verse, played softly"; line 3 "let it breathe | and again".'
    )


@pytest.mark.parametrize(
    ("head", "tempo"),
    [
        ("q = 92", 9200), ("Tempo: 92.5", 9250), ("110 bpm, 4/4", 11000), ("h = 60", 12000), ("", 9000),
        ("quarter = 900", 40000),
    ],
)  # fmt: skip
def test_the_tempo_is_taken_in_the_unit_of_the_meter(head: str, tempo: int):
    assert read_tab(f"{head}\nHH|x-x-x-x-|").tempo == tempo


def test_quarters_are_counted_as_dotted_quarters_in_compound_meters_and_that_is_told():
    found = read_tab("6/8\nq = 90\nHH|xxxxxx|")
    assert (found.tempo, found.says) == (6000, ("The tempo is dotted quarter = 60 in 6/8.",))


def test_of_two_strokes_on_one_instrument_the_louder_is_kept_and_the_other_told():
    text = "SN|g-------|\nXS|x-------|"
    assert [stroke.surface for stroke in read_tab(text).beat.strokes] == ["cross-stick"]
    assert said(text) == "One snare is struck once at a place; the other stroke was left out (line 1, column 4)."


def test_a_letter_in_parentheses_is_a_ghost():
    assert letters("SN|-(o)O---|\nHH|x-x-x-x-|")["snare"] == "--g-O---"


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("hello", "there is no tablature in the text"),
        ("", "there is no tablature in the text"),
        ("Xyl|x-x-x-x-|", '"Xyl" is no line that is known'),
        ("|x-x-x-x-|", "line 1, column 1: A line has no name. Write what it is before the first bar line"),
        ("HH|%|x-x-x-x-|", "line 1, column 4: % repeats the bar before it, and there is none"),
        ("HH|xxxxxxxxxxxxx|", "line 1, column 1: a bar has 13 columns, which tells no meter"),
        ("7/8\nHH|xxxxxxxx|", "line 2, column 1: a bar has 8 columns, but one of 7/8 has 7, 14, 21, 28"),
        ("x" * (tab_read.MAX_TEXT + 1), "characters, at most 131072 are read"),
        ("\n" * (tab_read.MAX_LINES + 1), "lines; at most 4000 are read"),
        ("HH|" + "x-" * 800 + "|", "line 1, column 1201: the line has 1604 columns"),
        ("SN|o-------| x99\n\nFT|o-------|%|%|%|%|%| x99", "with its repeats the text has 693 bars; at most 512"),
    ],
)
def test_what_cannot_be_read_is_refused_with_the_place(text: str, message: str):
    with pytest.raises(TabError, match=re.escape(message)):
        read_tab(text)


def test_groove_files_and_prose_do_not_look_like_tablature():
    example = (Path(__file__).resolve().parents[2] / "examples/slack-tide.toml").read_text(encoding="utf-8")
    for text in (example, '[base]\nhi-hat = "x-x-|x-x-"', "one - two | three", "| a | b |\n|---|---|", "", "1abc"):
        assert not looks_like_tab(text), text
    for text in (
        "HH|x-x-x-x-|",
        "words\n\n SN: --o---o-\n",
        "Ebb: 4/4, 1 bar of eighths, quarter = 92\n\n0 Base beat\n",
    ):
        assert looks_like_tab(text), text
