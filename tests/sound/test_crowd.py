"""Which stroke goes when more ring than a player can carry: as the rule says it, whatever is kept to answer quickly."""

from __future__ import annotations

import random

import numpy as np

from groundbeat.sound.crowd import BLOCK, SOUNDING, Crowd, Ringing


def by_the_rule(rows: list[Ringing], frame: int) -> int | None:
    """Look at every sample of every stroke."""
    block = frame - frame % BLOCK
    heard = []
    for row in rows:
        if row.frame >= block:
            level = np.inf if row.gain else 0.0
        else:
            here = row.samples[max(0, block - BLOCK - row.frame) : block - row.frame].astype(np.float64) * row.gain
            level = float(np.abs(here).max()) if row.frame + len(row.samples) > block else 0.0
        if level:
            heard.append((level, row.frame, row.number))
    return min(heard)[2] if len(heard) >= SOUNDING else None


def test_the_quietest_of_the_block_before_goes_of_equal_ones_the_oldest():
    chance = random.Random(7)
    noise = np.random.default_rng(7)
    voices = [
        noise.standard_normal(n).astype(np.float32) * np.linspace(1, 0, n, dtype=np.float32) for n in (90, 700, 9000)
    ]
    voices.append(np.zeros(5000, np.float32))
    voices.append(np.concatenate([np.zeros(300, np.float32), voices[1]]))
    crowd, rows, gone, frame = Crowd(), [], 0, 0
    for number in range(4000):
        frame += chance.choice((0, 0, 3, 40, 200))
        goes = crowd.quietest(frame)
        assert (goes and goes.number) == by_the_rule(rows, frame)
        if goes:
            gone += 1
        elif chance.random() < 0.02 and crowd.rings(frame):
            goes = chance.choice(crowd.rings(frame))
        if goes:
            crowd.remove(goes)
            rows.remove(goes)
        gain = chance.choice((0.0, 0.25, 0.5, 1.0, 1.0))
        row = Ringing(number, frame, "ride", chance.choices(voices, (1, 2, 9, 1, 2))[0], gain)
        crowd.add(row)
        rows = [one for one in rows if one.frame + len(one.samples) > frame - BLOCK] + [row]
    assert gone > 100
