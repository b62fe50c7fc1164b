"""How does a count sound, spoken or as tones?

Spoken words are made here of phones (phones.py) by a voice and a mouth that moves (formants.py): a man's voice of
142 Hz that falls. The first vowel of a word falls on the beat, because that, and not the first consonant, is heard as
its moment (S. M. Marcus, Perception & Psychophysics 30 (1981), on perceptual centres); so a word begins `lead` frames
before the place it belongs to. The vocal folds close for the first time on that very frame.

Tones are short and have no lead: the numbers are a major scale upward from C, the words between them lie above it. A
count of another language than these words has is counted in tones.

A word that begins silences the one before it within 20 ms, as a choke does. Levels are as those of the click.
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from ..errors import KitError
from ..timeline.saying import BETWEEN, NUMBERS
from ..timeline.saying import WORDS as SAID
from .finish import strength
from .formants import NASAL_WIDTHS, WIDTHS, resonated, topped, voiced
from .modes import RATE, Wave, ring
from .noise import padded, shaped
from .phones import PHONES, VOWELS, WORDS, Phone, lead

SPOKEN, PITCHED = "spoken", "pitched"
HOWS = (PITCHED, SPOKEN)

TEN = RATE // 100  # frames in 10 ms
PITCH = {True: (142.0, 104.0), False: (126.0, 106.0)}  # hertz at the start and the end of numbers and of other words
STRENGTH = -23.0  # RMS of the loudest 30 ms; near the strong click's, a little over it for the ear. Our choice
TONE_STRENGTH = -25.0
BREATH = -32.0  # decibels of the breath in a vowel; our choice
PUFF = -18.0  # of the breath that follows the burst of a stop before a vowel
RAMP = 0.006  # seconds of a change of voice or noise
MOVE = 0.026  # seconds of a movement of the mouth
FALL = 6.0  # decibels by which the voice falls over a word
END = 0.018  # seconds of the fade at a word's end

LOWEST = 523.25  # hertz: C above the middle one, clear of drums. Our choice
SCALE = (0, 2, 4, 5, 7, 9, 11)
ABOVE = {"e": 26, "trip": 27, "&": 28, "let": 29, "a": 30}  # semitones over LOWEST; our choice


def word(how: str, say: str) -> NDArray[np.float32]:
    """Render a word of a count as mono samples at 44.1 kHz; its beat is at `lead_of`. KitError for another word."""
    if say not in SAID or how not in HOWS:
        raise KitError(f'nothing {how} for "{say}"; a count has {" ".join(SAID)}', field="say")
    return _spoken(say) if how == SPOKEN else _tone(say)


def lead_of(how: str, say: str) -> int:
    """Frames of a word that lie before its place: whole tens of milliseconds.

    >>> lead_of("spoken", "6") == 70 * 441 // 10, lead_of("pitched", "6")
    (True, 0)
    """
    return lead(say) * TEN // 10 if how == SPOKEN else 0


@lru_cache(maxsize=64)
def _tone(say: str) -> NDArray[np.float32]:
    """A short tone with two overtones; words between the numbers are higher."""
    if say in BETWEEN:
        steps = ABOVE[say]
    else:
        octave, degree = divmod(int(say) - 1, len(SCALE))
        steps = 12 * octave + SCALE[degree]
    hertz = LOWEST * 2 ** (steps / 12)
    frames = round(0.13 * RATE)
    wave = ring(
        hertz * np.array([1.0, 2.0, 3.0]),
        np.array([0.16, 0.09, 0.05]),
        np.array([1.0, 0.35, 0.12]),
        np.zeros(3),
        frames,
    )
    return _graded(_ended(wave), TONE_STRENGTH)


@lru_cache(maxsize=64)
def _spoken(say: str) -> NDArray[np.float32]:
    """Say one word; the phones, one after the other, are tracks of formants, voice and noise."""
    row = [(PHONES[name], name, length * TEN // 10) for name, length in WORDS[say]]
    edges = np.cumsum([0, *(length for _, _, length in row)])
    frames, beat = int(edges[-1]), lead_of(SPOKEN, say)
    rng = np.random.default_rng(list(say.encode()))
    tracks = _mouth(row, edges, frames)
    voice = _track([phone.voice for phone, *_ in row], edges, frames, beat)
    pitch = np.geomspace(*PITCH[say in NUMBERS], frames)
    voice *= 10 ** (-FALL / 20 * np.clip((np.arange(frames) - beat) / (frames - beat), 0, 1))
    source = voiced(pitch, beat) * voice
    air = rng.standard_normal(frames)
    source = source + air * (voice * 10 ** (BREATH / 20) + _puffs(row, edges, frames))
    wave = source
    for hertz, width in tracks:
        wave = resonated(wave, hertz, width)
    wave = topped(wave)
    wave /= strength(wave)
    for (phone, _, length), start in zip(row, edges, strict=False):
        if phone.spectrum:
            wave += _noise(rng, phone, int(start), length, frames)
    return _graded(_ended(wave), STRENGTH)


def _mouth(row: list[tuple[Phone, str, int]], edges: NDArray[np.int64], frames: int) -> list[tuple[Wave, Wave]]:
    """Tracks of the three moving formants and their widths: still in a phone's middle, moving across its edges."""
    places: list[float] = []
    values: list[tuple[float, ...]] = []
    for (phone, _, length), start in zip(row, edges, strict=False):
        width = NASAL_WIDTHS if phone.nasal else WIDTHS
        half = min(MOVE * RATE / 2, length / 3)
        first, last = start + half, start + length - half
        if phone.glide:  # it stands for a third, and arrives at the end
            last = max(first + 1, start + length - half / 2)
            places += [first, start + length / 3, last]
            values += [(*phone.formants, *width)] * 2 + [(*phone.glide, *width)]
        else:
            places += [first, last]
            values += [(*phone.formants, *width)] * 2
    spots = np.arange(frames)
    columns = [np.interp(spots, places, column) for column in zip(*values, strict=True)]
    return list(zip(columns[:3], columns[3:], strict=True))


