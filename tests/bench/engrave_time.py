"""How long does a bar take to be spelled, engraved and written as SVG, and how large is it?

Slack Tide's last stage, four bars of sixteenths on five surfaces, and sixteen bars of thirty-seconds with small notes,
each with sticking letters and counts. Each round clears what the spelling and the layout of columns remember, so
that only what comes twice in one beat is answered from memory. The reference is one pass of json.loads and json.dumps over the marks of Slack Tide's drawing as lists, in the
same process; ratios are against it. Medians of
processor time, so that what else runs on the machine counts little; milliseconds a bar.

    python3 engine bench engrave_time
"""

from __future__ import annotations

import json
import statistics
import time
from collections.abc import Callable

from groundbeat.codec.groove_read import read_groove
from groundbeat.model.beat import Beat, Stroke, base_beat
from groundbeat.model.meter import Meter
from groundbeat.notation import columns, signs
from groundbeat.notation.engrave import engrave
from groundbeat.notation.spelling import spell
from groundbeat.site.tools import ROOT
from groundbeat.variation.stack import grow

ROUNDS = 25


def four_bars() -> Beat:
    """Sixteenths on five surfaces, with ghosts and accents."""
    strokes = []
    for at in range(0, 4 * 40320, 2520):
        part = at // 2520
        strokes.append(Stroke(at, "hi-hat", "accent" if part % 4 == 0 else "normal"))
        if part % 8 == 4 or part % 3 == 1:
            strokes.append(Stroke(at, "snare", "accent" if part % 8 == 4 else "ghost"))
        if part % 8 == 0 or part % 5 == 3:
            strokes.append(Stroke(at, "kick"))
        if part % 8 == 4:
            strokes.append(Stroke(at, "hi-hat foot"))
        if part % 16 == 15:
            strokes.append(Stroke(at, "floor tom", "normal", "flam"))
    return base_beat(Meter.of("4/4"), 4, "sixteenths", strokes)


def sixteen_bars() -> Beat:
    """Thirty-seconds all through, a flam every ninth."""
    strokes = [
        Stroke(at, ("snare", "high tom", "floor tom")[at // 1260 % 3], "normal", "flam" if at // 1260 % 9 == 0 else "")
        for at in range(0, 16 * 40320, 1260)
    ]
    strokes += [Stroke(at, "kick") for at in range(0, 16 * 40320, 5040)]
    return base_beat(Meter.of("4/4"), 16, "thirty-seconds", strokes)


def median(work: Callable[[], object]) -> float:
    """Milliseconds of one run of `work`."""
    times = []
    for _ in range(ROUNDS):
        signs.signs.cache_clear()
        columns.forget()
        start = time.process_time()
        work()
        times.append((time.process_time() - start) * 1000)
    return statistics.median(times)


def measure(beat: Beat) -> dict[str, float]:
    """Milliseconds and bytes a bar."""
    letters = {stroke.id: "RL"[place % 2] for place, stroke in enumerate(beat.strokes)}
    score = spell(beat)
    drawing = engrave(score, sticking=letters, counts=True)
    spelled = median(lambda: spell(beat))
    engraved = median(lambda: engrave(score, sticking=letters, counts=True))
    written = median(drawing.svg)
    return {
        "spell_ms": round(spelled / beat.bars, 3),
        "engrave_ms": round(engraved / beat.bars, 3),
        "svg_ms": round(written / beat.bars, 3),
        "bar_ms": round((spelled + engraved + written) / beat.bars, 3),
        "bar_kb": round(len(drawing.svg()) / 1024 / beat.bars, 1),
    }


def main() -> None:
    """Print what was measured as JSON."""
    tide = grow(read_groove((ROOT / "examples" / "slack-tide.toml").read_text()))[-1].beat
    told = json.dumps([[mark.kind, mark.box] for mark in engrave(spell(tide)).marks()])
    reference = median(lambda: json.dumps(json.loads(told)))
    found = {"slack tide": measure(tide), "four bars": measure(four_bars()), "sixteen bars": measure(sixteen_bars())}
    for row in found.values():
        row["against_reference"] = round(row["bar_ms"] / reference, 1)
    print(json.dumps({"reference_ms": round(reference, 3), "limit_ms": 1.5, **found}, indent=2))


if __name__ == "__main__":
    main()
