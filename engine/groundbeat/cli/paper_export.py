"""What can be chosen for a sheet or a picture of a staff on the command line, and how is it made? See `export`."""

from __future__ import annotations

from collections.abc import Sequence
from typing import IO, NamedTuple

import typer

from ..errors import LinkError, RequestError
from ..model.groove import Groove
from ..variation.stack import Stage
from .sources import tell

SHEET, DRAWN, PICTURE = ".pdf", ".svg", ".png"
ENDS = (SHEET, DRAWN, PICTURE)
PAPER = typer.Option("--paper", metavar="SIZE", help="With .pdf: a4, or letter.")
LARGE = typer.Option("--large", help="Large print; with .pdf, .svg and .png.")
NO_COUNTS = typer.Option("--no-counts", help="No counts under the staff; with .pdf, .svg and .png.")
NO_STICKING = typer.Option("--no-sticking", help="No letters of the hands under the staff; with .pdf, .svg and .png.")
AT = typer.Option("--at", metavar="URL", help="With .pdf: address of the page, for the QR code and the link.")
ONLY = ("--paper", "--large", "--no-counts", "--no-sticking", "--at")  # what no other file has
COUNT = (*ONLY, "--voices", "--player")  # what counts for them


class Asked(NamedTuple):
    """What was asked for on the command line; "" and 0 where nothing was said."""

    paper: str
    large: bool
    voices: int
    no_counts: bool
    no_sticking: bool
    at: str
    player: str


def given(asked: Asked) -> dict[str, object]:
    """The options of a sheet that were given, by their names."""
    return {
        "--paper": asked.paper, "--large": asked.large, "--no-counts": asked.no_counts,
        "--no-sticking": asked.no_sticking, "--at": asked.at,
    }  # fmt: skip


def idle(end: str) -> tuple[str, ...]:
    """Those of them that do nothing for a file."""
    return () if end == SHEET else ("--paper", "--at") if end in ENDS else ONLY


def fill(handle: IO[bytes], end: str, groove: Groove, stages: Sequence[Stage], stage: int, asked: Asked) -> None:
    """Write the file; what is to be told about it goes to standard error. Stage -1 is all of them, or the last one."""
    from ..analysis.player import read_player
    from ..notation.sheet import Wish, lesson, staff

    if asked.voices not in (0, 1, 2):
        raise RequestError(f"there are 1 or 2 voices, not {asked.voices}", field="voices")
    wish = Wish(
        voices=asked.voices or 2,
        counts=not asked.no_counts,
        sticking=not asked.no_sticking,
        large=asked.large,
        stage=stage,
        player=read_player(asked.player),
    )
    if end == SHEET:
        from ..paper.pages import Link, line_width, write_pdf

        paper = asked.paper.lower() or "a4"
        sheet = lesson(groove, stages, wish._replace(width=line_width(paper)))
        for line in sheet.says:
            tell(line)
        _, lost = write_pdf(handle, sheet, Link(asked.at, _fragment(groove)), paper, asked.large)
        if lost:
            tell(f"{lost} letter{'s' if lost > 1 else ''} that the printed letters lack stand as question marks")
        return
    number = stage if stage >= 0 else len(stages) - 1
    drawn, says = staff(groove, stages, number, wish._replace(marks=False))
    for line in says:
        tell(line)
    if end == DRAWN:
        handle.write(drawn.svg().encode("utf-8"))
        return
    from ..paper.picture import png

    handle.write(png(drawn.svg()))


def _fragment(groove: Groove) -> str:
    from ..codec.link import write_link

    try:
        if groove.branches:
            tell(f"the sheet and its link hold the main way, not the {len(groove.branches)} other way(s)")
        return write_link(groove)
    except LinkError as error:
        tell(f"no link on the sheet: {error.message}")
        return ""
