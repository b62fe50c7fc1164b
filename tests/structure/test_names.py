"""No module or room has a name that says nothing."""

from __future__ import annotations

from pathlib import Path

BANNED = {"utils", "util", "helpers", "helper", "common", "misc", "core", "manager"}


def nothing_said(files: tuple[Path, ...], root: Path) -> list[str]:
    """Files of which a folder or the name itself says nothing."""
    return [
        path.relative_to(root).as_posix()
        for path in files
        if any(part.split(".")[0].lower() in BANNED for part in path.relative_to(root).parts)
    ]


def test_every_name_says_something(ours: tuple[Path, ...], root: Path):
    assert nothing_said(ours, root) == []


def test_a_planted_name_is_found(tmp_path: Path):
    files = tuple(tmp_path / name for name in ("codec/utils.py", "core/a.js", "Helpers.d.ts", "score.py"))
    assert nothing_said(files, tmp_path) == ["codec/utils.py", "core/a.js", "Helpers.d.ts"]
