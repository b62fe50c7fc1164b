"""What can't be gone on with, and how other programs are run."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Mapping, Sequence
from pathlib import Path


class Trouble(Exception):
    """One sentence for a person: what is wrong and what to do."""


def say(text: str) -> None:
    """Tell on standard error what takes its time."""
    print(f"groundbeat: {text}", file=sys.stderr, flush=True)


def run(
    command: Sequence[str | Path],
    *,
    cwd: Path | None = None,
    env: Mapping[str, str] | None = None,
    otherwise: str,
) -> None:
    """Run a program quietly; if it fails, show its last words and raise Trouble(otherwise)."""
    try:
        done = subprocess.run(
            [str(part) for part in command],
            cwd=cwd,
            env=env,
            stdin=subprocess.DEVNULL,
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            text=True,
            check=False,
        )
    except OSError as error:
        raise Trouble(f"{otherwise} ({command[0]}: {error.strerror})") from None
    if done.returncode:
        for line in done.stdout.splitlines()[-15:]:
            print(f"  | {line}", file=sys.stderr)
        raise Trouble(otherwise)


def succeeds(command: Sequence[str | Path]) -> bool:
    """Tell whether a program runs and ends well."""
    try:
        done = subprocess.run([str(part) for part in command], capture_output=True, check=False)
    except OSError:
        return False
    return done.returncode == 0


def is_root() -> bool:
    """Tell whether packages of the system may be installed."""
    return hasattr(os, "geteuid") and os.geteuid() == 0
