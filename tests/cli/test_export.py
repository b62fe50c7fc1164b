"""`export` writes the file that its name asks for, whole or not at all, and says what it cannot write."""

from __future__ import annotations

import io
import json
import zipfile
from pathlib import Path

import numpy as np
import pytest
import soundfile as sf

from groundbeat.codec.groove_read import read_groove
from groundbeat.codec.groove_write import write_groove
from groundbeat.sound import render
from groundbeat.sound.setups import DRY, SETUPS, Setup
from tests.cli.conftest import failed

ROOT = Path(__file__).resolve().parents[2]
SLACK_TIDE = ROOT / "examples/slack-tide.toml"
RATE = 44100


@pytest.fixture(autouse=True)
def short_voices(monkeypatch: pytest.MonkeyPatch) -> None:
    """Stand-ins for the voices, which take long to render; that the real ones sound, the tests of sound tell."""

    def voice(surface: str, dynamic: str, alternate: int, setup: Setup = DRY) -> np.ndarray:
        return np.full(400, (len(surface) * 7 + len(dynamic) + alternate + len(setup.name)) / 1000, dtype=np.float32)

    monkeypatch.setattr(render, "voice", voice)


def sound(path: Path) -> np.ndarray:
    samples, rate = sf.read(path, dtype="int32")
    assert rate == RATE
    return samples


def test_without_options_it_is_the_last_stage_four_times_at_the_goal(run, tmp_path: Path):
    assert run("export", SLACK_TIDE, "-o", tmp_path / "a.wav") == (0, "", "")
    last = len(read_groove(SLACK_TIDE.read_text()).variations)
    run("export", SLACK_TIDE, "-o", tmp_path / "b.wav", "--stage", last, "--loops", 4, "--tempo", 92)
    assert (tmp_path / "a.wav").read_bytes() == (tmp_path / "b.wav").read_bytes()
    # A steady hand may be a little early: then the file begins that much before the first bar.
    length = round(4 * 4 * 60 / 92 * RATE)
    assert 0 <= len(sound(tmp_path / "a.wav")) - length < RATE // 100
    run("export", SLACK_TIDE, "-o", tmp_path / "c.wav", "--loose", 0)
    assert len(sound(tmp_path / "c.wav")) == length


def test_wav_and_flac_hold_the_same_sound(run, tmp_path: Path):
    for end in ("wav", "flac"):
        assert run("export", SLACK_TIDE, "-o", tmp_path / f"a.{end}", "--stage", 1, "--click").status == 0
    assert (sound(tmp_path / "a.wav") == sound(tmp_path / "a.flac")).all()
    assert (tmp_path / "a.flac").stat().st_size < (tmp_path / "a.wav").stat().st_size


@pytest.mark.parametrize(
    "option",
    [
        ["--click"],
        ["--clicks", "off-beats"],
        ["--kit", list(SETUPS)[1]],
        ["--count-in", 1],
        ["--mix", 0.3],
        ["--only-added"],
        ["--tempo", 60.5],
        ["--loops", 5],
        ["--hear", "feet"],
        ["--hear", "left hand", "--player", "open-handed"],
        ["--through", "--back"],
        ["--loose", 0],
        ["--seed", 2],
        ["--click-volume", 1.5],
        ["--click-pan", -0.5],
        ["--count", "pitched"],
        ["--count", "spoken"],
    ],
)
def test_every_option_is_heard(run, tmp_path: Path, option: list):
    for name, more in (("a", []), ("b", option)):
        assert run("export", SLACK_TIDE, "-o", tmp_path / f"{name}.wav", "--stage", 3, *more).status == 0
    assert (tmp_path / "a.wav").read_bytes() != (tmp_path / "b.wav").read_bytes()


def test_a_set_is_exact_unless_it_is_said_otherwise(run, tmp_path: Path):
    for name, more in (("a", []), ("b", ["--loose", 0]), ("c", ["--loose", 30])):
        options = ["--set", "--loops", 1, "--clean", 90, *more]
        assert run("export", SLACK_TIDE, "-o", tmp_path / f"{name}.zip", *options).status == 0
    exact, same, loose = ((tmp_path / f"{name}.zip").read_bytes() for name in "abc")
    assert exact == same != loose


