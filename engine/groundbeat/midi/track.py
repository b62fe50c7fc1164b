"""What stands in one track of a MIDI file?

A track is a row of events, each a time since the one before (one to four bytes, seven bits each) and a
message. The status byte may be left out where it repeats; many files let it run on across texts and SysEx
too, which the standard forbids and we allow. A track ends with End of Track. Its length in front is often
wrong: where it leads to no chunk and not to the end of the file, the events themselves say where the track
ends.

What does no harm is read or skipped, and told: bad tempo and time signature, system messages that belong on a
cable. What may mean that bytes are lost is refused, with its place: a data byte above 127, a fifth byte of a
time, an event cut short. Guessing on from there would make strokes that nobody played.
"""

from __future__ import annotations

from collections import Counter, deque

from ..errors import MidiError
from .file import BANK, BANK_FINE, NEVER_ENDED, PEDAL, Control, Note, Part, Signature, Tempo, Text
from .text import MAX_TEXT, decode

# An hour of the densest performance that we have seen is 230,000 events, most of them of the hi-hat pedal;
# more makes a phone wait for seconds. Our choice.
MAX_EVENTS = 400_000
MAX_TICK = 2**31  # at 960 a quarter and 120 a minute that is twelve days. Our choice

_END, _TEMPO, _SIGNATURE = 0x2F, 0x51, 0x58
_DATA_BYTES = {0x8: 2, 0x9: 2, 0xA: 2, 0xB: 2, 0xC: 1, 0xD: 1, 0xE: 2}  # by the upper half of the status
_WHAT = {
    0x8: ("a key", "a velocity"), 0x9: ("a key", "a velocity"), 0xA: ("a key", "a pressure"),
    0xB: ("a controller", "its value"), 0xC: ("a program",), 0xD: ("a pressure",), 0xE: ("a bend", "a bend"),
}  # fmt: skip
_CABLE = {0xF1: 1, 0xF2: 2, 0xF3: 1}  # data bytes of system messages that belong on a cable; others have none
_BANKS = {0x78: "GM2 rhythm bank", 0x7E: "XG drum bank", 0x7F: "XG drum bank"}
_MELODY_BANK = 0x79  # GM2


class Gathered:
    """Events of all tracks as they come."""

    def __init__(self) -> None:
        self.notes: list[list[int]] = []  # fields of Note; lists, because the length comes later
        self.tempos: list[Tempo] = []
        self.signatures: list[Signature] = []
        self.texts: list[Text] = []
        self.controls: list[Control] = []
        self.parts: list[Part] = []
        self.events = 0
        self.oddities: Counter[str] = Counter()

    def mark(self) -> tuple[int, ...]:
        """Remember how much is there, for `back_to`."""
        return tuple(len(rows) for rows in self._rows())

    def back_to(self, mark: tuple[int, ...]) -> None:
        """Forget what came after a mark."""
        for rows, length in zip(self._rows(), mark, strict=True):
            del rows[length:]

    def all_notes(self) -> tuple[Note, ...]:
        """The notes in the order of time."""
        return tuple(sorted((Note(*fields) for fields in self.notes), key=lambda note: note.tick))

    def _rows(self) -> tuple[list, ...]:  # type: ignore[type-arg]
        return self.notes, self.tempos, self.signatures, self.texts, self.controls, self.parts


