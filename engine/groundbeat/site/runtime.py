"""What does the page load to run Python?

`py/<hash>/` holds Pyodide's loader and WebAssembly as they come from its npm package, the standard library
cut down to the modules in use, the engine, what the engine needs to judge how a beat is played, what it needs to write
notation, and the extras. The hash is that of everything but the last four, whose zips carry their own: a change of the
engine alone leaves the four big megabytes in every visitor's cache. Playing, notation and the extras (packages that few
visits use) come when the worker first needs one.

The modules in use are those that Pyodide itself has loaded once started, whatever the engine's browser rooms
import (at the top or on use), and a list of what is reached only when something goes wrong.
"""

from __future__ import annotations

import ast
import json
import shutil
import sys
import tempfile
from dataclasses import dataclass
from importlib.util import find_spec
from pathlib import Path

from groundbeat.site.fault import SiteError
from groundbeat.site.tools import CACHE, digest, digest_files, packages, prune, replace_folder, run_node

BROWSER_ROOMS = (
    *("model", "lineage", "variation", "codec", "analysis", "timeline"),
    *("midi", "notation", "take", "bridge"),
)
"""The rooms that run in the browser. sound needs NumPy; site and cli are for the desk."""

LATER_ROOMS = {"analysis": "playing", "notation": "notation"}
"""Rooms that no first answer needs, and the zips that they come in with the first question about them: bridge.door."""

EXTRAS = ("segno", "defusedxml.ElementTree")
"""What the engine imports on use from outside the standard library, by dotted name: pure Python alone."""

PARTS = ("engine", *LATER_ROOMS.values(), "extras")
"""Zips with a hash of their own."""

LOADER = ("pyodide.mjs", "pyodide.asm.mjs", "pyodide.asm.wasm")

RESERVE = (
    # Reached when an error is told, or a text in an old encoding comes in; none of it is imported by name.
    *("traceback", "linecache", "tokenize", "textwrap", "warnings", "_colorize"),
    *("encodings.ascii", "encodings.latin_1", "encodings.cp1252", "encodings.cp437"),
    *("encodings.utf_8_sig", "encodings.utf_16", "encodings.utf_16_le", "encodings.utf_16_be"),
    # Ordinary tools of exact arithmetic and of packed files, so that using one is no change of the runtime.
    *("decimal", "fractions", "statistics", "random", "zipfile", "base64", "zlib", "binascii", "hashlib"),
)


@dataclass(frozen=True, slots=True)
class Runtime:
    """Where the runtime stands below the built folder, and what the worker must know of it."""

    folder: str
    """Relative, with a slash at the end: "py/<hash>/"."""
    facts: dict[str, object]
    """{wasm, stdlib, engine, playing, notation, extras: {name, size}, lock: {...}}, for the worker."""


def browser_modules(engine: Path) -> list[str]:
    """List the engine's modules that must import in the browser, by dotted name."""
    package = engine / "groundbeat"
    names = ["groundbeat.errors"]
    for room in BROWSER_ROOMS:
        for file in (package / room).rglob("*.py"):
            parts = file.relative_to(engine).with_suffix("").parts
            names.append(".".join(parts[:-1] if parts[-1] == "__init__" else parts))
    return ["groundbeat", *sorted(names)]


def module_file(engine: Path, name: str) -> Path:
    """Find the source of a module of the engine."""
    path = engine.joinpath(*name.split("."))
    return path / "__init__.py" if path.is_dir() else path.with_suffix(".py")


def library_modules(engine: Path, modules: list[str]) -> list[str]:
    """List the modules of the standard library that these import anywhere, in functions too."""
    found: set[str] = set()
    for name in modules:
        for step in ast.walk(ast.parse(module_file(engine, name).read_bytes())):
            if isinstance(step, ast.Import):
                found.update(alias.name for alias in step.names)
            elif isinstance(step, ast.ImportFrom) and step.module and not step.level:
                found.add(step.module)
    return sorted(name for name in found if name.split(".")[0] in sys.stdlib_module_names)


