"""Every example in a docstring runs and tells the truth."""

from __future__ import annotations

import doctest
import importlib
import pkgutil

import pytest

import groundbeat

PROGRAMS = {
    "groundbeat.site.__main__",
    "groundbeat.site.lean",
}  # run when they are imported; the second in Pyodide only
ALL = [info.name for info in pkgutil.walk_packages(groundbeat.__path__, "groundbeat.")]
MODULES = [name for name in ALL if name not in PROGRAMS]


@pytest.mark.parametrize("name", MODULES)
def test_examples_of_a_module_hold(name):
    module = importlib.import_module(name)
    assert doctest.testmod(module).failed == 0


def test_there_are_examples_to_run():
    finder = doctest.DocTestFinder()
    examples = [test for name in MODULES for test in finder.find(importlib.import_module(name)) if test.examples]
    assert len(examples) >= 25
