"""Every key and value of a TOML text is found at its line and column, whatever stands around it.

In the texts below a ▶ stands before the value that is looked for; it is taken out before the walk.
"""

from __future__ import annotations

import tomllib

import pytest

from groundbeat.codec.locate import Path, locate
from tests.steps import steps_of

MARK = "▶"

VALUES: list[tuple[str, Path, str]] = [
    ("a plain value", ("a",), "a = ▶1"),
    ("after spaces and tabs", ("a",), " \t a\t=\t ▶1"),
    ("on a later line", ("b",), 'a = "one"\n\n  # b = 5\nb = ▶"two"'),
    ("after a comment with quotes", ("b",), "a = 1 # it's \"so\nb = ▶2"),
    ("in a table", ("t", "a"), "[t]\na = ▶1"),
    ("in a table inside a table", ("t", "u", "a"), "[t.u]\na = ▶1"),
    ("in a table with spaces", ("t", "u", "a"), "[ t . u ]\na = ▶1"),
    ("by a dotted key", ("t", "u"), "t.u = ▶1"),
    ("by a quoted key", ("a b",), '"a b" = ▶1'),
    ("by a literal key", ("a.b",), "'a.b' = ▶1"),
    ("by a key with an equals sign", ("a=b",), '"a=b" = ▶1'),
    ("by a quoted key of a table", ("a]b", "c"), '["a]b"]\nc = ▶1'),
    ("in the first of two tables", ("v", 0, "a"), "[[v]]\na = ▶1\n[[v]]\na = 2"),
    ("in the second of two tables", ("v", 1, "a"), "[[v]]\na = 1\n[[v]]\na = ▶2"),
    ("in a table of the last one", ("v", 1, "t", "a"), "[[v]]\n[[v]]\n[v.t]\na = ▶1"),
    ("in tables inside tables", ("b", 1, "v", 1, "a"), "[[b]]\n[[b.v]]\na=0\n[[b]]\n[[b.v]]\n[[b.v]]\na = ▶1"),
    ("in a list", ("a", 1), 'a = ["x", ▶"y"]'),
    ("in a list over lines", ("a", 1), 'a = [\n  "x", # [\n\n  ▶"y",\n]'),
    ("in a list of lists", ("a", 1, 0), "a = [[1, 2], [▶3]]"),
    ("in an inline table", ("a", "c"), "a = { b = 1, c = ▶2 }"),
    ("in an inline table with a dotted key", ("a", "b", "c"), "a = { b.c = ▶2 }"),
    ("in a list of inline tables", ("a", 1, "b"), "a = [{ b = 1 }, { b = ▶2 }]"),
    ("after a text with brackets", ("b",), 'a = "]}#,"\nb = ▶1'),
    ("after a text with an escaped quote", ("a", 1), 'a = ["\\"]", ▶2]'),
    ("after a text that ends in a backslash", ("a", 1), "a = ['\\', ▶2]"),
    ("after a long text", ("b",), 'a = """\nb = 5\n"quoted"\n"""\nb = ▶1'),
    ("after a long text that ends in quotes", ("b",), 'a = """one""""" \nb = ▶1'),
    ("after a long literal text", ("b",), "a = '''\nb = \\'''\nb = ▶1"),
    ("after a long text with an escape", ("b",), 'a = """\\""" b = 5"""\nb = ▶1'),
    ("after an empty text", ("a", 1), 'a = ["", ▶""]'),
    ("after a date", ("b",), "a = 1979-05-27T07:32:00Z\nb = ▶1"),
    ("after an empty list and table", ("c",), "a = []\nb = {}\nc = ▶1"),
    ("behind letters from everywhere", ("b",), 'a = "鼓é"\nb = ▶1'),
    ("on a line with letters from everywhere", ("a", 1), 'a = ["鼓é", ▶1]'),
]


def marked(text: str) -> tuple[str, int, int]:
    assert text.count(MARK) == 1
    before = text.partition(MARK)[0]
    return text.replace(MARK, ""), before.count("\n") + 1, len(before) - before.rfind("\n")