def extra_packages() -> list[Path]:
    """Find the folders of the packages that the extras are from. Raises SiteError for one that is not installed."""
    folders = []
    for top in sorted({name.split(".")[0] for name in EXTRAS}):
        spec = find_spec(top)
        if spec is None or not spec.submodule_search_locations:
            raise SiteError(f"the package {top} is not installed; 'python3 engine build' installs it")
        folders.append(Path(spec.submodule_search_locations[0]))
    return folders


def make_lean(engine: Path, web: Path, cache: Path = CACHE) -> Path:
    """Compile library, engine and extras with Pyodide's own Python, or take them from the cache.

    Returns a folder with stdlib.zip, engine.zip, those of LATER_ROOMS, extras.zip and modules.json. Raises SiteError if
    a module of the browser rooms, or one of the extras, does not import in the browser's Python.
    """
    here = Path(__file__).parent
    pyodide = packages(web) / "pyodide"
    modules = browser_modules(engine)
    if "groundbeat.bridge.door" not in modules:
        raise SiteError("there is no engine/groundbeat/bridge/door.py: nothing would answer the page")
    later: dict[str, list[str]] = {part: [] for part in LATER_ROOMS.values()}
    first: list[str] = []
    for name in modules:
        part = LATER_ROOMS.get(name.split(".")[1] if "." in name else "")
        (later[part] if part else first).append(name)
    plan = {
        "engine": first,
        "later": later,
        "library": sorted({*library_modules(engine, modules), *RESERVE}),
        "extras": [*EXTRAS],
    }
    extras = extra_packages()
    key = digest(
        json.dumps(plan),
        digest_files([module_file(engine, name) for name in modules], engine),
        *(digest_files(folder.rglob("*.py"), folder.parent) for folder in extras),
        digest_files([here / "lean.py", here / "lean.mjs"], here),
        (pyodide / "package.json").read_bytes(),
    )
    made = cache / "python" / key
    if made.is_dir():
        return made
    made.parent.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory(dir=made.parent, prefix=".new-") as new:
        out, plan_file, aside = Path(new) / "out", Path(new) / "plan.json", Path(new) / "extras"
        out.mkdir()
        for folder in extras:  # alone: beside them stand packages that the engine must not find
            shutil.copytree(folder, aside / folder.name, ignore=shutil.ignore_patterns("__pycache__"))
        plan_file.write_text(json.dumps(plan))
        arguments = [here / "lean.mjs", pyodide, engine, aside, plan_file, here / "lean.py", out]
        run_node(arguments, cwd=web, what="compiling the engine for the browser")
        replace_folder(out, made)
    prune(made.parent)
    return made


def write_runtime(out: Path, engine: Path, web: Path, cache: Path = CACHE) -> Runtime:
    """Write `py/<hash>/` below `out`."""
    pyodide = packages(web) / "pyodide"
    lean = make_lean(engine, web, cache)
    runtime_key = digest_files([pyodide / name for name in LOADER], pyodide)
    key = digest(runtime_key, (lean / "stdlib.zip").read_bytes())
    names = {"wasm": "pyodide.asm.wasm", "stdlib": "stdlib.zip"}
    names |= {part: f"{part}-{digest((lean / f'{part}.zip').read_bytes())}.zip" for part in PARTS}
    folder = out / "py" / key
    folder.mkdir(parents=True)
    for name in LOADER:
        shutil.copyfile(pyodide / name, folder / name)
    for part in ("stdlib", *PARTS):
        shutil.copyfile(lean / f"{part}.zip", folder / names[part])
    lock = json.loads((pyodide / "pyodide-lock.json").read_text())["info"]
    facts: dict[str, object] = {
        part: {"name": name, "size": (folder / name).stat().st_size} for part, name in names.items()
    }
    return Runtime(f"py/{key}/", {**facts, "lock": lock})
