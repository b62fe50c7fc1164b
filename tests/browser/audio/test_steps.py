"""Does a change while it plays click? The largest step from one frame to the next tells it.

Every change comes while cymbals ring and nothing is struck: what rings only dies away, so after the change no step may be
larger than just before it. Slow and fast drags of the tempo are compared frame by frame with what should be heard.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import Any

import numpy as np
import pytest
from numpy.typing import NDArray

from .reference import RATE, Kit, Sound, Timeline, half_up, pace, place, sounds_of
from .test_processor import LEAD, Render, all_of, faults, gains, play, render
from .timelines import event, rich, sevens, timeline

__all__ = ["render"]

AT = 30080  # frame of the change: a whole block, half a second after the strokes
AROUND = round(0.03 * RATE)  # the longest fade is 20 ms


def ringing(*surfaces: str) -> Timeline:
    """A bar that begins with accents on these surfaces, and then rings."""
    return timeline([event(0, surface, "accent", layer="stage") for surface in surfaces], clicks=[], tempo=60)


CYMBALS = ringing("crash", "ride", "open hi-hat")
TOMS = ringing("floor tom", "kick")
CHANGES: dict[str, list[dict[str, Any]]] = {
    "swap at once": [play((1, 0), kind="programme", at="now", frame=AT)],
    "swap at the loop point": [play((1, 0), kind="programme", at="loop", frame=AT)],
    "another tempo": [{"kind": "retime", "frame": AT, "bpm": 97.3}],
    "a drag of the tempo": [{"kind": "retime", "frame": AT + 256 * k, "bpm": 60 + 5 * k} for k in range(40)],
    "a line muted": [gains(crash=0.0) | {"frame": AT}],
    "all lines but one muted": [gains(crash=0.0, ride=0.0, click=0.0) | {"frame": AT}],
    "the slider to the base beat": [gains(stage=0.0) | {"frame": AT}],
    "the slider dragged": [gains(stage=1 - k / 40) | {"frame": AT + 256 * k} for k in range(41)],
    "only what was added": [gains(only=1) | {"frame": AT}],
    "muted and back within a fade": [
        gains(crash=0.0) | {"frame": AT},
        gains(crash=1.0) | {"frame": AT + 256},
        gains(crash=0.0) | {"frame": AT + 384},
    ],
    "another place of the click": [{"kind": "pan", "surface": -1, "pan": 1, "frame": AT}],
    "stop": [{"kind": "stop", "frame": AT}],
    "stop and stop": [{"kind": "stop", "frame": AT}, {"kind": "stop", "frame": AT + 256}],
    "play once more": [play((0, 0), frame=AT)],
}


def largest(sound: NDArray[np.float64], first: int, last: int) -> float:
    """The largest step between two frames of a stretch."""
    return float(np.abs(np.diff(sound[:, first - 1 : last])).max())


@pytest.mark.parametrize("change", CHANGES)
def test_no_change_makes_a_larger_step_than_what_rings(render: Render, change: str) -> None:
    recorded, _ = render([CYMBALS, TOMS], [play((0, 0)), *CHANGES[change]], AT + 4 * AROUND)
    before = largest(recorded, AT - AROUND, AT)
    assert before > 1e-4
    assert largest(recorded, AT, AT + AROUND) <= before


def test_a_cut_would_be_noticed(render: Render) -> None:
    recorded, _ = render([CYMBALS], [play((0, 0))], AT + 4 * AROUND)
    before = largest(recorded, AT - AROUND, AT)
    cut = next(k for k in range(AT, AT + AROUND) if np.abs(recorded[:, k]).max() > 0.6 * np.abs(recorded[:, AT:]).max())
    recorded[:, cut + 1 :] = 0
    assert largest(recorded, AT, AT + AROUND) > before


@pytest.mark.parametrize("bpm", [20, 300])
@pytest.mark.parametrize("make", [rich, sevens])
def test_the_slowest_and_the_fastest_are_on_their_frames_over_loop_points(
    render: Render, kit: Kit, make: Any, bpm: int
) -> None:
    line = make() | {"tempo": bpm}
    loop = line["loop"] * pace(line, bpm)
    until = LEAD + int((1 if bpm == 20 else 5) * loop) + RATE
    recorded, _ = render([line], [play((0, 0))], until)
    assert faults(recorded, kit, all_of(kit, line, LEAD, until)) == []


def dragged(kit: Kit, line: Timeline, drags: list[tuple[int, float]], until: int) -> Iterator[Sound]:
    """What sounds when the tempo changes again and again: every event of every pass once, none before its frame."""
    start, bpm, first = Fraction(LEAD), float(line["tempo"]), 0
    done: set[str] = set()
    for since, (to, faster) in zip([0, *(at for at, _ in drags)], [*drags, (until, 0.0)], strict=True):
        loop = line["loop"] * pace(line, bpm)
        for number in range(first, first + int((to - start) / loop) + 2):
            for sound in sounds_of(kit, line, bpm, start + (number - first) * loop, number):
                if sound.frame < to and sound.where not in done:
                    done.add(sound.where)
                    # Where a faster tempo puts it into the past it sounds at once.
                    yield sound if sound.frame >= since else Sound(since, *_rest(sound))
        if faster:
            over = (to - start) // loop
            share = (to - start - over * loop) / loop
            first += int(over)
            start, bpm = Fraction(half_up(to - share * line["loop"] * pace(line, faster))), faster


def _rest(sound: Sound) -> tuple[Any, ...]:
    return (sound.surface, sound.dynamic, sound.layer, sound.added, sound.stop, sound.where, sound.shift, sound.level)


def test_fast_drags_of_the_tempo_lose_and_double_no_stroke_and_click_nowhere(render: Render, kit: Kit) -> None:
    line, until = rich(), 6 * RATE
    # Sixty changes a second, as a pointer makes them: up to 300, down to 30, and back; hundredths, so that nothing
    # falls half way between two frames.
    path = [104 + 4 * k for k in range(49)] + [299 - 6 * k for k in range(45)] + [36 + 2 * k for k in range(60)]
    drags = [(20096 + 768 * k, round(bpm + (7 * k % 13 + 1) / 100, 2)) for k, bpm in enumerate(path)]
    recorded, _ = render(
        [line], [play((0, 0)), *({"kind": "retime", "frame": at, "bpm": bpm} for at, bpm in drags)], until
    )
    sounds = list(dragged(kit, line, drags, until))
    assert len(sounds) > 100
    assert faults(recorded, kit, sounds) == []
    whole = place(kit, sorted(sounds, key=lambda s: s.frame), {})
    alone = max(float(np.abs(np.diff(stroke.wave)).max()) for stroke in whole)
    assert largest(recorded, 1, until) <= 2 * alone  # two attacks may fall on one frame
