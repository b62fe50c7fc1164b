"""The spoken count says what it should: vowels, hisses and beats are measured in the sound; and tones have their pitch."""

from __future__ import annotations

import itertools

import numpy as np
import pytest

from groundbeat.errors import KitError
from groundbeat.sound import encode, kit, phones, render, speech
from groundbeat.sound.finish import strength
from groundbeat.timeline.saying import BETWEEN, NUMBERS, WORDS

RATE = 44100
LOW = 10000  # frames a second where formants are looked for


def spoken(word: str) -> np.ndarray:
    return speech.word("spoken", word).astype(np.float64)


def spans(word: str):
    """Phones of a word with their start and end in seconds."""
    start = 0
    for name, length in phones.WORDS[word]:
        yield name, start / 1000, (start + length) / 1000
        start += length


def formants(wave: np.ndarray, start: float, end: float) -> list[float]:
    """Resonances of a stretch: linear prediction (covariance method) that trusts the moments between two closings of
    the folds most, where nothing drives the mouth."""
    frames = len(wave) * LOW // RATE
    slow = np.diff(np.fft.irfft(np.fft.rfft(wave)[: frames // 2 + 1], frames), prepend=0.0)
    part = slow[int(start * LOW) : int(end * LOW)]
    order = 12
    rows = np.array([part[k - order : k][::-1] for k in range(order, len(part))])
    weights = np.ones(len(rows))
    for _ in range(6):
        found = np.linalg.lstsq(rows * weights[:, None], part[order:] * weights, rcond=None)[0]
        missed = np.abs(part[order:] - rows @ found)
        weights = 1 / np.sqrt(missed + 0.3 * np.median(missed))
    roots = np.roots(np.concatenate([[1], -found]))
    sharp = roots[(roots.imag > 0.01) & (-np.log(np.abs(roots)) * LOW / np.pi < 500)]
    return sorted(float(hertz) for hertz in np.angle(sharp) * LOW / (2 * np.pi))


STEADY = [
    (word, name, start, end)
    for word in WORDS
    for name, start, end in spans(word)
    if name in phones.VOWELS and not phones.PHONES[name].glide and end - start >= 0.06
]


def test_most_words_have_a_vowel_long_enough_to_be_measured():
    assert {word for word, *_ in STEADY} >= set(WORDS) - {"5", "8", "9", "14", "15", "trip"}


@pytest.mark.parametrize(("word", "name", "start", "end"), STEADY)
def test_vowels_have_the_formants_of_the_tables(word: str, name: str, start: float, end: float):
    found = formants(spoken(word), start + 0.012, end - 0.012)[:3]
    for hertz, wanted in zip(found, phones.PHONES[name].formants, strict=True):
        assert abs(hertz / wanted - 1) < 0.12, (found, phones.PHONES[name].formants)


@pytest.mark.parametrize("word", ["5", "8", "9"])
def test_a_gliding_vowel_goes_from_one_place_to_the_other(word: str):
    name, start, end = next(one for one in spans(word) if one[0] in phones.VOWELS)
    early = formants(spoken(word), start + 0.008, start + 0.045)
    late = formants(spoken(word), end - 0.04, end - 0.004)
    phone = phones.PHONES[name]
    assert late[1] > early[1] + 0.5 * (phone.glide[1] - phone.formants[1])
    assert late[0] < early[0]


@pytest.mark.parametrize(("word", "least"), [("6", 5000), ("7", 5000)])
def test_s_hisses_high(word: str, least: float, ear):
    noise = spoken(word)[: int(0.055 * RATE)]
    assert ear.share(noise, 4000, 12000) > 0.9
    assert ear.centroid(noise) > least


@pytest.mark.parametrize("word", ["3", "4", "5", "13", "14", "15"])
def test_f_and_th_are_soft_and_wide(word: str, ear):
    noise, whole = spoken(word)[: int(0.045 * RATE)], spoken(word)
    assert ear.share(noise, 1500, 12000) > 0.8
    assert ear.share(noise, 1000, 4000) > 0.1, "not a hiss in one place"
    level = 20 * np.log10(noise.std() / strength(whole))
    hiss = 20 * np.log10(spoken("6")[: int(0.055 * RATE)].std() / strength(spoken("6")))
    assert -35 < level < hiss - 4


def voice_begins(wave: np.ndarray) -> float:
    """The moment when a band where voices are and hisses are not has a tenth of its highest level, in milliseconds."""
    size = 1 << 15
    spectrum = np.fft.rfft(wave, size)
    hertz = np.fft.rfftfreq(size, 1 / RATE)
    spectrum[(hertz < 150) | (hertz > 1000)] = 0
    band = np.fft.irfft(spectrum, size)[: len(wave)] ** 2
    width = RATE // 250  # 4 ms
    level = np.sqrt(np.convolve(band, np.ones(width) / width)[: len(wave)])
    return float(np.flatnonzero(level > 0.25 * level.max())[0]) / RATE * 1000


OPENED = ("1", "3", "9", "11", "12", "trip", "let")  # a voiced consonant comes before the vowel


@pytest.mark.parametrize("word", [word for word in WORDS if word not in OPENED])
def test_the_voice_begins_on_the_beat(word: str):
    assert abs(voice_begins(spoken(word)) - speech.lead_of("spoken", word) / RATE * 1000) < 1.5


@pytest.mark.parametrize("word", OPENED)
def test_behind_a_voiced_consonant_the_vowel_opens_on_the_beat(word: str):
    wave, beat = spoken(word), speech.lead_of("spoken", word)
    ms = RATE // 1000
    before, after = wave[beat - 16 * ms : beat - 4 * ms], wave[beat + 4 * ms : beat + 16 * ms]
    assert 20 * np.log10(after.std() / before.std()) > 6


@pytest.mark.parametrize("how", speech.HOWS)
def test_every_two_words_differ_and_the_same_is_the_same(how: str):
    shapes = {}
    for word in WORDS:
        wave = speech.word(how, word).astype(np.float64)
        beat = speech.lead_of(how, word)
        rows = []
        for start in range(beat - 3528, beat + 8000, 882):  # from 80 ms before the beat, every 20 ms
            piece = np.zeros(882)
            given = wave[max(0, start) : max(0, start + 882)]
            piece[: len(given)] = given
            power = np.abs(np.fft.rfft(piece * np.hanning(882), 2048)) ** 2
            edges = np.geomspace(6, 700, 25).astype(int)
            rows.append([10 * np.log10(power[a:b].sum() + 1e-5) for a, b in itertools.pairwise(edges)])
        shapes[word] = np.array(rows)
        speech._spoken.cache_clear()
        speech._tone.cache_clear()
        assert speech.word(how, word).tobytes() == wave.astype(np.float32).tobytes()
    least = min(np.sqrt(np.mean((shapes[a] - shapes[b]) ** 2)) for a, b in itertools.combinations(WORDS, 2))
    assert least > 1.5, "decibels between two words, over bands and moments"


def test_tones_rise_by_the_scale_and_the_words_between_lie_higher(ear):
    def pitch(word: str) -> float:
        freqs, power = ear.spectrum(speech.word("pitched", word))
        return float(freqs[power.argmax()])

    numbers = [pitch(word) for word in NUMBERS]
    steps = np.round(12 * np.log2(np.array(numbers) / numbers[0]), 1)
    assert steps.tolist() == [0, 2, 4, 5, 7, 9, 11, 12, 14, 16, 17, 19, 21, 23, 24]
    between = [pitch(word) for word in BETWEEN]
    assert min(between) > max(numbers)
    assert len({round(hertz) for hertz in between}) == len(BETWEEN)


@pytest.mark.parametrize("how", speech.HOWS)
def test_words_are_about_as_loud_as_the_click_and_short(how: str):
    click = render.click(True)
    for word in WORDS:
        wave = speech.word(how, word)
        assert abs(20 * np.log10(strength(wave) / strength(click))) < 3
        assert 0.5 < np.abs(wave).max() / np.abs(click).max() < 1.2
        assert len(wave) <= 0.231 * RATE
        assert abs(wave[-1]) < 1e-4
        assert len(wave) - speech.lead_of(how, word) <= (0.19 if word in NUMBERS else 0.15) * RATE


def test_a_word_that_is_not_counted_is_refused():
    with pytest.raises(KitError, match='nothing spoken for "sixteen"; a count has 1 2'):
        speech.word("spoken", "sixteen")
    with pytest.raises(KitError, match='nothing sung for "1"'):
        speech.word("sung", "1")


@pytest.mark.parametrize("form", ["ogg", "mp3"])
def test_decoded_words_lie_on_their_frames_and_the_files_are_small(form: str, tmp_path):
    made = kit.build_count(tmp_path)
    assert {(row["how"], row["say"]) for row in made["voices"]} == set(itertools.product(speech.HOWS, WORDS))
    for how, names in made["parts"].items():
        data = (tmp_path / names[form]).read_bytes()
        assert len(data) < 80_000
        row = encode.decode(data)
        for voice in made["voices"]:
            if voice["how"] != how:
                continue
            assert voice["lead"] == speech.lead_of(how, voice["say"])
            wanted = np.diff(speech.word(how, voice["say"]).astype(np.float64))
            got = np.diff(row[voice["start"] - 100 : voice["start"] + voice["frames"] + 100].astype(np.float64))
            size = 1 << 15
            match = np.fft.irfft(np.fft.rfft(got, size) * np.conj(np.fft.rfft(wanted, size)), size)[:200]
            assert match.argmax() == 100, voice
