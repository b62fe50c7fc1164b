"""A groove file that does not read names the line and column where it does not, and what was expected.

In the wrong files below a ▶ stands where the error must be; it is taken out before reading.
"""

from __future__ import annotations

from typing import NamedTuple

import pytest

from groundbeat.codec.groove_read import MAX_FILE, read_groove
from groundbeat.errors import GrooveFileError
from groundbeat.model.groove import Groove

MARK = "▶"
HEAD = "groundbeat = 1\n"


class Wrong(NamedTuple):
    """A groove file that does not read: its name in this table, its text (after HEAD), and words of the message."""

    name: str
    text: str
    told: str


def line(letters: str, surface: str = "snare") -> str:
    return f'columns = "eighths"\n[base]\n{surface} = "{letters}"\n'


def variation(rest: str) -> str:
    return f"[[variation]]\n{rest}\n"


PLAIN = variation('kind = "displace"\nby = "1/8 later"')


WRONG = [
    # ---- the head
    Wrong("an unknown key", '▶colour = "red"', '"colour" is not known here'),
    Wrong("a misspelt key", '▶tempos = 92', 'did you mean "tempo"?'),
    Wrong("an unknown table", '▶[pads]\na = 1', '"pads" is not known here'),
    Wrong("a misspelt table of tables", 'tempo = 92\n▶[[variations]]\nkind = "displace"', 'did you mean "variation"?'),
    Wrong("one table where several are meant", '▶[variation]\nkind = "displace"',
          "variation must be tables [[variation]]"),
    Wrong("several tables where one is meant", 'tempo = 92\n▶[[base]]\nsnare = "-"',
          "base must be a table [base], not a list"),
    Wrong("a title that is a number", "title = ▶5", "title must be text, not 5"),
    Wrong("a title of two lines", 'title = ▶"a\\nb"', "title must stand on one line"),
    Wrong("a title too long", f'title = ▶"{"a" * 121}"', "title has 121 characters; at most 120"),
    Wrong("a note too long", f'note = ▶"{"a" * 2001}"', "note has 2001 characters; at most 2000"),
    Wrong("a date for a title", "title = ▶2025-11-25", "title must be text, not 2025-11-25"),
    Wrong("a control character", 'title = ▶"a\\u0007b"', "control character (number 7)"),
    Wrong("a delete character", 'note = ▶"a\\u007fb"', "control character (number 127)"),
    Wrong("a carriage return in a text", 'note = ▶"a\\rb"', "control character (number 13)"),
    Wrong("a meter that is none", 'meter = ▶"four"', '"four" is not a meter'),
    Wrong("a meter over 3", 'meter = ▶"4/3"', "the lower number is one of 2, 4, 8, 16"),
    Wrong("a meter too long", 'meter = ▶"16/8"', "try 15/8"),
    Wrong("a grouping that is short", 'meter = "7/8"\ngrouping = ▶"2+2+2"', "adds up to 6, but 7/8 has 7"),
    Wrong("a grouping that is none", 'meter = "7/8"\ngrouping = ▶"2-2-3"', '"2-2-3" is not a grouping'),
    Wrong("unknown columns", 'columns = ▶"sixteenth"', 'did you mean "sixteenths"?'),
    Wrong("columns that a bar cannot hold", 'meter = "7/8"\ncolumns = ▶"eighth triplets"', "a whole number of eighth"),
    Wrong("a tempo too slow", "tempo = ▶19", "the tempo is 19; it may be 20 to 400"),
    Wrong("a tempo too fast", "tempo = ▶400.01", "it may be 20 to 400"),
    Wrong("a tempo with three decimals", "tempo = ▶92.125", "at most two decimals"),
    Wrong("a tempo as text", 'tempo = ▶"92"', 'tempo must be a number such as 92, not "92"'),
    Wrong("a tempo that is true", "tempo = ▶true", "must be a number such as 92, not true"),
    Wrong("no bar", "bars = ▶0", "1 to 16 bars, not 0"),
    Wrong("17 bars", "bars = ▶17", "1 to 16 bars, not 17"),
    Wrong("bars that the lines do not have", 'bars = 2\ncolumns = "eighths"\n[base]\nsnare = ▶"--o---o-"',
          "snare has 1 bar, but bars = 2"),
    # ---- lines of letters
    Wrong("a line too short", line("--o---o▶"), "7 columns, and a bar has 8: 1 too few for bar 1"),
    Wrong("a line too long", line("--o---o--▶"), "7 too few for bar 2 or 1 too many for bar 1"),
    Wrong("an empty line", line("▶"), "write at least one bar"),
    Wrong("a line that is no text", "[base]\nsnare = ▶5", "snare must be a line of letters, not 5"),
    Wrong("a bar line off the bars", line("--o-▶|--o-"), "a bar line after 4 columns of a bar of 8"),
    Wrong("% in the first bar", line("▶%"), "there is none before the first"),
    Wrong("% inside a bar", line("--o---o-|--▶%"), "stands at the beginning of one"),
    Wrong("a letter that is none", line("--o-▶q-o-"), '"q" is not a stroke; snare takes o, O (accent), g (ghost)'),
    Wrong("a letter repeated by %", line("--o---▶d-|%"), '"d" is not a stroke'),
    Wrong("o on metal", line("x-▶o-x-x-", "ride"), '"o" is a stroke on a drum; ride is metal: write x or X'),
    Wrong("o on the hi-hat", line("x-▶o-x-x-", "hi-hat"), 'for an open hi-hat write a line "open hi-hat"'),
    Wrong("O on a foot cymbal", line("--▶O-----", "hi-hat-foot"), "hi-hat foot is metal"),
    Wrong("x on the snare", line("--▶x---o-"), 'for a cross-stick write a line "cross-stick"'),
    Wrong("X on the kick", line("▶X---o---", "kick"), "kick is a drum: write o or O"),
    Wrong("a tab in a line", line("--o▶\t--o-"), "is not a stroke"),
    Wrong("an unknown surface", '[base]\n▶snair = "----"',
          '"snair" is not a surface of the kit; did you mean "snare"?'),
    Wrong("two lines of one surface", line("--o---o-") + '▶Snare = "--------"', "snare has two lines of strokes"),
    Wrong("two spellings of one surface", line("x-------", "hi-hat") + '▶hihat = "x-------"', "hi-hat has two lines"),
    Wrong("lines of different lengths", line("--o---o-") + 'kick = ▶"o-------|%"', "kick has 2 bars, but snare has 1"),
    Wrong("unknown columns of a line", line("--o---o-") + 'snare-columns = ▶"fifths"',
          '"fifths" are not columns of 4/4'),
    Wrong("columns that the meter has not", 'meter = "7/8"\n[base]\nsnare = "-"\nsnare-columns = ▶"eighth triplets"',
          "are not columns of 7/8"),
    Wrong("columns without a line", '[base]\n▶snare-columns = "eighths"', 'needs the line "snare" beside it'),
    # ---- graces and hands
    Wrong("graces without a line", '[base]\n▶snare-graces = "-1--"', '"snare-graces" needs the line "snare" beside it'),
    Wrong("a grace that is none", line("--o---o-") + 'snare-graces = "--▶9-----"',
          '"9" is not one of the graces: 1 flam'),
    Wrong("a grace where no stroke is", line("--o---o-") + 'snare-graces = "-▶1------"',
          '"1" stands where snare has no stroke'),
    Wrong("graces of another length", line("--o---o-") + 'snare-graces = ▶"--1-----|%"',
          "snare has 1 bars, its graces have 2"),
    Wrong("a hand that is none", line("--o---o-") + 'snare-hands = "--▶B-----"', '"B" is not one of the hands: R, L'),
    Wrong("a hand where no stroke is", line("--o---o-") + 'snare-hands = "▶R-------"',
          "stands where snare has no stroke"),
    Wrong("a hand on a foot", line("o---o---", "kick") + 'kick-hands = "▶R-------"', "kick is played by a foot"),
    Wrong("graces with a space in the key", line("--o---o-") + 'snare graces = "--▶9-----"',
          '"9" is not one of the graces'),
    Wrong("hands with a space in the key", line("--o---o-") + 'snare hands  =  "--▶B-----"',
          '"B" is not one of the hands'),
    # ---- details
    Wrong("a detail without a place", '▶[[detail]]\nsurface = "snare"', 'a detail needs "at"'),
    Wrong("a detail without a surface", '▶[[detail]]\nat = "2e"', 'a detail needs "surface"'),
    Wrong("a detail with an unknown key", '[[detail]]\nat = "2e"\nsurface = "snare"\n▶loud = 3',
          '"loud" is not known here'),
    Wrong("a detail at no place", '[[detail]]\nat = ▶"a1"\nsurface = "snare"', '"1a" (the a of 1)'),
    Wrong("a detail in every beat", '[[detail]]\nat = ▶"e"\nsurface = "snare"', "is no single place"),
    Wrong("a detail past the meter", '[[detail]]\nat = ▶"5"\nsurface = "snare"', "is no single place"),
    Wrong("a detail past the bars", '[[detail]]\nat = ▶"2:1"\nsurface = "snare"',
          "is no single place of a beat of 1 bars"),
    Wrong("a detail on no surface", '[[detail]]\nat = "2"\nsurface = ▶"gong"', '"gong" is not a surface'),
    Wrong("a detail of no dynamic", '[[detail]]\nat = "2"\nsurface = "snare"\ndynamic = ▶"loud"',
          '"loud" is not a dynamic'),
    Wrong("a detail of no grace", '[[detail]]\nat = "2"\nsurface = "snare"\ngrace = ▶"flim"', 'did you mean "flam"?'),
    Wrong("a detail with a hand on a foot", '[[detail]]\nat = "2"\nsurface = "kick"\nhand = ▶"R"',
          "kick is played by a foot"),
    Wrong("a detail with a number for a place", '[[detail]]\nat = ▶2\nsurface = "snare"', "at must be a place such as"),
    # ---- roles and feel
    Wrong("an unknown role", '[roles]\n▶left-hand = "snare"', '"left-hand" is not a role'),
    Wrong("a role on no surface", '[roles]\nriding = ▶"gong"', '"gong" is not a surface'),
    Wrong("a swing that is none", '[feel]\nswing = ▶"hard"', '"hard" is not a swing; write eighths or sixteenths'),
    Wrong("a swing of quarters", '[feel]\nswing = ▶"quarters 2:1"', "is not a swing"),
    Wrong("a swing of nothing", '[feel]\nswing = ▶"eighths 0:1"', "from 1 to 9"),
    Wrong("a push that is none", '[feel]\npush = { snare = ▶"late" }', 'write a push as "10 ms late"'),
    Wrong("a push too far", '[feel]\npush = { snare = ▶"101 ms late" }', "at most 100 ms"),
    Wrong("a push of no surface", '[feel]\npush = { kick = "1 ms late", ▶gong = "5 ms early" }',
          '"gong" is not a surface'),
    Wrong("a push as a number", "[feel.push]\nsnare = ▶10", "write a push as"),
    Wrong("an unknown feel", '[feel]\n▶shuffle = "yes"', '"shuffle" is not known here'),
    # ---- variations
    Wrong("a variation without a kind", '▶[[variation]]\nsurface = "snare"', "a variation needs its kind"),
    Wrong("an unknown kind", variation('kind = ▶"displaced"'), 'did you mean "displace"?'),
    Wrong("an unknown setting", variation('kind = "displace"\nby = "1/8 later"\n▶to = "ride"'),
          'displace has no setting "to"'),
    Wrong("a setting that is missing", '▶[[variation]]\nkind = "displace"', 'displace needs "by"'),
    Wrong("an amount that is none", variation('kind = "displace"\nby = ▶"a bit"'), '"a bit" is not an amount'),
    Wrong("an amount between the ticks", variation('kind = "displace"\nby = ▶"1/100 later"'),
          "not a whole number of ticks; try 1/96"),
    Wrong("an amount too large", variation('kind = "displace"\nby = ▶"17/1 later"'), "at most 16 whole notes"),
    Wrong("an amount as a number", variation('kind = "displace"\nby = ▶1'), "1 is not text; write it like"),
    Wrong("a place turned round", variation('kind = "displace"\nby = "1/8 later"\nat = ▶"a1"'), "can be read two ways"),
    Wrong("a word that is no place", variation('kind = "displace"\nby = "1/8 later"\nat = ▶"offbeats"'),
          '"offbeats" is not a place'),
    Wrong("first before nothing", variation('kind = "displace"\nby = "1/8 later"\nat = ▶"2 first"'),
          "stands before another word"),
    Wrong("bar 17", variation('kind = "displace"\nby = "1/8 later"\nat = ▶"17:2"'), "bars are numbered from 1 to 16"),
    Wrong("a target that is none", variation('kind = "displace"\nby = "1/8 later"\nsurface = ▶"snair"'),
          "neither a surface nor a role"),
    Wrong("no surface in a list", variation('kind = "embellish"\nclear-of = ["kick", ▶"kik"]'),
          '"kik" is neither a surface nor a role'),
    Wrong("a number in a list", variation('kind = "embellish"\nclear-of = [\n  "kick",\n  ▶7,\n]'), "7 is not text"),
    Wrong("a list that is none", variation('kind = "embellish"\nclear-of = ▶7'), "7 is not a list of surfaces"),
    Wrong("a list too long", variation('kind = "embellish"\nclear-of = ▶[' + '"kick", ' * 17 + "]"),
          "at most 16 surfaces"),
    Wrong("an unknown dynamic", variation('kind = "embellish"\ndynamic = ▶"quiet"'), '"quiet" is not a dynamic'),
    Wrong("an unknown grace", variation('kind = "embellish"\ngrace = ▶"roll"'), '"roll" is not a grace'),
    Wrong("a cell of no notes", variation('kind = "ostinato"\ncell = ▶"eighth fourth"'),
          '"fourth" is not a note value'),
    Wrong("a cell of rests", variation('kind = "ostinato"\ncell = ▶"eighth rest"'),
          "a cell of rests alone plays nothing"),
    Wrong("a cell too long", variation(f'kind = "ostinato"\ncell = ▶"{"eighth " * 65}"'), "at most 64 notes, not 65"),
    Wrong("a word that is no choice", variation('kind = "ostinato"\ncell = "eighth"\nrestart = ▶"often"'),
          "not one of never, bar"),
    Wrong("a role to orchestrate to", variation('kind = "orchestrate"\nto = ▶"riding"'), '"riding" is not a surface'),
    Wrong("a place in an inline table",
          variation('kind = "orchestrate"\nto = "ride"\nthen = { at = ▶"a1", to = "crash" }'),
          "can be read two ways"),
    Wrong("a surface in an inline table", variation('kind = "orchestrate"\nto = "ride"\nthen = { to = ▶"gong" }'),
          '"gong" is not a surface'),
    Wrong("an unknown key in an inline table",
          variation('kind = "orchestrate"\nto = "ride"\nthen = { ▶on = "2", to = "ride" }'),
          'has no setting "on"'),
    Wrong("an inline table that is none", variation('kind = "orchestrate"\nto = "ride"\nthen = ▶"crash"'),
          "is not a group of settings"),
    Wrong("an inline table without its surface", variation('kind = "orchestrate"\nto = "ride"\nthen = ▶{ at = "2" }'),
          'needs "to"'),
    Wrong("a table of a setting", variation('kind = "orchestrate"\nto = "ride"\n[variation.then]\nto = ▶"gong"'),
          '"gong" is not a surface'),
    Wrong("a change that is none", variation('kind = "touch-up"\nchanges = ["- kick 1", ▶"snare 3a"]'),
          '"snare 3a" is not a change'),
    Wrong("a change without a place", variation('kind = "touch-up"\nchanges = [▶"+ snare loud ghost"]'),
          "names no place"),
    Wrong("a change with a strange word",
          variation('kind = "touch-up"\nchanges = [\n"- kick 1",\n\t▶"+ snare 3a loud",\n]'),
          '"loud" is not known here'),
    Wrong("a change of nothing", variation('kind = "touch-up"\nchanges = [▶"= snare 2"]'), "changes nothing"),
    Wrong("a change with a hand on a foot", variation('kind = "touch-up"\nchanges = [▶"+ kick 2 R"]'),
          "kick is played by a foot"),
    Wrong("the second of two variations",
          PLAIN + variation('kind = "displace"\nby = ▶"1/0 later"'),
          "moves nothing"),
    Wrong("off that is text", variation('kind = "displace"\nby = "1/8 later"\noff = ▶"yes"'),
          'off must be true or false, not "yes"'),
    Wrong("a name too long", variation(f'kind = "displace"\nby = "1/8 later"\nname = ▶"{"n" * 61}"'), "at most 60"),
    Wrong("a key twice",
          PLAIN + variation('kind = "displace"\nkey = ▶1\nby = "1/8 later"'),
          "key 1 is taken"),
    Wrong("a key below 1", variation('kind = "displace"\nkey = ▶0\nby = "1/8 later"'),
          "key 0 is taken or out of range"),
    Wrong("a next key that is taken", 'next-key = ▶1\n' + PLAIN,
          "here at least 2"),
    Wrong("a variation that is no table", "variation = [▶1]", "a variation is a table [[variation]], not 1"),
    Wrong("too many variations",
          PLAIN * 64 + "▶" + PLAIN,
          "at most 64 variations, not 65"),
    # ---- branches
    Wrong("a branch after nothing", '[[branch]]\nafter = ▶3', "there is no variation with key 3 to branch after"),
    Wrong("a branch after a name", '[[branch]]\nafter = ▶"2"', "after must be the key of a variation, or 0"),
    Wrong("an unknown key of a branch", '[[branch]]\n▶before = 1', '"before" is not known here'),
    Wrong("a setting inside a branch", '[[branch]]\n[[branch.variation]]\nkind = "displace"\nby = ▶"far"',
          '"far" is not an amount'),
    Wrong("a setting inside the second branch",
          '[[branch]]\n[[branch]]\n[[branch.variation]]\nkind = "embellish"\nclear-of = [▶"x"]',
          "neither a surface nor a role"),
    Wrong("a key that the main way has",
          PLAIN + '[[branch]]\n[[branch.variation]]\nkey = ▶1\nkind = "displace"\nby = "1/8 later"',
          "key 1 is taken"),
    # ---- not TOML
    Wrong("a key twice in TOML", "tempo = 92\n▶tempo = 93", "not written as TOML: Cannot overwrite a value"),
    Wrong("a text without an end", 'title = "Slack Tide▶\n', "not written as TOML"),
    Wrong("a key without a value", "tempo = ▶\n", "not written as TOML: Invalid value"),
    Wrong("a text without quotes", "title = ▶Slack Tide", "not written as TOML: Invalid value"),
    Wrong("a table without an end", "[base▶\n", "not written as TOML"),
    Wrong("no key at all", "▶= 5", "not written as TOML: Invalid statement"),
    Wrong("a table twice", "[feel]\n[feel▶]\n", "not written as TOML: Cannot declare"),
    Wrong("a raw control character", 'title = "a▶\x07b"', "not written as TOML: Illegal character"),
    Wrong("a number that is none", "tempo = 92▶bpm", "not written as TOML"),
    # ---- line ends, marks of the start, tabs
    Wrong("Windows line ends", 'title = "a"\r\ntempo = ▶9\r\n', "the tempo is 9"),
    Wrong("a mark at the start", "\ufefftempo = ▶9\n", "the tempo is 9"),
    Wrong("tabs before a key", "\t\ttempo\t=\t▶9", "the tempo is 9"),
    Wrong("an error behind a comment", '# tempo = 9\ntitle = "#" # more\ntempo = ▶9 # slow', "the tempo is 9"),
    Wrong("an error behind a long text", 'note = """\none\ntempo = 5\n"""\ntempo = ▶9', "the tempo is 9"),
]  # fmt: skip
WHOLE = [
    Wrong("an empty file", "▶", 'the first line of a groove file is "groundbeat = 1"'),
    Wrong("no version", "▶tempo = 92", 'the first line of a groove file is "groundbeat = 1"'),
    Wrong("version 2", "groundbeat = ▶2\ncolour = 1",
          "version 2; this Groundbeat reads version 1: it was made with a newer"),
    Wrong("version 0", "groundbeat = ▶0", "version 0; this Groundbeat reads version 1"),
    Wrong("a version as text", 'groundbeat = ▶"1"', 'groundbeat must be a whole number, not "1"'),
    Wrong("a version that is true", "groundbeat = ▶true", "must be a whole number, not true"),
]  # fmt: skip


