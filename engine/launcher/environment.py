"""Is there a .venv with everything that Python needs?

`.venv` is made by this Python and filled from pyproject.toml, whose versions are pinned. Its stamp is the
hash of pyproject.toml and of this Python's version; while it fits, nothing is looked at.
"""

from __future__ import annotations

import hashlib
import os
import shutil
import sys
from collections.abc import Sequence
from pathlib import Path

from launcher import system
from launcher.trouble import run, say, succeeds

STAMP = ".groundbeat"


def programs(venv: Path) -> Path:
    """Name the folder of a venv's programs."""
    return venv / ("Scripts" if os.name == "nt" else "bin")


def stamp_of(*files: Path) -> str:
    """Hash the files that an installation follows from."""
    total = hashlib.sha256(f"{sys.version_info[:2]}".encode())
    for file in files:
        total.update(file.read_bytes())
    return total.hexdigest()


def is_fresh(folder: Path, stamp: str) -> bool:
    """Tell whether the installation in `folder` was made from this."""
    mark = folder / STAMP
    return mark.is_file() and mark.read_text() == stamp


def ensure_venv(root: Path) -> Path:
    """Make `.venv` in the clone `root` if it is missing or out of date, and return its folder of programs.

    Raises Trouble if something can't be installed.
    """
    # The real file: the name this was called by may be a link that is gone tomorrow.
    maker = Path(os.path.realpath(sys.executable))
    venv = root / ".venv"
    # The place counts too: a clone that was moved must be installed again.
    stamp = stamp_of(root / "pyproject.toml") + str(root)
    if is_fresh(venv, stamp) and succeeds([programs(venv) / "python", "-c", ""]):
        return programs(venv)
    if not succeeds([programs(venv) / "python", "-m", "pip", "--version"]):
        make_venv(venv, maker)
    say("installing Python packages into .venv (a minute or two, once)")
    install(root, programs(venv), "dev")
    (venv / STAMP).write_text(stamp)
    return programs(venv)


def make_venv(venv: Path, maker: Path) -> None:
    """Make an empty environment with the Python `maker`. Raises Trouble if it lacks the means."""
    say("making .venv")
    shutil.rmtree(venv, ignore_errors=True)
    if not succeeds([maker, "-c", "import ensurepip, venv"]):
        system.require(["python3-venv"], "this Python cannot make a virtual environment")
    run([maker, "-m", "venv", venv], otherwise="making .venv failed")


def install(root: Path, venv_programs: Path, extra: str) -> None:
    """Install the clone itself with an optional group of pyproject.toml. Raises Trouble if pip fails."""
    pip: Sequence[str | Path] = [venv_programs / "python", "-m", "pip", "install"]
    command = [*pip, "--disable-pip-version-check", "--quiet", "-e", f"{root}[{extra}]"]
    run(command, otherwise="installing Python packages failed; is there a network?")
