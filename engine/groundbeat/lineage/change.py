"""What did one stage do to every stroke?

Every stroke that goes into a stage has exactly one fate: it is kept or changed (moved, altered, or both), left out,
or merged into another. Strokes that the stage brings are added. Kept means neither moved nor altered.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Move:
    """A stroke that changed its place: from and to in ticks; `crosses` where it passed the end of the loop."""

    id: str
    start: int
    end: int
    crosses: bool


@dataclass(frozen=True, slots=True)
class Merge:
    """A stroke that took in others: `id` stays, `parents` are its own id and those it took in."""

    id: str
    parents: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Change:
    """The fates of all strokes in one stage, by id.

    `crossed` are those that passed the end of the loop, merged ones too; `of` says which stroke an added one copies.
    """

    kept: tuple[str, ...] = ()
    moved: tuple[Move, ...] = ()
    altered: tuple[str, ...] = ()
    added: tuple[str, ...] = ()
    left_out: tuple[str, ...] = ()
    merged: tuple[Merge, ...] = ()
    crossed: tuple[str, ...] = ()
    of: tuple[tuple[str, str], ...] = ()

    def absorbed(self) -> dict[str, str]:
        """Map each stroke that was merged away to the one that took it in."""
        return {gone: merge.id for merge in self.merged for gone in merge.parents if gone != merge.id}
