"""Nothing that a page shows carries inline style or is made from raw markup; nothing runs text as code."""

from __future__ import annotations

import ast
import re
from collections.abc import Callable
from pathlib import Path

import pytest

# The page's policy drops a style attribute, and refuses text that is run as code.
ATTRIBUTE = re.compile(r"(?<![\w.$-])style\s*=\s*(?![=>])")
ANYWHERE = {
    "a style element": re.compile(r"<style\b", re.IGNORECASE),
    "styleMap": re.compile(r"\bstyleMap\b"),
    "raw markup": re.compile(r"\b(?:innerHTML|outerHTML|insertAdjacentHTML|unsafeHTML|unsafeSVG|document\.write)\b"),
    "text run as code": re.compile(r"(?<![\w.])eval\(|\bnew Function\b"),
}
_COMMENT = re.compile(r"/\*.*?\*/|^\s*//[^\n]*|(?<=[\s;{}(),])//[^\n]*", re.DOTALL | re.MULTILINE)


def without_comments(text: str) -> str:
    """The code of a JavaScript file, with its lines where they were."""
    return _COMMENT.sub(lambda match: "\n" * match[0].count("\n"), text)


def markup_of(text: str) -> str:
    """The strings of a Python file, where markup would stand, a string a line; docstrings left out."""
    tree = ast.parse(text)
    docs = set()
    for node in ast.walk(tree):
        if isinstance(node, (ast.Module, ast.ClassDef, ast.FunctionDef, ast.AsyncFunctionDef)) and node.body:
            first = node.body[0]
            if isinstance(first, ast.Expr) and isinstance(first.value, ast.Constant):
                docs.add(id(first.value))
    strings = [n for n in ast.walk(tree) if isinstance(n, ast.Constant) and isinstance(n.value, str)]
    return "\n".join(node.value for node in strings if id(node) not in docs)


def found_in(text: str) -> list[str]:
    """What markup or code must not hold."""
    found = ["a style attribute"] if ATTRIBUTE.search(text) else []
    return found + [what for what, pattern in ANYWHERE.items() if pattern.search(text)]


def test_the_page_has_no_inline_style_and_no_raw_markup(
    ours: tuple[Path, ...], root: Path, text_of: Callable[[Path], str]
):
    files = [path for path in ours if path.suffix in {".js", ".mjs", ".html", ".svg", ".css"}]
    files = [path for path in files if path.relative_to(root).parts[0] in ("web", "engine")]
    assert len(files) > 20
    found = {path.relative_to(root).as_posix(): found_in(without_comments(text_of(path))) for path in files}
    assert {name: rows for name, rows in found.items() if rows} == {}


def test_python_writes_no_inline_style(ours: tuple[Path, ...], root: Path, text_of: Callable[[Path], str]):
    files = [path for path in ours if path.suffix == ".py" and path.relative_to(root).parts[0] == "engine"]
    assert len(files) > 50
    found = {path.relative_to(root).as_posix(): found_in(markup_of(text_of(path))) for path in files}
    assert {name: rows for name, rows in found.items() if rows} == {}


@pytest.mark.parametrize(
    "text",
    [
        '<p style="color: red">', "html`<p style=${x}>`", "<style>p {}</style>", "x.innerHTML = y;", "eval(text)",
        "new Function(text)", 'import { styleMap } from "lit/directives/style-map.js"', "unsafeHTML(x)",
    ],
)  # fmt: skip
def test_planted_markup_is_found(text: str):
    assert found_in(without_comments(f"// a comment\nconst a = 1;\n{text}\n"))
    assert found_in(markup_of(f"def page():\n    return {text!r}\n"))


@pytest.mark.parametrize(
    "text",
    [
        'element.style.setProperty("--ink", ink);', "element.style.height = h;", "static styles = css``;",
        "/* no <style> here, no style= */", "// never innerHTML", "worker.evaluate(x)", 'rel="stylesheet"',
    ],
)  # fmt: skip
def test_ordinary_code_passes(text: str):
    assert found_in(without_comments(f"{text}\n")) == []
