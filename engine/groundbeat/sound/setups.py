"""Which kits are there? The same drums and cymbals three times: tuned, damped and set up in three rooms.

A setup never has models of its own. It says how high the drums are tuned, how long heads, wires and cymbals
may ring, how hard the sticks' tips are, and in which room all of it stands; every voice reads that from its
Strike. `gain` brings the kits to one loudness (sound.loudness measures it, the tests hold it), so that a
choice of kit is never a choice of volume. All values are our choice.
"""

from __future__ import annotations

from typing import NamedTuple


class Room(NamedTuple):
    """Reflections (seconds, gain), then a tail: its length, when it begins, and bands as noise.Band has them."""

    early: tuple[tuple[float, float], ...]
    seconds: float
    after: float
    bands: tuple[tuple[float, float, float, float], ...]
    walls: tuple[tuple[float, float], ...]  # what the walls leave of the reflections: (hertz, decibels)


class Setup(NamedTuple):
    """One kit; every number but `gain` (decibels) is a factor on what the models say."""

    name: str
    label: str
    about: str
    kick: float  # tuning
    snare: float
    toms: float
    heads: float  # how long heads and hoops ring
    wires: float
    metal: float  # how long cymbals ring
    shine: float  # weight of a cymbal's high modes: the power of frequency over 4 kHz by which they grow
    tips: float  # corner frequencies of every contact
    wet: float  # share of the room
    room: Room
    gain: float


CLOSE = Room(
    early=((0.0041, 0.5), (0.0067, -0.38), (0.0093, 0.3), (0.0131, 0.2), (0.0172, -0.14)),
    seconds=0.2,
    after=0.008,
    bands=(
        (260.0, -6.0, 0.15, 0.003),
        (600.0, -1.0, 0.19, 0.003),
        (1500.0, 0.0, 0.2, 0.003),
        (4000.0, -5.0, 0.16, 0.002),
        (9000.0, -13.0, 0.11, 0.002),
    ),
    walls=((150, -18), (400, 0), (5000, -3), (11000, -14)),
)
WOOD = Room(
    early=((0.0113, 0.42), (0.0171, -0.36), (0.0237, 0.33), (0.0311, 0.27), (0.0423, -0.24), (0.0557, 0.2)),
    seconds=0.55,
    after=0.019,
    bands=(
        (220.0, -1.0, 0.68, 0.012),
        (500.0, 0.0, 0.68, 0.01),
        (1200.0, -2.0, 0.58, 0.008),
        (3000.0, -11.0, 0.4, 0.006),
        (7500.0, -24.0, 0.25, 0.004),
    ),
    walls=((120, -12), (300, 0), (3000, -5), (9000, -20)),
)
BOARDS = Room(
    early=((0.0052, 0.5), (0.0083, -0.44), (0.0127, 0.42), (0.0179, 0.36), (0.0263, -0.3), (0.0371, 0.24)),
    seconds=0.45,
    after=0.012,
    bands=(
        (300.0, -9.0, 0.36, 0.004),
        (800.0, -3.0, 0.45, 0.004),
        (2200.0, 0.0, 0.5, 0.004),
        (5000.0, -1.0, 0.42, 0.003),
        (10500.0, -6.0, 0.28, 0.003),
    ),
    walls=((200, -18), (600, 0), (8000, -1), (14000, -9)),
)

DRY = Setup(
    "dry", "Dry room", "close and short, every stroke apart",
    kick=1.0, snare=1.0, toms=1.0, heads=1.0, wires=1.0, metal=1.0, shine=0.0, tips=1.0, wet=1.0, room=CLOSE, gain=-0.6,
)  # fmt: skip
HALL = Setup(
    "hall", "Wooden hall", "warm and low, the room rings along",
    kick=0.93, snare=0.92, toms=0.92, heads=1.14, wires=1.12, metal=1.0, shine=-0.28, tips=0.8, wet=2.2, room=WOOD,
    gain=-0.8,
)  # fmt: skip
STAGE = Setup(
    "stage", "Bright stage", "tuned high, hard and clear",
    kick=1.06, snare=1.13, toms=1.1, heads=0.9, wires=0.9, metal=0.96, shine=0.3, tips=1.3, wet=1.8, room=BOARDS,
    gain=-0.4,
)  # fmt: skip

SETUPS: dict[str, Setup] = {setup.name: setup for setup in (DRY, HALL, STAGE)}  # the first is the usual one


def address(setup: Setup) -> str:
    """Say where a kit's list lies below the folder of kits: the usual one's at the top."""
    return "kit.json" if setup is DRY else f"{setup.name}/kit.json"
