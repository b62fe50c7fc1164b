"""Dynamics: how loud are the strokes that are there: accents, ghosts, a swell, accents that move on?

In this order: the counted strokes take `to`, the other strokes of the target take `rest`, then the row of dynamics of
the strokes at `at` moves on by `shift` strokes, and what goes over the end comes in at the beginning. Where strokes
fall together each instrument moves on by itself. Only the dynamic of a stroke changes.

A swell goes evenly from ghost on the first of the counted strokes to accent on the last: of n strokes the i-th (from
0) gets step 3i/(n-1), rounded, half up; strokes that fall together get the same. A fade is its mirror image. One
stroke alone is given where it would arrive: accent or ghost. All this is our choice.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from ..lineage.ledger import Ledger
from ..model.beat import Beat, Stroke
from ..model.kit import DYNAMICS
from .counting import MOST, counted, counted_words, meant_words
from .kind import Kind, Word, chosen, strokes_of
from .scene import EVERYTHING, Scene
from .selection import ALL
from .setting import CHOICE, NUMBER, PLACES, TARGET, Setting

STAY = "as they are"
SWELL, FADE, LONG_SWELL, LONG_FADE = "swell", "fade", "long swell", "long fade"
TO = ("accent", "normal", "soft", "ghost", "louder", "softer", SWELL, FADE, LONG_SWELL, LONG_FADE, STAY)  # append only
REST = (STAY, "ghost", "soft", "normal")  # append only

SETTINGS = (
    Setting(
        "surface", 1, TARGET, EVERYTHING, label="what is meant", example="Such as snare, riding or backbeat voice."
    ),
    Setting(
        "at", 2, PLACES, ALL, label="which strokes", offer="only some of the strokes",
        example="Such as 2 4, e a, first backbeat, kick.",
    ),
    Setting("to", 3, CHOICE, "accent", words=TO, label="how loud"),
    Setting(
        "every", 4, NUMBER, "1", low=1, high=MOST, label="counted in", offer="only every third",
        example="A number from 1 to 16.",
    ),
    Setting(
        "start", 5, NUMBER, "1", needs="every", low=1, high=MOST, label="counted from",
        offer="counted from another stroke",
        example="A number from 1 to 16.",
    ),
    Setting("rest", 6, CHOICE, STAY, words=REST, label="the other strokes", offer="the others quieter"),
    Setting(
        "shift", 7, NUMBER, "0", low=0, high=31, label="how many strokes on", offer="move the dynamics on",
        example="A number from 0 to 31.",
    ),
)  # fmt: skip


def apply(scene: Scene, settings: dict[str, Any], ledger: Ledger) -> None:
    """Give the strokes their new dynamics."""
    line = strokes_of(settings["surface"], scene, ledger)
    row = chosen(settings["surface"], settings["at"], scene, ledger)
    picked = counted(row, settings, scene, ledger)
    if not picked:
        return
    new = {stroke.id: stroke.dynamic if settings["rest"] == STAY else settings["rest"] for stroke in line}
    new |= _given(settings["to"], picked, scene.beat)
    if settings["shift"] != "0":
        _move_on(row, new, int(settings["shift"]), ledger)
    if all(stroke.dynamic == new[stroke.id] for stroke in line):
        ledger.say("nothing changes: these strokes are that loud already")
    for stroke in line:
        ledger.alter(stroke, dynamic=new[stroke.id])


def _given(to: str, picked: Sequence[Stroke], beat: Beat) -> dict[str, str]:
    """The new dynamics of the counted strokes, by id."""
    if to == STAY:
        return {stroke.id: stroke.dynamic for stroke in picked}
    if to in DYNAMICS:
        return {stroke.id: to for stroke in picked}
    if to in ("louder", "softer"):
        step = 1 if to == "louder" else -1
        return {stroke.id: DYNAMICS[min(max(stroke.level + step, 0), len(DYNAMICS) - 1)] for stroke in picked}
    spans: dict[int, list[int]] = {}
    for at in sorted({stroke.at for stroke in picked}):
        spans.setdefault(beat.bar_of(at) if to in (SWELL, FADE) else 0, []).append(at)
    loud = {at: level for row in spans.values() for at, level in zip(row, _slope(to, len(row)), strict=True)}
    return {stroke.id: DYNAMICS[loud[stroke.at]] for stroke in picked}


def _slope(to: str, count: int) -> list[int]:
    """Steps from ghost (0) to accent (3) over so many strokes, or back down."""
    up = to in (SWELL, LONG_SWELL)
    top = len(DYNAMICS) - 1
    if count == 1:
        return [top if up else 0]
    gaps = count - 1
    rising = [(2 * top * index + gaps) // (2 * gaps) for index in range(count)]
    return rising if up else rising[::-1]


def _move_on(row: Sequence[Stroke], new: dict[str, str], by: int, ledger: Ledger) -> None:
    """Let the dynamics of a row of strokes go round by so many strokes."""
    lines: dict[str, list[Stroke]] = {"": list(row)}
    if len({stroke.at for stroke in row}) < len(row):
        ledger.say("strokes fall together: the dynamics of each line move on by themselves")
        lines = {}
        for stroke in row:
            lines.setdefault(stroke.instrument, []).append(stroke)
    for line in lines.values():
        old = [new[stroke.id] for stroke in line]
        for index, stroke in enumerate(line):
            new[stroke.id] = old[(index - by) % len(line)]


_SAID = {
    "accent": ("Accent", ""),
    "ghost": ("Ghost", ""),
    "normal": ("Play", "plainly"),
    "soft": ("Play", "softly"),
    "louder": ("Play", "one step louder"),
    "softer": ("Play", "one step softer"),
    SWELL: ("Let", "swell from ghost to accent in each bar"),
    FADE: ("Let", "fade from accent to ghost in each bar"),
    LONG_SWELL: ("Let", "swell from ghost to accent over the whole loop"),
    LONG_FADE: ("Let", "fade from accent to ghost over the whole loop"),
    STAY: ("Leave", "unchanged"),
}
_REST = {"ghost": "the others ghosted", "soft": "the others soft", "normal": "the others plain"}


def sentence(settings: dict[str, Any]) -> tuple[Word, ...]:
    """Say it: "Accent every third stroke of the riding hand, from the second on, the others soft."."""
    shift = int(settings["shift"])
    strokes = "one stroke" if shift == 1 else f"{shift} strokes"
    plain = (settings["to"], settings["every"], settings["start"], settings["rest"]) == (STAY, "1", "1", STAY)
    if plain and shift:
        return (
            Word("Move the dynamics", "to"),
            Word(" of "),
            *meant_words(settings),
            Word(" on by "),
            Word(strokes, "shift"),
            Word("."),
        )
    before, after = _SAID[settings["to"]]
    words = [Word(before, "" if after else "to"), Word(" "), *meant_words(settings)]
    if after:
        words += [Word(" "), Word(after, "to")]
    words += counted_words(settings)
    if settings["rest"] != STAY:
        words += [Word(", "), Word(_REST[settings["rest"]], "rest")]
    if shift:
        words += [Word(", then move the dynamics on by "), Word(strokes, "shift")]
    return (*words, Word("."))


KIND = Kind(
    "dynamics", "Dynamics", SETTINGS, apply, sentence, {"surface": "riding", "every": "3"}, family="How it is struck"
)
