"""Which kinds of variation are there?

One entry a kind: its name in files, its number in links (append only, never used again), and the module that holds
it. A kind is imported when it is first asked for: importing costs time in a browser.
"""

from __future__ import annotations

from functools import lru_cache
from importlib import import_module
from typing import NamedTuple

from ..errors import VariationError
from ..model.kit import nearest
from .kind import Kind


class Entry(NamedTuple):
    """Where a kind stands: name in files, number in links, module with its KIND."""

    name: str
    number: int
    module: str


_HERE = __name__.rpartition(".")[0]

ENTRIES: list[Entry] = [
    Entry("displace", 1, f"{_HERE}.displace"),
    Entry("embellish", 2, f"{_HERE}.embellish"),
    Entry("ostinato", 3, f"{_HERE}.ostinato"),
    Entry("orchestrate", 4, f"{_HERE}.orchestrate"),
    Entry("touch-up", 5, f"{_HERE}.touch_up"),
    Entry("permute", 6, f"{_HERE}.permute"),
    Entry("double-up", 7, f"{_HERE}.double_up"),
    Entry("hand-to-foot", 8, f"{_HERE}.hand_to_foot"),
    Entry("dynamics", 9, f"{_HERE}.dynamics"),
    Entry("sticking", 10, f"{_HERE}.sticking"),
    Entry("leave-space", 11, f"{_HERE}.leave_space"),
    Entry("grouping", 12, f"{_HERE}.grouping"),
    Entry("subdivide", 13, f"{_HERE}.subdivide"),
    Entry("linear", 14, f"{_HERE}.linear"),
    Entry("hands-and-lead", 15, f"{_HERE}.hands_and_lead"),
    Entry("half-time", 16, f"{_HERE}.half_time"),
    Entry("double-time", 17, f"{_HERE}.double_time"),
    Entry("length", 18, f"{_HERE}.length"),
    Entry("fill", 19, f"{_HERE}.fill"),
    Entry("feel", 20, f"{_HERE}.feel"),
]


@lru_cache(maxsize=128)
def _load(module: str) -> Kind:
    found = import_module(module).KIND
    assert isinstance(found, Kind)
    return found


def kind(name: str) -> Kind:
    """Find a kind by its name; VariationError where there is none."""
    for entry in ENTRIES:
        if entry.name == name:
            return _load(entry.module)
    raise VariationError(f'"{name}" is not a kind of variation{nearest(name, [e.name for e in ENTRIES])}', field="kind")


def number_of(name: str) -> int:
    """The number of a kind in links."""
    return next(entry.number for entry in ENTRIES if entry.name == name)


def name_of(number: int) -> str | None:
    """The name of a kind by its number in links; None where this version knows none."""
    return next((entry.name for entry in ENTRIES if entry.number == number), None)
