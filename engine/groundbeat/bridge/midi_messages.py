"""Which questions about MIDI files may a page ask? Read with the first of them: see `on_use`."""

from __future__ import annotations

from dataclasses import dataclass

from .on_use import MidiOnUse, OnUse


@dataclass(frozen=True, slots=True)
class ExportMidi(MidiOnUse):
    """Ask for a stage as a MIDI file, or for all stages up to it one after the other (`through`), each `loops` times.
    `tempo` in beats a minute, 0 for the goal; `profile` "gm" or "kit"; `ticks` a quarter note 10080 or 480; `straight`
    leaves the feel out of the ticks; `rimshot` is its key, 40 or 38."""

    document: str
    stage: int
    through: bool = False
    loops: int = 1
    tempo: float = 0
    profile: str = "gm"
    ticks: int = 10080
    straight: bool = False
    rimshot: int = 40


REQUESTS: dict[str, type[OnUse]] = {"export_midi": ExportMidi}
