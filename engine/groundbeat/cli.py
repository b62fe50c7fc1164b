"""What can be done with a groove from a shell?

`groundbeat COMMAND GROOVE`, where a GROOVE is a groove file, a MIDI file, a link, or `-` for standard input. Errors go
to standard error as one line that begins with `groundbeat: `, with exit status 2.
"""

from __future__ import annotations

import io
import json
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import Annotated

import typer

from .bridge.door import NEWER
from .bridge.midi_file import groove_of_bytes
from .codec.account import account, heading, numbers, summary
from .codec.groove_read import MAX_FILE, read_groove
from .codec.groove_write import write_groove
from .codec.link import COMFORTABLE, looks_like_link, read_link, write_link
from .codec.tab import tab
from .errors import GroundbeatError, RequestError
from .model.groove import Groove
from .variation.stack import Stage, grow, onto, plain

app = typer.Typer(
    add_completion=False, no_args_is_help=True, rich_markup_mode=None, pretty_exceptions_enable=False,
    help="Develop an ordinary drum beat one change at a time, and never lose the way back.",
)  # fmt: skip

GROOVE = typer.Argument(metavar="GROOVE", help="A groove file, a MIDI file, a link, or - for standard input.")
BARS = typer.Option("--bars", metavar="A-B", help="Bars of a MIDI file that become the base beat.")
JSON = typer.Option("--json", help="Print JSON for another program.")
_MIDI_HEADS = (b"MThd", b"RIFF")
MAX_BYTES = 8 * 1024 * 1024  # more than any drum file; the readers have tighter limits of their own


def load(source: str, bars: str = "") -> Groove:
    """Read a groove from wherever it is; remarks go to standard error."""
    if source != "-" and not _exists(source):
        if looks_like_link(source) and not source.lower().endswith((".toml", ".mid", ".midi")):
            return _from_link(source)
        raise RequestError(f'there is no file "{source}", and it is no link; check the path')
    name, data = ("standard input", _stdin()) if source == "-" else (source, _file(source))
    if data[:4] in _MIDI_HEADS:
        groove, says = groove_of_bytes(name, data, bars)
        for line in says:
            _tell(line)
        return groove
    if data[:2] == b"PK" or data.lstrip()[:1] == b"<":
        raise RequestError(f"{name}: MusicXML is not read yet; export a MIDI file instead")
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise RequestError(f"{name}: not text in UTF-8 (byte {error.start}), and no MIDI file") from None
    if bars:
        raise RequestError("--bars is for MIDI files; a groove file or a link is taken whole", field="bars")
    return _from_link(text) if looks_like_link(text) else read_groove(text, name)


def _exists(source: str) -> bool:
    try:
        return Path(source).is_file()
    except OSError:
        return False


def _file(source: str) -> bytes:
    try:
        with open(source, "rb") as handle:
            data = handle.read(MAX_BYTES + 1)
    except OSError as error:
        raise RequestError(f"{source}: cannot be read ({error.strerror})") from None
    return _limited(source, data)


def _stdin() -> bytes:
    return _limited("standard input", sys.stdin.buffer.read(MAX_BYTES + 1))


def _limited(name: str, data: bytes) -> bytes:
    if len(data) > MAX_BYTES:
        raise RequestError(f"{name} has over {MAX_BYTES} bytes; groove files have at most {MAX_FILE}")
    return data


def _from_link(text: str) -> Groove:
    reading = read_link(text)
    if reading.newer is not None:
        _tell(f"stage {reading.newer}: {NEWER}" if reading.newer else NEWER)
    return reading.groove


def _tell(line: str) -> None:
    print(line, file=sys.stderr)


@app.command()
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
    if stage < 0:
        print(_title(document))
    for row in stages if stage < 0 else stages[stage : stage + 1]:
        print(_stage(row, numbers(stages)))


def _title(groove: Groove) -> str:
    base = groove.base
    unit = base.meter.tempo_unit[0]
    bars = f"{base.bars} bar{'s' * (base.bars > 1)}"
    head = f"{groove.title or 'Untitled'}: {base.meter}, {bars} of {base.columns}, {unit} = {groove.tempo_text}"
    return head + (f"\n{groove.note}" if groove.note else "")


def _stage(stage: Stage, number: dict[int, int]) -> str:
    done = summary(stage)
    lines = ["", f"{stage.number} {heading(stage)}" + (f" ({done})" if done else "")]
    if stage.variation:
        lines.append(f"  {plain(stage.variation, number)}")
        if stage.variation.note:
            lines.append(f'  "{stage.variation.note}"')
    lines += [f"  {text}" for text in stage.says]
    lines += [f"    {line}" for line in tab(stage.beat).split("\n")]
    return "\n".join(lines)


@app.command()
def link(
    groove: Annotated[str, GROOVE],
    at: Annotated[str, typer.Option("--at", metavar="URL", help="Address of the page: prints the whole link.")] = "",
    bars: Annotated[str, BARS] = "",
) -> None:
    """Print the link of a groove: everything after the page's address."""
    document = load(groove, bars)
    fragment = write_link(document)
    if document.branches:
        _tell(f"the link holds the main way; {len(document.branches)} other way(s) stay in the groove file")
    if len(fragment) > COMFORTABLE:
        _tell(f"the link has {len(fragment)} characters; some chat programs cut it")
    print(f"{at.split('#')[0]}#{fragment}")


@app.command()
def read(link: Annotated[str, typer.Argument(metavar="LINK", help="A link, or - for standard input.")]) -> None:
    """Turn a link back into a groove file."""
    text = _stdin().decode("utf-8", "replace") if link == "-" else link
    print(write_groove(_from_link(text)), end="")


@app.command("onto")
def put_onto(
    base: Annotated[str, typer.Argument(metavar="BASE", help="The groove whose base beat is taken.")],
    groove: Annotated[str, typer.Argument(metavar="GROOVE", help="The groove whose variations are taken.")],
    bars: Annotated[str, BARS] = "",
) -> None:
    """Print the groove file of the variations of GROOVE on the base beat of BASE."""
    document = onto(load(base, bars), load(groove))
    for stage in grow(document):
        for text in stage.says:
            _tell(f"stage {stage.number}: {text}")
    print(write_groove(document), end="")


@app.command()
def build(
    out: Annotated[Path, typer.Option("-o", metavar="DIR", help="Folder to build into.")] = Path("dist"),
) -> None:
    """Build the static page: a folder that any web server can serve, at any path."""
    from .site.build import build as build_site

    build_site(out)


@app.command()
def serve(
    port: Annotated[int, typer.Option("--port", help="Port to listen on.")] = 8614,
    host: Annotated[str, typer.Option("--host", help="Address to listen on.")] = "127.0.0.1",
    site: Annotated[Path, typer.Option("--site", metavar="DIR", help="Folder that was built.")] = Path("dist"),
) -> None:
    """Serve the built page and print its address."""
    from .site.server import serve as serve_site

    serve_site(site, host=host, port=port)


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


if __name__ == "__main__":
    main()