def test_the_click_is_as_loud_and_where_it_is_asked_to_be(run, tmp_path: Path):
    heard = {}
    for name, more in {"a": ["--click"], "b": ["--click-volume", 2], "left": ["--click", "--click-pan", -1]}.items():
        empty = 'groundbeat = 1\nmeter = "4/4"\ncolumns = "eighths"\n\n[base]\nkick = "--------"\n'
        assert run("export", "-", "-o", tmp_path / f"{name}.wav", *more, data=empty).status == 0
        heard[name] = sound(tmp_path / f"{name}.wav").astype(float)
    assert np.abs(heard["b"]).max() == pytest.approx(2 * np.abs(heard["a"]).max(), rel=1e-4)
    assert heard["left"][:, 0].any() and np.abs(heard["left"][:, 1]).max() < 1e-5 * np.abs(heard["left"]).max()


@pytest.mark.parametrize(
    ("option", "words"),
    [
        (["--count", "sung"], 'there is no count "sung"; there are click, pitched, spoken'),
        (["--click-volume", 3], "a click is 0 to 2 times as loud"),
        (["--click-pan", -2], "-1 is left and 1 is right"),
        (["--click-volume", "nan"], "are numbers"),
    ],
)
def test_a_click_that_cannot_be_is_refused(run, tmp_path: Path, option: list, words: str):
    ran = run("export", SLACK_TIDE, "-o", tmp_path / "a.wav", *option)
    assert ran.status != 0 and words in " ".join(ran.err.split())


def test_a_seamless_file_is_as_long_as_its_rounds(run, tmp_path: Path):
    assert run("export", SLACK_TIDE, "-o", tmp_path / "a.wav", "--seamless", "--loops", 2).status == 0
    assert len(sound(tmp_path / "a.wav")) == round(2 * 4 * 60 / 92 * RATE)


@pytest.mark.parametrize("more", [[], ["--seamless"]])
def test_an_empty_beat_is_silence_of_its_length(run, tmp_path: Path, more: list):
    empty = 'groundbeat = 1\nmeter = "4/4"\ncolumns = "eighths"\ntempo = 120\n\n[base]\nkick = "--------"\n'
    assert run("export", "-", "-o", tmp_path / "a.wav", *more, data=empty) == (0, "", "")
    assert len(sound(tmp_path / "a.wav")) == 4 * 88200 and not sound(tmp_path / "a.wav").any()


@pytest.mark.parametrize(("form", "end"), [([], ".flac"), (["--as", "wav"], ".wav")])
def test_a_set_has_a_count_in_unless_it_is_said_otherwise(run, tmp_path: Path, form: list, end: str):
    lengths = []
    for more in ([], ["--count-in", 0]):
        ran = run("export", SLACK_TIDE, "-o", tmp_path / "a.zip", "--set", "--loops", 1, "--clean", 88, *form, *more)
        assert ran == (0, "", "")
        with zipfile.ZipFile(tmp_path / "a.zip") as folder:
            *names, text = folder.namelist()
            assert text == "read-me.txt" and names[0].endswith(f"at-88{end}") and names[-1].endswith(f"at-92{end}")
            lengths.append(len(sound(io.BytesIO(folder.read(names[0])))))  # type: ignore[arg-type]
    bar = 4 * 60 / 88 * RATE
    assert lengths[0] - lengths[1] == pytest.approx(bar, abs=1)


