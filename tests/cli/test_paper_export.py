"""`export` writes sheets and staves, tells what is to be told, and refuses what would do nothing."""

from __future__ import annotations

import io
from pathlib import Path
from xml.etree import ElementTree

import pytest
from PIL import Image
from pypdf import PdfReader

from tests.cli.conftest import failed

ROOT = Path(__file__).resolve().parents[2]
SLACK_TIDE = ROOT / "examples/slack-tide.toml"


def test_a_sheet_of_all_stages_and_one_of_one_stage(run, tmp_path: Path):
    assert run("export", SLACK_TIDE, "-o", tmp_path / "all.pdf", "--at", "https://drums.example.org/") == (0, "", "")
    assert run("export", SLACK_TIDE, "-o", tmp_path / "one.pdf", "--stage", 2, "--paper", "letter") == (0, "", "")
    whole, one = (
        "".join(page.extract_text() for page in PdfReader(tmp_path / f"{name}.pdf").pages) for name in ("all", "one")
    )
    assert "Base beat" in whole and "4 Orchestrate" in whole and "https://drums.example.org/#1" in whole
    assert "2 Embellish" in one and "Base beat" not in one
    assert float(PdfReader(tmp_path / "one.pdf").pages[0].mediabox[2]) == 612


def test_a_staff_as_svg_and_as_picture(run, tmp_path: Path):
    for end in ("svg", "png"):
        assert run("export", SLACK_TIDE, "-o", tmp_path / f"a.{end}", "--stage", 2) == (0, "", "")
    root = ElementTree.fromstring((tmp_path / "a.svg").read_text(encoding="utf-8"))
    strokes = [each for each in root.iter() if each.get("class") == "stroke"]
    assert len(strokes) == 18
    with Image.open(io.BytesIO((tmp_path / "a.png").read_bytes())) as picture:
        assert picture.width == pytest.approx(3 * float(root.get("width", "0")), abs=3)
        assert picture.convert("L").getextrema() == (0, 255)


@pytest.mark.parametrize(
    ("end", "option"),
    [
        (".svg", ["--at", "https://drums.example.org/"]), (".png", ["--paper", "a4"]), (".wav", ["--large"]),
        (".mid", ["--no-counts"]), (".pdf", ["--loops", 2]), (".svg", ["--tempo", 80]), (".txt", ["--no-sticking"]),
    ],
)  # fmt: skip
def test_options_that_would_do_nothing_are_refused(run, tmp_path: Path, end: str, option: list[object]):
    told = failed(run("export", SLACK_TIDE, "-o", tmp_path / f"a{end}", *option))
    assert f"{option[0]} does nothing for a {end} file" in told
    assert not list(tmp_path.iterdir())


def test_what_cannot_be_is_told(run, tmp_path: Path):
    assert "a4, letter" in failed(run("export", SLACK_TIDE, "-o", tmp_path / "a.pdf", "--paper", "a3"))
    assert "1 or 2 voices" in failed(run("export", SLACK_TIDE, "-o", tmp_path / "a.pdf", "--voices", 3))


def test_letters_that_cannot_be_printed_are_told(run, tmp_path: Path):
    (tmp_path / "a.toml").write_text(
        SLACK_TIDE.read_text(encoding="utf-8").replace("Slack Tide", "Slack 潮"), encoding="utf-8"
    )
    done = run("export", tmp_path / "a.toml", "-o", tmp_path / "a.pdf")
    assert done.status == 0
    assert "1 letter that the printed letters lack" in done.err
