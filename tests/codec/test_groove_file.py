"""A groove file reads as it was meant: every letter, line, table and setting of GROOVE.md."""

from __future__ import annotations

import pytest

from groundbeat.codec.groove_read import read_groove
from groundbeat.codec.groove_write import write_groove
from groundbeat.model.feel import Feel
from groundbeat.model.groove import Groove

HEAD = "groundbeat = 1\n"


def line(letters: str, surface: str = "snare") -> str:
    return f'columns = "eighths"\n[base]\n{surface} = "{letters}"\n'


def at(groove: Groove, surface: str) -> dict[int, tuple[str, str, str]]:
    """Strokes of a surface: tick to dynamic, grace and hand."""
    return {s.at: (s.dynamic, s.grace, s.hand) for s in groove.base.strokes if s.surface == surface}


def columns(groove: Groove, surface: str, ticks: int = 2520) -> list[int]:
    return [s.at // ticks for s in groove.base.strokes if s.surface == surface]


def test_the_shortest_file_is_an_empty_bar():
    groove = read_groove(HEAD)
    assert groove == Groove()
    assert (str(groove.base.meter), groove.base.bars, groove.base.columns, groove.tempo_text) == (
        "4/4", 1, "sixteenths", "90",
    )  # fmt: skip


def test_every_letter_is_a_dynamic():
    groove = read_groove(HEAD + '[base]\nsnare = "oOgs-.oo--------"\ncrash = "--------xXgs----"\n')
    assert [dynamic for dynamic, _, _ in at(groove, "snare").values()] == [
        "normal", "accent", "ghost", "soft", "normal", "normal",
    ]  # fmt: skip
    assert [dynamic for dynamic, _, _ in at(groove, "crash").values()] == ["normal", "accent", "ghost", "soft"]
    assert columns(groove, "snare") == [0, 1, 2, 3, 6, 7]


@pytest.mark.parametrize("surface", ["cross-stick", "snare-rim", "high-tom-rim", "wood-block", "shell"])
def test_rims_and_wood_take_either_letter(surface: str):
    texts = [HEAD + line(letters, surface) for letters in ("x-X-g-s-", "o-O-g-s-")]
    assert read_groove(texts[0]) == read_groove(texts[1])


def test_spaces_are_free_and_bar_lines_stand_between_bars():
    plain = HEAD + line("--o---o---o---oo")
    for letters in (
        "|--o---o-|--o---oo|",
        "  --o- --o- | --o- --oo  ",
        "- - o - - - o - - - o - - - o o",
        "--o---o-|--o---oo",
    ):
        assert read_groove(HEAD + line(letters)) == read_groove(plain)
    assert read_groove(plain).base.bars == 2


def test_a_repeat_repeats_the_bar_before_it():
    groove = read_groove(HEAD + line("--o---o-|%|--o---oo|%"))
    assert groove == read_groove(HEAD + line("--o---o---o---o---o---oo--o---oo"))
    assert groove.base.bars == 4
    graces = 'snare-graces = "--1-----|%|%|------#-"\n'
    marks = at(read_groove(HEAD + line("--o---o-|%|%|%") + graces), "snare")
    assert [grace for _, grace, _ in marks.values()] == ["flam", "", "flam", "", "flam", "", "", "choke"]


@pytest.mark.parametrize("key", ["snare graces", '"snare graces"', "snare-graces", "'snare graces'", '"snare-graces"'])
def test_graces_stand_on_a_line_of_their_own_however_the_key_is_written(key: str):
    groove = read_groove(HEAD + line("oooooooo") + f'{key} = "123z/#--"\n')
    assert [grace for _, grace, _ in at(groove, "snare").values()] == [
        "flam", "drag", "ruff", "buzz", "diddle", "choke", "", "",
    ]  # fmt: skip


@pytest.mark.parametrize("key", ["floor tom hands", '"floor tom hands"', "floor-tom-hands", '"floor-tom hands"'])
@pytest.mark.parametrize("surface", ["floor tom", '"floor tom"', "floor-tom"])
def test_hands_stand_on_a_line_of_their_own(key: str, surface: str):
    groove = read_groove(HEAD + line("oooo----", surface) + f'{key} = "RL-R|"\n'.replace("|", "----"))
    assert [hand for _, _, hand in at(groove, "floor tom").values()] == ["R", "L", "", "R"]


def test_unquoted_keys_with_spaces_read_beside_a_text_of_several_lines():
    text = HEAD + 'note = """\nFirst line.\nSecond line.\n"""\n' + line("--o---o-") + 'snare graces = "--1-----"\n'
    groove = read_groove(text)
    assert groove.note == "First line.\nSecond line.\n"
    assert at(groove, "snare")[10080] == ("normal", "flam", "")


def test_a_text_that_looks_like_a_key_with_spaces_stays_as_it_is():
    text = HEAD + 'title = "snare graces = 1"\nnote = """\nsnare graces = "one"\n"""\n'
    groove = read_groove(text)
    assert (groove.title, groove.note) == ("snare graces = 1", 'snare graces = "one"\n')


@pytest.mark.parametrize("key", ["snare columns", "snare-columns", '"snare columns"'])
def test_a_line_may_have_columns_of_its_own(key: str):
    text = HEAD + f'[base]\nhi-hat = "x-x-x-x-x-x-x-x-"\n{key} = "eighth triplets"\nsnare = "-o- --- o-- --o"\n'
    groove = read_groove(text)
    assert groove.base.columns == "sixteenths"
    assert columns(groove, "snare", 3360) == [1, 6, 11]
    assert columns(groove, "hi-hat") == [0, 2, 4, 6, 8, 10, 12, 14]
    assert read_groove(write_groove(groove)) == groove


def test_details_add_what_columns_cannot_hold_and_say_more_of_what_they_hold():
    text = (
        HEAD
        + """bars = 2
[base]
snare = "----O-------O---|%"
[[detail]]
at = "1:2[2/6]"
surface = "floor tom"
dynamic = "ghost"
hand = "L"
[[detail]]
at = "4[2/7]"
surface = "high-tom"
[[detail]]
at = "4"
surface = "snare"
grace = "flam"
"""
    )
    groove = read_groove(text)
    assert at(groove, "floor tom") == {11760: ("ghost", "", "L")}
    assert at(groove, "high tom") == {31680: ("normal", "", ""), 72000: ("normal", "", "")}
    assert [grace for _, grace, _ in at(groove, "snare").values()] == ["", "flam", "", "flam"]
    assert {dynamic for dynamic, _, _ in at(groove, "snare").values()} == {"accent"}
    assert read_groove(write_groove(groove)) == groove


def test_a_silent_line_is_kept():
    groove = read_groove(HEAD + line("--------") + 'ride = "x-------"\n')
    assert groove.lines == ("snare",)
    assert 'snare = "--------"' in write_groove(groove)


def test_roles_can_be_corrected():
    text = HEAD + '[roles]\nriding = "floor-tom"\n"backbeat voice" = "rimshot"\n'
    for written in (text, text.replace('"backbeat voice"', "backbeat-voice")):
        assert read_groove(written).roles == (("riding", "floor tom"), ("backbeat voice", "rimshot"))


@pytest.mark.parametrize("role", ["kick", "hi-hat-foot", '"hi-hat foot"'])
def test_every_role_has_a_key(role: str):
    assert len(read_groove(HEAD + f'[roles]\n{role} = "kick"\n').roles) == 1


def test_feel_is_swing_and_pushes():
    push = 'push = { snare = "10 ms late", hi-hat = "4 ms early", all = "1 ms late" }'
    text = HEAD + f'[feel]\nswing = "sixteenths 3:2"\n{push}\n'
    assert read_groove(text).feel == Feel("sixteenths", 3, 2, (("all", 1), ("hi-hat", -4), ("snare", 10)))
    table = HEAD + '[feel.push]\nride-bell = "0 ms late"\nkick = "100 ms early"\n'
    assert read_groove(table).feel == Feel(pushes=(("kick", -100),))
    assert read_groove(HEAD + '[feel]\nswing = "eighths 2:1"\n').feel == Feel("eighths", 2, 1)


@pytest.mark.parametrize(
    "written,hundredths", [("92", 9200), ("92.5", 9250), ("92.25", 9225), ("20", 2000), ("4e2", 40000)]
)
def test_a_tempo_has_up_to_two_decimals(written: str, hundredths: int):
    groove = read_groove(HEAD + f"tempo = {written}\n")
    assert groove.tempo == hundredths
    assert read_groove(write_groove(groove)).tempo == hundredths


def test_a_variation_carries_key_name_note_and_may_be_off():
    text = HEAD + 'next-key = 9\n[[variation]]\nkind = "displace"\nby = "2/32 later"\nkey = 7\noff = true\n'
    groove = read_groove(text + 'name = "Lean"\nnote = "Slowly."\n[[variation]]\nkind = "embellish"\n')
    first, second = groove.variations
    assert (first.key, first.on, first.name, first.note) == (7, False, "Lean", "Slowly.")
    assert first.settings == (("by", "1/16 later"),)
    assert (second.key, second.on, second.settings) == (2, True, ())
    assert groove.next_key == 9
    assert read_groove(write_groove(groove)) == groove


def test_settings_have_one_form_and_defaults_are_left_out():
    text = (
        HEAD
        + """[[variation]]
kind = "embellish"
surface = "snare"
at = "e  a e"
dynamic = "soft"
grace = "none"
clear-of = ["kick", "riding", "kick"]
[[variation]]
kind = "orchestrate"
to = "Ride-Bell"
then = { to = "crash", at = "beats" }
"""
    )
    embellish, orchestrate = read_groove(text).variations
    assert embellish.settings == (("dynamic", "soft"), ("clear-of", ("riding", "kick")))
    assert orchestrate.settings == (("to", "ride bell"), ("then", (("to", "crash"),)))


def test_branches_leave_from_a_stage_and_have_keys_of_their_own():
    text = (
        HEAD
        + """[[variation]]
kind = "displace"
by = "1/8 later"
[[branch]]
name = "Another way"
after = 1
[[branch.variation]]
kind = "embellish"
[[branch.variation]]
kind = "displace"
by = "1/4 earlier"
[[branch]]
[[branch.variation]]
kind = "embellish"
key = 12
"""
    )
    groove = read_groove(text)
    assert [(branch.name, branch.after) for branch in groove.branches] == [("Another way", 1), ("", 0)]
    assert [[v.key for v in branch.variations] for branch in groove.branches] == [[2, 3], [12]]
    assert groove.next_key == 13
    assert read_groove(write_groove(groove)) == groove


def test_line_ends_marks_and_comments_do_not_matter():
    text = (
        HEAD
        + '# a comment\ntitle = "Tide"\n[base]\nsnare graces = "----1-------2---" # marks\nsnare = "----O-------O---"\n'
    )
    plain = read_groove(text)
    assert plain.title == "Tide"
    assert read_groove(text.replace("\n", "\r\n")) == plain
    assert read_groove("\ufeff" + text) == plain
    assert read_groove(text.rstrip("\n")) == plain


def test_meters_and_groupings_of_all_kinds_read_back():
    for meter, grouping in (("2/2", ""), ("7/4", ""), ("7/8", "3+2+2"), ("12/8", ""), ("15/16", "5+5+5"), ("5/16", "")):
        given = f'grouping = "{grouping}"\n' if grouping else ""
        groove = read_groove(HEAD + f'meter = "{meter}"\n{given}')
        assert str(groove.base.meter) == meter
        assert read_groove(write_groove(groove)) == groove


def test_writing_is_canonical():
    text = HEAD + line("--o---o---o---o-|--o---oo%") + 'snare hands = "--R-----|--------|------L-|%"\n'
    once = write_groove(read_groove(text))
    assert write_groove(read_groove(once)) == once
    assert 'snare = "--o---o-|%|--o---oo|%"' in once


def test_quotes_and_signs_in_texts_survive():
    title = 'The "tide" \\ é ß 鼓 \u2028 \U0001f941'
    groove = Groove(title=title, note='one\n\ttwo "three"')
    assert read_groove(write_groove(groove)) == groove
