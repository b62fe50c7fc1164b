"""How many times faster than it is heard does a groove become samples, on one core?

Grooves go through the same steps as for a file: when every stroke sounds (timeline), on which frame (lay), and the mix, with
voices that are rendered already (they are made once for a kit; told by themselves). Then the whole way to whole numbers with
the level measured (make), as a file has it. Times are those of this process alone on one core, so that a busy machine
counts little; the best of five. The reference is NumPy adding one array of as many samples to another, in the same run.

    python3 engine bench render_speed
"""

from __future__ import annotations

import json
import os
import time
from collections.abc import Callable
from typing import Any

import numpy as np

from groundbeat.codec.groove_read import read_groove
from groundbeat.model.groove import Groove
from groundbeat.site.tools import ROOT
from groundbeat.sound.mix import render
from groundbeat.sound.modes import RATE
from groundbeat.sound.stage import Heard, Part, Voice, lay, voices_for
from groundbeat.sound.takealong import Wish, make
from groundbeat.timeline.unroll import unroll
from groundbeat.variation.stack import add, grow

MINUTE = 60
RUNS = 5


def best(act: Callable[[], Any]) -> tuple[float, Any]:
    """Seconds of this process, the least of several runs, and what came out."""
    least, out = float("inf"), None
    for _ in range(RUNS):
        begun = time.process_time()
        out = act()
        least = min(least, time.process_time() - begun)
    return least, out


def figures(groove: Groove, number: int) -> dict[str, object]:
    """Render about a minute of a stage with a click."""
    stages = grow(groove)
    unit = groove.base.meter.tempo_unit[1]
    known: dict[Voice, Any] = {}
    loop = unroll(groove, stages, number)
    seconds = loop.loop / loop.parts / unit * 6000 / groove.tempo
    passes = max(1, round(MINUTE / seconds))
    seconds *= passes
    heard = Heard(click=1.0)

    def samples() -> Any:
        laid = lay([Part(unroll(groove, stages, number), passes)], groove.tempo, unit, heard)
        return laid, render(laid.hits, voices_for(laid.hits, known), RATE)

    begun = time.process_time()
    samples()
    first = time.process_time() - begun
    took, (laid, sound) = best(samples)
    wish = Wish(number, groove.tempo, passes, heard)
    filed, _ = best(lambda: make(groove, stages, wish, known))
    one, other = np.zeros_like(sound), np.ones_like(sound)

    def plain() -> None:
        np.add(one, other, out=one)

    reference, _ = best(plain)
    return {
        "seconds of sound": round(seconds, 1), "strokes": len(laid.hits),
        "to samples, ms": round(took * 1000, 1), "times real time": round(seconds / took),
        "to whole numbers for a file, times real time": round(seconds / filed),
        "the voices, made once, ms": round((first - took) * 1000),
        "adding one array to another, ms": round(reference * 1000, 2), "ratio": round(took / reference, 1),
    }  # fmt: skip


def main() -> None:
    """Print all figures as JSON."""
    if hasattr(os, "sched_setaffinity"):
        os.sched_setaffinity(0, {min(os.sched_getaffinity(0))})
    slack = read_groove((ROOT / "examples" / "slack-tide.toml").read_text())
    dense = read_groove(
        'groundbeat = 1\ntitle = "All thirty-seconds"\ncolumns = "thirty-seconds"\ntempo = 180\n[base]\n'
        + "".join(
            f'{name} = "{letter * 32}"\n'
            for name, letter in (("ride", "x"), ("crash", "x"), ("snare", "o"), ("floor-tom", "o"), ("kick", "o"))
        )
    )
    told = {
        "slack tide, last stage": figures(slack, 4),
        "slack tide, 16 bars": figures(add(slack, "length", {"bars": "16"}), 5),
        "five lines of thirty-seconds at 180": figures(dense, 0),
        "load": [round(load, 1) for load in os.getloadavg()],
    }
    print(json.dumps({"render_speed": told}, indent=1))


if __name__ == "__main__":
    main()
