"""The cut-down library holds all that the engine needs, and its bytes depend on nothing but their sources."""

from __future__ import annotations

import hashlib
import json
import shutil
import subprocess
import zipfile
from pathlib import Path
from typing import Any

import pytest

from groundbeat.site import runtime as made_of
from groundbeat.site.fault import SiteError
from groundbeat.site.runtime import browser_modules, library_modules, make_lean
from groundbeat.site.tools import CACHE, ROOT

ENGINE = ROOT / "engine"
WEB = ROOT / "web"

TOLD = """
import traceback
try:
    {}["a beat"]
except KeyError:
    said = traceback.format_exc()
said
"""


@pytest.fixture(scope="module")
def lean(dist: Path, node_program: str) -> dict[str, Any]:
    """What Node's Pyodide says on the built runtime: imports, answers, a traceback."""
    (runtime,) = (dist / "py").iterdir()
    zips = [next(runtime.glob(f"{part}-*.zip")) for part in ("engine", "playing", "notation")]
    example = (ROOT / "examples" / "slack-tide.toml").read_text()
    lock = json.loads((WEB / "node_modules" / "pyodide" / "pyodide-lock.json").read_text())["info"]
    wanted = {
        "modules": browser_modules(ENGINE),
        "requests": [
            *({"ask": "hello"}, {"ask": "open", "text": example}, {"ask": "open", "text": "#1x"}),
            {"ask": "qr", "text": "a text"},
            {"ask": "playing", "document": example, "stage": 2},
            {"ask": "lesson_sheet", "document": example},
        ],
        "later": [{"ask": "playing", "document": example, "stage": 2}, {"ask": "lesson_sheet", "document": example}],
        "python": TOLD,
        "lock": lock,
    }
    command = [node_program, str(Path(__file__).with_name("lean_check.mjs")), str(runtime), *map(str, zips)]
    done = subprocess.run(command, input=json.dumps(wanted), capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr[-3000:]
    report: dict[str, Any] = json.loads(done.stdout.splitlines()[-1])
    return report


def test_every_browser_module_imports_on_the_lean_library(lean: dict[str, Any]) -> None:
    assert lean["failed"] == {}
    assert len(lean["origins"]) >= len(browser_modules(ENGINE))
    assert {origin.split(".zip/")[0] for origin in lean["origins"]} == {
        "/lib/groundbeat",
        "/lib/playing",
        "/lib/notation",
    }
    assert all(("/playing.zip/" in origin) == ("/groundbeat/analysis/" in origin) for origin in lean["origins"])
    assert all(("/notation.zip/" in origin) == ("/groundbeat/notation/" in origin) for origin in lean["origins"])


def test_the_door_answers_on_the_lean_library(lean: dict[str, Any]) -> None:
    hello, view, refused, needs, playing, sheet = lean["answers"]
    assert hello["answer"] == "hello"
    assert view["answer"] == "view"
    assert view["title"] == "Slack Tide"
    assert refused["refused"]["message"]
    assert needs == {"needs": "extras"}
    assert playing == {"needs": "playing"}
    assert sheet == {"needs": "playing"}
    (playing, sheet), (_, whole) = lean["later"]
    assert playing["spots"][0]["ids"] == ["2/snare@11/16", "0/snare@3/4", "2/snare@13/16"]
    assert sheet == {"needs": "notation"}
    assert [block["kind"] for block in whole["blocks"]] == [*["stage"] * 5, "plan", "legend", "cautions"]


def test_a_traceback_can_be_told_on_the_lean_library(lean: dict[str, Any]) -> None:
    assert lean["said"].splitlines()[-1] == "KeyError: 'a beat'"


def test_compiling_twice_gives_the_same_bytes(dist: Path, tmp_path: Path) -> None:
    """Once for the built folder, whose parts are still in the cache of the build, and once anew."""

    def digests(cache: Path) -> dict[str, str]:
        made = make_lean(ENGINE, WEB, cache)
        return {file.name: hashlib.sha256(file.read_bytes()).hexdigest() for file in made.iterdir()}

    first = digests(CACHE)
    assert {first["stdlib.zip"], first["engine.zip"]} <= {
        hashlib.sha256(file.read_bytes()).hexdigest() for file in dist.glob("py/*/*.zip")
    }
    assert set(first) == {"stdlib.zip", "engine.zip", "playing.zip", "notation.zip", "extras.zip", "modules.json"}
    assert digests(tmp_path / "second") == first


def test_the_zips_are_stored_and_hold_only_compiled_modules(dist: Path) -> None:
    (runtime,) = (dist / "py").iterdir()
    files = [runtime / "stdlib.zip", *runtime.glob("*-*.zip")]
    assert len(files) == 5
    for file in files:
        with zipfile.ZipFile(file) as archive:
            entries = archive.infolist()
        assert entries
        assert all(entry.filename.endswith(".pyc") for entry in entries)
        assert all(entry.compress_type == zipfile.ZIP_STORED for entry in entries)
        assert not any(entry.filename.startswith(("groundbeat/sound", "groundbeat/site")) for entry in entries)


def names_in(file: Path) -> set[str]:
    with zipfile.ZipFile(file) as archive:
        return {Path(name).with_suffix("").as_posix() for name in archive.namelist()}


def test_the_extras_hold_the_package_and_what_only_it_needs(dist: Path) -> None:
    (runtime,) = (dist / "py").iterdir()
    (extras_zip,) = runtime.glob("extras-*.zip")
    extras, library = names_in(extras_zip), names_in(runtime / "stdlib.zip")
    assert {"segno/__init__", "segno/encoder", "urllib/parse"} <= extras
    assert {"defusedxml/ElementTree", "xml/etree/ElementTree"} <= extras  # for scores
    assert not extras & library
    assert not {name.split("/")[0] for name in extras} & {name.split("/")[0] for name in library}
    assert not any(name.startswith(("segno", "groundbeat")) for name in library)


def test_a_package_is_never_split_between_the_zips(tmp_path: Path) -> None:
    """Python looks for all of a package where it has found its first part."""
    engine = engine_of(tmp_path / "engine", "import urllib\n")
    made = make_lean(engine, WEB, tmp_path / "cache")
    assert {"urllib/__init__", "urllib/parse"} <= names_in(made / "stdlib.zip")
    assert "xml/sax/saxutils" in names_in(made / "extras.zip")
    assert not any(name.startswith("urllib/") for name in names_in(made / "extras.zip"))


def test_an_engine_that_needs_the_extras_to_start_ends_the_build(tmp_path: Path) -> None:
    engine = engine_of(tmp_path / "engine", "import segno\n")
    with pytest.raises(SiteError, match="No module named 'segno'"):
        make_lean(engine, WEB, tmp_path / "cache")


def test_an_extra_that_is_not_installed_ends_the_build(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(made_of, "EXTRAS", ("ourownpackage.part",))
    with pytest.raises(SiteError, match="the package ourownpackage is not installed; 'python3 engine build'"):
        make_lean(engine_of(tmp_path / "engine", ""), WEB, tmp_path / "cache")


def engine_of(folder: Path, door: str) -> Path:
    """Lay out the smallest engine there can be."""
    for room in ("", "bridge"):
        (folder / "groundbeat" / room).mkdir(parents=True, exist_ok=True)
        (folder / "groundbeat" / room / "__init__.py").write_text("")
    shutil.copy(ENGINE / "groundbeat" / "errors.py", folder / "groundbeat" / "errors.py")
    (folder / "groundbeat" / "bridge" / "door.py").write_text(door)
    return folder


def test_a_module_that_the_browser_lacks_ends_the_build(tmp_path: Path) -> None:
    engine = engine_of(tmp_path / "engine", "import numpy\n")
    with pytest.raises(SiteError, match="compiling the engine for the browser failed: .*No module named 'numpy'"):
        make_lean(engine, WEB, tmp_path / "cache")
    assert not list((tmp_path / "cache" / "python").iterdir())


def test_imports_inside_functions_count(tmp_path: Path) -> None:
    engine = engine_of(tmp_path, "import json\ndef later():\n    from xml.sax import saxutils\n")
    assert library_modules(engine, ["groundbeat.bridge.door"]) == ["json", "xml.sax"]


def test_an_engine_without_its_door_ends_the_build(tmp_path: Path) -> None:
    engine = engine_of(tmp_path / "engine", "")
    (engine / "groundbeat" / "bridge" / "door.py").unlink()
    with pytest.raises(SiteError, match="nothing would answer the page"):
        make_lean(engine, WEB, tmp_path / "cache")
