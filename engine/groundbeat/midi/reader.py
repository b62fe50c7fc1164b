"""How is a Standard MIDI File read when it is not quite standard?

A file is a row of chunks: four letters, a length, a body. The first is the header (MThd), then tracks (MTrk).
Read nevertheless, and told in `says`: a RIFF wrapper, a longer header, a wrong number of tracks, chunks of
other kinds anywhere, a wrong track length, a missing End of Track, rubbish behind it, formats that do not
exist. Everything else is one MidiError with the byte, what was found, what was expected and what to try.

Reading takes one pass; the limits below hold before anything is built. Source: Standard MIDI Files 1.0
(RP-001).
"""

from __future__ import annotations

from ..errors import MidiError
from .file import MidiFile
from .track import Gathered, TrackReader

# The densest performance that we have seen has 400 bytes a second; this is over two hours of it. Our choice.
MAX_BYTES = 4_000_000
MAX_TRACKS = 512  # sixteen channels with 32 tracks each. Our choice

_FRAMES = {24: (24, 1), 25: (25, 1), 29: (30000, 1001), 30: (30, 1)}  # a second, as fractions


def read(data: bytes) -> MidiFile:
    """Read a Standard MIDI File.

    Raises MidiError where it does not read; its `offset` is the byte.

    >>> groove = read(bytes.fromhex("4d546864 00000006 0000 0001 01e0 4d54726b 00000008 00992664 00ff2f00"))
    >>> groove.notes[0].key, groove.division
    (38, 480)
    """
    size = len(data)
    if size > MAX_BYTES:
        raise MidiError(
            f"the file has {size} bytes, at most {MAX_BYTES} are read: that is over two hours of drums. "
            "Save the part that you need as a file of its own",
            offset=MAX_BYTES, code="midi.limit",
        )  # fmt: skip
    says: list[str] = []
    start = _unwrap(data, says)
    format_, said_tracks, division, ticks_a_second, at = _header(data, start, says)
    gathered = Gathered()
    tracks = _tracks(data, at, gathered, says)
    if not tracks:
        raise MidiError(
            f"no track (MTrk) found in the {size - at} bytes after the header; export the file anew",
            offset=at,
        )
    if said_tracks != tracks:
        says.append(f"The header says {_tracks_word(said_tracks)}, the file has {tracks}: all were read.")
    elif format_ == 0 and tracks > 1:
        says.append(f"A file of format 0 has one track, this one has {tracks}: all were read.")
    for oddity, times in gathered.oddities.items():
        says.append(f"{oddity[0].upper()}{oddity[1:]}{f' ({times} times)' if times > 1 else ''}.")
    return MidiFile(
        format_, division, ticks_a_second, tracks, gathered.all_notes(),
        tuple(sorted(gathered.tempos, key=lambda tempo: tempo.tick)),
        tuple(sorted(gathered.signatures, key=lambda signature: signature.tick)),
        tuple(sorted(gathered.texts, key=lambda text: text.tick)),
        tuple(sorted(gathered.controls, key=lambda control: control.tick)),
        tuple(sorted(gathered.parts, key=lambda part: part.tick)),
        size, tuple(says),
    )  # fmt: skip


def _unwrap(data: bytes, says: list[str]) -> int:
    """Find the header; inside a RIFF wrapper it stands in a chunk `data` (little-endian lengths)."""
    if data[:4] == b"MThd":
        return 0
    if not data:
        raise MidiError("the file is empty; a MIDI file begins with MThd. Get it again", offset=0)
    if data[:4] == b"RIFF" and data[8:12] == b"RMID":
        at = 12
        while at + 8 <= len(data):
            if data[at : at + 4] == b"data" and data[at + 8 : at + 12] == b"MThd":
                says.append("The file stands in a RIFF wrapper.")
                return at + 8
            length = int.from_bytes(data[at + 4 : at + 8], "little")
            at += 8 + length + length % 2
        raise MidiError("a RIFF wrapper without a MIDI file in it; export a plain .mid file", offset=12)
    if data[0] == 0xF0:
        raise MidiError(
            "this is a SysEx dump, not a MIDI file (MThd): it holds settings of a machine and no strokes",
            offset=0,
        )
    found = "".join(chr(byte) if 32 <= byte < 127 else "." for byte in data[:4])
    raise MidiError(
        f'the file begins with "{found}", a MIDI file with "MThd"; export it as a Standard MIDI File (.mid)',
        offset=0,
    )


