"""A room of the engine imports only rooms on a lower floor, and few reach outside the library: see OUTSIDE, ON_USE."""

from __future__ import annotations

import ast
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

PACKAGE = "groundbeat"
FLOORS = {
    "": 0, "errors": 0, "model": 1, "lineage": 2, "variation": 3, "codec": 4, "analysis": 4, "timeline": 5,
    "midi": 6, "notation": 6, "take": 6, "sound": 6, "bridge": 7, "paper": 7, "site": 8, "cli": 9,
}  # fmt: skip
# What a room may import besides the standard library; a room that is not named here: nothing.
OUTSIDE = {"sound": {"numpy", "soundfile"}, "site": {"brotli", "rich", "typer"}, "cli": {"rich", "typer"}}
OUTSIDE |= {"paper": {"reportlab", "resvg_py", "segno"}}

# And what it may import inside a function only: in a browser it comes in a second zip, after the first answers.
ON_USE = {"bridge": {"segno"}, "notation": {"defusedxml"}}


def room_of(parts: tuple[str, ...]) -> str:
    """The room of a module by its path inside the package; "" is the package itself."""
    return parts[0] if parts else ""


def imported(tree: ast.AST, module: tuple[str, ...], is_package: bool) -> Iterator[tuple[int, str]]:
    """Every absolute name that a module imports, wherever it does, with its line."""
    here = (PACKAGE, *module) if is_package else (PACKAGE, *module)[:-1]
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            for name in node.names:
                yield node.lineno, name.name
        elif isinstance(node, ast.ImportFrom):
            base = ".".join(here[: len(here) - node.level + 1]) if node.level else ""
            head = ".".join(part for part in (base, node.module or "") if part)
            if head == PACKAGE:  # `from .. import model`: the names may be rooms
                for name in node.names:
                    yield node.lineno, f"{head}.{name.name}"
            else:
                yield node.lineno, head
        elif isinstance(node, ast.Call) and node.args and isinstance(node.args[0], ast.Constant):
            called = node.func.attr if isinstance(node.func, ast.Attribute) else getattr(node.func, "id", "")
            if called in ("import_module", "__import__"):
                yield node.lineno, str(node.args[0].value)


def lines_in_functions(tree: ast.AST) -> set[int]:
    """The lines that run when a function is called, not when the module is imported."""
    functions = [node for node in ast.walk(tree) if isinstance(node, (ast.FunctionDef, ast.AsyncFunctionDef))]
    return {
        step.lineno for made in functions for line in made.body for step in ast.walk(line) if hasattr(step, "lineno")
    }


def violations(engine: Path) -> list[str]:
    """What in the package below `engine` reaches where it must not."""
    found = []
    package = engine / PACKAGE
    for path in sorted(package.rglob("*.py")):
        parts = path.relative_to(package).with_suffix("").parts
        is_package = parts[-1] == "__init__"
        module = parts[:-1] if is_package else parts
        room = room_of(module)
        where = path.relative_to(engine).as_posix()
        if room not in FLOORS:
            found.append(f"{where}: {room} is no room that this test knows; give it a floor")
            continue
        names = {child.stem for child in package.iterdir()}
        tree = ast.parse(path.read_text(encoding="utf-8"))
        on_use = lines_in_functions(tree)
        for line, name in imported(tree, module, is_package):
            top, _, rest = name.partition(".")
            if top != PACKAGE:
                allowed = OUTSIDE.get(room, set()) | (ON_USE.get(room, set()) if line in on_use else set())
                if top not in sys.stdlib_module_names and top not in allowed:
                    found.append(f"{where}:{line}: {room} imports {top}, which is not in the standard library")
                continue
            other = rest.split(".")[0] if rest else ""
            if other not in names:  # a name of the package itself, such as its version
                other = ""
            if other != room and FLOORS.get(other, 99) >= FLOORS[room]:
                found.append(f"{where}:{line}: {room or 'the package itself'} imports {other or PACKAGE}")
    return found


