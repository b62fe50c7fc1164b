"""Where does a groove on the command line come from?

A groove file, a MIDI or MusicXML file, tablature, a link, or "-" for standard input. Remarks go to standard error.
"""

from __future__ import annotations

import sys
from pathlib import Path

import typer

from ..bridge.door import NEWER
from ..bridge.midi_file import groove_of_bytes
from ..bridge.score_file import groove_of_bytes as groove_of_score
from ..bridge.score_file import looks_like_score
from ..bridge.tab_file import groove_of_tab
from ..codec.groove_read import MAX_FILE, read_groove
from ..codec.link import looks_like_link, read_link
from ..codec.tab_read import looks_like_tab
from ..errors import RequestError
from ..model.groove import Groove

GROOVE = typer.Argument(
    metavar="GROOVE", help="A groove, MIDI or MusicXML file, tablature, a link, or - for standard input."
)
BARS = typer.Option(
    "--bars", metavar="A-B", help="Bars of a MIDI or MusicXML file or a tablature that become the base beat."
)
JSON = typer.Option("--json", help="Print JSON for another program.")
_MIDI_HEADS = (b"MThd", b"RIFF")
MAX_BYTES = 8 * 1024 * 1024  # more than any drum file; the readers have tighter limits of their own


def load(source: str, bars: str = "") -> Groove:
    """Read a groove from wherever it is; remarks go to standard error."""
    if source != "-" and not _exists(source):
        if looks_like_link(source) and not source.lower().endswith(
            (".toml", ".mid", ".midi", ".txt", ".tab", ".xml", ".musicxml", ".mxl")
        ):
            return from_link(source)
        raise RequestError(f'there is no file "{source}", and it is no link; check the path')
    name, data = ("standard input", standard_input()) if source == "-" else (source, _file(source))
    if data[:4] in _MIDI_HEADS:
        groove, says = groove_of_bytes(name, data, bars)
        for line in says:
            tell(line)
        return groove
    if looks_like_score(data):
        groove, says = groove_of_score(name, data, bars)
        for line in says:
            tell(line)
        return groove
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise RequestError(f"{name}: not text in UTF-8 (byte {error.start}), and no MIDI or MusicXML file") from None
    if not looks_like_link(text) and looks_like_tab(text):
        groove, says = groove_of_tab(name, text, bars)
        for line in says:
            tell(line)
        return groove
    if bars:
        raise RequestError(
            "--bars is for MIDI and MusicXML files and tablature; a groove file or a link is taken whole", field="bars"
        )
    return from_link(text) if looks_like_link(text) else read_groove(text, name)


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


def standard_input() -> bytes:
    return _limited("standard input", sys.stdin.buffer.read(MAX_BYTES + 1))


def _limited(name: str, data: bytes) -> bytes:
    if len(data) > MAX_BYTES:
        raise RequestError(f"{name} has over {MAX_BYTES} bytes; groove files have at most {MAX_FILE}")
    return data


def from_link(text: str) -> Groove:
    reading = read_link(text)
    if reading.newer is not None:
        tell(f"stage {reading.newer}: {NEWER}" if reading.newer else NEWER)
    return reading.groove


def tell(line: str) -> None:
    print(line, file=sys.stderr)