def _track(levels: list[float], edges: NDArray[np.int64], frames: int, beat: int) -> Wave:
    """Make decibels by phone a track of factors; towards the beat the voice is there just before it."""
    out = np.zeros(frames)
    ramp = RAMP * RATE
    spots = np.arange(frames)
    for k, level in enumerate(levels):
        start, end = int(edges[k]), int(edges[k + 1])
        rise = np.clip((spots - start) / ramp + (1.0 if start == beat else 0.5), 0, 1) if start else 1.0
        # a phone after this one that begins on the beat comes in early, so this one leaves as early
        fall = np.clip((end - spots) / ramp + (0.0 if end == beat else 0.5), 0, 1) if end < frames else 1.0
        if level > -80:
            out += 10 ** (level / 20) * np.minimum(rise, fall)
    if beat == 0:
        out *= np.clip((spots + 12) / 24, 0, 1)
    return out


def _puffs(row: list[tuple[Phone, str, int]], edges: NDArray[np.int64], frames: int) -> Wave:
    """The breath between the burst of a stop and the vowel after it."""
    out = np.zeros(frames)
    for k, (phone, _, length) in enumerate(row[:-1]):
        if phone.stop and row[k + 1][1] in (*VOWELS, "w", "r"):
            start = int(edges[k])
            rise = min(length, TEN // 2)
            out[start : start + length] = 10 ** (PUFF / 20)
            out[start : start + rise] *= np.arange(rise) / rise
    return out


def _noise(rng: np.random.Generator, phone: Phone, start: int, length: int, frames: int) -> Wave:
    """The noise of a consonant: a burst that dies within 10 ms, or a hiss that swells and ebbs."""
    size = padded(length + 2 * TEN)
    hiss = shaped(rng.standard_normal(size), phone.spectrum)[:length]
    hiss /= np.sqrt(np.mean(hiss**2))
    t = np.arange(length)
    if phone.stop:
        hiss *= np.exp(-t / (0.006 * RATE)) * np.clip(t / 30, 0, 1)
    else:
        swell = np.clip(t / (0.35 * length), 0, 1) if start == 0 else np.clip(t / (0.01 * RATE), 0, 1)
        hiss *= swell * np.clip((length - t) / (0.012 * RATE), 0, 1)
    out = np.zeros(frames)
    out[start : start + length] = hiss * 10 ** (phone.noise / 20)
    return out


def _ended(wave: Wave) -> Wave:
    fade = round(END * RATE)
    out = wave.copy()
    out[-fade:] *= 0.5 + 0.5 * np.cos(np.linspace(0, np.pi, fade))
    return out


def _graded(wave: Wave, decibels: float) -> NDArray[np.float32]:
    """Bring a wave to its strength, on the grid of render.py: the same on every processor."""
    scaled = wave * (10 ** (decibels / 20) / strength(wave))
    return (np.round(scaled * 2**20) / 2**20).astype(np.float32)
