"""Which questions about a stage on a staff or as tablature may a page ask? Read with the first: see `on_use`."""

from __future__ import annotations

from dataclasses import dataclass

from .on_use import OnUse, StaffOnUse


@dataclass(frozen=True, slots=True)
class Staff(StaffOnUse):
    """Ask for a stage as drum notation, on lines of at most `width` staff spaces of `space` pixels each; `voices` 1 or
    2, `counts` and `sticking` in rows below."""

    document: str
    stage: int
    width: float = 90
    space: float = 8
    voices: int = 2
    counts: bool = True
    sticking: bool = False


@dataclass(frozen=True, slots=True)
class ExportTab(StaffOnUse):
    """Ask for a stage as tablature, or for all stages (`through`)."""

    document: str
    stage: int
    through: bool = False


REQUESTS: dict[str, type[OnUse]] = {"staff": Staff, "export_tab": ExportTab}
