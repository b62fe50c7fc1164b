"""Where in a file is the score?

A MusicXML file is XML, or a zip (.mxl) whose META-INF/container.xml names the score inside. What a file is, is seen
from its bytes and not from its name. Nothing is unpacked to a disk, so a name such as "../x" in a zip does no harm.
"""

from __future__ import annotations

import io
import zlib
from typing import TYPE_CHECKING

from ...errors import MusicXmlError
from .read_tree import Node, parse

if TYPE_CHECKING:
    from zipfile import ZipFile, ZipInfo

# Bytes of XML: about 4,000 bars of a drum part take 25 million where a program writes every position, 6 where it does
# not; 16 of them build a tree in some 3 s in a browser. Our choice.
MAX_BYTES = 16 * 1024 * 1024
# How much smaller a packed score may be. Scores pack 10 to 40 times, one bar over and over 150 times; a bomb 1,000.
MAX_RATIO = 300
_SMALL = 1024 * 1024  # below that any ratio is harmless
MAX_ENTRIES = 2000  # files in a zip: a score has a few, with pictures some dozens. Our choice
CONTAINER = "META-INF/container.xml"
_TYPES = ("", "application/vnd.recordare.musicxml+xml", "application/vnd.recordare.musicxml", "text/xml")
_ENDS = (".musicxml", ".xml")


def read_root(data: bytes) -> tuple[Node, tuple[str, ...]]:
    """Find and parse the score of a file; its root element, and what is to be told about how it was found.

    MusicXmlError where there is none, or it is too large.
    """
    if not data.strip(b"\0 \t\r\n"):
        raise MusicXmlError("the file is empty; export it anew")
    if data[:4] in (b"MThd", b"RIFF"):
        raise MusicXmlError("this is no MusicXML but a MIDI or sound file; open it as such")
    if data[:2] == b"PK":
        inside, says = unpack(data)
        root, more = parse(inside)
        return root, (*says, *more)
    if len(data) > MAX_BYTES:
        raise MusicXmlError(_too_large(len(data)))
    return parse(data)


def _too_large(size: int) -> str:
    return f"{size:,} bytes of XML; at most {MAX_BYTES:,} are read. Export the drum part alone, or fewer bars"


def unpack(data: bytes) -> tuple[bytes, tuple[str, ...]]:
    """Take the score out of a .mxl; its bytes, and what is to be told."""
    from zipfile import BadZipFile, ZipFile

    try:
        with ZipFile(io.BytesIO(data)) as archive:
            entries = {entry.filename: entry for entry in archive.infolist() if not entry.is_dir()}
            if len(entries) > MAX_ENTRIES:
                raise MusicXmlError(f"the packed file holds {len(entries)} files; at most {MAX_ENTRIES} are looked at")
            chosen, says = _choose(archive, entries)
            return _read(archive, chosen), says
    except (BadZipFile, zlib.error, EOFError, NotImplementedError, RuntimeError, OSError, ValueError) as error:
        raise MusicXmlError(
            f"the packed file (.mxl) does not unpack ({str(error)[:80]}); export it anew, or as plain .musicxml"
        ) from None


def _choose(archive: ZipFile, entries: dict[str, ZipInfo]) -> tuple[ZipInfo, tuple[str, ...]]:
    says: list[str] = []
    names = _named(archive, entries)
    for name in names:
        if name in entries:
            if len(names) > 1:
                says.append(f"The packed file names {len(names)} scores; the first one was read.")
            return entries[name], tuple(says)
    if names:
        says.append(f'The packed file names "{names[0][:60]}" as its score, which is not in it; another was read.')
    for end in _ENDS:
        for name, entry in entries.items():
            if name.lower().endswith(end) and not name.upper().startswith("META-INF"):
                return entry, tuple(says)
    held = ", ".join(sorted(entries)[:3])
    raise MusicXmlError(f"the packed file holds no score (.musicxml or .xml), only {held or 'nothing'}")


def _named(archive: ZipFile, entries: dict[str, ZipInfo]) -> list[str]:
    """The scores that the container names; none where there is no container, or it does not read."""
    entry = next((entry for name, entry in entries.items() if name.lower() == CONTAINER.lower()), None)
    if entry is None:
        return []
    try:
        root, _ = parse(_read(archive, entry))
    except MusicXmlError:
        return []
    files = [node for node in root.below() if node.tag == "rootfile"]
    return [node.get("full-path") for node in files if node.get("media-type").lower() in _TYPES]


def _read(archive: ZipFile, entry: ZipInfo) -> bytes:
    if entry.file_size > MAX_BYTES:
        raise MusicXmlError(_too_large(entry.file_size))
    if entry.file_size > max(_SMALL, MAX_RATIO * entry.compress_size):
        raise MusicXmlError(
            f"the packed file grows {entry.file_size // max(entry.compress_size, 1)} times when it is unpacked; "
            f"no score does (at most {MAX_RATIO} times)"
        )
    with archive.open(entry) as file:
        return _limited(file.read(MAX_BYTES + 1))


def _limited(data: bytes) -> bytes:
    if len(data) > MAX_BYTES:  # the zip told a smaller size than it holds
        raise MusicXmlError(_too_large(len(data)))
    return data
