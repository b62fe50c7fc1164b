"""A file that the page writes has the same bytes as the desk's, for any beat and setting. Runs in Node, without sound.

The voices are noise made here, and are handed to the page's program as if they had been decoded.
"""

from __future__ import annotations

import base64
import json
import subprocess
from typing import Any

import numpy as np
import pytest

from groundbeat.codec.groove_read import read_groove
from groundbeat.model.kit import BY_NAME, DYNAMICS
from groundbeat.site.tools import ROOT, node
from groundbeat.sound import file, render, stage
from groundbeat.sound.mix import render as mixed
from groundbeat.sound.peak import lowered
from groundbeat.sound.place import pan
from groundbeat.timeline.unroll import Timeline, unroll
from groundbeat.variation.stack import grow

RATE = 44100

PROGRAM = """
import { readFileSync } from "node:fs";

const { manifest, voices, parts, bpm, heard } = JSON.parse(readFileSync(0, "utf8"));
const bytes = Buffer.from(voices, "base64");
const samples = new Float32Array(bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.length));
globalThis.document = { baseURI: "http://localhost/", createElement: () => ({ canPlayType: () => "probably" }) };
globalThis.fetch = async () => ({ ok: true, json: async () => manifest, arrayBuffer: async () => new ArrayBuffer(1) });
globalThis.OfflineAudioContext = class {
  sampleRate = 44100;
  async decodeAudioData() { return { getChannelData: () => samples }; }
};
const { writeSound } = await import("%(writing)s");
const made = await writeSound("kit.json", parts, bpm, heard);
const wav = Buffer.from(await made.wav.arrayBuffer()).toString("base64");
console.log(JSON.stringify({ wav, quieter: made.quieter, seconds: made.seconds }));
"""


def noise(loudness: float) -> tuple[dict[stage.Voice, np.ndarray], dict[str, Any], np.ndarray]:
    """Every voice of the kit as decaying noise of its own length; the list of them, and all of them in a row."""
    rng = np.random.default_rng(11)
    names = [
        (surface, dynamic, alternate)
        for surface, row in render.VOICES.items()
        for dynamic in DYNAMICS
        for alternate in range(row.alternates)
    ]
    voices: dict[stage.Voice, np.ndarray] = {}
    pieces = {}
    at = 0
    for name in [*names, (stage.CLICK, stage.STRONG, 0), (stage.CLICK, stage.WEAK, 0)]:
        frames = int(rng.integers(2000, 15000))
        wave = rng.uniform(-loudness, loudness, frames) * np.linspace(1, 0, frames) ** 2
        voices[name] = wave.astype(np.float32)
        pieces[name] = {"part": "all", "start": at, "frames": frames}
        at += frames
    manifest = {
        "kit": "noise", "rate": RATE, "parts": {"all": {"ogg": "all.ogg", "mp3": "all.mp3"}},
        "voices": [
            {"surface": surface, "dynamic": dynamic, "alternate": alternate, **pieces[surface, dynamic, alternate]}
            for surface, dynamic, alternate in names
        ],
        "surfaces": {name: {"pan": pan(name), "chokes": BY_NAME[name].choke} for name in render.VOICES},
        "clicks": {"strong": pieces[stage.CLICK, stage.STRONG, 0], "weak": pieces[stage.CLICK, stage.WEAK, 0]},
    }  # fmt: skip
    return voices, manifest, np.concatenate(list(voices.values()))


def told(line: Timeline, unit: int) -> dict[str, Any]:
    """A timeline as the page has it."""
    return {
        "stage": 0, "loop": line.loop, "parts": line.parts, "tempo": 100, "tempo_unit_ticks": unit,
        "events": [event._asdict() for event in line.events],
        "rounds": line.rounds,
        "clicks": [{"at": click.at, "us": 0, "strong": click.strong, "quiet": click.quiet} for click in line.clicks],
    }  # fmt: skip


