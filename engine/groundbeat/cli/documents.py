"""Commands that show a groove, and turn it into a link, a file, or the same variations on another beat."""

from __future__ import annotations

import json
from typing import Annotated

import typer

from ..codec.account import account
from ..codec.groove_write import write_groove
from ..codec.link import COMFORTABLE, write_link
from ..codec.tab_text import stages_text, tab_text
from ..errors import RequestError
from ..variation.stack import grow, onto
from .sources import BARS, GROOVE, JSON, from_link, load, standard_input, tell


def show(
    groove: Annotated[str, GROOVE],
    stage: Annotated[int, typer.Option("--stage", metavar="N", help="One stage only; 0 is the base beat.")] = -1,
    bars: Annotated[str, BARS] = "",
    as_json: Annotated[bool, JSON] = False,
) -> None:
    """Show the stages as tablature with counts, and what each one changed."""
    document = load(groove, bars)
    stages = grow(document)
    if stage >= len(stages) or stage < -1:
        raise RequestError(f"there are stages 0 to {len(stages) - 1}, not {stage}", field="stage")
    if as_json:
        told = account(document, stages)
        if stage >= 0:
            told["stages"] = [told["stages"][stage]]
        print(json.dumps(told, ensure_ascii=False, indent=1))
        return
    print(tab_text(document, stages) if stage < 0 else stages_text(stages, stage), end="")


def link(
    groove: Annotated[str, GROOVE],
    at: Annotated[str, typer.Option("--at", metavar="URL", help="Address of the page: prints the whole link.")] = "",
    bars: Annotated[str, BARS] = "",
) -> None:
    """Print the link of a groove: everything after the page's address."""
    document = load(groove, bars)
    fragment = write_link(document)
    if document.branches:
        tell(f"the link holds the main way; {len(document.branches)} other way(s) stay in the groove file")
    if len(fragment) > COMFORTABLE:
        tell(f"the link has {len(fragment)} characters; some chat programs cut it")
    print(f"{at.split('#')[0]}#{fragment}")


def read(link: Annotated[str, typer.Argument(metavar="LINK", help="A link, or - for standard input.")]) -> None:
    """Turn a link back into a groove file."""
    text = standard_input().decode("utf-8", "replace") if link == "-" else link
    print(write_groove(from_link(text)), end="")


def put_onto(
    base: Annotated[str, typer.Argument(metavar="BASE", help="The groove whose base beat is taken.")],
    groove: Annotated[str, typer.Argument(metavar="GROOVE", help="The groove whose variations are taken.")],
    bars: Annotated[str, BARS] = "",
) -> None:
    """Print the groove file of the variations of GROOVE on the base beat of BASE."""
    document = onto(load(base, bars), load(groove))
    for stage in grow(document):
        for text in stage.says:
            tell(f"stage {stage.number}: {text}")
    print(write_groove(document), end="")