def marked(text: str) -> tuple[str, int, int]:
    """Take the mark out of a text: the text, and line and column (from 1) where the mark stood."""
    assert text.count(MARK) == 1, text
    before = text.partition(MARK)[0].removeprefix("\ufeff")
    return text.replace(MARK, ""), before.count("\n") + 1, len(before) - (before.rfind("\n") + 1) + 1


def cases() -> list[Wrong]:
    rows = [
        row._replace(text="\ufeff" + HEAD + row.text[1:] if row.text.startswith("\ufeff") else HEAD + row.text)
        for row in WRONG
    ]
    return [*rows, *WHOLE]


@pytest.mark.parametrize("case", cases(), ids=lambda case: case.name)
def test_a_wrong_file_names_line_column_and_what_was_expected(case: Wrong):
    text, at_line, column = marked(case.text)
    with pytest.raises(GrooveFileError) as caught:
        read_groove(text, "mine.toml")
    error = caught.value
    assert case.told in error.bare
    assert (error.line, error.column) == (at_line, column), error.message
    assert error.message == f"mine.toml, line {at_line}, column {column}: {error.bare}"


def test_the_table_is_large_and_its_names_are_its_own():
    names = [case.name for case in cases()]
    assert len(names) == len(set(names)) > 100


def test_the_mark_says_line_and_column_as_people_count():
    assert marked("ab▶c") == ("abc", 1, 3)
    assert marked("a\n▶b") == ("a\nb", 2, 1)
    assert marked("\ufeff▶b") == ("\ufeffb", 1, 1)


