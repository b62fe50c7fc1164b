"""What is asked of players in beats that people played, part by part?

Of each of the 48 performances one bar is taken: of sixteen bars spread over the take the one that is most like all the
others (the largest share of strokes that two bars have in common). Prints, for each part of the demand, the performances from the
least to the most, with value and text; then the middle of the raw figures that the scales of the parts hang on.

    python3 engine bench demand_real
"""

from __future__ import annotations

import json
import statistics
from pathlib import Path

from groundbeat.analysis.demand import PARTS, Part, demand
from groundbeat.analysis.independence import independence
from groundbeat.analysis.levels import levels
from groundbeat.analysis.limbs import Playing, play
from groundbeat.analysis.travel import travel
from groundbeat.midi.base_beat import BaseBeatError, Import, base_beat
from groundbeat.midi.file import MidiFile
from groundbeat.midi.reader import read
from groundbeat.model.groove import Groove
from groundbeat.site.tools import ROOT
from groundbeat.variation.stack import grow

FOLDER = ROOT.parent / "shared" / "data" / "drum_midi"
SAMPLE = 16  # bars a performance


def last_bar(file: MidiFile) -> int:
    """The number of the last bar that has strokes."""
    low, high = 1, 1
    while _has(file, high * 2):
        low, high = high * 2, high * 2
    high *= 2
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (middle, high) if _has(file, middle) else (low, middle)
    return low


def _has(file: MidiFile, bar: int) -> bool:
    try:
        base_beat(file, (bar, bar))
    except BaseBeatError as error:
        return "has no stroke" in str(error) or "no strokes" in str(error)
    return True


def typical(file: MidiFile) -> int:
    """The number of the bar that is most like the others of a sample; of equal ones the first."""
    last = last_bar(file)
    bars = sorted({1 + (last - 1) * step // (SAMPLE - 1) for step in range(SAMPLE)})
    rows: dict[int, set[tuple[int, str]]] = {}
    for bar in bars:
        try:
            rows[bar] = {(stroke.at, stroke.surface) for stroke in base_beat(file, (bar, bar)).beat.strokes}
        except BaseBeatError:  # a silent bar
            continue
    alike = {bar: sum(len(row & other) / len(row | other) for other in rows.values()) for bar, row in rows.items()}
    return max(rows, key=lambda bar: (round(alike[bar], 9), -bar))


def asked(found: Import) -> tuple[Playing, tuple[Part, ...]]:
    """How a bar is played at its own tempo, and what that asks."""
    groove = Groove(base=found.beat, tempo=found.tempo)
    stages = grow(groove)
    playing = play(groove, stages[0])
    return playing, demand(groove, stages, 0, playing)


def name_of(path: Path) -> str:
    """The name of a performance without what all have: "1 jazz-fast 290"."""
    drummer, _, number, style, bpm, *rest = path.stem.removeprefix("drummer").split("_")
    return f"{drummer}/{number} {style} {bpm} {rest[-1]}{' fill' if 'fill' in rest else ''}"


def main() -> None:
    """Print the rankings as JSON."""
    rows: dict[str, tuple[Part, ...]] = {}
    bars: dict[str, int] = {}
    raw: dict[str, list[float]] = {"strokes a second": [], "independence": [], "dynamics": [], "reach": []}
    for path in sorted(FOLDER.glob("*.mid")):
        file = read(path.read_bytes())
        bar = typical(file)
        playing, parts = asked(base_beat(file, (bar, bar)))
        rows[name_of(path)], bars[path.stem] = parts, bar
        raw["independence"].append(independence(playing).points)
        raw["dynamics"].append(levels(playing).steps)
        raw["reach"].append(travel(playing).rate or 0.0)
        raw["strokes a second"].append(len(playing.beat.strokes) * 1000 / (playing.beat.cycle * playing.ms))
    ranking = {
        part: [
            f"{row[index].value:3} {name}: {row[index].text}"
            for name, row in sorted(rows.items(), key=lambda item, index=index: (item[1][index].value, item[0]))
        ]
        for index, part in enumerate(PARTS[:-1])
    }
    middle = {name: round(statistics.median(values), 2) for name, values in raw.items()}
    print(json.dumps({"demand_real": {"bars": bars, "ranking": ranking, "middle": middle}}, indent=1))


if __name__ == "__main__":
    main()
