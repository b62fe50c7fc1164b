"""What can be done with a groove from a shell?

`groundbeat COMMAND GROOVE`, where a GROOVE is a groove, MIDI or MusicXML file, a link, or `-` for standard input.
Errors go to standard error as one line that begins with `groundbeat: `, with exit status 2.
"""

from __future__ import annotations

import io
import sys
from collections.abc import Sequence

import typer

from ..errors import GroundbeatError
from . import documents, export, page, playing

app = typer.Typer(
    add_completion=False, no_args_is_help=True, rich_markup_mode=None, pretty_exceptions_enable=False,
    help="Develop an ordinary drum beat one change at a time, and never lose the way back.",
)  # fmt: skip
app.command()(documents.show)
app.command()(documents.link)
app.command()(documents.read)
app.command("onto")(documents.put_onto)
app.command()(playing.check)
app.command()(playing.plan)
app.command()(playing.suggest)
app.command()(export.export)
app.command()(page.build)
app.command()(page.serve)


def main(arguments: Sequence[str] | None = None) -> None:
    """Run the command line; every error becomes one line and exit status 2."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="backslashreplace")  # a terminal that lacks a letter still shows the rest
    try:
        status = app(args=list(sys.argv[1:] if arguments is None else arguments), standalone_mode=False)
        sys.exit(status if isinstance(status, int) else 0)
    except GroundbeatError as error:
        _fail(error.message)
    except typer.Abort:
        sys.exit(130)
    except Exception as error:  # usage errors of the command line come as click's own exceptions
        if hasattr(error, "format_message"):
            _fail(error.format_message())
        raise


def _fail(message: str) -> None:
    print("groundbeat: " + " ".join(message.split()), file=sys.stderr)
    sys.exit(2)
