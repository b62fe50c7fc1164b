"""Which questions about playing may a page ask? Read with the first of them: see `on_use`."""

from __future__ import annotations

from dataclasses import dataclass

from .on_use import AskOnUse, EditOnUse, OnUse


@dataclass(frozen=True, slots=True)
class Playing(AskOnUse):
    """Ask who plays what in a stage, how fast that can go, and what is hard about it; `tempo` in beats a minute, 0 for
    the goal."""

    document: str
    stage: int
    tempo: float = 0


@dataclass(frozen=True, slots=True)
class Plan(AskOnUse):
    """Ask how to practise a stage, or `every` stage up to it; `clean` is the last clean tempo, 0 if none is known."""

    document: str
    stage: int
    clean: float = 0
    every: bool = False


@dataclass(frozen=True, slots=True)
class Suggest(AskOnUse):
    """Ask what could come next: towards a `wish` in words, with what is to be kept in words; another `seed` gives
    others."""

    document: str
    stage: int
    wish: str = ""
    keep: str = ""
    seed: int = 0


@dataclass(frozen=True, slots=True)
class Who(AskOnUse):
    """Ask what can be said of a player, and what is said of this one."""


@dataclass(frozen=True, slots=True)
class Take(EditOnUse):
    """Take a suggestion: give the variation with key `key` its settings (JSON text), or (0) add one of a kind behind
    the one with key `after`."""

    document: str
    key: int
    after: int
    kind: str
    settings: str


@dataclass(frozen=True, slots=True)
class LeaveOut(EditOnUse):
    """Leave strokes of a stage out, as if each had been tapped; `ids` one a line."""

    document: str
    stage: int
    ids: str


REQUESTS: dict[str, type[OnUse]] = {
    "playing": Playing,
    "plan": Plan,
    "suggest": Suggest,
    "player": Who,
    "take": Take,
    "leave_out": LeaveOut,
}
