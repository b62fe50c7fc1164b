"""A room of the page imports only rooms on a lower floor; the audio processor imports nothing outside web/audio."""

from __future__ import annotations

import posixpath
import re
from pathlib import Path

import pytest

FLOORS = {"protocol": 0, "draw": 1, "engine": 2, "audio": 2, "input": 2, "view": 2, "app": 3}
PACKAGES = {"view": {"lit"}, "app": {"lit"}, "engine": {"pyodide"}}  # what is bundled, by room
# The worker imports Pyodide from a folder that is only known when it starts.
COMPUTED = {"engine/worker.js"}
NOT_OURS = ("node_modules", "public")

_STATIC = re.compile(r"""^\s*(?:import|export)\b[^;"'()]*?\bfrom\s*["']([^"']+)["']""", re.MULTILINE)
_BARE = re.compile(r"""^\s*import\s*["']([^"']+)["']""", re.MULTILINE)
_CALLED = re.compile(r"""\bimport\(\s*(?:(["'])([^"']+)\1\s*\)|([^"'\s]))""")  # dynamic, and types in JSDoc
_REFERENCE = re.compile(r"""^\s*///\s*<reference\s+(?:path|types)=["']([^"']+)["']""", re.MULTILINE)


def imported(text: str) -> list[tuple[int, str]]:
    """What a module imports, with its line; "" for an import whose name is worked out at run time."""
    found = [(match.start(1), match[1]) for pattern in (_STATIC, _BARE, _REFERENCE) for match in pattern.finditer(text)]
    found += [(match.start(), match[2] or "") for match in _CALLED.finditer(text)]
    return sorted((text.count("\n", 0, at) + 1, name) for at, name in found)


def violations(web: Path) -> list[str]:
    """What below `web` reaches where it must not."""
    found = []
    for path in sorted([*web.rglob("*.js"), *web.rglob("*.mjs"), *web.rglob("*.ts")]):
        name = path.relative_to(web).as_posix()
        room, _, rest = name.partition("/")
        if room in NOT_OURS:
            continue
        if not rest or room not in FLOORS:
            found.append(f"{name}: {room if rest else 'the top folder'} is no room that this test knows")
            continue
        for line, target in imported(path.read_text(encoding="utf-8")):
            where = f"{name}:{line}"
            if not target:
                if name not in COMPUTED:
                    found.append(f"{where}: an import worked out at run time cannot be checked")
            elif not target.startswith("."):
                package = "/".join(target.split("/")[: 2 if target.startswith("@") else 1])
                if package not in PACKAGES.get(room, ()):
                    found.append(f"{where}: {room} imports the package {package}")
            else:
                other = posixpath.normpath(posixpath.join(posixpath.dirname(name), target)).split("/")[0]
                if other != room and FLOORS.get(other, 99) >= FLOORS[room]:
                    found.append(f"{where}: {room} imports {other}")
    return found


def reached(web: Path, start: str) -> set[str]:
    """All modules that one module brings with it, types aside."""
    seen: set[str] = set()
    todo = [start]
    while todo:
        name = todo.pop()
        if name in seen:
            continue
        seen.add(name)
        if name.startswith(".."):
            continue
        text = (web / name).read_text(encoding="utf-8")
        for pattern in (_STATIC, _BARE):
            for match in pattern.finditer(text):
                relative = match[1].startswith(".")
                todo.append(posixpath.normpath(posixpath.join(posixpath.dirname(name), match[1]))) if relative else (
                    seen.add(match[1])
                )
    return seen


def plant(root: Path, files: dict[str, str]) -> Path:
    for name, text in files.items():
        path = root / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
    return root


def test_every_room_of_the_page_imports_only_lower_floors(root: Path):
    assert violations(root / "web") == []


def test_the_processor_imports_nothing_outside_audio(root: Path):
    outside = {name for name in reached(root / "web", "audio/processor.js") if not name.startswith("audio/")}
    assert outside == set()


def test_the_types_of_the_messages_import_nothing(root: Path):
    for path in sorted((root / "web/protocol").iterdir()):
        assert imported(path.read_text(encoding="utf-8")) == [], path.name


def test_a_page_in_order_has_no_violation(tmp_path: Path):
    files = {
        "draw/band.js": '/** @typedef {import("../protocol/messages.d.ts").Reply} R */\nimport "./ink.js";\n',
        "draw/ink.js": 'export {\n  a,\n  b,\n} from "./other.js";\n',
        "view/gb-x.js": 'import { html } from "lit";\nimport { x } from "../draw/band.js";\n',
        "app/main.js": 'import "../view/gb-x.js";\nconst late = await import("../draw/ink.js");\n',
        "node_modules/lit/index.js": 'import "anything";\n',
    }
    assert violations(plant(tmp_path, files)) == []


@pytest.mark.parametrize(
    ("name", "text", "told"),
    [
        ("draw/a.js", 'import { x } from "../view/b.js";', "draw/a.js:1: draw imports view"),
        ("draw/a.js", '// one\nimport {\n  x,\n  y,\n} from "../view/b.js";', "draw/a.js:5: draw imports view"),
        ("view/a.js", 'import "../audio/player.js";', "view/a.js:1: view imports audio"),
        ("view/a.js", 'const m = await import("../engine/c.js");', "view/a.js:1: view imports engine"),
        ("input/a.js", '/** @param {import("../app/store.js").State} s */', "input/a.js:1: input imports app"),
        ("engine/a.js", 'export { x } from "../app/store.js";', "engine/a.js:1: engine imports app"),
        ("audio/a.js", 'import { html } from "lit";', "audio/a.js:1: audio imports the package lit"),
        ("audio/a.js", "await import(name);", "audio/a.js:1: an import worked out at run time"),
        ("audio/a.js", 'import x from "../../elsewhere.js";', "audio/a.js:1: audio imports .."),
        ("attic/a.js", "", "attic/a.js: attic is no room"),
        ("loose.js", "", "loose.js: the top folder is no room"),
    ],
)
def test_a_planted_violation_is_found(tmp_path: Path, name: str, text: str, told: str):
    found = violations(plant(tmp_path, {name: text + "\n"}))
    assert len(found) == 1
    assert told in found[0]


def test_what_the_processor_brings_along_is_followed(tmp_path: Path):
    files = {"audio/p.js": 'import "./q.js";\n', "audio/q.js": 'import "../draw/r.js";\n', "draw/r.js": ""}
    assert "draw/r.js" in reached(plant(tmp_path, files), "audio/p.js")
