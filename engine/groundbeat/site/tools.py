"""Where is the project, and how are Node's programs run?

The folder is built from a clone: the page's sources and Node's packages stand beside the engine. The launcher
(`python3 engine build`) sees to Node and its packages; here they are only found and run.
"""

from __future__ import annotations

import hashlib
import os
import re
import shutil
import subprocess
import sys
from collections.abc import Iterable
from pathlib import Path

from groundbeat.site.fault import SiteError

ROOT = Path(__file__).resolve().parents[3]
"""The clone: engine/, web/, examples/."""

CACHE = ROOT / ".cache"
"""What is slow to make, by the hash of what it was made from. May be deleted at any time."""

OLDEST_NODE = 20
"""workbox-build 7.4 asks for it."""


def node() -> str:
    """Find a Node that is new enough: on PATH, else beside this Python.

    Raises SiteError where there is none.
    """
    beside = str(Path(sys.executable).parent)
    for path in (None, beside):
        found = shutil.which("node", path=path)
        if found and _major(found) >= OLDEST_NODE:
            return found
    raise SiteError(
        f"building the page needs Node {OLDEST_NODE} or newer, and none was found; "
        "'python3 engine build' installs one inside .venv",
        code="site.no-node",
    )


def _major(program: str) -> int:
    told = subprocess.run([program, "--version"], capture_output=True, text=True, check=False).stdout
    match = re.match(r"v(\d+)\.", told)
    return int(match[1]) if match else 0


def packages(web: Path) -> Path:
    """Find the folder of Node's packages in `web`. Raises SiteError where they are not installed."""
    folder = web / "node_modules"
    if not (folder / "esbuild").is_dir():
        raise SiteError(
            f"the page's packages are not installed in {folder}; 'python3 engine build' installs them",
            code="site.no-packages",
        )
    return folder


def run_node(arguments: Iterable[str | Path], *, cwd: Path, what: str) -> str:
    """Run one of Node's programs and return what it printed. Raises SiteError with its last words."""
    command = [node(), *map(str, arguments)]
    done = subprocess.run(command, cwd=cwd, capture_output=True, text=True, check=False, stdin=subprocess.DEVNULL)
    if done.returncode:
        words = (done.stderr.strip() or done.stdout.strip()).splitlines()
        raise SiteError(f"{what} failed: " + "\n".join(words[-12:]), code="site.tool")
    return done.stdout


def digest(*parts: bytes | str) -> str:
    """Hash texts and bytes into twelve hex digits, enough for the few files of one build."""
    total = hashlib.sha256()
    for part in parts:
        data = part.encode() if isinstance(part, str) else part
        total.update(len(data).to_bytes(8, "big") + data)
    return total.hexdigest()[:12]


def digest_files(files: Iterable[Path], base: Path) -> str:
    """Hash files with their places below `base`, whatever order they come in."""
    parts: list[bytes | str] = []
    for file in sorted(files):
        parts += [file.relative_to(base).as_posix(), file.read_bytes()]
    return digest(*parts)


def replace_folder(new: Path, old: Path) -> None:
    """Put the folder `new` in the place of `old`, which may not exist, in two renames."""
    trash = old.with_name(f".{old.name}.old-{os.getpid()}")
    if old.exists():
        old.rename(trash)
    new.rename(old)
    shutil.rmtree(trash, ignore_errors=True)


def prune(cache: Path, keep: int = 6) -> None:
    """Keep the newest few folders of a cache; how many is our choice, enough for a few branches."""
    made = sorted(cache.iterdir(), key=lambda path: path.stat().st_mtime, reverse=True)
    for old in made[keep:]:
        shutil.rmtree(old, ignore_errors=True)