def test_tablature_and_groove_files_are_what_the_other_commands_print(run, tmp_path: Path):
    assert run("export", SLACK_TIDE, "-o", tmp_path / "a.txt").status == 0
    assert (tmp_path / "a.txt").read_text() == run("show", SLACK_TIDE).out
    assert run("export", SLACK_TIDE, "-o", tmp_path / "b.TXT", "--stage", 2).status == 0
    shown = run("show", SLACK_TIDE, "--stage", 2).out
    head, _, rest = (tmp_path / "b.TXT").read_text().partition("\n")
    assert head.startswith("Slack Tide: 4/4") and rest == shown
    assert run("export", SLACK_TIDE, "-o", tmp_path / "a.toml").status == 0
    assert (tmp_path / "a.toml").read_text() == write_groove(read_groove(SLACK_TIDE.read_text()))


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["a.abc"], 'cannot write ".abc" files; there are .wav, .flac, .mid, .musicxml, .mxl, '),
        (["sound"], '"sound" has no end that says what it is to be'),
        (["a.zip"], "say --set"),
        (["a.wav", "--set"], "a set is a .zip file"),
        (["a.txt", "--click"], "--click does nothing for a .txt file"),
        (["a.toml", "--loops", 2], "--loops does nothing for a .toml file"),
        (["a.wav", "--clean", 80], "--clean does nothing for a .wav file"),
        (["a.zip", "--set", "--tempo", 80], "--tempo does nothing for a .zip file"),
        (["a.zip", "--set", "--loops", 0], "at least once"),
        (["a.zip", "--set", "--as", "mp3"], "flac or wav"),
        (["a.wav", "--stage", 99], "not 99"),
        (["a.wav", "--loops", 0], "1 to 1000 times, not 0"),
        (["a.wav", "--tempo", 5], "20 to 400"),
        (["a.wav", "--tempo", "inf"], "--tempo is inf, which is no tempo"),
        (["a.zip", "--set", "--clean", "nan"], "--clean is nan, which is no tempo"),
        (["a.zip", "--set", "--clean", 900], "20 to 400"),
        (["a.wav", "--count-in", 3], "0, 1 or 2 bars"),
        (["a.wav", "--clicks", "often"], 'there is no click "often"; there are beats, '),
        (["a.wav", "--kit", "tin"], 'there is no kit "tin"; there are '),
        (["a.wav", "--loose", 101], "0, exactly as written, to 100 loose, not 101"),
        (["a.wav", "--seed", 2, "--loose", 0], "--seed does nothing"),
        (["a.txt", "--loose", 0], "--loose does nothing for a .txt file"),
        (["a.wav", "--mix", "nan"], "from 0, the base beat, to 1"),
        (["no/such/folder/a.wav"], "cannot be written"),
        (["a.wav", "--hear", "elbow"], 'no "elbow" to hear alone; there are hands, feet, right hand'),
        (["a.wav", "--player", "left-handed"], "it goes with --set, or with a limb to --hear"),
        (["a.wav", "--back"], "--back says how --through ends"),
        (["a.zip", "--set", "--through"], "--through does nothing for a .zip file"),
    ],
)
def test_what_cannot_be_written_is_said_in_one_line_and_leaves_what_was_there(
    run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, arguments: list, words: str
):
    monkeypatch.chdir(tmp_path)
    name, *options = arguments
    if "/" not in name:
        Path(name).write_text("before")
    assert words in failed(run("export", SLACK_TIDE, "-o", name, *options))
    assert [path.read_text() for path in tmp_path.iterdir()] == (["before"] if "/" not in name else [])


def test_a_midi_file_reads_back_as_the_stage(run, tmp_path: Path):
    out = tmp_path / "a.mid"
    assert run("export", SLACK_TIDE, "-o", out, "--stage", 2, "--profile", "kit", "--loops", 2)[:2] == (0, "")
    told = json.loads(run("show", out, "--json").out)
    wanted = json.loads(run("show", SLACK_TIDE, "--stage", 2, "--json").out)
    assert (told["title"], told["tempo"]) == ("Slack Tide", 92)

    def strokes(account: dict) -> list:
        return [(s["at"], s["surface"], s["dynamic"]) for s in account["stages"][0]["strokes"]]

    assert strokes(told) == strokes(wanted)


@pytest.mark.parametrize(
    "option", [["--stage", 1], ["--through"], ["--loops", 3], ["--tempo", 60], ["--ticks", 480], ["--straight"]]
)
def test_every_option_of_a_midi_file_counts(run, tmp_path: Path, option: list):
    for name, more in (("a", []), ("b", option)):
        assert run("export", SLACK_TIDE, "-o", tmp_path / f"{name}.mid", *more).status == 0
    assert (tmp_path / "a.mid").read_bytes() != (tmp_path / "b.mid").read_bytes()


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (["a.mid", "--click"], "--click does nothing for a .mid file"),
        (["a.wav", "--straight"], "--straight does nothing for a .wav file"),
        (["a.txt", "--ticks", "480"], "--ticks does nothing for a .txt file"),
        (["a.mid", "--profile", "jazz"], 'there is no profile "jazz"; known are gm, kit'),
        (["a.mid", "--ticks", "96"], "not 96"),
        (["a.mid", "--loops", "0"], "1 to 64 times, not 0"),
    ],
)
def test_what_a_midi_file_cannot_have_is_said(run, tmp_path: Path, arguments: list[str], told: str):
    name, *more = arguments
    assert told in failed(run("export", SLACK_TIDE, "-o", tmp_path / name, *more))
    assert not list(tmp_path.iterdir())
