"""How do the kits reach the page? For each, one sprite file a part, in two formats, and a list.

A sprite is all samples of a part in a row, each after a silence (`GUARD`) that keeps one sample's coding
from reaching into the next. `kit.json` gives start and length in frames at RATE of the decoded file. Files
carry a hash of their bytes in their names, so they may be cached for ever. Pans follow the drummer's own
seat.
"""

from __future__ import annotations

import hashlib
import json
import os
import subprocess
import sys
from collections.abc import Iterable, Mapping
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import TypedDict

import numpy as np
from numpy.typing import NDArray

from ..errors import KitError
from ..model.kit import DYNAMICS, SURFACES
from ..timeline.saying import WORDS
from . import encode, loudness, speech
from .mix import Voices
from .modes import RATE
from .place import pan
from .render import VOICES, click, voice
from .setups import DRY, SETUPS, Setup, address

GUARD = 2048  # frames, 46 ms: the longest block of the Vorbis encoder


class Piece(TypedDict):
    """Where one sample lies: part, and start and length in frames of the decoded file."""

    part: str
    start: int
    frames: int


class Stroke(Piece):
    """A piece that is a stroke of the kit."""

    surface: str
    dynamic: str
    alternate: int


class Word(Piece):
    """A piece that is a word of the count: whether "spoken" or "pitched", and its frames before its place."""

    how: str
    say: str
    lead: int


class Count(TypedDict):
    """The voices of the count and their files, by part and format; parts are named as `how` is."""

    parts: dict[str, dict[str, str]]
    voices: list[Word]


class Report(TypedDict):
    """What a build made: sizes in bytes by part and in all, voices, seconds of sound, the highest peak of a stroke.

    `loudness` (LUFS) and `densest` (dBTP) are those of sound.loudness, measured in what the Ogg files decode to.
    """

    parts: dict[str, dict[str, int]]
    ogg: int
    mp3: int
    voices: int
    seconds: float
    peak: float
    loudness: float
    densest: float


class _Sprite:
    """A part on its way: samples in a row with silence between."""

    def __init__(self, part: str) -> None:
        self.part = part
        self._row: list[NDArray[np.float32]] = []
        self._frames = 0
        self._silence()

    def _silence(self) -> None:
        self._row.append(np.zeros(GUARD, dtype=np.float32))
        self._frames += GUARD

    def add(self, samples: NDArray[np.float32]) -> Piece:
        piece = Piece(part=self.part, start=self._frames, frames=len(samples))
        self._row.append(samples)
        self._frames += len(samples)
        self._silence()
        return piece

    def samples(self) -> NDArray[np.float32]:
        return np.concatenate(self._row)


def build_all(out: Path) -> dict[str, Report]:
    """Write every kit into a folder, at `address`, and report what was written, by the kits' names.

    Each is made by a process of its own, as many at once as there are processors. The voices of the count are the same
    in all of them and lie beside them once, in `count`. Raises KitError if one fails.
    """
    counted = build_count(out / "count")
    with ThreadPoolExecutor(min(len(SETUPS), os.cpu_count() or 1)) as pool:
        reports = pool.map(lambda setup: _apart((out / address(setup)).parent, setup, counted, out), SETUPS.values())
        return dict(zip(SETUPS, reports, strict=True))


_MAKE = """
import json, sys
from pathlib import Path
from groundbeat.sound import kit, setups
out, name, counted, top = sys.argv[1:]
print(json.dumps(kit.build(Path(out), setups.SETUPS[name], json.loads(counted), Path(top))))
"""


def _apart(out: Path, setup: Setup, counted: Count, top: Path) -> Report:
    """Build a kit in another process: Python's own and not a fork, which would not be safe beside threads."""
    # NumPy's helpers in each process would only stand in each other's way
    environment = {"OPENBLAS_NUM_THREADS": "1"} | os.environ | {"PYTHONPATH": str(Path(__file__).parents[2])}
    command = [sys.executable, "-c", _MAKE, str(out), setup.name, json.dumps(counted), str(top)]
    done = subprocess.run(command, env=environment, capture_output=True, text=True, check=False)
    if done.returncode:
        raise KitError(f'the kit "{setup.name}" was not made: {done.stderr.strip().rpartition(chr(10))[2]}')
    report: Report = json.loads(done.stdout)
    return report


