"""What LINK.md and GROOVE.md say is what the code does: their tables, limits and examples."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from groundbeat.codec import (
    bits,
    groove_lines,
    groove_read,
    letters,
    link,
    link_base,
    link_blocks,
    link_v1,
    link_values,
)
from groundbeat.codec.groove_read import read_groove
from groundbeat.codec.groove_write import write_groove
from groundbeat.errors import GrooveFileError
from groundbeat.model import beat, feel, groove, kit, meter, place, roles
from groundbeat.variation import catalogue, notes, patterns, selection, setting, touch

ROOT = Path(__file__).resolve().parents[2]
LINK = (ROOT / "engine/groundbeat/codec/LINK.md").read_text(encoding="utf-8")
GROOVE = (ROOT / "engine/groundbeat/codec/GROOVE.md").read_text(encoding="utf-8")
SLACK_TIDE = (ROOT / "examples/slack-tide.toml").read_text(encoding="utf-8")


def section(text: str, heading: str) -> str:
    """The text below a heading, up to the next one of any depth."""
    found = re.search(rf"^#+ {re.escape(heading)}\n(.*?)(?=^#+ |\Z)", text, re.MULTILINE | re.DOTALL)
    assert found, heading
    return found[1]


def rows(text: str, heading: str) -> list[list[str]]:
    """The table below a heading, without its head."""
    lines = [line for line in section(text, heading).split("\n") if line.startswith("|")]
    cells = [[cell.strip().replace("\\|", "|") for cell in re.split(r"(?<!\\)\|", line)[1:-1]] for line in lines]
    return cells[2:]


def told(default: Any) -> str:
    return "must be given" if default is None else "none" if default in ("", ()) else str(default)


TABLES: dict[str, list[str]] = {
    "units": [str(unit) for unit in link_v1.UNITS],
    "columns of a line": list(link_base.COLUMN_NAMES),
    "dynamics": list(kit.DYNAMICS),
    "words": list(selection.WORDS),
    "orders": [order or "none" for order in selection.ORDERS],
    "parts": [f"{num}/{den}" for num, den in link_values.PARTS],
    "denominators": [str(den) for den in link_values.DENOMINATORS],
    "note values": list(notes.NAMES),
    "shapes": [shape or "plain" for shape in notes.SHAPES],
    "signs": list(link_values.SIGNS),
    "graces": [grace or "none" for grace in kit.GRACES],
    "letters of hands": list(patterns.HAND_LETTERS),
    "hands": [hand or "free" for hand in kit.HANDS],
    "roles": list(roles.ROLES),
    "swung": list(feel.SWUNG),
}


@pytest.mark.parametrize("heading", TABLES)
def test_a_table_of_the_link_is_that_of_the_code(heading: str):
    assert [row[:2] for row in rows(LINK, heading)] == [[str(n), name] for n, name in enumerate(TABLES[heading])]


def test_columns_of_the_beat_are_numbered_as_written():
    for number, name in rows(LINK, "columns of the beat"):
        text = link_v1.write(read_groove(f'groundbeat = 1\nmeter = "4/4"\ncolumns = "{name}"\n')).url64()
        reader = bits.BitReader(text)
        assert (reader.flag(), reader.number(2)) == (False, int(number)), name
    assert len(rows(LINK, "columns of the beat")) == len(place.COLUMNS)


def test_columns_of_a_later_version_change_no_link(monkeypatch: pytest.MonkeyPatch):
    texts = [f'groundbeat = 1\ncolumns = "{name}"\n' for name in place.COLUMNS]
    before = [link.write_link(read_groove(text)) for text in texts]
    monkeypatch.setattr(link_v1, "COLUMN_CODES", (*link_v1.COLUMN_CODES, "ninths"))
    assert [link.write_link(read_groove(text)) for text in texts] == before


def test_targets_are_the_words_and_then_the_surfaces():
    order = {row.name: str(at) for at, row in enumerate(sorted(kit.SURFACES, key=lambda row: row.row), 1)}
    expected = [[str(n), word, ""] for n, word in enumerate(link_values.TARGET_WORDS)]
    expected += [
        [str(3 + row.number), row.name, order[row.name]] for row in sorted(kit.SURFACES, key=lambda row: row.number)
    ]
    assert rows(LINK, "targets") == expected


def test_kinds_and_their_settings_are_numbered_as_written():
    assert rows(LINK, "kinds") == [[str(entry.number), entry.name] for entry in catalogue.ENTRIES]
    expected = []
    for entry in catalogue.ENTRIES:
        for one in catalogue.kind(entry.name).settings:
            expected.append([entry.name, str(one.number), one.name, one.type.name, told(one.default)])
            for inner in one.inner:
                head = f"{entry.name}, {one.name}"
                expected.append([head, str(inner.number), inner.name, inner.type.name, told(inner.default)])
    assert rows(LINK, "settings") == expected


def _all_settings() -> Iterator[tuple[str, setting.Setting]]:
    for entry in catalogue.ENTRIES:
        for one in catalogue.kind(entry.name).settings:
            yield entry.name, one
            yield from ((f"{entry.name}, {one.name}", inner) for inner in one.inner)


def test_words_of_choices_and_ranges_of_numbers_are_those_of_the_code():
    words = [
        [head, one.name, ", ".join(f"`{word}`" for word in one.words)] for head, one in _all_settings() if one.words
    ]
    assert rows(LINK, "words of choices") == words
    ranges = [
        [head, one.name, str(one.low), str(one.high)] for head, one in _all_settings() if one.type is setting.NUMBER
    ]
    assert rows(LINK, "ranges of numbers") == ranges


def test_modes_and_blocks_are_numbered_as_written():
    modes = (link_base.ALL_NORMAL, link_base.ALL_ACCENT, link_base.EACH, link_base.ALL_GHOST)
    names = ("every stroke normal", "every stroke an accent", "each stroke its own", "every stroke a ghost")
    assert rows(LINK, "dynamics of a line") == [[str(n), name] for n, name in sorted(zip(modes, names, strict=True))]
    b = link_blocks
    blocks = (b.NOTE, b.ROLE, b.FEEL, b.GRACE, b.HAND, b.DETAIL, b.KEYS, b.NAMES, b.NOTES)
    words = ("note", "roles", "feel", "graces", "hands", "details", "keys", "names", "notes")
    assert rows(LINK, "blocks") == [[str(n), word] for n, word in zip(blocks, words, strict=True)]
    content = [row[0] for row in rows(LINK, "The document") if re.match(r"\d ", row[0])]
    assert content == [f"{n} {word}" for n, word in zip(blocks, words, strict=True)]


def test_every_type_of_setting_is_told():
    types = {row[0] for row in rows(LINK, "The document")}
    assert set(link_values.CODES) <= types


def test_the_limits_of_the_link_are_those_of_the_code():
    assert {name: int(most) for name, most in rows(LINK, "Limits")} == {
        "characters of a link": link.MAX_LINK,
        "groups of a number": bits._MAX_GROUPS,
        "characters of the title": groove.MAX_TITLE,
        "characters of a note": groove.MAX_NOTE,
        "characters of a name": groove.MAX_NAME,
        "bars": beat.MAX_BARS,
        "lines": link_base.MAX_LINES,
        "strokes": beat.MAX_STROKES,
        "variations": groove.MAX_VARIATIONS,
        "terms of places": selection.MAX_TERMS,
        "targets of a list": setting.MAX_LIST,
        "notes of a cell": notes.MAX_CELL,
        "changes": touch.MAX_CHANGES,
        "milliseconds of a push": feel.MAX_PUSH,
        "long or short of a swing": feel.MAX_SHARE,
    }
    assert f"above {link.COMFORTABLE} characters" in LINK
    assert f"The tempo is {groove.MIN_TEMPO // 100} to {groove.MAX_TEMPO // 100}." in LINK
    assert f"one in {62**link.CHECK:,}" in LINK


def test_the_alphabets_are_those_of_the_code():
    assert f'"{bits.ALPHABET}"' in LINK
    assert f"`{link.BASE62}`" in LINK
    assert [bits.ALPHABET.index(letter) for letter in " aA0-"] == [0, 1, 27, 53, 63]
    for k, number, written in ((3, 5, "0 101"), (3, 8, "1 001 0 000"), (2, 0, "0 00"), (2, 4, "1 01 0 00")):
        writer = bits.BitWriter()
        writer.number(number, k)
        assert "".join(writer._bits) == written.replace(" ", "")
        assert f"{number} = {written}" in LINK


def test_the_worked_example_is_every_bit_of_the_link_of_slack_tide():
    fragment = link.write_link(read_groove(SLACK_TIDE))
    assert f"    #{fragment}\n" in LINK
    assert f"`{fragment[-3:]}` the check value" in LINK
    table = rows(LINK, "A worked example")
    written = "".join(row[0].strip("`").replace(" ", "") for row in table)
    assert f"The rest is {len(written)} bits" in LINK
    body = "".join(f"{bits.URL64.index(letter):06b}" for letter in fragment[1:-3])
    assert body == written + "0" * (-len(written) % 6)
    for row in table:  # each row has as many bits as it says
        bare, what = row[0].strip("`").replace(" ", ""), row[1]
        if what == "bit":
            assert len(bare) == 1
        elif found := re.fullmatch(r"(?:(\d+) times )?fixed (\d+)", what):
            assert len(bare) == int(found[1] or 1) * int(found[2])
        elif found := re.fullmatch(r"number (\d+)", what):
            assert len(bare) % (int(found[1]) + 1) == 0
        else:
            assert what == f"{len(bare)} bits"


# ---- GROOVE.md -------------------------------------------------------------------------------------------------------

COMPLETE = re.findall(r"^```toml complete\n(.*?)^```$", GROOVE, re.MULTILINE | re.DOTALL)


@pytest.mark.parametrize("text", COMPLETE)
def test_a_complete_groove_of_the_guide_reads(text: str):
    made = read_groove(text)
    assert read_groove(write_groove(made)) == made


def test_the_annotated_example_uses_every_key():
    assert len(COMPLETE) == 2
    every = COMPLETE[1]
    for key in set(groove_read._TOP) - {"bars"}:
        assert re.search(rf"^\[*{re.escape(key)}\b", every, re.MULTILINE), key
    made = read_groove(every)
    assert made.feel.pushes and made.roles and made.branches and made.lines
    assert {stroke.grace for stroke in made.base.strokes} >= {"flam", "drag", "choke"}


def test_every_key_is_told():
    heads = set(groove_read._TOP) | set(groove_read._OF_VARIATION) | {"at", "surface", "dynamic", "grace", "hand"}
    for key in heads:
        assert re.search(rf"`\[*(?:branch\.)?{re.escape(key)}\b", GROOVE), key


def test_the_surfaces_of_the_guide_are_those_of_the_kit_from_the_top():
    found = re.search(r"A key of `\[base\]` is a surface:\n\n(.*?)\.\n", GROOVE, re.DOTALL)
    assert found
    assert " ".join(found[1].split()).split(", ") == [
        row.name for row in sorted(kit.SURFACES, key=lambda row: row.row)
    ]  # fmt: skip


def test_the_letters_of_the_guide_are_those_that_are_read():
    shown = {letter for row in rows(GROOVE, "The lines")[:9] for letter in re.findall(r"`([^`]+)`", row[0])}
    assert shown == {*letters._DYNAMICS, *letters.EMPTY, "|", "%"}
    graces = next(row[1] for row in rows(GROOVE, "The lines") if row[0] == "`snare graces`")
    for letter, name in letters.GRACE_LETTERS.items():
        assert re.search(rf"`{re.escape(letter)}` [\w-]*\s*{name}", graces), letter


def test_metal_drums_and_rest_are_as_the_guide_says():
    drums = {row.name for row in kit.SURFACES if row.material == kit.DRUM}
    either = {row.name for row in kit.SURFACES if row.material == kit.EITHER}
    assert drums == {"kick", "second kick", "snare", "rimshot", "high tom", "mid tom", "low tom", "floor tom"}
    assert either == {name for name in kit.BY_NAME if "rim" in name.split()} | {"cross-stick", "wood block", "shell"}


def test_the_usual_groupings_are_those_of_the_code():
    text = " ".join(section(GROOVE, "The head").split("Usual groupings:")[1].split())
    for count in range(5, 16):
        usual = "+".join(str(size) for size in meter.Meter.of(f"{count}/8").grouping)
        assert re.search(rf"\b{count} (?:is )?`{re.escape(usual)}`", text), count
    assert [meter.Meter.of(f"{count}/8").grouping for count in (2, 3, 4)] == [(2,), (3,), (2, 2)]


def test_the_limits_of_the_guide_are_those_of_the_code():
    for words in (
        f"at most {groove.MAX_TITLE} characters", f"at most {groove.MAX_NAME} characters",
        f"at most {groove.MAX_NOTE} characters", f"1 to {beat.MAX_BARS}; needed", f"at most {groove.MAX_VARIATIONS} on",
        f"At most {groove.MAX_BRANCHES}.", f"at most {feel.MAX_PUSH} ms", f"from 1 to {feel.MAX_SHARE}",
        f"{groove.MIN_TEMPO // 100} to {groove.MAX_TEMPO // 100}, at most two decimals",
        f"at most {groove_read.MAX_FILE:,} characters", f"at most {beat.MAX_STROKES} strokes",
        f"at most {groove_lines.MAX_DETAILS} `[[detail]]`",
    ):  # fmt: skip
        assert words in " ".join(GROOVE.split()), words


def test_the_errors_of_the_guide_are_those_that_are_told():
    shown = re.findall(r"^mine\.toml, .*$", GROOVE, re.MULTILINE)
    wrong = {
        9: ("[base]\n", 'hi-hat = "x-o-x-x-x-x-x-x-"'),
        12: ('[[variation]]\nkind = "displace"\nby = "1/8 later"\n', 'at = "a1"'),
        3: ("", "tempo = 9"),
    }
    assert len(shown) == len(wrong)
    for error, (line, (before, text)) in zip(shown, wrong.items(), strict=True):
        padding = "\n" * (line - 2 - before.count("\n"))
        with pytest.raises(GrooveFileError) as caught:
            read_groove(f"groundbeat = 1\n{padding}{before}{text}\n", "mine.toml")
        assert caught.value.message == error