class TrackReader:
    """Read the events of one track, from byte `start`, into `into`.

    `end` is where the track should end by its length; `sure` says that a chunk or the end of the file is
    there.
    """

    def __init__(self, data: bytes, start: int, end: int, sure: bool, track: int, into: Gathered) -> None:
        self._data, self._at, self._end, self._sure = data, start, end, sure
        self._limit = end if sure else len(data)
        self._track, self._into = track, into
        self._tick, self._status = 0, 0
        self._open: dict[tuple[int, int], deque[list[int]]] = {}
        self._bank: dict[int, int] = {}
        self._drums: set[int] = set()  # channels that a bank has made drums

    def read(self) -> tuple[int, bool]:
        """Read to the end of the track; return the byte after it, and whether an End of Track was there."""
        fallback: tuple[int, ...] | None = None
        try:
            while self._at < self._limit:
                if not self._sure and self._data[self._at : self._at + 4] == b"MTrk":
                    break
                if not self._sure and self._at == self._end:
                    fallback = self._into.mark()  # perhaps the length is right, and what follows is rubbish
                if self._event():
                    return self._at, True
        except MidiError as error:
            if fallback is None or error.code == "midi.limit":
                raise
            self._into.back_to(fallback)
            return self._end, False
        return self._at, False

    def _event(self) -> bool:
        """Read one event; True at End of Track."""
        into = self._into
        into.events += 1
        if into.events > MAX_EVENTS:
            raise MidiError(
                f"more than {MAX_EVENTS} events; a drum part of an hour has fewer. Cut the file and try "
                "again",
                offset=self._at, code="midi.limit",
            )  # fmt: skip
        self._tick += self._number("a time")
        if self._tick > MAX_TICK:
            raise MidiError(
                f"the time adds up to {self._tick} ticks, at most {MAX_TICK} are read; the bytes before are "
                "damaged, save the file anew",
                offset=self._at,
            )
        at = self._at
        byte = self._byte("an event")
        if byte < 0x80:
            if not self._status:
                raise MidiError(
                    f"found {byte:02X} where an event must begin with a status byte (80 to FF); bytes are "
                    "missing before it, save the file anew",
                    offset=at,
                )
            self._at = at
        elif byte < 0xF0:
            self._status = byte
        elif byte == 0xFF:
            return self._meta(at)
        elif byte in (0xF0, 0xF7):
            self._sysex(byte)
            return False
        else:
            for _ in range(_CABLE.get(byte, 0)):
                self._data_byte("a data byte", byte)
            into.oddities["system messages that belong on a cable were skipped"] += 1
            return False
        self._message(at)
        return False

    def _message(self, at: int) -> None:
        status = self._status
        kind, channel = status >> 4, (status & 15) + 1
        first = self._data_byte(_WHAT[kind][0], status)
        second = self._data_byte(_WHAT[kind][1], status) if _DATA_BYTES[kind] == 2 else 0
        into, tick = self._into, self._tick
        if kind == 0x9 and second:
            note = [tick, channel, first, second, NEVER_ENDED, self._track, at]
            into.notes.append(note)
            self._open.setdefault((channel, first), deque()).append(note)
        elif kind in (0x8, 0x9):  # a note-on of velocity 0 is a note-off; it ends the oldest of its key
            waiting = self._open.get((channel, first))
            if waiting:
                note = waiting.popleft()
                note[4] = tick - note[0]
        elif kind == 0xB and first in (PEDAL, BANK, BANK_FINE):
            into.controls.append(Control(tick, channel, first, second, self._track))
            if first == BANK:
                self._bank[channel] = second
        elif kind == 0xC:
            self._choose_bank(channel)

    def _choose_bank(self, channel: int) -> None:
        """Note what a program change makes of its channel; the bank before it takes effect now."""
        bank = self._bank.get(channel, -1)
        if bank in _BANKS:
            self._into.parts.append(Part(self._tick, channel, True, _BANKS[bank]))
            self._drums.add(channel)
        elif bank == _MELODY_BANK or channel in self._drums:
            self._into.parts.append(Part(self._tick, channel, False, "melody bank"))
            self._drums.discard(channel)

    def _meta(self, at: int) -> bool:
        kind = self._byte("the kind of a meta event")
        if kind == _END and self._at >= self._limit:
            self._into.oddities["the End of Track was cut short"] += 1
            return True
        length = self._number("a length")
        body = self._body(length, at, "a meta event")
        into, tick, track = self._into, self._tick, self._track
        if kind == _END:
            return True
        if kind == _TEMPO:
            us = int.from_bytes(body, "big")
            if length == 3 and us:
                into.tempos.append(Tempo(tick, us, track))
            else:
                into.oddities["a tempo that is none was skipped"] += 1
        elif kind == _SIGNATURE:
            if length >= 2 and body[0] and body[1] <= 6:  # the lower number is 2 to this power; 64 is the finest note
                into.signatures.append(Signature(tick, body[0], 1 << body[1], track, at))
            else:
                into.oddities["a time signature that is none was skipped"] += 1
        elif 1 <= kind <= 9 and length:
            into.texts.append(Text(tick, kind, decode(body), track))
        return False

    def _sysex(self, status: int) -> None:
        at = self._at - 1
        body = self._body(self._number("a length"), at, "a SysEx message")
        if status != 0xF0 or len(body) < 8:
            return
        if body[0] == 0x41 and body[2:5] == b"\x42\x12\x40" and body[5] >> 4 == 1 and body[6] == 0x15:
            # GS "use for rhythm part"; its parts 0 to 15 are the channels 10, 1 to 9, 11 to 16.
            part = body[5] & 15
            channel = 10 if part == 0 else part if part < 10 else part + 1
            self._into.parts.append(Part(self._tick, channel, body[7] != 0, "GS drum part"))
        elif body[0] == 0x43 and body[2:4] == b"\x4c\x08" and body[5] == 0x07 and body[4] < 16:
            self._into.parts.append(Part(self._tick, body[4] + 1, body[6] != 0, "XG part mode"))

    def _byte(self, what: str) -> int:
        at = self._at
        if at >= self._limit:
            raise self._cut_short(at, what)
        self._at = at + 1
        return self._data[at]

    def _data_byte(self, what: str, status: int) -> int:
        value = self._byte(what)
        if value > 0x7F:
            raise MidiError(
                f"found {value:02X} where {what} (00 to 7F) of message {status:02X} belongs; a byte is "
                "damaged or missing here, save the file anew",
                offset=self._at - 1,
            )
        return value

    def _number(self, what: str) -> int:
        """Read a number of one to four bytes, seven bits each."""
        start, value = self._at, 0
        for _ in range(4):
            byte = self._byte(what)
            value = value << 7 | byte & 0x7F
            if byte < 0x80:
                return value
        raise MidiError(
            f"found {what} of more than four bytes ({self._data[start : start + 5].hex(' ').upper()}); four "
            "is the most that the standard allows, save the file anew",
            offset=start,
        )

    def _body(self, length: int, at: int, what: str) -> bytes:
        start, end = self._at, self._at + length
        if end > self._limit:
            raise MidiError(
                f"{what} of {length} bytes begins here, but only {self._limit - start} bytes are left of "
                f"{'the track' if self._sure and self._limit < len(self._data) else 'the file'}; the file "
                "was cut short or damaged, get it again",
                offset=at,
            )
        self._at = end
        return self._data[start : min(end, start + MAX_TEXT + 1)]

    def _cut_short(self, at: int, what: str) -> MidiError:
        part = "track" if self._sure and self._limit < len(self._data) else "file"
        return MidiError(
            f"the {part} ends where {what} was expected; it was cut short or damaged, get it again", offset=at
        )
