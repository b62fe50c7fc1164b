"""Which modules does the engine need in the browser, and what are they compiled?

This file is not imported: `lean.mjs` runs it inside Pyodide under Node, because only the Python that will
load a .pyc can write one. Most of Pyodide's start is compiling its standard library from source; a zip of
just the modules in use, compiled beforehand and stored without compression, cuts the start to a third and is
the smaller download.

In: /plan.json {"engine": [module], "later": {part: [module]}, "library": [module], "extras": [module]}, the engine's
sources under /engine ("later" are those of its modules that come after the start), packages from outside under
/extras, the whole standard library as Pyodide ships it. Out, in /out: stdlib.zip, engine.zip, a zip for each later part
of the engine, extras.zip (packages from outside, and what only they need of the standard library), and modules.json,
which lists what is in them. Bytes are the same on every run: fixed dates and order, hash-based pycs that
are never checked, no docstrings or asserts.
"""

import sys

booted = set(sys.modules)

import importlib  # noqa: E402
import json  # noqa: E402

with open("/plan.json") as file:
    plan = json.load(file)

sys.path.insert(0, "/engine")
for name in plan["library"] + plan["engine"] + [name for part in plan["later"].values() for name in part]:
    importlib.import_module(name)
needed = booted | set(sys.modules)

# Found only now: an engine that imports one of these at the top of a module would not start in a browser.
sys.path.append("/extras")
for name in plan["extras"]:
    importlib.import_module(name)
# A package is found in one zip alone, so what completes one of the library's goes there.
needed |= {name for name in sys.modules if name.split(".")[0] in needed}
extra = set(sys.modules) - needed

# What this file itself needs comes after the count.
import zipfile  # noqa: E402
from importlib import _bootstrap_external as pyc  # noqa: E402
from importlib.util import source_hash  # noqa: E402
from pathlib import Path  # noqa: E402
from types import ModuleType  # noqa: E402

LIBRARY = f"/lib/python{sys.version_info.major}{sys.version_info.minor}.zip"
EPOCH = (1980, 1, 1, 0, 0, 0)


def origin(module: ModuleType) -> str:
    """Tell the source file of a module, "" for one that is built in."""
    spec = getattr(module, "__spec__", None)
    return str(getattr(spec, "origin", None) or getattr(module, "__file__", None) or "")


def store(archive: zipfile.ZipFile, name: str, source: bytes, shown: str) -> None:
    """Compile one module and add it as `name`; `shown` is the file name in tracebacks."""
    code = compile(source, shown, "exec", dont_inherit=True, optimize=2)
    entry = zipfile.ZipInfo(name + "c", EPOCH)
    entry.create_system = 3
    entry.external_attr = 0o644 << 16
    archive.writestr(entry, pyc._code_to_hash_pyc(code, source_hash(source), False))  # type: ignore[attr-defined]


def below(root: str, modules: set[str]) -> list[str]:
    """List the source files of modules that are below a folder or a zip, relative to it."""
    paths = {origin(sys.modules[name]) for name in modules}
    return sorted(path.removeprefix(root + "/") for path in paths if path.startswith(root + "/"))


def store_library(lean: zipfile.ZipFile, modules: set[str]) -> list[str]:
    """Add those modules that are of the standard library."""
    names = below(LIBRARY, modules)
    with zipfile.ZipFile(LIBRARY) as whole:
        for name in names:
            store(lean, name, whole.read(name), f"{LIBRARY}/{name}")
    return names


def write_library() -> list[str]:
    """Write the modules of the standard library that are in use."""
    with zipfile.ZipFile("/out/stdlib.zip", "w") as lean:
        return store_library(lean, needed)


def write_engine(part: str, modules: list[str]) -> list[str]:
    """Write some of the engine's own modules as a part."""
    root = Path("/engine")
    names = [str(Path(origin(sys.modules[name])).relative_to(root)) for name in modules]
    with zipfile.ZipFile(f"/out/{part}.zip", "w") as lean:
        for name in sorted(names):
            store(lean, name, (root / name).read_bytes(), name)
    return sorted(names)


def write_extras() -> list[str]:
    """Write the packages from outside, with what they need of the library and nothing else does."""
    names = below("/extras", extra)
    with zipfile.ZipFile("/out/extras.zip", "w") as lean:
        for name in names:
            store(lean, name, Path("/extras", name).read_bytes(), name)
        return names + store_library(lean, extra)


report = {
    "python": sys.version.split()[0],
    "library": write_library(),
    "engine": write_engine("engine", plan["engine"]),
}
for later, modules in plan["later"].items():
    report[later] = write_engine(later, modules)
report["extras"] = write_extras()
Path("/out/modules.json").write_text(json.dumps(report, indent=1) + "\n")
