"""How is the whole folder made, and when is it made again?

`build(out)` makes it anew; `build_if_stale(out)` only if an input has changed since. The folder is put
together beside its place and then swapped in, so that what is being served is always whole. Slow parts come
from the cache, by the hash of what they are made from. The same inputs give the same bytes.

A folder that this did not make is never overwritten.
"""

from __future__ import annotations

import json
import os
import shutil
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from groundbeat.site.fault import SiteError
from groundbeat.site.follow import followed
from groundbeat.site.page import bundle, write_pages
from groundbeat.site.report import MARK, weigh
from groundbeat.site.runtime import write_runtime
from groundbeat.site.stored import write_stored
from groundbeat.site.tools import CACHE, ROOT, digest, digest_files, prune, replace_folder, run_node

DIST = ROOT / "dist"
SIGNS = Path("engine/groundbeat/notation/OFL.txt")
"""The licence of the outlines of music signs, which are in one of the engine's zips: it goes where they go."""


def inputs_key(root: Path = ROOT) -> str:
    """Hash everything that the folder is made from."""
    engine = [path for path in (root / "engine").rglob("*") if path.suffix in (".py", ".mjs", ".json")]
    web = [path for path in _below(root / "web") if path.is_file()]
    examples = list((root / "examples").rglob("*.toml"))
    pins = root.glob("pyproject.toml")  # the versions of the packages that go into the extras
    return digest_files([*engine, *web, *examples, *pins, *root.glob(str(SIGNS))], root)


def _silence(_: str) -> None:
    """Tell nobody."""


def build_if_stale(out: Path = DIST, tell: Callable[[str], None] = _silence) -> dict[str, Any]:
    """Build if an input has changed, and return the report of the last build; `tell` hears what takes long."""
    with _alone():
        mark = _mark(out)
        if mark and mark["inputs"] == inputs_key() and (out / "index.html").is_file():
            report: dict[str, Any] = mark["report"]
            return report
        return _build(out, brotli=False, tell=tell)


def build(out: Path, *, brotli: bool = False, tell: Callable[[str], None] = _silence) -> dict[str, Any]:
    """Build the folder `out` and return the report of `weigh`, with those of the kits as "kits".

    Raises SiteError if a tool is missing or fails, or if `out` holds something that was not built by this.
    """
    with _alone():
        return _build(out, brotli=brotli, tell=tell)


def _build(out: Path, *, brotli: bool, tell: Callable[[str], None]) -> dict[str, Any]:
    out = out.resolve()
    if out.exists() and not _mark(out) and (not out.is_dir() or any(out.iterdir())):
        raise SiteError(f"{out} is there already and was not built by Groundbeat; give a new or an empty folder")
    key = inputs_key()
    tell("building the page")
    out.parent.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory(dir=out.parent, prefix=f".{out.name}.new-") as scratch:
        new = Path(scratch) / "site"
        new.mkdir()
        web = ROOT / "web"
        runtime = write_runtime(new, ROOT / "engine", web)
        write_pages(new, web, bundle(new, web, runtime), runtime)
        write_stored(new, ROOT / "examples")
        kits = _write_kits(new, tell)
        shutil.copyfile(ROOT / SIGNS, new / SIGNS.name)
        script = Path(__file__).with_name("offline.mjs")
        run_node([script, web, new], cwd=web, what="writing the service worker")
        report = {**weigh(new, brotli=brotli), "kits": kits}
        (new / MARK).write_text(json.dumps({"inputs": key, "report": report}, indent=1) + "\n")
        replace_folder(new, out)
    return report


def _write_kits(out: Path, tell: Callable[[str], None]) -> dict[str, Any]:
    """Copy the kits to where the page looks for them, and return their reports."""
    made = make_kits(tell)
    shutil.copytree(made / "kit", out / "kit")
    told: dict[str, Any] = json.loads((made / "report.json").read_text())
    return told


def make_kits(tell: Callable[[str], None] = _silence) -> Path:
    """Render the kits, or find them in the cache: it takes a while and changes seldom.

    Returns a folder that holds the kits in `kit` and their reports in `report.json`.
    """
    engine = ROOT / "engine"
    made = CACHE / "kits" / digest(digest_files(kit_sources(engine), engine))
    if not made.is_dir():
        from groundbeat.sound import kit

        tell("rendering the sounds of the kits (a minute, once)")
        made.parent.mkdir(parents=True, exist_ok=True)
        with tempfile.TemporaryDirectory(dir=made.parent, prefix=".new-") as new:
            reports = kit.build_all(Path(new) / "kits" / "kit")
            (Path(new) / "kits" / "report.json").write_text(json.dumps(reports))
            replace_folder(Path(new) / "kits", made)
        prune(made.parent)
    return made


def kit_sources(engine: Path) -> set[Path]:
    """Give the files that decide how the kits sound; the texts of errors do not."""
    return followed(engine, "groundbeat.sound.kit") - {engine / "groundbeat" / "errors.py"}


def _mark(out: Path) -> dict[str, Any] | None:
    try:
        mark = json.loads((out / MARK).read_text())
    except (OSError, ValueError):
        return None
    return mark if isinstance(mark, dict) and "inputs" in mark and "report" in mark else None


def _below(web: Path) -> Iterator[Path]:
    """Walk web/ without Node's packages."""
    for path in web.iterdir():
        if path.name != "node_modules":
            yield from path.rglob("*") if path.is_dir() else [path]


@contextmanager
def _alone() -> Iterator[None]:
    """Let one build at a time touch the cache: a test run and a server may both want one."""
    CACHE.mkdir(exist_ok=True)
    with open(CACHE / "lock", "w") as lock:
        if os.name == "posix":
            import fcntl

            fcntl.flock(lock, fcntl.LOCK_EX)
        yield
