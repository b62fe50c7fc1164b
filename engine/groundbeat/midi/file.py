"""What does a Standard MIDI File say, once its bytes are read?

Times are whole file ticks from the start of the track, in the order of time. Channels count from 1, as
players do: drums are on 10. `offset` is the byte where an event stands in the file, so that a later error can
still point at it. A note's length is in ticks; 0 is usual for drums, NEVER_ENDED where no note-off came.

Source: Standard MIDI Files 1.0 (RP-001) and MIDI 1.0, MIDI Association.
"""

from __future__ import annotations

from typing import NamedTuple

NEVER_ENDED = -1
PEDAL, BANK, BANK_FINE = 4, 0, 32  # the controllers that tell something about drums; no other is kept
TRACK_NAME, INSTRUMENT_NAME = 3, 4  # kinds of text


class Note(NamedTuple):
    """A note-on with the length up to its note-off."""

    tick: int
    channel: int
    key: int
    velocity: int
    length: int
    track: int
    offset: int


class Tempo(NamedTuple):
    """A tempo: microseconds a quarter note."""

    tick: int
    us: int
    track: int


class Signature(NamedTuple):
    """A time signature as written: `upper` notes of 1/`lower`; the model may not hold it."""

    tick: int
    upper: int
    lower: int
    track: int
    offset: int


class Text(NamedTuple):
    """A text, name, marker or lyric; `kind` is the number of its meta event, 1 to 9."""

    tick: int
    kind: int
    text: str
    track: int


class Control(NamedTuple):
    """A controller: PEDAL (how far the hi-hat is closed), BANK or BANK_FINE."""

    tick: int
    channel: int
    number: int
    value: int
    track: int


class Part(NamedTuple):
    """A hint that a channel plays drums, or (drums False) that it does not; `why` names what said so."""

    tick: int
    channel: int
    drums: bool
    why: str


class MidiFile(NamedTuple):
    """A file's events.

    `division` is ticks a quarter note; 0 in a file that counts film frames, where `ticks_a_second` (a fraction)
    holds instead. `says` tells what was wrong with the file and how it was read all the same.
    """

    format: int
    division: int
    ticks_a_second: tuple[int, int]
    tracks: int
    notes: tuple[Note, ...]
    tempos: tuple[Tempo, ...]
    signatures: tuple[Signature, ...]
    texts: tuple[Text, ...]
    controls: tuple[Control, ...]
    parts: tuple[Part, ...]
    size: int
    says: tuple[str, ...]
