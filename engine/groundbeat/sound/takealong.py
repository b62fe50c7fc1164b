"""How does a stage become a sound to take along: one file of it, or a set with a file for every tempo of a plan?

A file is the stage so many rounds with click and count-in, and what rings at the end rings out. A seamless file is as
long as its rounds: what rings at its end lies at its beginning, so that a player that repeats it makes no gap.
A set is what a day of practice goes through when every pass is clean, from slow to the goal.
"""

from __future__ import annotations

import re
import unicodedata
import zipfile
from collections.abc import Sequence
from fractions import Fraction
from typing import IO, NamedTuple

import numpy as np
from numpy.typing import NDArray

from ..analysis import limbs
from ..analysis.limbs import Playing
from ..analysis.passes import CLEAN, ladder, rounds
from ..analysis.player import USUAL, Player
from ..analysis.practice import Plan, plan
from ..errors import RequestError
from ..model.groove import Groove
from ..timeline.clicks import BEATS
from ..timeline.hand import USUAL_SEED
from ..timeline.part import ADDED_HERE, ALL
from ..timeline.unroll import Timeline, unroll
from ..variation.stack import Stage
from . import file
from .mix import render
from .modes import RATE
from .peak import lowered
from .setups import DRY, Setup
from .stage import Heard, Part, Voice, count_in, frames_a_tick, lay, nearest, voices_for

MOST_SECONDS = 600  # of one file: 160 MB as WAV. Our choice
MOST_LOOPS = 1000
RINGING = 4.0  # seconds: longer than anything rings

Known = dict[Voice, NDArray[np.float32]]


class Wish(NamedTuple):
    """What is to be heard: stage, tempo in hundredths, rounds, what of it, bars of count-in, whether seamless, which
    click, and which kit; which part of it (timeline/part), who plays, and the stages that are played one after the
    other in place of `stage`, each so many rounds; how loosely it is played (timeline/hand), and by which hand."""

    stage: int
    tempo: int
    loops: int
    heard: Heard = Heard()
    count_in: int = 0
    seamless: bool = False
    clicks: str = BEATS
    setup: Setup = DRY
    part: str = ALL
    player: Player = USUAL
    through: tuple[int, ...] = ()
    loose: int = 0
    seed: int = USUAL_SEED


class Made(NamedTuple):
    """Whole numbers of 24 bit (frames x 2), and by how many decibels they were made quieter."""

    numbers: NDArray[np.int32]
    quieter: float


def make(groove: Groove, stages: Sequence[Stage], wish: Wish, known: Known | None = None) -> Made:
    """Make the sound of a stage; `known` are voices that are rendered already, and more are added.

    Raises RequestError for what cannot be, or would be too long, TimelineError for a stage or tempo that there is not.
    """
    if not 1 <= wish.loops <= MOST_LOOPS:
        raise RequestError(f"a stage is played 1 to {MOST_LOOPS} times, not {wish.loops}", field="loops")
    if not 0 <= wish.count_in <= 2:
        raise RequestError(f"a count-in has 0, 1 or 2 bars, not {wish.count_in}", field="count-in")
    if not 0 <= wish.heard.mix <= 1:
        raise RequestError(
            f"the mix goes from 0, the base beat, to 1, the stage; it is not {wish.heard.mix:g}", field="mix"
        )
    if wish.seamless and wish.count_in:
        raise RequestError(
            "a file that is played round and round has no count-in: leave one of the two", field="seamless"
        )
    if wish.seamless and wish.through:
        raise RequestError(
            "a file that is played round and round has one stage: leave one of the two", field="seamless"
        )
    unit = groove.base.meter.tempo_unit[1]
    parts = [Part(line, wish.loops) for line in _lines(groove, tuple(stages), wish)]
    once = Fraction(0)  # frames of one round of each
    for timeline, _, _ in parts:
        once += timeline.loop * frames_a_tick(wish.tempo, unit, timeline.parts)
    if wish.loops * once > MOST_SECONDS * RATE:
        fit = int(MOST_SECONDS * RATE / once)
        each = " of each stage" if wish.through else ""
        raise RequestError(
            f"{wish.loops} rounds{each} last {float(wish.loops * once) / RATE / 60:.0f} minutes; a file has at "
            f"most {MOST_SECONDS // 60}: ask for {fit} round{'s' * (fit != 1)} or fewer",
            field="loops",
        )
    if wish.seamless:
        return _seamless(parts[0], wish, unit, known)
    laid = lay([*count_in(parts[0].timeline), *parts], wish.tempo, unit, wish.heard)
    samples, quieter = lowered(render(laid.hits, voices_for(laid.hits, known, wish.setup), RATE))
    return Made(file.whole(samples, nearest(laid.ends[-1])), quieter)


def way_through(stages: Sequence[Stage], number: int, back: bool) -> tuple[int, ...]:
    """List the stages from the base beat to a stage that are on, with `back` also back to the base beat."""
    way = [stage.number for stage in stages[: number + 1] if stage.variation is None or stage.variation.on]
    return tuple(way + way[-2::-1] if back else way)


