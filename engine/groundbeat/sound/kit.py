"""How does the kit reach the page? One sprite file a part, in two formats, and a list of what lies where.

A sprite is all samples of a part in a row, each after a silence (`GUARD`) that keeps one sample's coding
from reaching into the next. `kit.json` gives start and length in frames at RATE of the decoded file. Files
carry a hash of their bytes in their names, so they may be cached for ever. Pans follow the drummer's own
seat.
"""

from __future__ import annotations

import hashlib
import json
from pathlib import Path
from typing import TypedDict

import numpy as np
from numpy.typing import NDArray

from ..model.kit import BY_NAME, DYNAMICS, SURFACES
from . import encode
from .modes import RATE
from .render import VOICES, click, voice

NAME = "workshop"
GUARD = 2048  # frames, 46 ms: the longest block of the Vorbis encoder
WIDTH = 125.0  # centimetres from the middle that would be hard left or right, our choice
CENTRED = ("kick", "snare")  # families that stand in the middle whatever their seat


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


class Report(TypedDict):
    """What a build made: sizes in bytes by part and in all, voices, seconds of sound, the highest peak."""

    parts: dict[str, dict[str, int]]
    ogg: int
    mp3: int
    voices: int
    seconds: float
    peak: float


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


def build(out: Path) -> Report:
    """Write the kit's sprites and `kit.json` into a folder, and report what was written.

    The folder is made if it is not there. The same source gives the same bytes.
    """
    out.mkdir(parents=True, exist_ok=True)
    sprites: dict[str, _Sprite] = {}
    strokes: list[Stroke] = []
    for surface, row in VOICES.items():
        sprite = sprites.setdefault(row.part, _Sprite(row.part))
        for dynamic in DYNAMICS:
            for alternate in range(row.alternates):
                piece = sprite.add(voice(surface, dynamic, alternate))
                strokes.append(Stroke(surface=surface, dynamic=dynamic, alternate=alternate, **piece))
    sprite = sprites["click"] = _Sprite("click")
    clicks = {name: sprite.add(click(strong)) for name, strong in (("strong", True), ("weak", False))}

    report = Report(parts={}, ogg=0, mp3=0, voices=len(strokes), seconds=0.0, peak=0.0)
    files: dict[str, dict[str, str]] = {}
    for part, sprite in sprites.items():
        samples = sprite.samples()
        coded = {"ogg": encode.ogg(samples, RATE), "mp3": encode.mp3(samples, RATE)}
        files[part] = {form: _write(out, part, form, data) for form, data in coded.items()}
        report["parts"][part] = {form: len(data) for form, data in coded.items()}
        report["ogg"] += len(coded["ogg"])
        report["mp3"] += len(coded["mp3"])
        report["seconds"] += len(samples) / RATE
        report["peak"] = max(report["peak"], float(np.abs(samples).max()))
    manifest = {
        "kit": NAME,
        "rate": RATE,
        "parts": files,
        "voices": strokes,
        "surfaces": _surfaces(),
        "clicks": clicks,
    }
    (out / "kit.json").write_text(json.dumps(manifest, separators=(",", ":")) + "\n", encoding="utf-8")
    return report


def pan(surface: str) -> float:
    """Place a surface between -1 (left) and 1, as the drummer hears it."""
    row = BY_NAME[surface]
    if row.family in CENTRED:
        return 0.0
    return round(max(-1.0, min(1.0, row.seat[0] / WIDTH)), 2)


def _surfaces() -> dict[str, dict[str, float | str]]:
    return {row.name: {"pan": pan(row.name), "chokes": row.choke} for row in SURFACES}


def _write(out: Path, part: str, form: str, data: bytes) -> str:
    name = f"{part}.{hashlib.sha256(data).hexdigest()[:10]}.{form}"
    (out / name).write_bytes(data)
    return name