@pytest.mark.parametrize(
    ("name", "number", "rounds", "tempo", "heard", "loudness", "loose"),
    [
        ("slack-tide.toml", 4, 3, 9200, stage.Heard(click=1.0), 0.05, 0),
        ("slack-tide.toml", 3, 2, 7333, stage.Heard(mix=0.3), 0.05, 40),
        ("lantern-walk.toml", -1, 1, 11150, stage.Heard(mix=0.85, click=1.0), 0.3, 0),
        ("kinds/embellish.toml", -1, 2, 30000, stage.Heard(only_added=True), 0.1, 100),
        ("kinds/feel.toml", -1, 2, 8417, stage.Heard(), 0.6, 0),
        ("beats/11-tide-in-six.toml", 0, 3, 15001, stage.Heard(click=1.0), 0.9, 0),
        ("", 0, 9, 19999, stage.Heard(), 0.1, 40),
    ],
)
def test_page_and_desk_write_the_same_bytes(
    name: str, number: int, rounds: int, tempo: int, heard: stage.Heard, loudness: float, loose: int
):
    same_bytes(name, number, rounds, tempo, heard, loudness, loose=loose)


@pytest.mark.parametrize("part", ["", "left hand", "added here"])
def test_they_do_so_for_stages_one_after_the_other_and_for_a_part_of_them(part: str):
    same_bytes("slack-tide.toml", 2, 3, 9050, stage.Heard(mix=0.6, click=0.5), 0.05, part=part, through=(0, 1, 2, 1, 0))


def same_bytes(
    name: str, number: int, rounds: int, tempo: int, heard: stage.Heard, loudness: float, *, part: str = "",
    through: tuple[int, ...] = (), loose: int = 0,
) -> None:  # fmt: skip
    groove = read_groove((ROOT / "examples" / name).read_text(encoding="utf-8") if name else GRACES)
    stages = grow(groove)
    kind = "shrinking" if rounds > 2 else "sixteenths"
    lines = [
        unroll(
            groove,
            stages,
            one % len(stages),
            clicks=kind,
            bars_before=0 if loose else 1,
            part=part,
            loose=loose,
        )
        for one in through or (number,)
    ]
    assert bool(loose) == any(event.gain for line in lines for event in line.events)
    unit = groove.base.meter.tempo_unit[1]
    voices, manifest, row = noise(loudness)
    parts = [*stage.count_in(lines[0]), *(stage.Part(line, rounds) for line in lines)]
    laid = stage.lay(parts, tempo, unit, heard)
    samples, quieter = lowered(mixed(laid.hits, voices, RATE))
    numbers = file.whole(samples, stage.nearest(laid.ends[-1]))
    asked = {
        "manifest": manifest, "voices": base64.b64encode(row.tobytes()).decode(), "bpm": tempo / 100,
        "parts": [{"timeline": told(one.timeline, unit) | {"counting": one.counts}, "passes": one.passes} for one in parts],
        "heard": {"mix": heard.mix, "onlyAdded": heard.only_added, "click": heard.click},
    }  # fmt: skip
    program = PROGRAM % {"writing": (ROOT / "web/audio/writing.js").as_uri()}
    command = [node(), "--input-type=module", "-e", program]
    done = subprocess.run(command, input=json.dumps(asked), capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    made = json.loads(done.stdout)
    assert (made["quieter"], made["seconds"]) == (quieter, len(numbers) / RATE)
    assert (quieter > 0) == (loudness > 0.5)  # both ways are tried
    assert np.abs(numbers).max() > file.FULL / 100
    assert base64.b64decode(made["wav"]) == file.wav(numbers, RATE)


GRACES = """groundbeat = 1
title = "Graces"
meter = "4/4"
columns = "sixteenths"
tempo = 90

[base]
crash = "x-------x-------"
open hi-hat = "--x---x---x---x-"
hi-hat = "x---x---x---x---"
snare = "----O-------O--g"
kick = "o-------o-------"
snare graces = "----1-------2---"
crash graces = "--------#-------"
open hi-hat graces = "------z---/-----"
"""
