"""Short beats for the tests of playing, written as in a groove file."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from groundbeat.analysis.limbs import Playing, play
from groundbeat.analysis.player import read_player
from groundbeat.codec.groove_read import read_groove
from groundbeat.variation.stack import base_stage


@pytest.fixture(scope="session")
def played() -> Callable[..., Playing]:
    """Play the base beat of lines such as `snare = "x---"` at a tempo."""

    def play_lines(lines: str, tempo: float = 90, player: str = "", head: str = "") -> Playing:
        groove = read_groove(f'groundbeat = 1\ntitle = "Test"\ntempo = {tempo}\n{head}\n[base]\n{lines}\n')
        return play(groove, base_stage(groove), read_player(player))

    return play_lines


@pytest.fixture(scope="session")
def sticking() -> Callable[..., str]:
    """Who plays each stroke of a surface (of all, where none is named), in order: R L for hands, K H for feet."""

    def letters(playing: Playing, *surfaces: str) -> str:
        return "".join(
            "RLKH"[playing.limbs[stroke.id]] if stroke.id in playing.limbs else "."
            for stroke in playing.beat.strokes
            if not surfaces or stroke.surface in surfaces
        )

    return letters