@pytest.mark.parametrize(
    "first,second",
    [("hi-hat", "open-hi-hat"), ("half-open-hi-hat", "hi-hat"), ("snare", "cross-stick"), ("ride", "ride-bell")],
)
def test_two_strokes_of_one_instrument_at_one_place_are_refused_at_one_of_their_lines(first: str, second: str):
    letters = {"snare": "--o-----", "cross-stick": "--x-----"}
    rows = [f'{name} = "{letters.get(name, "--x-----")}"' for name in (first, second)]
    text = HEAD + 'columns = "eighths"\n[base]\nkick = "o---o---"\n' + "\n".join(rows) + '\ncrash = "x-------"\n'
    with pytest.raises(GrooveFileError, match="both at 1/4: one .* is struck once at a place") as caught:
        read_groove(text)
    assert caught.value.line in (5, 6), caught.value.message
    assert caught.value.column > 1


def test_a_detail_on_a_taken_place_is_refused_at_the_detail():
    text = HEAD + 'columns = "eighths"\n[base]\nhi-hat = "x-------"\n\n[[detail]]\nat = "1"\nsurface = "open hi-hat"\n'
    with pytest.raises(GrooveFileError, match="one hi-hat is struck once at a place") as caught:
        read_groove(text)
    assert caught.value.line in (4, 6, 7, 8), caught.value.message


def test_a_file_too_large_is_refused_before_it_is_parsed():
    with pytest.raises(GrooveFileError, match=f"{MAX_FILE + 1} characters; a groove file has at most {MAX_FILE}"):
        read_groove("]" * (MAX_FILE + 1))
    spaces = HEAD + "#" * (MAX_FILE - len(HEAD))
    assert read_groove(spaces) == Groove()


def test_without_a_name_the_error_speaks_of_a_groove_file():
    with pytest.raises(GrooveFileError, match=r"^groove file, line 2, column 9: the tempo is 9; it may be 20 to 400$"):
        read_groove(HEAD + "tempo = 9")
