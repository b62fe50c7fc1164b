"""Which events the sequencer gives out, through tempo changes and swaps at any moment. Runs in Node, without sound."""

from __future__ import annotations

import json
import random
import subprocess
from collections import Counter
from typing import Any

import pytest

from groundbeat.site.tools import ROOT, node

from .timelines import QUARTER, event, timeline

BLOCK = 128

PROGRAM = """
import { lineOf } from "%(line)s";
import { Sequencer } from "%(sequencer)s";
import { readFileSync } from "node:fs";

const { timelines, bpm, changes, blocks, then } = JSON.parse(readFileSync(0, "utf8"));
// Every event has a surface of its own: what is struck says which event it was.
const lines = (tempo) => timelines.map((timeline, key) => lineOf(key, timeline, tempo, 44100, Number, 999));
const sequencer = new Sequencer();
const struck = [];
const note = new Float64Array(6);
let frame = 0;
const striker = { strike: (slot, surface, group, at) => struck.push([surface, at, frame]), choke() {} };
const entry = (all, [key, passes]) => ({ line: all[key], passes, tag: key });
const programme = (all, entries) => ({ then, entries: entries.map((one) => entry(all, one)) });
let now = lines(bpm);
sequencer.reserve(4096);
const places = [];
for (let block = 0; block < blocks; block++, frame += 128) {
  for (const change of changes.filter((one) => one.block === block)) {
    if (change.kind === "retime") {
      now = lines(change.bpm);
      sequencer.retime(now, frame);
    } else if (change.kind === "begin") sequencer.begin(programme(now, change.entries), frame + 4410);
    else sequencer.replace(programme(now, change.entries), change.kind, frame);
  }
  sequencer.run(frame, 128, striker);
  sequencer.describe(note, 0);
  places.push([...note, Number(sequencer.playing)]);
}
console.log(JSON.stringify({ struck, places }));
"""


