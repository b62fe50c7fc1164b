"""How heavy is the folder?

Bytes of every file as they are, and as a host would send them with gzip or brotli. Source maps are counted
apart: no visitor loads them. One decoded format of the kit is loaded, not both.
"""

from __future__ import annotations

import gzip
import json
import re
from pathlib import Path
from typing import Any

from groundbeat.site.tools import CACHE, digest

MARK = ".built.json"
"""The file that tells a built folder from any other: what it was made from, and this report."""

START = ("index.html", "app/", "py/", "stored/example")
"""What a first visit loads before the engine answers; the sounds of the groove come later, once the page is at rest."""


def weigh(out: Path, *, brotli: bool = False, cache: Path = CACHE) -> dict[str, Any]:
    """Weigh every file below `out`; brotli at its best takes half a minute, so only when asked.

    Returns {"files": {name: {"raw", "gzip", "brotli"?}}, "start": {"requests", sums}, "all": sums}, where
    start is what a first visit loads.
    """
    known_file = cache / "weights.json"
    known: dict[str, dict[str, int]] = json.loads(known_file.read_text()) if known_file.is_file() else {}
    files = {}
    for file in sorted(path for path in out.rglob("*") if path.is_file() and path.name != MARK):
        if file.suffix != ".map":
            files[file.relative_to(out).as_posix()] = _weights(file.read_bytes(), known, brotli)
    known_file.parent.mkdir(parents=True, exist_ok=True)
    known_file.write_text(json.dumps(known))
    start = {name: sizes for name, sizes in files.items() if name.startswith(START)}
    # The processor loads with the first play, the other parts of the engine when it first needs one of them.
    late = re.compile(r"app/processor|py/\w+/(extras|playing|notation)-")
    start = {name: sizes for name, sizes in start.items() if not late.match(name)}
    return {"files": files, "start": {"requests": len(start), **_sum(start)}, "all": _sum(files)}


def _weights(data: bytes, known: dict[str, dict[str, int]], brotli: bool) -> dict[str, int]:
    sizes = known.setdefault(digest(data), {})
    if "raw" not in sizes:
        sizes |= {"raw": len(data), "gzip": len(gzip.compress(data, 9, mtime=0))}
    if brotli and "brotli" not in sizes:
        import brotli as packer

        sizes["brotli"] = len(packer.compress(data, quality=11))
    return {key: sizes[key] for key in ("raw", "gzip", "brotli") if key in sizes and (brotli or key != "brotli")}


def _sum(files: dict[str, dict[str, int]]) -> dict[str, int]:
    total: dict[str, int] = {}
    for sizes in files.values():
        for key, size in sizes.items():
            total[key] = total.get(key, 0) + size
    return total
