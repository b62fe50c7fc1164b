"""The sound of a stage: the same bytes twice, rounds that add up, a seam that is not heard, room at the top."""

from __future__ import annotations

import io
import zipfile
from pathlib import Path

import numpy as np
import pytest
import soundfile as sf

from groundbeat.analysis.passes import CLEAN, ladder, rounds
from groundbeat.analysis.player import read_player
from groundbeat.codec.groove_read import read_groove
from groundbeat.errors import RequestError
from groundbeat.sound import file, render, stage, takealong
from groundbeat.sound.peak import true_peak
from groundbeat.sound.takealong import Wish, make
from groundbeat.variation.stack import grow

ROOT = Path(__file__).resolve().parents[2]
RATE = 44100


@pytest.fixture(scope="module")
def beat():
    groove = read_groove((ROOT / "examples/slack-tide.toml").read_text(encoding="utf-8"))
    return groove, grow(groove)


@pytest.fixture(autouse=True)
def remembered(monkeypatch: pytest.MonkeyPatch, voice) -> None:
    monkeypatch.setattr(render, "voice", voice)


def level(numbers) -> np.ndarray:
    return np.asarray(numbers, dtype=np.float64) / file.FULL


def test_the_same_stage_gives_the_same_bytes_twice(beat):
    wish = Wish(4, 9200, 2, stage.Heard(mix=0.7, click=1), 1)
    once, again = (make(*beat, wish) for _ in range(2))
    for form in file.FORMS:
        assert file.written(once.numbers, form, RATE) == file.written(again.numbers, form, RATE)


