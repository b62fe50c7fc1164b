"""Which questions about MusicXML files may a page ask? Read with the first of them: see `on_use`."""

from __future__ import annotations

from dataclasses import dataclass

from .on_use import OnUse, ScoreOnUse


@dataclass(frozen=True, slots=True)
class ExportScore(ScoreOnUse):
    """Ask for a stage as a MusicXML file, or for all stages up to it one after the other (`through`). `form` is
    "musicxml", which is text, or "mxl"; `voices` 1 or 2; `sticking` "words", "lyric", "fingering" or "none"; `counts`
    as lyrics, `signs` for bars that repeat, `older` marks of the open hi-hat; `tempo` in beats a minute, 0 for the
    goal."""

    document: str
    stage: int
    form: str = "musicxml"
    through: bool = False
    voices: int = 2
    sticking: str = "words"
    counts: bool = False
    signs: bool = False
    older: bool = False
    tempo: float = 0


REQUESTS: dict[str, type[OnUse]] = {"export_score": ExportScore}
