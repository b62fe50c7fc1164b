"""A small writer of MIDI files for these tests, and the folder of real ones."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

import pytest

DATA = Path(__file__).parents[2] / ".." / "shared" / "data"

Event = tuple[int, bytes]  # absolute tick, message with its status byte


class Smf:
    """Write Standard MIDI Files byte by byte; nothing here is shared with the reader under test."""

    @staticmethod
    def number(value: int) -> bytes:
        """A number in seven-bit groups, the highest first."""
        groups = [value & 0x7F]
        while value := value >> 7:
            groups.append(value & 0x7F | 0x80)
        return bytes(reversed(groups))

    def meta(self, kind: int, body: bytes) -> bytes:
        return bytes([0xFF, kind]) + self.number(len(body)) + body

    def tempo(self, us: int) -> bytes:
        return self.meta(0x51, us.to_bytes(3, "big"))

    def signature(self, upper: int, lower: int) -> bytes:
        return self.meta(0x58, bytes([upper, lower.bit_length() - 1, 24, 8]))

    def sysex(self, body: bytes) -> bytes:
        return b"\xf0" + self.number(len(body)) + body

    @staticmethod
    def chunk(name: bytes, body: bytes) -> bytes:
        return name + len(body).to_bytes(4, "big") + body

    def header(self, format_: int, tracks: int, division: int) -> bytes:
        words = (format_, tracks, division)
        return self.chunk(b"MThd", b"".join(word.to_bytes(2, "big") for word in words))

    def track(self, events: Iterable[Event]) -> bytes:
        body, now = b"", 0
        for tick, message in sorted(events, key=lambda event: event[0]):
            body += self.number(tick - now) + message
            now = tick
        return self.chunk(b"MTrk", body + b"\x00\xff\x2f\x00")

    def file(self, *tracks: Iterable[Event], division: int = 480, format_: int | None = None) -> bytes:
        kind = (0 if len(tracks) == 1 else 1) if format_ is None else format_
        return self.header(kind, len(tracks), division) + b"".join(self.track(events) for events in tracks)

    @staticmethod
    def hits(*rows: tuple[int, int, int] | tuple[int, int], channel: int = 10, length: int = 0) -> list[Event]:
        """Strokes as (tick, key, velocity), velocity 84 where it is left out."""
        events: list[Event] = []
        for tick, key, *rest in rows:
            events.append((tick, bytes([0x8F + channel, key, rest[0] if rest else 84])))
            events.append((tick + length, bytes([0x7F + channel, key, 64])))
        return events


@pytest.fixture(scope="session")
def smf() -> Smf:
    return Smf()


@pytest.fixture(scope="session")
def data() -> Path:
    """The folder of real MIDI files beside the repository; tests that need it skip without it."""
    if not DATA.is_dir():
        pytest.skip(f"the real MIDI files are not here: {DATA} is missing")
    return DATA.resolve()
