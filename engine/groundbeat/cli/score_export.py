"""What can be chosen for a MusicXML file on the command line, and how is it made? See `export`."""

from __future__ import annotations

from collections.abc import Sequence

import typer

from ..model.groove import Groove
from ..variation.stack import Stage
from .sources import tell

PLAIN, PACKED = ".musicxml", ".mxl"
ENDS = (PLAIN, PACKED)
VOICES = typer.Option("--voices", metavar="1|2", help="Hands and feet in one voice or in two, where there is a staff.")
STICKING = typer.Option(
    "--sticking", metavar="FORM", help="The hands as words, lyric, fingering or none; with .musicxml and .mxl."
)
COUNTS = typer.Option("--counts", help="The counts of what is struck as lyrics; with .musicxml and .mxl.")
SIGNS = typer.Option("--bar-signs", help="The % for bars that repeat, over the bar written out; with .musicxml, .mxl.")
OLDER = typer.Option("--older-marks", help="The open hi-hat as programs before 4.0 know it; with .musicxml and .mxl.")
ONLY = ("--voices", "--sticking", "--counts", "--bar-signs", "--older-marks")  # what no other file has
COUNT = (*ONLY, "--through", "--tempo")  # what counts for a MusicXML file


def made(
    groove: Groove,
    stages: Sequence[Stage],
    end: str,
    stage: int,
    through: bool,
    tempo: int,
    voices: int,
    sticking: str,
    counts: bool,
    signs: bool,
    older: bool,
) -> bytes:
    """Make the file; what is to be told about it goes to standard error. `tempo` is in hundredths, 0 the goal."""
    from ..notation.xml.packed import packed
    from ..notation.xml.wish import Wish
    from ..notation.xml.write import musicxml

    usual = Wish()
    form = sticking.lower() or usual.sticking
    found = musicxml(groove, stages, Wish(stage, through, voices or usual.voices, form, counts, signs, older, tempo))
    for line in found.says:
        tell(line)
    return packed(found.text) if end == PACKED else found.text.encode("utf-8")