def run(
    timelines: list[dict[str, Any]], bpm: float, changes: list[dict[str, Any]], blocks: int, then: str = "stay"
) -> Any:
    folder = ROOT / "web" / "audio"
    program = PROGRAM % {name: (folder / f"{name}.js").as_uri() for name in ("line", "sequencer")}
    asked = {"timelines": timelines, "bpm": bpm, "changes": changes, "blocks": blocks, "then": then}
    command = [node(), "--input-type=module", "-e", program]
    done = subprocess.run(command, input=json.dumps(asked), capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    return json.loads(done.stdout)


def row(first: int, spread: int = 30000) -> dict[str, Any]:
    """Return 32 strokes of surfaces `first`..., pushed and laid back by up to `spread` microseconds."""
    strokes = [event(k * QUARTER // 8, str(first + k), us=(-spread, 0, spread)[k % 3]) for k in range(32)]
    return timeline(strokes, clicks=[])


@pytest.mark.parametrize("seed", range(8))
def test_no_stroke_is_lost_or_doubled_by_tempo_changes(seed: int) -> None:
    chance = random.Random(seed)
    tempi = [
        {"block": b, "kind": "retime", "bpm": chance.randint(2000, 30000) / 100}
        for b in sorted(chance.sample(range(3000), 150))
    ]
    answer = run([row(0)], 104, [{"block": 0, "kind": "begin", "entries": [[0, 0]]}, *tempi], 4000)
    counted = Counter(surface for surface, _, _ in answer["struck"])
    ended = answer["places"][-1]
    whole = int(ended[3])  # passes before the current one
    # Each stroke came once in every finished pass; of the pass under way it has come or not. A pushed stroke may
    # have come early for the pass ahead, a laid back one may still be due.
    assert all(whole <= counted[k] + 1 and counted[k] <= whole + 2 for k in range(32))
    assert sum(counted.values()) == pytest.approx(32 * (whole + (4000 * BLOCK - ended[0]) / ended[1]), abs=8)
    frames = [at for _, at, _ in answer["struck"]]
    assert frames == sorted(frames)
    assert all(block <= at < block + BLOCK for _, at, block in answer["struck"])


def test_the_place_never_jumps_at_a_tempo_change() -> None:
    chance = random.Random(1)
    tempi = [{"block": b, "kind": "retime", "bpm": chance.randint(2000, 30000) / 100} for b in range(50, 3000, 37)]
    answer = run([row(0)], 104, [{"block": 0, "kind": "begin", "entries": [[0, 0]]}, *tempi], 3100)
    places = [
        pass_ + (frame * BLOCK - start) / frames for frame, (start, frames, _, pass_, *_) in enumerate(answer["places"])
    ]
    slowest, fastest = (BLOCK / (4 * 44100 * 60 / bpm) for bpm in (20, 300))
    steps = [b - a for a, b in zip(places, places[1:], strict=False)]
    half_a_frame = 0.5 / (4 * 44100 * 60 / 300)
    assert min(steps) >= slowest - half_a_frame
    assert max(steps) <= fastest + half_a_frame


@pytest.mark.parametrize("seed", range(4))
def test_swaps_at_the_loop_point_give_whole_passes(seed: int) -> None:
    chance = random.Random(seed)
    lines = [row(0), row(32), row(64)]
    swaps = [
        {"block": b, "kind": "loop", "entries": [[chance.randrange(3), 0]]}
        for b in sorted(chance.sample(range(6000), 30))
    ]
    answer = run(lines, 300, [{"block": 0, "kind": "begin", "entries": [[0, 0]]}, *swaps], 8000)
    counted = Counter(surface for surface, _, _ in answer["struck"])
    for first in (0, 32, 64):
        each = [counted[first + k] for k in range(32)]
        # The last pass is cut by the end of the run. Strokes within 30 ms of a loop point may differ more: a swap
        # may come after a grace has sounded.
        assert max(each[4:30]) - min(each[4:30]) <= 1
    starts = sorted({start for start, *_ in answer["places"]})
    loop = 4 * 44100 * 60 / 300
    assert all(b - a == pytest.approx(loop, abs=1e-6) for a, b in zip(starts, starts[1:], strict=False))


def test_a_swap_at_once_to_a_shorter_loop_stays_in_time() -> None:
    long = timeline([event(k * QUARTER, str(k)) for k in range(8)], clicks=[], loop=8 * QUARTER)
    short = timeline([event(k * QUARTER, str(10 + k)) for k in range(3)], clicks=[], loop=3 * QUARTER)
    beat = 44100 * 60 / 104
    at = int((4410 + 4.5 * beat) / BLOCK)
    changes = [{"block": 0, "kind": "begin", "entries": [[0, 0]]}, {"block": at, "kind": "now", "entries": [[1, 0]]}]
    answer = run([long, short], 104, changes, at + 1200)
    # Four and a half beats into the long loop are one and a half into the short one: its third beat is next.
    assert [surface for surface, _, _ in answer["struck"]] == [0, 1, 2, 3, 4, 12, 10, 11, 12, 10, 11]
    frames = [frame for _, frame, _ in answer["struck"]]
    assert frames == [int(4410 + k * beat + 0.5) for k in range(11)]


@pytest.mark.parametrize("seed", range(4))
def test_the_rounds_of_a_click_are_counted_on_over_swaps_and_tempo_changes(seed: int) -> None:
    chance = random.Random(seed)
    # Round r of three has r + 1 clicks; the stroke at the start of the bar tells which line plays.
    clicks = [{"at": (4 * r + k) * QUARTER, "us": 0, "strong": False} for r in range(3) for k in range(r + 1)]
    lines = [timeline([event(0, str(surface))], clicks=clicks, rounds=3) for surface in (0, 1)]
    changes = [
        {"block": b, "kind": chance.choice(["loop", "now"]), "entries": [[chance.randrange(2), 0]]}
        if chance.random() < 0.5
        else {"block": b, "kind": "retime", "bpm": chance.randint(10000, 30000) / 100}
        for b in sorted(chance.sample(range(100, 6000), 40))
    ]
    answer = run(lines, 300, [{"block": 0, "kind": "begin", "entries": [[0, 0]]}, *changes], 6100)
    told = "".join("c" if surface == 999 else "|" for surface, _, _ in answer["struck"])
    bars = [len(bar) for bar in told.split("|")[1:-1]]
    assert len(bars) > 10
    assert bars == [k % 3 + 1 for k in range(len(bars))]


def test_a_click_of_another_number_of_rounds_begins_with_its_first() -> None:
    beats = [{"at": k * QUARTER, "us": 0, "strong": False} for k in (0, 1, 2, 3)]
    lines = [timeline([event(0, "0")], clicks=beats, rounds=2), timeline([event(0, "1")], clicks=beats, rounds=3)]
    changes = [{"block": 0, "kind": "begin", "entries": [[0, 1]]}, {"block": 200, "kind": "loop", "entries": [[1, 0]]}]
    answer = run(lines, 300, changes, 1400)
    assert [surface for surface, _, _ in answer["struck"]] == [0, *[999] * 4, 1, *[999] * 4, 1, 1, 1, *[999] * 4]


def test_a_queue_that_is_over_stops_and_can_be_followed_by_another_plan() -> None:
    line = timeline([event(0, "0")], clicks=[], tempo=300)
    changes = [{"block": 0, "kind": "begin", "entries": [[0, 2]]}]
    answer = run([line], 300, changes, 1000, then="stop")
    assert [surface for surface, _, _ in answer["struck"]] == [0, 0]
    playing = [place[-1] for place in answer["places"]]
    assert sum(playing) == (4410 + 2 * 4 * 8820) // BLOCK
    more = {"block": 400, "kind": "loop", "entries": [[0, 1]]}
    answer = run([line], 300, [*changes, more], 1000, then="stop")
    assert len(answer["struck"]) == 3
