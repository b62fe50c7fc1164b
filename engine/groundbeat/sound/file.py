"""How do samples become a sound file, the same bytes every time?

44.1 kHz, the rate of the kit, so nothing is resampled; two channels; 24 bit whole numbers. 24 and not 16: the end of a
ghost note is so quiet that 16 bit would need noise to be added. 24 and not float: every player reads it, and nothing is
above full scale. WAV as in RIFF with a plain PCM header, FLAC by libsndfile. A WAV made in the page has the same bytes.
"""

from __future__ import annotations

import io
import struct

import numpy as np
import soundfile as sf
from numpy.typing import NDArray

BITS = 24
FULL = 1 << (BITS - 1)
FORMS = (".wav", ".flac")
STEP = 1 << 15  # frames rounded at once: they stay in the processor's own memory
BLOCK = 4096  # frames written at once: a long array crashes some of libsndfile's coders


def whole(samples: NDArray[np.float32], least: int = 0) -> NDArray[np.int32]:
    """Round samples to whole numbers of 24 bit; silence at the end goes, but not below `least` frames.

    A shorter sound is filled up with silence.
    """
    numbers = np.zeros((max(least, len(samples)), 2), dtype=np.int32)
    end = 0
    for start in range(0, len(samples), STEP):
        block = np.floor(samples[start : start + STEP].astype(np.float64) * FULL + 0.5)
        numbers[start : start + len(block)] = np.clip(block, -FULL, FULL - 1)
        sounding = np.flatnonzero(block)
        end = start + int(sounding[-1]) // 2 + 1 if len(sounding) else end
    return numbers[: max(least, end)]


def wav(numbers: NDArray[np.int32], rate: int) -> bytes:
    """Write whole numbers (frames x 2) as a WAV file."""
    frame = 2 * BITS // 8
    data = numbers.astype("<i4").view(np.uint8).reshape(-1, 4)[:, :3].tobytes()
    form = struct.pack("<4sIHHIIHH", b"fmt ", 16, 1, 2, rate, rate * frame, frame, BITS)
    body = b"WAVE" + form + struct.pack("<4sI", b"data", len(data)) + data
    return struct.pack("<4sI", b"RIFF", len(body)) + body


def flac(numbers: NDArray[np.int32], rate: int) -> bytes:
    """Write whole numbers (frames x 2) as a FLAC file: the same sound in less room."""
    out = io.BytesIO()
    with sf.SoundFile(out, "w", rate, 2, format="FLAC", subtype="PCM_24") as file:
        for start in range(0, len(numbers), BLOCK):
            file.write(numbers[start : start + BLOCK] << (32 - BITS))
    return out.getvalue()


def written(numbers: NDArray[np.int32], form: str, rate: int) -> bytes:
    """Write a file of the form ".wav" or ".flac"."""
    return wav(numbers, rate) if form == ".wav" else flac(numbers, rate)
