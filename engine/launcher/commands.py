"""What does each command do, step by step?"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

from launcher.browsers import ensure_browsers
from launcher.environment import ensure_venv, install
from launcher.node import ensure_node, ensure_packages
from launcher.trouble import Trouble, say

ROOT = Path(__file__).resolve().parents[2]


@dataclass(frozen=True)
class Workshop:
    """A clone that is ready: where its programs are and what surroundings they run in."""

    python: Path
    env: dict[str, str]

    def call(self, *arguments: str | Path) -> int:
        """Run .venv's Python in the clone, with its output shown, and return its exit status."""
        sys.stdout.flush()
        command = [str(self.python), *map(str, arguments)]
        return subprocess.run(command, cwd=ROOT, env=self.env, check=False).returncode


def prepare() -> Workshop:
    """See to .venv, Node and the page's packages."""
    programs = ensure_venv(ROOT)

    def bring() -> None:
        say("installing Node from PyPI into .venv (none that is new enough was found)")
        install(ROOT, programs, "node")

    path = ensure_node(os.environ.get("PATH", os.defpath), programs, bring)
    env = {**os.environ, "PATH": path}
    ensure_packages(ROOT / "web", env)
    return Workshop(programs / "python", env)


def serve(arguments: Sequence[str]) -> int:
    """Build if needed, then serve."""
    return prepare().call("-m", "groundbeat.site", "serve", *arguments)


def build(arguments: Sequence[str]) -> int:
    """Build and print the report."""
    return prepare().call("-m", "groundbeat.site", "build", "--brotli", *arguments)


def test(arguments: Sequence[str]) -> int:
    """Check style and types, build, run the tests; all of it, so that one fault does not hide the next."""
    shop = prepare()
    ensure_browsers(shop.python.parent)
    tsc = ROOT / "web" / "node_modules" / "typescript" / "bin" / "tsc"
    node = shutil.which("node", path=shop.env["PATH"]) or "node"
    checks: dict[str, Callable[[], int]] = {
        "ruff": lambda: shop.call("-m", "ruff", "check", "."),
        "mypy": lambda: shop.call("-m", "mypy", "--strict"),
        "tsc": lambda: subprocess.run([node, tsc, "-p", "web"], cwd=ROOT, env=shop.env, check=False).returncode,
        "build": lambda: shop.call("-m", "groundbeat.site", "build", "--if-stale"),
    }
    failed = []
    for name, check in checks.items():
        print(f"== {name}", flush=True)
        if check():
            failed.append(name)
    print("== pytest", flush=True)
    # Many tests wait for a browser or for real time: two at once use two cores. Named tests run one by one.
    status = shop.call("-m", "pytest", *(arguments or ("-n", "2", "--dist", "loadfile")))
    if status:
        failed.append(f"pytest (exit status {status})")
    if failed:
        print(f"groundbeat: FAILED: {', '.join(failed)}", flush=True)
    else:
        print("groundbeat: style, types, build and tests are all right", flush=True)
    return status or (1 if failed else 0)


def bench(arguments: Sequence[str]) -> int:
    """Run the named measurements, or all."""
    folder = ROOT / "tests" / "bench"
    names = sorted(file.stem for file in folder.glob("*.py"))
    known = {name: folder / f"{name}.py" for name in names if name != "conftest"}
    for name in arguments:
        if name not in known:
            raise Trouble(f"there is no bench '{name}'; there are: {', '.join(known)}")
    shop = prepare()
    ensure_browsers(shop.python.parent)
    failed = []
    for name in arguments or known:
        print(f"== {name}", flush=True)
        if shop.call(known[name]):
            failed.append(name)
    if failed:
        raise Trouble(f"these measurements failed: {', '.join(failed)}")
    return 0


def browsers(arguments: Sequence[str]) -> int:
    """Install the browsers of the tests and nothing else."""
    if arguments:
        raise Trouble(f"'browsers' takes no arguments, and got {' '.join(arguments)}")
    ensure_browsers(ensure_venv(ROOT))
    return 0


COMMANDS: dict[str, Callable[[Sequence[str]], int]] = {
    "serve": serve,
    "test": test,
    "build": build,
    "bench": bench,
    "browsers": browsers,
}


def run(arguments: Sequence[str], usage: str) -> int:
    """Run the command line and return the exit status; trouble is told in one line."""
    try:
        if arguments and arguments[0] in ("-h", "--help", "help"):
            print(usage.strip())
            return 0
        if not arguments or arguments[0] not in COMMANDS:
            given = f"there is no command '{arguments[0]}'" if arguments else "which command?"
            raise Trouble(f"{given}; python3 engine {' | '.join(COMMANDS)}")
        return COMMANDS[arguments[0]](arguments[1:])
    except Trouble as trouble:
        print(f"groundbeat: {trouble}", file=sys.stderr)
        return 2
    except OSError as error:
        print(f"groundbeat: {error.strerror}: {error.filename}", file=sys.stderr)
        return 2
    except KeyboardInterrupt:
        return 130