def _header(data: bytes, start: int, says: list[str]) -> tuple[int, int, int, tuple[int, int], int]:
    length = int.from_bytes(data[start + 4 : start + 8], "big")
    if len(data) < start + 14:
        raise MidiError(
            f"the header ends after {len(data) - start} of 14 bytes; the file was cut short, get it again",
            offset=len(data),
        )
    if length < 6:
        raise MidiError(
            f"the header's length is {length}, it must be 6 or more; the file is damaged, export it anew",
            offset=start + 4,
        )
    at = start + 8 + length
    if at > len(data):
        raise MidiError(
            f"the header's length is {length}, but only {len(data) - start - 8} bytes follow; it must be 6",
            offset=start + 4,
        )
    format_, tracks = (
        int.from_bytes(data[start + 8 : start + 10], "big"),
        int.from_bytes(data[start + 10 : start + 12], "big"),
    )
    if format_ > 2:
        says.append(f"There is no format {format_}; the file was read as format 1.")
        format_ = 1
    division, ticks_a_second = int.from_bytes(data[start + 12 : start + 14], "big"), (0, 1)
    if division == 0:
        raise MidiError(
            "the division is 0: a quarter note would have no length. It must be 1 to 32767 ticks; export "
            "the file with 480 ticks a quarter note",
            offset=start + 12,
        )
    if division >= 0x8000:
        frames, ticks = 0x100 - (division >> 8), division & 0xFF
        if frames not in _FRAMES or not ticks:
            raise MidiError(
                f"the division counts {frames} film frames a second of {ticks} ticks; known are 24, 25, 29 "
                "and 30 frames of 1 or more ticks. Export the file with 480 ticks a quarter note",
                offset=start + 12,
            )
        division, ticks_a_second = 0, (_FRAMES[frames][0] * ticks, _FRAMES[frames][1])
    return format_, tracks, division, ticks_a_second, at


def _tracks(data: bytes, at: int, into: Gathered, says: list[str]) -> int:
    """Read every track from byte `at` on; return how many there are."""
    tracks, size = 0, len(data)
    while at < size:
        length = int.from_bytes(data[at + 4 : at + 8], "big")
        body = at + 8
        if data[at : at + 4] == b"MTrk" and body <= size:
            if tracks == MAX_TRACKS:
                raise MidiError(
                    f"more than {MAX_TRACKS} tracks; keep the drum track alone and try again",
                    offset=at,
                    code="midi.limit",
                )
            tracks += 1
            end = body + length
            sure = end == size or _chunk_at(data, end)
            after, ended = TrackReader(data, body, end, sure, tracks, into).read()
            if not ended:
                says.append(f"Track {tracks} has no End of Track.")
            if sure and data[after : after + 4] != b"MTrk":
                if after < end:
                    says.append(f"{end - after} bytes after the End of Track of track {tracks} were skipped.")
                at = end
            else:
                if after != end:
                    says.append(
                        f"The length of track {tracks} is wrong: it says {length} bytes, {after - body} were read."
                    )
                at = after
        elif _chunk_at(data, at):
            name = data[at : at + 4].decode("ascii")
            says.append(f'A chunk of another kind ("{name}", {length} bytes) was skipped.')
            at = body + length
        else:
            found = data.find(b"MTrk", at + 1)
            end = found if found >= 0 else size
            says.append(f"{end - at} bytes that belong to no chunk were skipped.")
            at = end
    return tracks


def _chunk_at(data: bytes, at: int) -> bool:
    """Tell whether a chunk that fits into the file begins at a byte."""
    name = data[at : at + 4]
    if at + 8 > len(data) or not all(32 <= byte < 127 for byte in name):
        return False
    return at + 8 + int.from_bytes(data[at + 4 : at + 8], "big") <= len(data) or name == b"MTrk"


def _tracks_word(count: int) -> str:
    return "1 track" if count == 1 else f"{count} tracks"
