"""Which programs of the system are missing, and may they be installed?

Only on Debian and its kin, and only as root; anywhere else the line says what to install.
"""

from __future__ import annotations

import os
import shutil
from collections.abc import Sequence

from launcher.trouble import Trouble, is_root, run, say

PLACES = ("/usr/local/sbin", "/usr/local/bin", "/usr/sbin", "/usr/bin", "/sbin", "/bin")
"""Where Debian's packages put and look for programs, whatever PATH says."""


def find(program: str) -> str | None:
    """Find a program on PATH, else where Debian puts it."""
    return shutil.which(program) or shutil.which(program, path=os.pathsep.join(PLACES))


def can_install() -> bool:
    """Tell whether apt-get is here and may be used."""
    return is_root() and shutil.which("apt-get") is not None


_refreshed = False


def install(packages: Sequence[str], why: str) -> None:
    """Install packages of Debian. Raises Trouble if apt-get fails."""
    global _refreshed
    say(f"installing {' '.join(packages)} ({why})")
    path = os.pathsep.join([os.environ.get("PATH", ""), *PLACES])
    env = {**os.environ, "DEBIAN_FRONTEND": "noninteractive", "PATH": path}
    if not _refreshed:
        run(["apt-get", "update"], env=env, otherwise="'apt-get update' failed")
        _refreshed = True
    command = ["apt-get", "install", "-y", "--no-install-recommends", *packages]
    run(command, env=env, otherwise=f"'apt-get install {' '.join(packages)}' failed")


def require(packages: Sequence[str], why: str) -> None:
    """Install packages, or raise Trouble that says which are needed."""
    if not can_install():
        raise Trouble(f"{why}; please install {' '.join(packages)} (Debian: apt-get install {' '.join(packages)})")
    install(packages, why)
