"""Build and serve for the launcher: `python -m groundbeat.site build [-o DIR] [--if-stale] | serve [...]`."""

from __future__ import annotations

import argparse
import json
import sys
from pathlib import Path

from groundbeat.errors import GroundbeatError
from groundbeat.site.build import DIST, build, build_if_stale
from groundbeat.site.server import serve


def tell(text: str) -> None:
    """Say on standard error what takes its time."""
    print(f"groundbeat: {text}", file=sys.stderr, flush=True)


def main() -> int:
    """Run one of the two and return its exit status: 2, with one line on standard error, if it failed."""
    parser = argparse.ArgumentParser(prog="groundbeat.site")
    commands = parser.add_subparsers(dest="command", required=True)
    building = commands.add_parser("build")
    building.add_argument("-o", "--out", type=Path, default=DIST)
    building.add_argument("--if-stale", action="store_true")
    building.add_argument("--brotli", action="store_true")
    serving = commands.add_parser("serve")
    serving.add_argument("--host", default="127.0.0.1")
    serving.add_argument("--port", type=int)
    chosen = parser.parse_args()
    try:
        if chosen.command == "serve":
            build_if_stale(DIST, tell)
            serve(DIST, chosen.host, chosen.port)
        elif chosen.if_stale:
            build_if_stale(chosen.out, tell)
        else:
            report = build(chosen.out, brotli=chosen.brotli, tell=tell)
            print(json.dumps({"folder": str(chosen.out), **report}, indent=1))
    except GroundbeatError as error:
        print(f"groundbeat: {error}", file=sys.stderr)
        return 2
    return 0


if __name__ == "__main__":
    sys.exit(main())