def test_rounds_are_one_round_again_and_again_and_the_last_rings_out(beat, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr(stage, "_alternates", lambda surface: 1)  # else each round has its own
    groove, stages = beat
    one, four = (make(groove, stages, Wish(4, 20000, loops)).numbers for loops in (1, 4))
    loop = 52920  # frames of a bar
    assert len(one) > loop and len(four) == 3 * loop + len(one)
    added = np.zeros_like(four)
    for turn in range(4):
        added[turn * loop : turn * loop + len(one)] += one
    # Nothing in this stage stops what rings. Each round was rounded to whole numbers by itself.
    assert np.abs(four - added).max() <= 4


def test_a_seamless_file_goes_on_into_itself_as_the_music_goes_on(beat, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr(stage, "_alternates", lambda surface: 1)  # else they begin again with the file
    groove, stages = beat
    tempo, length = 20000, 4 * 52920
    seamless = make(groove, stages, Wish(4, tempo, 4, seamless=True)).numbers
    assert len(seamless) == length
    long = make(groove, stages, Wish(4, tempo, 12)).numbers
    assert (long[:length] != long[length : 2 * length]).any()  # it matters what rings at the seam
    assert (np.tile(seamless, (2, 1)) == long[length : 3 * length]).all()


def test_a_seam_is_no_greater_step_than_is_in_the_sound(beat):
    groove, stages = beat
    numbers = level(make(groove, stages, Wish(4, 9200, 3, seamless=True)).numbers)
    steps = np.abs(np.diff(numbers, axis=0)).max()
    assert np.abs(numbers[0] - numbers[-1]).max() < steps


def test_nothing_rings_longer_than_a_seam_waits():
    assert max(row.longest for row in render.VOICES.values()) + 1 < takealong.RINGING


def test_the_densest_mix_keeps_a_decibel_of_room():
    groove = read_groove(
        'groundbeat = 1\ntitle = "All at once"\nmeter = "4/4"\ncolumns = "sixteenths"\ntempo = 160\n\n[base]\n'
        + "".join(
            f'"{name}" = "{letter * 16}"\n'
            for name, letter in (
                ("crash", "X"),
                ("rimshot", "O"),
                ("floor tom", "O"),
                ("low tom", "O"),
                ("high tom", "O"),
            )
            + (("kick", "O"), ("second kick", "O"), ("ride edge", "X"), ("second crash", "X"))
        )
    )
    made = make(groove, grow(groove), Wish(0, 16000, 1, stage.Heard(click=1)))
    assert true_peak(level(made.numbers).astype(np.float32)) <= 10 ** (-1 / 20) + 1e-5
    assert made.quieter > 0


def test_a_count_in_comes_before_and_silence_is_where_nothing_is_played(beat):
    groove, stages = beat
    plain = make(groove, stages, Wish(0, 12000, 1)).numbers
    counted = make(groove, stages, Wish(0, 12000, 1, count_in=1)).numbers
    assert len(counted) == len(plain) + 88200
    assert (counted[88200:] == plain).all()
    clicks = counted[:88200].any(axis=1).reshape(8, 11025)  # the beat has eighths
    assert clicks[:, :2000].any(axis=1).all() and not clicks[:, 9000:].any()


def test_the_stages_one_after_the_other_are_the_stages_without_what_rings_over(beat, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr(stage, "_alternates", lambda surface: 1)  # else they go on taking turns
    groove, stages = beat
    way = takealong.way_through(stages, 2, True)
    assert way == (0, 1, 2, 1, 0)
    tempo, loop = 20000, 52920
    through = make(groove, stages, Wish(2, tempo, 2, through=way, count_in=1)).numbers
    added = np.zeros_like(through)
    counted = make(groove, stages, Wish(0, tempo, 2, count_in=1)).numbers
    added[: len(counted)] = counted
    for turn, number in enumerate(way[1:], 1):
        alone = make(groove, stages, Wish(number, tempo, 2)).numbers
        start = loop + 2 * turn * loop
        added[start : start + len(alone)] += alone
    # The closed hi-hat stops nothing here; each stage was rounded to whole numbers by itself.
    assert np.abs(through - added).max() <= 6


def test_a_stage_that_is_off_is_left_out_on_the_way():
    groove = read_groove(
        (ROOT / "examples/slack-tide.toml")
        .read_text(encoding="utf-8")
        .replace("[[variation]]", "[[variation]]\noff = true", 1)
    )
    assert takealong.way_through(grow(groove), 3, False) == (0, 2, 3)


def test_a_part_is_all_that_is_heard_and_the_set_is_for_its_player(beat):
    groove, stages = beat
    parts = [make(groove, stages, Wish(2, 9200, 1, part=part)).numbers for part in ("", "hands", "feet")]
    assert not (parts[0] == parts[1]).all()
    rows = np.zeros((max(map(len, parts)), 2), dtype=np.int64)
    for sign, numbers in zip((-1, 1, 1), parts, strict=True):
        rows[: len(numbers)] += sign * numbers
    assert np.abs(rows).max() <= 2  # each was rounded by itself
    texts = [
        takealong.write_set(io.BytesIO(), groove, stages, Wish(2, 0, 1, part="left hand", player=who), ".wav", 8800)
        for who in (read_player(""), read_player("open-handed; left hand 30"))
    ]
    assert "the stage, only the left hand, no count-in" in texts[0]


@pytest.mark.parametrize(
    ("wish", "words"),
    [
        (Wish(0, 9200, 0), "1 to 1000 times, not 0"),
        (Wish(0, 9200, 2000), "1 to 1000 times, not 2000"),
        (Wish(0, 2000, 200), "200 rounds last 40 minutes; a file has at most 10: ask for 50 rounds or fewer"),
        (Wish(0, 9200, 1, count_in=3), "0, 1 or 2 bars, not 3"),
        (Wish(0, 9200, 1, stage.Heard(mix=1.5)), "it is not 1.5"),
        (Wish(0, 9200, 1, stage.Heard(mix=float("nan"))), "it is not nan"),
        (Wish(0, 9200, 1, count_in=1, seamless=True), "no count-in"),
        (Wish(0, 9200, 1, seamless=True, through=(0, 1)), "has one stage"),
        (Wish(0, 9200, 50, through=(0, 1, 2, 3, 4)), "50 rounds of each stage last 11 minutes; .* ask for 46 rounds"),
    ],
)
def test_what_cannot_be_is_refused_with_what_can(beat, wish: Wish, words: str):
    with pytest.raises(RequestError, match=words):
        make(*beat, wish)


def test_a_set_has_a_file_for_every_tempo_and_says_what_they_are(beat):
    groove, stages = beat
    first, second = io.BytesIO(), io.BytesIO()
    wish = Wish(2, 0, 1, count_in=1)
    text = takealong.write_set(first, groove, stages, wish, ".flac", 7500)
    takealong.write_set(second, groove, stages, wish, ".flac", 7500)
    assert first.getvalue() == second.getvalue()
    folder = zipfile.ZipFile(first)
    tempos = ladder(9200, 7500)
    sounds = folder.namelist()[:-1]
    assert len(sounds) == len(tempos) > 1
    for name, tempo in zip(sounds, tempos, strict=True):
        said = f"{tempo / 100:g}"
        assert name.endswith(f"-slack-tide-stage-2-at-{said.replace('.', '-')}.flac")
        sound, rate = sf.read(io.BytesIO(folder.read(name)), dtype="int32")
        assert rate == RATE and (sound >> 8 == make(groove, stages, wish._replace(tempo=tempo)).numbers).all()
        assert f"{name}: at {said}, 1 round, " in text
    assert folder.read("read-me.txt").decode() == text
    for words in ("Protect your hearing", "Stop if it hurts", "quarter = ", "a count-in of 1 bar, no click"):
        assert words in text


def test_where_rounds_are_not_said_a_file_of_a_set_has_three_passes(beat, monkeypatch: pytest.MonkeyPatch):
    asked: list[Wish] = []

    def noted(groove, stages, wish, known):
        asked.append(wish)
        return takealong.Made(np.zeros((10, 2), dtype=np.int32), 0.0)

    monkeypatch.setattr(takealong, "make", noted)
    takealong.write_set(io.BytesIO(), *beat, Wish(1, 0, 0), ".wav")
    assert [(wish.tempo, wish.loops) for wish in asked] == [
        (tempo, CLEAN * rounds(40320, 1, 10080, tempo)) for tempo in ladder(9200)
    ]
