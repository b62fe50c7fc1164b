"""Every error of ours has a code of its own that programs may rely on."""

from __future__ import annotations

import ast
import importlib
import re
from pathlib import Path

import pytest

import groundbeat
from groundbeat.errors import GroundbeatError

# Published codes never change. A new error adds a row.
CODES = {
    "GroundbeatError": "groundbeat", "MeterError": "meter", "PlaceError": "place", "KitError": "kit",
    "BeatError": "beat", "VariationError": "variation", "GrooveFileError": "groove-file", "LinkError": "link",
    "MidiError": "midi", "TimelineError": "timeline", "RequestError": "request", "SiteError": "site",
    "BaseBeatError": "midi.base-beat", "QrError": "qr", "TabError": "tab", "MusicXmlError": "musicxml",
}  # fmt: skip


def all_errors() -> list[type[GroundbeatError]]:
    """All errors of ours; the modules that define a class named so are imported for it, and no others."""
    package = Path(groundbeat.__path__[0])
    for path in sorted(package.rglob("*.py")):
        if re.search(r"^class \w+Error\(", path.read_text(encoding="utf-8"), re.MULTILINE):
            importlib.import_module(".".join(["groundbeat", *path.relative_to(package).with_suffix("").parts]))
    rows: list[type[GroundbeatError]] = [GroundbeatError]
    for made in rows:
        rows += [sub for sub in made.__subclasses__() if sub not in rows and sub.__module__.startswith("groundbeat")]
    return rows


def test_every_error_has_its_own_stable_code():
    assert {made.__name__: made.code for made in all_errors()} == CODES
    assert len(set(CODES.values())) == len(CODES)


def test_every_error_names_its_code_itself():
    assert [made.__name__ for made in all_errors() if "code" not in vars(made)] == []


def test_finer_codes_stand_below_the_code_of_their_error(root: Path):
    finer = set()
    for path in sorted((root / "engine/groundbeat").rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.keyword) and node.arg == "code" and isinstance(node.value, ast.Constant):
                finer.add(node.value.value)
    assert {"link.cut-short", "link.newer", "link.not-one", "link.too-long", "link.damaged"} <= finer
    for code in finer - {""}:
        head, _, tail = code.partition(".")
        assert head in CODES.values(), code
        assert re.fullmatch(r"[a-z]+(-[a-z]+)*", tail), code


def test_an_error_carries_message_code_and_field():
    error = GroundbeatError("what happened", code="link.newer", field="text")
    assert (str(error), error.message, error.code, error.field) == (*["what happened"] * 2, "link.newer", "text")
    assert GroundbeatError.code == "groundbeat"  # one error's finer code is not every error's


@pytest.mark.parametrize("made", all_errors(), ids=lambda made: made.__name__)
def test_an_error_is_caught_as_one_of_ours(made: type[GroundbeatError]):
    with pytest.raises(GroundbeatError, match="why"):
        raise made("why")
