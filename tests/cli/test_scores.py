"""A groove on the command line may be a score, plain or packed."""

from __future__ import annotations

import zipfile
from pathlib import Path

from tests.notation.xml.scores import score, strike

SCORE = score(strike("C5") * 4, strike("F4") * 4)


def test_a_score_is_shown_and_its_bars_are_chosen(run, tmp_path: Path):
    plain, packed = tmp_path / "walk.musicxml", tmp_path / "walk.mxl"
    plain.write_bytes(SCORE.replace("UTF-8", "UTF-16").encode("utf-16"))
    with zipfile.ZipFile(packed, "w") as archive:
        archive.writestr("walk.xml", SCORE)
    for file in (plain, packed):
        done = run("show", str(file), "--bars", "2")
        assert done.status == 0
        assert "kick" in done.out
        assert "Read bar 2 of 2." in done.err
