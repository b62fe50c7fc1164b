"""Can what drummers really played be played, by our rules?

Every bar of every performance beside this repository, as a loop at the tempo that it was played in. *Impossible* is
what no limb is left for: more than two hand surfaces, or two feet, at a place. *Beyond* is a step below its floor; it is
graded, so it is told with the tempo at which it becomes possible. Bars are taken to columns first, which moves
strokes; so the strokes as played are looked at too: more than two hand instruments or two feet within 10 ms.

Grace notes that find no hand are counted by themselves: what the import takes for a flam here is mostly one hand's
press, or a pad that triggers twice (two strokes on one pad within 25 ms while the other hand is elsewhere).

The kick of drummer 5 triggers twice by itself: a second stroke 50 to 70 ms after a kick with less than half its
velocity is left out.

    python3 engine bench real_playing
"""

from __future__ import annotations

import json
import sys
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import replace
from pathlib import Path
from typing import NamedTuple

from groundbeat.analysis.limbs import Playing, Step, play_beat
from groundbeat.analysis.tempo import fastest
from groundbeat.midi.bars import Bars
from groundbeat.midi.base_beat import BaseBeatError, base_beat
from groundbeat.midi.drums import find_drums
from groundbeat.midi.file import MidiFile
from groundbeat.midi.reader import read
from groundbeat.model.beat import Beat
from groundbeat.model.beat import base_beat as make_beat
from groundbeat.model.feel import Feel
from groundbeat.model.kit import BY_NAME
from groundbeat.model.roles import find_roles
from groundbeat.site.tools import ROOT

FOLDER = ROOT.parent / "shared" / "data" / "drum_midi"
KICK_KEYS = (35, 36)
WINDOW_MS = 10.0
CHUNK = 16  # bars read at once


class Bar(NamedTuple):
    """A bar of a performance as a beat of its own."""

    file: str
    number: int
    beat: Beat
    tempo: int


class Found(NamedTuple):
    """What is wrong in a bar: places with strokes that no limb is left for, or graces; steps beyond their floor."""

    bar: Bar
    moments: int
    impossible: int
    graces: int
    beyond: tuple[Step, ...]
    playing: Playing


def performance(path: Path) -> MidiFile:
    """Read a performance, without the double triggers of drummer 5's kick."""
    file = read(path.read_bytes())
    if not path.name.startswith("drummer5"):
        return file
    lines = Bars(file, 0)
    kept, last = [], None
    for note in file.notes:
        if note.key in KICK_KEYS:
            if last is not None:
                ms = lines.ms((note.tick - last.tick) * lines.file_tick, lines.us_at(note.tick))
                if 50 <= ms <= 70 and 2 * note.velocity < last.velocity:
                    continue
            last = note
        kept.append(note)
    return file._replace(notes=tuple(kept))


def bars(path: Path) -> Iterator[Bar]:
    """All bars of a performance that hold strokes."""
    file = performance(path)
    drums = find_drums(file)
    lines = Bars(file, drums.track)
    last = lines.bar_near(drums.hits[-1].tick * lines.file_tick, 1)
    for first in range(1, last + 1, CHUNK):
        try:
            yield from _split(path, first, base_beat(file, (first, min(first + CHUNK - 1, last))))
        except BaseBeatError:  # silence, or another time signature inside
            for bar in range(first, min(first + CHUNK, last + 1)):
                try:
                    yield from _split(path, bar, base_beat(file, (bar, bar)))
                except BaseBeatError:
                    continue


def _split(path: Path, first: int, found: object) -> Iterator[Bar]:
    beat, tempo = found.beat, found.tempo  # type: ignore[attr-defined]
    for bar in range(beat.bars):
        strokes = [
            replace(stroke, at=stroke.at % beat.meter.bar, id="")
            for stroke in beat.strokes
            if stroke.at // beat.meter.bar == bar
        ]
        if strokes:
            yield Bar(path.name, first + bar, make_beat(beat.meter, 1, beat.columns, strokes), tempo)


def judge(bar: Bar) -> Found:
    """Find who plays a bar, and what is impossible or beyond a floor in it."""
    beat = bar.beat
    playing = play_beat(beat, Feel(), find_roles(beat).riding, bar.tempo, beat.meter.tempo_unit[1])
    places = {what: {s.at for s, kind in playing.dropped if kind == what} for what in ("stroke", "grace")}
    return Found(
        bar, len({stroke.at for stroke in beat.strokes}), len(places["stroke"]), len(places["grace"] - places["stroke"]),
        tuple(step for step in playing.steps if not step.possible), playing,
    )  # fmt: skip


def crowded(path: Path) -> tuple[int, int]:
    """Moments as played, and those with more than two hand instruments or two feet within the window."""
    file = performance(path)
    drums = find_drums(file)
    lines = Bars(file, drums.track)
    hits = [(lines.ms(hit.tick * lines.file_tick, lines.us_at(hit.tick)), BY_NAME[hit.surface]) for hit in drums.hits]
    moments = too_many = 0
    index = 0
    while index < len(hits):
        end = index
        while end < len(hits) and hits[end][0] - hits[index][0] <= WINDOW_MS:
            end += 1
        by_limb = Counter(limb for limb, _ in {(row.limb, row.instrument) for _, row in hits[index:end]})
        moments += 1
        too_many += max(by_limb.values()) > 2
        index = end
    return moments, too_many


def told(files: Iterable[Path]) -> dict[str, object]:
    """Everything about these performances, as JSON holds it."""
    count = Counter[str]()
    about = Counter[str]()
    where: dict[str, Counter[str]] = {}
    possible_at = []
    for path in files:
        mine = where.setdefault(path.name, Counter())
        for found in map(judge, bars(path)):
            places = {step.after.at for step in found.beyond}
            new = Counter(
                bars=1, moments=found.moments, impossible=found.impossible, graces=found.graces, beyond=len(places),
                bars_beyond=bool(places), bars_impossible=bool(found.impossible),
            )  # fmt: skip
            count += new
            mine += new
            about.update(f"{'hand' if step.limb < 2 else 'foot'}, {step.about}" for step in found.beyond)
            if places and found.playing.possible:
                bpm = fastest(found.playing).bpm
                if bpm is not None:
                    possible_at.append(round(100 * bpm / (found.bar.tempo / 100)))
        raw, crowd = crowded(path)
        count += Counter(raw_moments=raw, raw_crowded=crowd)
    share = {
        f"{name} in 100 moments": round(100 * count[name] / count["moments"], 3)
        for name in ("impossible", "graces", "beyond")
    }
    share["crowded in 100 moments as played"] = round(100 * count["raw_crowded"] / count["raw_moments"], 3)
    possible_at.sort()
    becomes = {
        f"{part} in 100 of these bars possible at, percent of their tempo": possible_at[
            len(possible_at) * (100 - part) // 100
        ]
        for part in (90, 50, 10)
        if possible_at
    }
    worst = sorted(where.items(), key=lambda item: -item[1]["beyond"] / max(1, item[1]["moments"]))[:8]
    return {
        **dict(count), **share, "beyond, by what": dict(about.most_common()), **becomes,
        "most beyond": {name: f"{row['beyond']} of {row['moments']} moments" for name, row in worst},
    }  # fmt: skip


def main() -> None:
    """Print all figures as JSON."""
    if not FOLDER.is_dir():
        sys.exit("the real MIDI files are not beside this clone (../shared/data/drum_midi)")
    print(json.dumps({"real_playing": told(sorted(FOLDER.glob("*.mid")))}, indent=1))


if __name__ == "__main__":
    main()
