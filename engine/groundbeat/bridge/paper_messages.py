"""Which questions about notation on paper may a page ask? Read with the first of them: see `on_use`."""

from __future__ import annotations

from dataclasses import dataclass

from .on_use import OnUse, PaperOnUse


@dataclass(frozen=True, slots=True)
class LessonSheet(PaperOnUse):
    """Ask for a lesson sheet: what stands on it, block by block. `stage` -1 is all stages; `voices` 1 or 2; `width` of
    a line in staff spaces of ordinary print."""

    document: str
    stage: int = -1
    voices: int = 2
    counts: bool = True
    sticking: bool = True
    large: bool = False
    width: float = 90


REQUESTS: dict[str, type[OnUse]] = {"lesson_sheet": LessonSheet}
