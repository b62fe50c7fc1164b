"""What should be heard? The sound worked out anew, in NumPy and exact fractions, from the timelines alone.

Shares nothing with the page's code: frames by Fraction, a mix of whole samples in float64, fades as the page
promises them. `compare` names the strokes that a recording has in another place.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Any

import numpy as np
from numpy.typing import NDArray

RATE = 44100
CHOKE = round(0.020 * RATE)  # frames
STOP = round(0.015 * RATE)
DYNAMICS = ("ghost", "soft", "normal", "accent")
LAYERS = ("base", "stage", "both")
QUIET = 0.4  # gain of a quiet click
TOLERANCE = 1e-6  # of full scale 1; float32 rounding of a loud mix is 6e-8

Timeline = dict[str, Any]


@dataclass(frozen=True, slots=True)
class Kit:
    """Samples by slot and alternate, pans as gains, choke groups, all by surface number; the click comes last."""

    names: tuple[str, ...]
    samples: dict[tuple[int, int], NDArray[np.float64]]
    alternates: dict[int, int]
    pans: tuple[tuple[float, float], ...]
    chokes: tuple[str, ...]

    @classmethod
    def read(cls, manifest: dict[str, Any], listed: list[dict[str, int]], row: NDArray[np.float32]) -> Kit:
        """Take the manifest, and the samples as a browser has decoded and cut them."""
        samples, alternates = {}, defaultdict(int)
        for piece in listed:
            cut = row[piece["start"] : piece["start"] + piece["frames"]]
            samples[piece["slot"], piece["alternate"]] = cut.astype(np.float64)
            alternates[piece["slot"]] += 1
        surfaces = [*manifest["surfaces"].values(), {"pan": 0.0, "chokes": ""}]
        turns = [(surface["pan"] + 1) * math.pi / 4 for surface in surfaces]
        pans = tuple((float(np.float32(math.cos(t))), float(np.float32(math.sin(t)))) for t in turns)
        chokes = tuple(surface["chokes"] for surface in surfaces)
        return cls((*manifest["surfaces"], "click"), samples, dict(alternates), pans, chokes)


@dataclass(frozen=True, slots=True)
class Sound:
    """One event on its frame."""

    frame: int
    surface: int
    dynamic: int
    layer: str
    added: bool
    stop: bool
    where: str
    shift: int = 0
    level: float = 1.0


def pace(timeline: Timeline, bpm: float) -> Fraction:
    """Return frames in 1/parts tick."""
    beat = Fraction(str(bpm)) * timeline["tempo_unit_ticks"] * timeline["parts"]
    return Fraction(RATE * 60) / beat


def half_up(x: Fraction) -> int:
    return math.floor(x + Fraction(1, 2))


def sounds_of(kit: Kit, timeline: Timeline, bpm: float, start: Fraction, number: int) -> list[Sound]:
    """Return the events of round `number`, which starts at `start`, in the order of sounding."""
    frames = pace(timeline, bpm)
    row = []
    for event in timeline["events"]:
        surface, dynamic = kit.names.index(event["surface"]), DYNAMICS.index(event["dynamic"])
        where = f"{event['surface']} {event['dynamic']} at {event['at']}, pass {number}"
        row.append((event, surface, dynamic, event["layer"], event["added"], event["stop"], where))
    for click in timeline["clicks"]:
        turn, at = divmod(click["at"], timeline["loop"])
        if turn != number % timeline.get("rounds", 1):
            continue
        where = f"click at {at}, pass {number}"
        layer, level = "count" if timeline.get("counting") else "click", QUIET if click.get("quiet") else 1.0
        row.append((click | {"at": at}, len(kit.names) - 1, 3 * click["strong"], layer, False, False, where, 0, level))
    placed = []
    for order, (event, *rest) in enumerate(row):
        offset = half_up(Fraction(event["us"] * RATE, 10**6))
        exact = start + event["at"] * frames
        placed.append((exact + offset, order, Sound(half_up(exact) + offset, *rest)))
    return [sound for _, _, sound in sorted(placed, key=lambda item: item[:2])]


def passes(kit: Kit, timeline: Timeline, bpm: float, start: Fraction, count: int) -> list[Sound]:
    """Return `count` passes in a row."""
    loop = timeline["loop"] * pace(timeline, bpm)
    row = [sound for p in range(count) for sound in sounds_of(kit, timeline, bpm, start + p * loop, p)]
    return sorted(row, key=lambda sound: sound.frame)


@dataclass(frozen=True, slots=True)
class Placed:
    """A stroke in the mix: its sound, its sample with all fades and gains, and its pan."""

    sound: Sound
    wave: NDArray[np.float64]
    pan: tuple[float, float]


def place(
    kit: Kit,
    sounds: Iterable[Sound],
    gains: Mapping[str, float],
    stop: int | None = None,
    before: Mapping[int, int] | None = None,
) -> list[Placed]:
    """Turn events into samples: alternates in turn, chokes and the stop as fades.

    `stop`: frame of a stop. `before`: how many strokes each slot has had already.
    """
    turns: dict[int, int] = defaultdict(int, before or {})
    struck: list[tuple[Sound, NDArray[np.float64], float]] = []
    fades: dict[int, int] = {}
    for sound in sounds:
        gain = gains.get(sound.layer, 1.0) * sound.level
        if sound.layer not in ("click", "count"):
            gain *= gains.get(kit.names[sound.surface], 1.0)
        group = kit.chokes[sound.surface]
        if gain > 0 and (group or sound.stop):
            for k, (other, _, _) in enumerate(struck):
                same = other.surface == sound.surface or (group and kit.chokes[other.surface] == group)
                if same and other.frame < sound.frame:
                    fades.setdefault(k, sound.frame)
        if sound.stop:
            continue
        slot = sound.surface * 4 + sound.dynamic
        wave = kit.samples[slot, turns[slot] % kit.alternates[slot]]
        turns[slot] += 1
        struck.append((sound, wave, gain))
    return [
        Placed(sound, gain * faded(wave, sound.frame, fades.get(k), stop), kit.pans[sound.surface])
        for k, (sound, wave, gain) in enumerate(struck)
    ]


def faded(wave: NDArray[np.float64], frame: int, choke: int | None, stop: int | None) -> NDArray[np.float64]:
    """Fade a wave out from the frame of a choke or of a stop, whichever has begun first."""
    start, length = (choke, CHOKE) if choke is not None else (stop, STOP)
    if stop is not None and start is not None and stop < start:
        start, length = stop, STOP
    if start is None or start - frame >= len(wave):
        return wave
    held = max(0, start - frame)
    ramp = 1 - np.arange(length) / length
    tail = wave[held : held + length] * ramp[: len(wave) - held]
    return np.concatenate([wave[:held], tail])


def mix(placed: Iterable[Placed], start: int, frames: int) -> NDArray[np.float64]:
    """Add everything up, from frame `start`."""
    out = np.zeros((2, frames))
    for stroke in placed:
        at = stroke.sound.frame + stroke.sound.shift - start
        first, last = max(0, at), min(frames, at + len(stroke.wave))
        if first < last:
            for channel in (0, 1):
                out[channel, first:last] += stroke.wave[first - at : last - at] * stroke.pan[channel]
    return out


@dataclass(frozen=True, slots=True)
class Fault:
    """A stroke that sounds elsewhere: `late` frames, None where no shift explains it."""

    frame: int
    where: str
    late: int | None

    def __str__(self) -> str:
        how = "differs" if self.late is None else f"sounds {self.late:+d} frames off"
        return f"frame {self.frame}: {self.where} {how}"


def compare(recorded: NDArray[np.floating[Any]], placed: Sequence[Placed], start: int, most: int = 40) -> list[Fault]:
    """Compare sample by sample and name what is off, at most `most` strokes. `start`: frame of the first sample."""
    rest = np.asarray(recorded, dtype=np.float64) - mix(placed, start, recorded.shape[1])
    faults: list[Fault] = []
    done: set[int] = set()
    while len(faults) < most:
        off = np.flatnonzero(np.abs(rest).max(axis=0) > TOLERANCE)
        if off.size == 0:
            break
        frame = int(off[0]) + start
        best = _explain(rest, placed, start, frame, done)
        if best is None:
            last = max((p.sound for p in placed if p.sound.frame <= frame + 2), key=lambda s: s.frame, default=None)
            faults.append(Fault(frame, f"at or after {last.where}" if last else "before the first stroke", None))
            break
        k, late = best
        done.add(k)
        stroke = placed[k]
        faults.append(Fault(frame, stroke.sound.where, late))
        there = replace(stroke, sound=replace(stroke.sound, shift=stroke.sound.shift + late))
        rest += mix([stroke], start, rest.shape[1]) - mix([there], start, rest.shape[1])
    return faults


def _explain(
    rest: NDArray[np.float64], placed: Sequence[Placed], start: int, frame: int, done: set[int]
) -> tuple[int, int] | None:
    """Find the stroke, and by how much it must move, for the difference at `frame` to go away."""
    window = slice(max(0, frame - start - 8), frame - start + 200)
    here = rest[:, window]
    size = float((here**2).sum())
    best, left = None, 0.5 * size
    for k, stroke in enumerate(placed):
        if k in done or not -64 <= stroke.sound.frame - frame <= 64:
            continue
        was = mix([stroke], window.start + start, here.shape[1])
        for late in range(-16, 17):
            there = replace(stroke, sound=replace(stroke.sound, shift=stroke.sound.shift + late))
            now = mix([there], window.start + start, here.shape[1])
            size = float(((here + was - now) ** 2).sum())
            if late and size < left:
                best, left = (k, late), size
    return best