def _lines(groove: Groove, stages: tuple[Stage, ...], wish: Wish) -> list[Timeline]:
    """Unroll each stage that is played, once."""

    def play(stage: Stage) -> Playing:
        return limbs.play(groove, stage, wish.player)

    def line(number: int) -> Timeline:
        return unroll(
            groove, stages, number, clicks=wish.clicks, bars_before=wish.count_in, part=wish.part, play=play,
            loose=wish.loose, seed=wish.seed,
        )  # fmt: skip

    numbers = wish.through or (wish.stage,)
    lines = {number: line(number) for number in dict.fromkeys(numbers)}
    return [lines[number] for number in numbers]


def _seamless(part: Part, wish: Wish, unit: int, known: Known | None) -> Made:
    """Play enough before and one behind, and cut out the middle: there, what rings and the graces come round."""
    loop = part.timeline.loop * frames_a_tick(wish.tempo, unit, part.timeline.parts)
    length = nearest(part.passes * loop)
    before = int(RINGING * RATE) // length + 1
    every = part._replace(passes=part.passes * (before + 2))
    laid = lay([every], wish.tempo, unit, wish.heard, rewind=part.passes)
    start = nearest(laid.start + before * part.passes * loop)
    samples = render(laid.hits, voices_for(laid.hits, known, wish.setup), RATE)[start : start + length]
    samples, quieter = lowered(samples)
    return Made(file.whole(samples, length)[:length], quieter)


def safe_name(title: str) -> str:
    """Make a file's name of a title: letters and digits of any script, with hyphens, as the page does.

    >>> safe_name("Slack Tide: 2/4?"), safe_name("...")
    ('slack-tide-2-4', 'beat')
    """
    text = unicodedata.normalize("NFC", title)
    kept = "".join(c if unicodedata.category(c)[0] in "LMN" else "-" for c in text)
    return re.sub("-+", "-", kept).strip("-").lower()[:60] or "beat"


def write_set(out: IO[bytes], groove: Groove, stages: Sequence[Stage], wish: Wish, form: str, clean: int = 0) -> str:
    """Write a play-along set into a zip: a file for every tempo of the plan, and a text that says what they are.

    `wish.tempo` does not count; with `wish.loops` 0 a file has three passes of the plan. `clean` is the last clean
    tempo in hundredths, 0 unknown. Gives back the text.
    """
    known: Known = {}
    practice = plan(groove, stages, wish.stage, wish.player, clean / 100)
    beat = stages[wish.stage].beat
    unit = groove.base.meter.tempo_unit[1]
    tempos = ladder(round(practice.goal * 100), clean)
    rows: list[str] = []
    quieter = 0.0
    with zipfile.ZipFile(out, "w") as folder:
        for number, tempo in enumerate(tempos, 1):
            loops = wish.loops or CLEAN * rounds(beat.cycle, beat.bars, unit, tempo)
            made = make(groove, stages, wish._replace(tempo=tempo, loops=loops), known)
            said = f"{tempo / 100:g}"
            name = f"{number:02}-{safe_name(groove.title)}-stage-{wish.stage}-at-{said.replace('.', '-')}{form}"
            _put(folder, name, file.written(made.numbers, form, RATE))
            times = f"{loops} round{'s' * (loops != 1)}, {len(made.numbers) / RATE:.0f} seconds"
            rows.append(f"{name}: at {said}, {times}")
            quieter = max(quieter, made.quieter)
        text = _about(groove, practice, wish, rows, quieter)
        _put(folder, "read-me.txt", text.encode("utf-8"))
    return text


def _put(folder: zipfile.ZipFile, name: str, data: bytes) -> None:
    """Store a file without a time, so that the same set has the same bytes; sound is not compressed again."""
    entry = zipfile.ZipInfo(name, date_time=(1980, 1, 1, 0, 0, 0))
    entry.external_attr = 0o644 << 16
    folder.writestr(entry, data)


def _about(groove: Groove, practice: Plan, wish: Wish, rows: Sequence[str], quieter: float) -> str:
    name = groove.base.meter.tempo_unit[0]
    heard = wish.heard
    bars = f"a count-in of {wish.count_in} bar{'s' * (wish.count_in != 1)}" if wish.count_in else "no count-in"
    click = "a click" if heard.click else "no click"
    what = "only what was added" if heard.only_added else "the stage" if heard.mix == 1 else f"mix {heard.mix:g}"
    if wish.part:
        what += ", only what it adds" if wish.part == ADDED_HERE else f", only the {wish.part}"
    lines = [
        practice.title,
        "",
        f"Sound to play along with, from slow to the goal ({name} = {practice.goal:g}).",
        f"In each file: {what}, {bars}, {click}.",
        "Go on to the next file after three clean passes in a row; go back one after two that were not clean.",
        "",
        *rows,
        "",
        *practice.cautions,
    ]
    if quieter:
        lines += ["", f"Some of it was made quieter, by {quieter:.1f} dB at most, so that nothing is distorted."]
    return "\n".join(lines) + "\n"
