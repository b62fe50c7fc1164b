"""Sound files hold the samples that were given, to the last bit, in the form that they say."""

from __future__ import annotations

import io
import wave

import numpy as np
import pytest
import soundfile as sf

from groundbeat.sound import file


@pytest.fixture
def numbers():
    rng = np.random.default_rng(5)
    row = rng.integers(-file.FULL, file.FULL, (9001, 2)).astype(np.int32)
    row[0], row[1], row[-1] = (-file.FULL, file.FULL - 1), (0, -1), (1, 0)
    return row


@pytest.mark.parametrize("form", file.FORMS)
def test_a_file_gives_back_every_bit(numbers, form: str):
    data = file.written(numbers, form, 44100)
    told = sf.info(io.BytesIO(data))
    assert (told.samplerate, told.channels, told.subtype, told.frames) == (44100, 2, "PCM_24", len(numbers))
    back, _ = sf.read(io.BytesIO(data), dtype="int32")
    assert (back >> 8 == numbers).all()
    assert data == file.written(numbers, form, 44100)


def test_the_wav_reads_in_another_reader(numbers):
    with wave.open(io.BytesIO(file.wav(numbers, 44100))) as read:
        assert read.getparams()[:4] == (2, 3, 44100, len(numbers))
        assert read.readframes(1) == b"\x00\x00\x80\xff\xff\x7f"


def test_rounding_is_to_the_nearest_and_nothing_wraps():
    step = 1 / file.FULL
    given = np.array([[0.4 * step, 0.6 * step], [-0.6 * step, 1.0], [2.0, -2.0]], dtype=np.float32)
    assert file.whole(given).tolist() == [[0, 1], [-1, file.FULL - 1], [file.FULL - 1, -file.FULL]]


def test_silence_at_the_end_goes_but_not_below_the_least():
    sound = np.zeros((100, 2), dtype=np.float32)
    sound[40, 1] = 0.5
    sound[70, 0] = 1e-9  # below half a step
    assert [len(file.whole(sound, least)) for least in (0, 60, 100, 150)] == [41, 60, 100, 150]
    assert file.whole(sound, 150)[40].tolist() == [0, file.FULL // 2]
