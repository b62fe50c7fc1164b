"""No module of ours has more than 450 lines; those above 300 are listed when the test runs."""

from __future__ import annotations

from pathlib import Path

import pytest

MOST, LONG = 450, 300  # split at 450, explain above 300
KINDS = {".py", ".js", ".mjs", ".ts", ".css"}


def measured(files: tuple[Path, ...], root: Path) -> dict[str, int]:
    return {
        path.relative_to(root).as_posix(): len(path.read_bytes().splitlines()) for path in files if path.suffix in KINDS
    }


def test_no_module_is_longer_than_450_lines(ours: tuple[Path, ...], root: Path, capsys: pytest.CaptureFixture[str]):
    lines = measured(ours, root)
    assert len(lines) > 50  # the walk found the project
    long = {name: count for name, count in lines.items() if count > LONG}
    with capsys.disabled():
        for name, count in sorted(long.items(), key=lambda item: -item[1]):
            print(f"\n  {count} lines: {name}", end="")
    assert {name: count for name, count in long.items() if count > MOST} == {}


def test_a_module_of_451_lines_is_found(tmp_path: Path):
    (tmp_path / "a.py").write_text("x = 1\n" * 451)
    (tmp_path / "b.js").write_text("x = 1\n" * 450)
    assert [name for name, count in measured(tuple(tmp_path.iterdir()), tmp_path).items() if count > MOST] == ["a.py"]
