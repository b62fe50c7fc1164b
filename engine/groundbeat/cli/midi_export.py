"""What can be chosen for a MIDI file on the command line, and how is it made? See `export`."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

import typer

from ..model.groove import Groove
from ..variation.stack import Stage
from .sources import tell

if TYPE_CHECKING:
    from ..midi.laying import Wish

ENDS = (".mid", ".midi")
PROFILE = typer.Option("--profile", metavar="gm|kit", help="Keys of General MIDI or of an electronic kit; with .mid.")
TICKS = typer.Option("--ticks", metavar="N", help="Ticks a quarter note: 10080, which is exact, or 480; with .mid.")
STRAIGHT = typer.Option("--straight", help="Swing and pushes are named in the file and not played; with .mid.")
RIMSHOT = typer.Option("--rimshot", metavar="40|38", help="The key of a rimshot; 40 if it is not said; with .mid.")
ONLY = ("--profile", "--ticks", "--straight", "--rimshot")  # what no other file has
COUNT = (*ONLY, "--through", "--tempo", "--loops")  # what counts for a MIDI file


def wish(
    stage: int,
    through: bool,
    loops: int | None,
    tempo: int,
    profile: str,
    ticks: int,
    straight: bool,
    rimshot: int,
) -> Wish:
    """Gather what was asked for; "" and 0 are what is usual, `tempo` is in hundredths."""
    from ..midi.laying import Wish

    usual = Wish()
    return Wish(
        stage,
        through,
        usual.rounds if loops is None else loops,
        tempo,
        profile or usual.profile,
        ticks or usual.ticks,
        straight,
        rimshot or usual.rimshot,
    )


def made(groove: Groove, stages: Sequence[Stage], asked: Wish) -> bytes:
    """Make the file; what is to be told about it goes to standard error."""
    from ..midi.export import midi_file

    found = midi_file(groove, stages, asked)
    for line in found.says:
        tell(line)
    return found.data
