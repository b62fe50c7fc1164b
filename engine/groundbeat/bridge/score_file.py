"""How does a MusicXML file become a groove without variations?

Shared by page and command line; imported only when a score is opened.
"""

from __future__ import annotations

import binascii

from ..errors import RequestError
from ..model.groove import MAX_TITLE, Groove
from ..notation.xml.read import base_beat
from .on_use import BringOnUse
from .ranges import read_bars
from .score_in_messages import OpenScore


def groove_of_request(request: BringOnUse) -> tuple[Groove, tuple[str, ...]]:
    """Make a groove of a score that came as base64; the groove, and what is to be told about it."""
    assert isinstance(request, OpenScore)
    try:
        data = binascii.a2b_base64(request.base64, strict_mode=True)
    except (binascii.Error, ValueError):
        raise RequestError("open_score: base64 must be the file's bytes as base64", field="base64") from None
    return groove_of_bytes(request.name, data, request.bars)


def groove_of_bytes(name: str, data: bytes, bars: str = "") -> tuple[Groove, tuple[str, ...]]:
    """Make a groove of the bytes of a MusicXML file; `bars` is "A-B", "A", or ""."""
    found = base_beat(data, read_bars(bars))
    stem = name.replace("\\", "/").rsplit("/", 1)[-1].rsplit(".", 1)[0]
    title = " ".join((found.title or stem).split())[:MAX_TITLE]
    title = "".join(letter for letter in title if letter.isprintable())
    return Groove(title=title, note=found.note, base=found.beat, tempo=found.tempo, feel=found.feel), found.says


def looks_like_score(data: bytes) -> bool:
    """Tell from its first bytes whether a file is MusicXML, plain (in any encoding) or packed; a MIDI file is not."""
    head = data[:64].lstrip(b"\xef\xbb\xbf\xff\xfe\0 \t\r\n")
    return data[:2] == b"PK" or head[:1] == b"<"