def build(out: Path, setup: Setup = DRY, counted: Count | None = None, top: Path | None = None) -> Report:
    """Write a kit's sprites and `kit.json` into a folder, and report what was written.

    `counted` are the voices of the count, if there are any, with files in the folder `count` of `top`.
    The folder is made if it is not there. The same source gives the same bytes.
    """
    out.mkdir(parents=True, exist_ok=True)
    sprites: dict[str, _Sprite] = {}
    strokes: list[Stroke] = []
    for surface, row in VOICES.items():
        sprite = sprites.setdefault(row.part, _Sprite(row.part))
        for dynamic in DYNAMICS:
            for alternate in range(row.alternates):
                piece = sprite.add(voice(surface, dynamic, alternate, setup))
                strokes.append(Stroke(surface=surface, dynamic=dynamic, alternate=alternate, **piece))
    sprite = sprites["click"] = _Sprite("click")
    clicks = {name: sprite.add(click(strong)) for name, strong in (("strong", True), ("weak", False))}

    report = Report(parts={}, ogg=0, mp3=0, voices=len(strokes), seconds=0.0, peak=0.0, loudness=0.0, densest=0.0)
    decoded: dict[str, NDArray[np.float32]] = {}
    files: dict[str, dict[str, str]] = {}
    for part, sprite in sprites.items():
        samples = sprite.samples()
        coded = {"ogg": encode.ogg(samples, RATE), "mp3": encode.mp3(samples, RATE)}
        files[part] = {form: _write(out, part, form, data) for form, data in coded.items()}
        report["parts"][part] = {form: len(data) for form, data in coded.items()}
        decoded[part] = encode.decode(coded["ogg"])
        report["ogg"] += len(coded["ogg"])
        report["mp3"] += len(coded["mp3"])
        report["seconds"] += len(samples) / RATE
        report["peak"] = max(report["peak"], float(np.abs(samples).max()))
    voices = cut(strokes, decoded)
    report["loudness"] = round(loudness.loudness(loudness.beat(voices)), 2)
    report["densest"] = round(loudness.true_peak(loudness.densest(voices)), 2)
    manifest: dict[str, object] = {
        "kit": setup.name,
        "rate": RATE,
        "parts": files,
        "voices": strokes,
        "surfaces": _surfaces(),
        "clicks": clicks,
    }
    if counted is not None and top is not None:
        up = Path(os.path.relpath(top / "count", out)).as_posix()
        parts = {
            part: {form: f"{up}/{name}" for form, name in names.items()} for part, names in counted["parts"].items()
        }
        manifest["count"] = {"parts": parts, "voices": counted["voices"]}
    (out / "kit.json").write_text(json.dumps(manifest, separators=(",", ":")) + "\n", encoding="utf-8")
    return report


def build_count(out: Path) -> Count:
    """Write the voices of the count into a folder, a sprite for those that are spoken and one for the tones."""
    out.mkdir(parents=True, exist_ok=True)
    words: list[Word] = []
    files: dict[str, dict[str, str]] = {}
    for how in speech.HOWS:
        sprite = _Sprite(how)
        for say in WORDS:
            piece = sprite.add(speech.word(how, say))
            words.append(Word(how=how, say=say, lead=speech.lead_of(how, say), **piece))
        samples = sprite.samples()
        coded = {"ogg": encode.ogg(samples, RATE), "mp3": encode.mp3(samples, RATE)}
        files[how] = {form: _write(out, how, form, data) for form, data in coded.items()}
    return Count(parts=files, voices=words)


def cut(strokes: Iterable[Stroke], parts: Mapping[str, NDArray[np.float32]]) -> Voices:
    """Cut decoded parts into voices, as the page does."""
    return {
        (row["surface"], row["dynamic"], row["alternate"]): parts[row["part"]][row["start"] :][: row["frames"]]
        for row in strokes
    }


def _surfaces() -> dict[str, dict[str, float | str]]:
    return {row.name: {"pan": pan(row.name), "chokes": row.choke} for row in SURFACES}


def _write(out: Path, part: str, form: str, data: bytes) -> str:
    name = f"{part}.{hashlib.sha256(data).hexdigest()[:10]}.{form}"
    (out / name).write_bytes(data)
    return name
