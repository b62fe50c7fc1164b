"""Is there a Node to build the page with, and are the page's packages there?

A Node on PATH will do if it is new enough. Debian 12's own is not; then, as where there is none, Node and npm
come from PyPI into .venv. Nobody is asked to install Node.
"""

from __future__ import annotations

import os
import re
import shutil
import subprocess
from collections.abc import Callable
from pathlib import Path

from launcher.environment import STAMP, is_fresh, stamp_of
from launcher.trouble import Trouble, run, say

OLDEST = 20
"""workbox-build 7.4 asks for it."""


def major(program: str | None) -> int:
    """Ask a Node for its major version; 0 if it is none."""
    if not program:
        return 0
    try:
        told = subprocess.run([program, "--version"], capture_output=True, text=True, check=False).stdout
    except OSError:
        return 0
    found = re.match(r"v(\d+)\.", told)
    return int(found[1]) if found else 0


def ensure_node(path: str, venv_programs: Path, bring: Callable[[], None]) -> str:
    """Return a PATH on which `node` and `npm` are new enough.

    path: the PATH to look at; venv_programs: where a Node from PyPI would be; bring: installs it there.
    """
    both = os.pathsep.join([path, str(venv_programs)])
    ours_first = os.pathsep.join([str(venv_programs), path])
    if major(shutil.which("node", path=path)) >= OLDEST and shutil.which("npm", path=path):
        return both
    if major(shutil.which("node", path=str(venv_programs))) < OLDEST:
        bring()
    if major(shutil.which("node", path=str(venv_programs))) < OLDEST:
        raise Trouble(f"the page needs Node {OLDEST} or newer to build; please install it and try again")
    return ours_first


def ensure_packages(web: Path, env: dict[str, str]) -> None:
    """Install the page's packages as package-lock.json pins them, unless that is done."""
    stamp = stamp_of(web / "package-lock.json")
    modules = web / "node_modules"
    if is_fresh(modules, stamp):
        return
    say("installing the page's packages into web/node_modules (a minute, once)")
    npm = shutil.which("npm", path=env["PATH"]) or "npm"
    # No scripts of packages are run: none of these needs its own.
    command = [npm, "ci", "--ignore-scripts", "--no-audit", "--no-fund"]
    run(command, cwd=web, env=env, otherwise="installing the page's packages failed; is there a network?")
    (modules / STAMP).write_text(stamp)
