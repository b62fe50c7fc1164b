"""Which modules does a module really import, here in the package?

Read from the sources, without running them, so that a key of a cache can be made of just these files.
"""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path


def followed(engine: Path, module: str) -> set[Path]:
    """Give the files of a module and of all it imports below the folder `engine`, directly or by others.

    A package that is named on the way brings its own `__init__`, as it does when it runs.
    """
    found: set[Path] = set()
    left = [module]
    while left:
        name = left.pop()
        path = _file(engine, name)
        if path is None or path in found:
            continue
        found.add(path)
        left += _imported(ast.parse(path.read_text(encoding="utf-8")), name, path.name == "__init__.py")
        left += [name.rpartition(".")[0]]
    return found


def _file(engine: Path, module: str) -> Path | None:
    if not module:
        return None
    place = engine.joinpath(*module.split("."))
    return next((path for path in (place.with_suffix(".py"), place / "__init__.py") if path.is_file()), None)


def _imported(tree: ast.Module, module: str, is_package: bool) -> Iterator[str]:
    """Give every name that may be a module: what follows `import`, and `from a import b` as a and as a.b."""
    here = module.split(".") if is_package else module.split(".")[:-1]
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            yield from (name.name for name in node.names)
        elif isinstance(node, ast.ImportFrom):
            base = here[: len(here) - node.level + 1] if node.level else []
            head = ".".join([*base, *filter(None, [node.module])])
            yield head
            yield from (f"{head}.{name.name}" for name in node.names)