@pytest.mark.parametrize(("path", "text"), [pytest.param(*row[1:], id=row[0]) for row in VALUES])
def test_a_value_is_found_at_its_line_and_column(path: Path, text: str):
    bare, line, column = marked(text)
    held: object = tomllib.loads(bare)
    for part in path:  # the table above speaks of a value that is there
        held = held[part]  # type: ignore[index]
    spot = locate(bare).values[path]
    assert (spot.line, spot.column) == (line, column)


def leaves(value: object, path: Path = ()) -> list[Path]:
    """The paths of all values that hold no others."""
    if isinstance(value, dict) and value:
        return [leaf for key, inner in value.items() for leaf in leaves(inner, (*path, key))]
    if isinstance(value, list) and value:
        return [leaf for index, inner in enumerate(value) for leaf in leaves(inner, (*path, index))]
    return [path]


@pytest.mark.parametrize("text", [pytest.param(row[2].replace(MARK, ""), id=row[0]) for row in VALUES])
def test_every_value_has_a_place_of_its_own(text: str):
    places = locate(text)
    lines = text.split("\n")
    found = [places.values[path] for path in leaves(tomllib.loads(text)) if path in places.values]
    headless = [path for path in leaves(tomllib.loads(text)) if path not in places.values]
    assert all(path in places.keys for path in headless)  # a table without a row has its header only
    assert len({spot[:2] for spot in found}) == len(found)
    for spot in found:
        assert lines[spot.line - 1][spot.column - 1] not in " \t=,]}"


@pytest.mark.parametrize(
    ("path", "text"),
    [
        (("a",), "▶a = 1"),
        (("b",), "a = 1\n  ▶b = 2"),
        (("t",), "a = 1\n▶[t]\na = 1"),
        (("v", 1), "[[v]]\n▶[[v]]\na = 1"),
        (("a", "c"), "a = { b = 1, ▶c = 2 }"),
        (("a b",), '▶"a b" = 1'),
    ],
)
def test_a_key_is_found_at_its_line_and_column(path: Path, text: str):
    bare, line, column = marked(text)
    assert locate(bare).keys[path][:2] == (line, column)


@pytest.mark.parametrize(
    ("value", "quoted"),
    [('"x"', True), ("'x'", True), ('""', True), ('"""x"""', False), ("'''x'''", False), ("1", False), ("[]", False)],
)
def test_only_a_plain_text_of_one_line_has_its_letters_right_behind_the_quote(value: str, quoted: bool):
    assert locate(f"a = {value}").values["a",].quoted is quoted


def test_what_has_no_place_of_its_own_has_that_of_the_table_around_it():
    places = locate("x = 1\n[[v]]\n[v.then]\nat = 2\n")
    assert places.find(("v", 0, "then", "to"))[:2] == (3, 1)
    assert places.find(("v", 0, "kind"))[:2] == (2, 1)
    assert places.find(("nothing", 3))[:2] == (1, 1)


@pytest.mark.parametrize("text", ["a = 1\n▶[[v]]\n[[v]]\n", "a = 1\n▶[v.u]\nb = 1\n", "a = 1\n▶v.u = 1\n"])
def test_what_is_only_named_on_the_way_is_found_where_it_is_first_named(text: str):
    bare, line, column = marked(text)
    assert locate(bare).find(("v",))[:2] == (line, column)


def test_an_empty_text_has_no_places():
    for text in ("", "\n\n", "# only a comment"):
        places = locate(text)
        assert (places.keys, places.values) == ({}, {})


def test_walking_takes_steps_in_proportion_to_the_text():
    def steps(rows: int) -> int:
        text = "".join(f'k{row} = ["{"x" * 40}", {{ a = 1 }}]\n' for row in range(rows))
        assert len(locate(text).values) == 4 * rows
        return steps_of(lambda: locate(text))

    assert steps(400) < 4.2 * steps(100)
