"""How are events written as the bytes of a Standard MIDI File?

Format 1: a first track with tempo, meters and markers, then tracks with notes. Every event carries its status byte (no
running status: some readers lose it after a text), texts are UTF-8, every track ends with End of Track at the tick
that it is given. Channels count from 1. At one tick note-offs come first, then all else, then note-ons, each in the
order in which they were added.

Source: Standard MIDI Files 1.0 (RP-001) and MIDI 1.0, MIDI Association.
"""

from __future__ import annotations

from collections.abc import Sequence

from ..errors import RequestError
from ..model.meter import QUARTER, Meter

TEXT, NAME, MARKER = 1, 3, 6  # kinds of text
_RELEASE = 64  # velocity of a note-off; 64 is what a keyboard without release sends (MIDI 1.0)
_LARGEST = 0x0FFFFFFF  # of a number in four bytes of seven bits
_OFF, _ELSE, _ON = range(3)


class Track:
    """Events of one track, added in any order."""

    def __init__(self) -> None:
        self._events: list[tuple[int, int, int, bytes]] = []

    def _add(self, tick: int, order: int, message: bytes) -> None:
        self._events.append((tick, order, len(self._events), message))

    def text(self, tick: int, kind: int, text: str) -> None:
        """Add a text of a kind: TEXT, NAME or MARKER."""
        self._meta(tick, kind, text.encode("utf-8", "replace"))

    def tempo(self, tick: int, us: int) -> None:
        """Add a tempo, in microseconds a quarter note."""
        self._meta(tick, 0x51, us.to_bytes(3, "big"))

    def signature(self, tick: int, meter: Meter) -> None:
        """Add a time signature; its click is on the note that the tempo counts."""
        clocks = 24 * meter.tempo_unit[1] // QUARTER  # 24 clocks a quarter note by the standard
        self._meta(tick, 0x58, bytes([meter.count, meter.unit.bit_length() - 1, clocks, 8]))

    def control(self, tick: int, channel: int, number: int, value: int) -> None:
        """Add a controller."""
        self._add(tick, _ELSE, bytes([0xAF + channel, number, value]))

    def program(self, tick: int, channel: int, number: int) -> None:
        """Add a program, counted from 1."""
        self._add(tick, _ELSE, bytes([0xBF + channel, number - 1]))

    def note(self, tick: int, channel: int, key: int, velocity: int, length: int) -> None:
        """Add a note of one tick or more."""
        self._add(tick, _ON, bytes([0x8F + channel, key, velocity]))
        self._add(tick + max(length, 1), _OFF, bytes([0x7F + channel, key, _RELEASE]))

    def chunk(self, end: int) -> bytes:
        """Write the track, with End of Track at a tick that no event lies behind."""
        body = bytearray()
        now = 0
        for tick, _, _, message in sorted(self._events):
            body += number(tick - now) + message
            now = tick
        body += number(end - now) + b"\xff\x2f\x00"
        return b"MTrk" + len(body).to_bytes(4, "big") + bytes(body)

    def _meta(self, tick: int, kind: int, body: bytes) -> None:
        self._add(tick, _ELSE, bytes([0xFF, kind]) + number(len(body)) + body)


def file_bytes(division: int, tracks: Sequence[Track], end: int) -> bytes:
    """Write a file of format 1, with `division` ticks a quarter note, whose tracks all end at tick `end`."""
    head = b"".join(value.to_bytes(2, "big") for value in (1, len(tracks), division))
    return b"MThd" + len(head).to_bytes(4, "big") + head + b"".join(track.chunk(end) for track in tracks)


def number(value: int) -> bytes:
    """Write a number in groups of seven bits, the highest first.

    >>> number(0x40).hex(), number(0x3FFF).hex(), number(0x4000).hex()
    ('40', 'ff7f', '818000')
    """
    if not 0 <= value <= _LARGEST:
        raise RequestError(f"{value} ticks lie between two events; a file holds at most {_LARGEST}")
    groups = [value & 0x7F]
    while value := value >> 7:
        groups.append(value & 0x7F | 0x80)
    return bytes(reversed(groups))
