"""Where the project's own files are, for tests that read the tree itself."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
SEEN = (".ci", ".github")  # the hidden folders that are ours
GENERATED = ("node_modules", "dist", "__pycache__")


def walk(root: Path) -> Iterator[Path]:
    """All files that are ours: nothing installed, built or cached."""
    for folder, folders, files in os.walk(root):
        folders[:] = sorted(
            name
            for name in folders
            if name not in GENERATED
            and not name.endswith(".egg-info")
            and (not name.startswith(".") or (Path(folder) == root and name in SEEN))
        )
        yield from (Path(folder) / name for name in sorted(files))


@pytest.fixture(scope="session")
def root() -> Path:
    return ROOT


@pytest.fixture(scope="session")
def ours() -> tuple[Path, ...]:
    return tuple(walk(ROOT))


@pytest.fixture(scope="session")
def text_of() -> Callable[[Path], str]:
    """Read a file once; "" for one that is no text."""
    read: dict[Path, str] = {}

    def text(path: Path) -> str:
        if path not in read:
            data = path.read_bytes()
            read[path] = "" if b"\0" in data else data.decode("utf-8")
        return read[path]

    return text
