"""How do samples become files that browsers read, the same bytes on every build?

Ogg Vorbis and MPEG layer III through libsndfile (the `soundfile` package). Both carry the true length and
the encoder's delay, so that a decoder gives back every frame at its place (checked in the tests here;
browsers agree). Two things need care. A long array written at once crashes the Vorbis encoder, so it is
written in blocks. And an Ogg stream gets a random serial number: it is set to 1 here, and the check sums of
the pages are made anew (RFC 3533, section 6: CRC-32 with polynomial 0x04c11db7, not reflected, starting
from 0).
"""

from __future__ import annotations

import io
import zlib

import numpy as np
import soundfile as sf
from numpy.typing import NDArray

BLOCK = 4096  # frames written at once
SERIAL = 1
# 0 best to 1 smallest; by measured size against what is left of a ghost stroke above 5 kHz, our choice
OGG_SMALLNESS = 0.3
MP3_SMALLNESS = 0.3

_MIRROR = bytes(int(f"{byte:08b}"[::-1], 2) for byte in range(256))


def ogg(samples: NDArray[np.float32], rate: int) -> bytes:
    """Encode mono samples as Ogg Vorbis."""
    return _same_serial(_encode(samples, rate, "OGG", "VORBIS", OGG_SMALLNESS))


def mp3(samples: NDArray[np.float32], rate: int) -> bytes:
    """Encode mono samples as MP3 with a variable rate."""
    return _encode(samples, rate, "MP3", "MPEG_LAYER_III", MP3_SMALLNESS)


def decode(data: bytes) -> NDArray[np.float32]:
    """Decode a mono file to samples."""
    samples, _ = sf.read(io.BytesIO(data), dtype="float32")
    return np.asarray(samples, dtype=np.float32)


def _encode(samples: NDArray[np.float32], rate: int, form: str, subtype: str, smallness: float) -> bytes:
    out = io.BytesIO()
    extra = {"bitrate_mode": "VARIABLE"} if form == "MP3" else {}
    with sf.SoundFile(out, "w", rate, 1, format=form, subtype=subtype, compression_level=smallness, **extra) as file:
        for start in range(0, len(samples), BLOCK):
            file.write(samples[start : start + BLOCK])
    return out.getvalue()


def _same_serial(data: bytes) -> bytes:
    """Set the serial number of every Ogg page, and its check sum."""
    out = bytearray(data)
    at = 0
    while at < len(out):
        segments = out[at + 26]
        size = 27 + segments + sum(out[at + 27 : at + 27 + segments])
        out[at + 14 : at + 18] = SERIAL.to_bytes(4, "little")
        out[at + 22 : at + 26] = bytes(4)
        out[at + 22 : at + 26] = _page_sum(bytes(out[at : at + size])).to_bytes(4, "little")
        at += size
    return bytes(out)


def _page_sum(page: bytes) -> int:
    """Make Ogg's check sum out of zlib's: mirror the bits of every byte, start from 0, mirror the result."""
    mirrored = zlib.crc32(page.translate(_MIRROR), 0xFFFFFFFF) ^ 0xFFFFFFFF
    return int(f"{mirrored:032b}"[::-1], 2)
