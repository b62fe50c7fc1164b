"""The built folder: whole, relative, the same every time, and never in the way of other files."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

from groundbeat.site import build as building
from groundbeat.site.fault import SiteError
from groundbeat.site.page import KITS
from groundbeat.site.report import MARK

HASHED = re.compile(r"^(app/[\w.]+-[0-9A-Z]{8}\.(js|css)(\.map)?|py/[0-9a-f]{12}/.*|kit/.*\.(ogg|mp3))$")


def names_of(folder: Path) -> set[str]:
    return {file.relative_to(folder).as_posix() for file in folder.rglob("*") if file.is_file()}


def test_the_folder_holds_what_the_page_needs(dist: Path) -> None:
    names = names_of(dist)
    wanted = {"index.html", "sw.js", *(kit["address"] for kit in KITS)}
    wanted |= {f"stored/{name}.json" for name in ("example.view", "example.timeline", "beats")}
    assert wanted <= names
    index = (dist / "index.html").read_text()
    told = dict(re.findall(r'data-(worker|processor|runtime|kit|stored)="([^"]*)"', index))
    assert set(told) == {"worker", "processor", "runtime", "kit", "stored"}
    for place in told.values():
        assert (dist / place).exists(), place
    for part in ("wasm", "mjs"):
        assert f"{told['runtime']}pyodide.asm.{part}" in names


def test_every_address_is_relative(dist: Path) -> None:
    """So the folder works below any path."""
    for page in dist.glob("*.html"):
        for address in re.findall(r'\b(?:src|href|data-\w+)="([^"]*)"', page.read_text()):
            assert not re.match(r"/|[a-z]+:(?!,)|\\", address), f"{page.name}: {address}"
            assert (dist / address).exists(), f"{page.name}: {address}"
    for style in (dist / "app").glob("*.css"):
        for address in re.findall(r"url\(([^)]*)\)", style.read_text()):
            assert not re.match(r"[\"']?(/|https?:)", address), f"{style.name}: {address}"
    manifest = dist / "manifest.webmanifest"
    if manifest.exists():
        told = json.loads(manifest.read_text())
        for address in [told["start_url"], told.get("scope", "./"), *(icon["src"] for icon in told["icons"])]:
            assert not re.match(r"/|https?:", address), address
            assert (dist / address).exists(), address


def test_sources_in_maps_lead_to_no_folder_of_this_machine(dist: Path) -> None:
    maps = list((dist / "app").glob("*.map"))
    assert len(maps) >= 3
    for file in maps:
        for source in json.loads(file.read_text())["sources"]:
            own = source.startswith("<define:")
            assert own or source.startswith("../../../../web/"), f"{file.name}: {source}"


def test_the_service_worker_keeps_every_file_but_the_maps_and_what_has_to_be_chosen(dist: Path) -> None:
    text = (dist / "sw.js").read_text()
    kept = set(re.findall(r'url:"([^"]+)"', text))
    chosen = {name for name in names_of(dist) if re.match(r"kit/\w+/.*\.(ogg|mp3)$", name)}
    assert len(chosen) == 36, (
        "sounds of the two kits and the two counts that have to be chosen: kept when they have come"
    )
    assert kept == {name for name in names_of(dist) if not name.endswith(".map")} - {"sw.js", MARK} - chosen
    # Names without a hash are told apart by a revision, the others by their name.
    for url, revision in re.findall(r'\{url:"([^"]+)",revision:(null|"\w+")\}', text):
        assert (revision == "null") is bool(HASHED.match(url)), url


def test_the_service_worker_takes_over_only_when_asked(dist: Path) -> None:
    text = (dist / "sw.js").read_text()
    assert "importScripts" not in text
    calls = [text[max(0, found.start() - 120) : found.end()] for found in re.finditer(r"skipWaiting\(\)", text)]
    assert len(calls) == 1
    assert "SKIP_WAITING" in calls[0]
    assert "clients.claim" not in text


def test_the_report_weighs_a_first_visit(dist: Path) -> None:
    report = json.loads((dist / MARK).read_text())["report"]
    assert set(report["files"]) == {name for name in names_of(dist) if not name.endswith(".map")} - {MARK}
    assert report["start"]["requests"] <= 12
    for part in ("extras", "playing", "notation"):  # come later, and are not counted below
        assert any(f"/{part}-" in name for name in report["files"])
    assert report["start"]["raw"] == sum(
        sizes["raw"]
        for name, sizes in report["files"].items()
        if re.match(r"index\.html|app/(?!processor)|py/\w+/(?!extras-|playing-|notation-)|stored/example", name)
    )
    # The budget of a first visit over gzip, from measured sizes: 5.3 MB of runtime and engine, and the page.
    assert report["start"]["gzip"] < 5_600_000


def test_nothing_is_built_again_until_an_input_changes(dist: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    mark = json.loads((dist / MARK).read_text())
    monkeypatch.setattr(building, "_build", lambda out, **_: {"built": str(out)})
    monkeypatch.setattr(building, "inputs_key", lambda: mark["inputs"])
    assert building.build_if_stale(dist) == mark["report"]
    monkeypatch.setattr(building, "inputs_key", lambda: "another")
    assert building.build_if_stale(dist) == {"built": str(dist)}


def test_every_input_counts(tmp_path: Path) -> None:
    inputs = ("engine/groundbeat/model/kit.py", "web/app/main.js", "web/index.html", "web/public/icon.svg")
    inputs += ("pyproject.toml", "examples/slack-tide.toml", "web/package-lock.json", "engine/groundbeat/site/lean.mjs")
    for name in inputs:
        (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / name).write_text("before")
    (tmp_path / "web" / "node_modules").mkdir()
    keys = {building.inputs_key(tmp_path)}
    for name in inputs:
        (tmp_path / name).write_text("after")
        keys.add(building.inputs_key(tmp_path))
    assert len(keys) == len(inputs) + 1
    (tmp_path / "web" / "node_modules" / "x.js").write_text("no input")
    assert building.inputs_key(tmp_path) in keys


def test_two_builds_are_the_same_to_the_byte(dist: Path, tmp_path: Path) -> None:
    building.build(tmp_path / "again")
    assert names_of(tmp_path / "again") == names_of(dist)
    for name in names_of(dist) - {MARK}:
        assert (tmp_path / "again" / name).read_bytes() == (dist / name).read_bytes(), name


def test_a_folder_of_others_is_never_overwritten(tmp_path: Path) -> None:
    (tmp_path / "thesis.txt").write_text("years of work")
    with pytest.raises(SiteError, match="was not built by Groundbeat"):
        building.build(tmp_path)
    assert (tmp_path / "thesis.txt").read_text() == "years of work"


def test_the_outlines_of_music_signs_go_with_their_licence(dist: Path) -> None:
    assert "SIL Open Font License, Version 1.1" in (dist / "OFL.txt").read_text(encoding="utf-8")
