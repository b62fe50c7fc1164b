"""How does a MIDI file become a groove without variations?

Shared by page and command line; imported only when a MIDI file is opened.
"""

from __future__ import annotations

import binascii

from ..errors import RequestError
from ..midi.base_beat import base_beat
from ..midi.reader import read
from ..model.groove import MAX_TITLE, Groove
from .ranges import read_bars


def groove_of(name: str, base64: str, bars: str) -> tuple[Groove, tuple[str, ...]]:
    """Make a groove of a MIDI file that came as base64; the groove, and what is to be told about it."""
    try:
        data = binascii.a2b_base64(base64, strict_mode=True)
    except (binascii.Error, ValueError):
        raise RequestError("open_midi: base64 must be the file's bytes as base64", field="base64") from None
    return groove_of_bytes(name, data, bars)


def groove_of_bytes(name: str, data: bytes, bars: str = "") -> tuple[Groove, tuple[str, ...]]:
    """Make a groove of the bytes of a MIDI file; `bars` is "A-B", "A", or "" for the first bar with strokes."""
    found = base_beat(read(data), read_bars(bars))
    stem = name.replace("\\", "/").rsplit("/", 1)[-1].rsplit(".", 1)[0]
    # Names of tracks are "Drums" or "MIDI" as a rule; the file's name tells more, unless the file is one of ours.
    title = " ".join((found.title if found.own and found.title else stem or found.title).split())[:MAX_TITLE]
    title = "".join(letter for letter in title if letter.isprintable())
    return Groove(title=title, base=found.beat, tempo=found.tempo, feel=found.feel), found.says