def plant(root: Path, files: dict[str, str]) -> Path:
    for name, text in files.items():
        path = root / PACKAGE / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
    return root


def test_every_room_imports_only_lower_floors(root: Path):
    assert violations(root / "engine") == []


def test_all_rooms_of_this_issue_are_there(root: Path):
    rooms = {path.stem for path in (root / "engine" / PACKAGE).iterdir() if path.stem.isidentifier()}
    assert rooms >= {"errors", "model", "lineage", "variation", "codec", "timeline", "midi", "sound", "bridge", "cli"}


def test_the_launcher_needs_the_standard_library_alone(root: Path):
    outside = []
    for path in [root / "engine/__main__.py", *sorted((root / "engine/launcher").glob("*.py"))]:
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            names = [name.name for name in node.names] if isinstance(node, ast.Import) else []
            if isinstance(node, ast.ImportFrom):
                names = [] if node.level else [node.module or ""]
            tops = {name.split(".")[0] for name in names} - set(sys.stdlib_module_names) - {"launcher"}
            outside += [f"{path.name}:{node.lineno}: {top}" for top in sorted(tops)]
    assert outside == []


LOWER = {"errors.py": "", "model/__init__.py": "", "model/beat.py": "from ..errors import GroundbeatError\n"}


def test_a_tree_in_order_has_no_violation(tmp_path: Path):
    codec = "from . import link\nfrom .link import x\nfrom ..model.beat import Beat\nfrom .. import __version__\n"
    files = {**LOWER, "__init__.py": "__version__ = '1'\n", "codec/file.py": codec, "codec/link.py": "x = 1\n"}
    files |= {"bridge/__init__.py": "", "bridge/qr.py": "def f():\n    if True:\n        import segno\n"}
    assert violations(plant(tmp_path, files)) == []


@pytest.mark.parametrize(
    ("name", "text", "told"),
    [
        ("model/kit.py", "from ..codec.link import read_link\n", "model/kit.py:1: model imports codec"),
        ("model/kit.py", "def f():\n    from ..codec import link\n", "model/kit.py:2: model imports codec"),
        ("model/kit.py", "import groundbeat.variation.stack\n", "model/kit.py:1: model imports variation"),
        ("model/kit.py", "from .. import lineage\n", "model/kit.py:1: model imports lineage"),
        ("midi/reader.py", "from ..sound import kit\n", "midi/reader.py:1: midi imports sound"),
        ("errors.py", "import groundbeat.model\n", "errors.py:1: errors imports model"),
        ("__init__.py", "from . import model\n", "__init__.py:1: the package itself imports model"),
        ("codec/__init__.py", "from ..bridge import door\n", "codec/__init__.py:1: codec imports bridge"),
        (
            "codec/a.py",
            "import importlib\nimportlib.import_module('groundbeat.cli')\n",
            "codec/a.py:2: codec imports cli",
        ),
        ("bridge/door.py", "if True:\n    import numpy as np\n", "bridge imports numpy, which is not in the standard"),
        (
            "bridge/qr.py",
            "try:\n    import segno\nexcept ImportError:\n    pass\n",
            "bridge/qr.py:2: bridge imports segno",
        ),
        ("codec/a.py", "def f():\n    import segno\n", "codec/a.py:2: codec imports segno"),
        ("sound/kit.py", "import typer\n", "sound imports typer, which is not in the standard"),
        ("cellar/wine.py", "", "cellar/wine.py: cellar is no room that this test knows"),
    ],
)
def test_a_planted_violation_is_found(tmp_path: Path, name: str, text: str, told: str):
    rooms = {f"{room}/__init__.py": "" for room in ("lineage", "variation", "codec", "midi", "sound", "bridge")}
    found = violations(plant(tmp_path, {**LOWER, **rooms, "cli.py": "", name: text}))
    assert len(found) == 1
    assert told in found[0]
