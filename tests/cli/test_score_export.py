"""`export` writes MusicXML files."""

from __future__ import annotations

import zipfile
from pathlib import Path

import pytest

from tests.cli.conftest import failed

SLACK_TIDE = Path(__file__).parents[2] / "examples/slack-tide.toml"


def test_a_stage_is_written_as_text_and_packed(run, tmp_path: Path):
    assert run("export", SLACK_TIDE, "-o", tmp_path / "a.musicxml", "--stage", 1) == (0, "", "")
    assert run("export", SLACK_TIDE, "-o", tmp_path / "a.mxl", "--stage", 1) == (0, "", "")
    text = (tmp_path / "a.musicxml").read_text(encoding="utf-8")
    assert "<movement-title>Stage 1</movement-title>" in text
    with zipfile.ZipFile(tmp_path / "a.mxl") as archive:
        assert archive.read("score.musicxml").decode() == text


def test_what_is_chosen_is_in_the_file(run, tmp_path: Path):
    out = tmp_path / "a.musicxml"
    run("export", SLACK_TIDE, "-o", out, "--through", "--tempo", 70, "--counts", "--voices", 1, "--older-marks")
    text = out.read_text(encoding="utf-8")
    assert text.count("<rehearsal>") == 5
    assert "<per-minute>70</per-minute>" in text and "<lyric" in text and "<backup>" not in text


@pytest.mark.parametrize(("end", "option"), [(".musicxml", "--loops=2"), (".mid", "--counts"), (".txt", "--voices=1")])
def test_what_does_nothing_for_a_file_is_refused(run, tmp_path: Path, end: str, option: str):
    told = failed(run("export", SLACK_TIDE, "-o", tmp_path / f"a{end}", option))
    assert told == f"{option.partition('=')[0]} does nothing for a {end} file; leave it out"


def test_a_wrong_form_of_the_hands_is_refused_with_the_nearest(run, tmp_path: Path):
    told = failed(run("export", SLACK_TIDE, "-o", tmp_path / "a.mxl", "--sticking", "lyrics"))
    assert told == 'hands cannot be written as "lyrics"; did you mean "lyric"?'
