"""How do a few bars of a MIDI file become a base beat?

The drum strokes are found (`drums`), the bar lines (`bars`) and the columns (`columns`); the strokes of the
chosen bars go to their columns (`placing`), and what was done is told in sentences (`told`). Bars count from
1 at the start of the file; the first with a stroke is taken where nobody chooses. A file that we wrote tells all that
itself (`own`).
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from ..errors import GroundbeatError
from ..model.beat import MAX_BARS, Beat, Stroke
from ..model.beat import base_beat as make_beat
from ..model.feel import Feel
from ..model.groove import MAX_TEMPO, MAX_TITLE, MIN_TEMPO
from ..model.kit import BY_NAME
from ..model.kit import nearest as nearest_word
from ..model.meter import QUARTER, Meter
from ..model.place import COLUMNS
from . import told
from .bars import Bars, Stretch
from .columns import Choice, choose, fits
from .drums import Drums, Hit, find_drums
from .file import TRACK_NAME, MidiFile
from .own import find_own, own_beat
from .placing import Spread, place, residue, take_flams


class BaseBeatError(GroundbeatError):
    """Bars or columns that a file cannot give; `field` says which of the two."""

    code = "midi.base-beat"


class Import(NamedTuple):
    """A base beat from a file.

    `tempo` is in hundredths of a beat a minute, `title` "" where the file has none, `says` what was done, in
    sentences, and `residue` how far strokes were moved: first all, then by surface. `own` says that the file is one
    of ours; such a file names its `feel` too.
    """

    beat: Beat
    tempo: int
    title: str
    says: tuple[str, ...]
    residue: tuple[Spread, ...]
    feel: Feel = Feel()
    own: bool = False


def base_beat(file: MidiFile, bars: tuple[int, int] | None = None, division: str | None = None) -> Import:
    """Make a base beat of bars A to B of a file, both counted from 1 and included.

    `bars` None is the first bar with strokes; `division` names columns such as "sixteenths", None finds them.
    Raises MidiError where the file has no drums or a meter that no beat has, BaseBeatError where bars or
    division cannot be had.
    """
    if division is not None and division not in COLUMNS:
        raise BaseBeatError(f'"{division}" are not columns{nearest_word(division, COLUMNS)}', field="columns")
    own, newer = find_own(file)
    if own is not None:
        return own_beat(own, bars, division)
    drums = find_drums(file)
    lines = Bars(file, drums.track)
    hits, flams = take_flams(drums.hits, lines)
    first, last = _range(bars, hits, lines)
    choice = _columns(division, hits, lines.holding(first), lines)
    column = COLUMNS[choice.columns] * lines.model_tick
    total = lines.bar_near(hits[-1].tick * lines.file_tick, column)
    if bars is None:  # now that the columns are known, an early stroke may belong to the next bar
        first = last = lines.bar_near(hits[0].tick * lines.file_tick, column)
    elif last > total:
        raise _beyond(first, last, total)
    meter = lines.holding(first).meter
    if meter.bar % COLUMNS[choice.columns]:  # that next bar has another meter
        choice = _columns(division, hits, lines.holding(first), lines)
        column = COLUMNS[choice.columns] * lines.model_tick
    placed, lost = place(hits, flams, lines, (first, last), column)
    if not placed:
        raise BaseBeatError(_silent(first, last, hits, lines, column), field="bars")
    beat = make_beat(
        meter, last - first + 1, choice.columns,
        [Stroke(p.column * COLUMNS[choice.columns], p.hit.surface, p.hit.dynamic, p.grace) for p in placed],
    )  # fmt: skip
    tempo, tempo_says = tempo_of(lines, first, last, meter)
    spreads = residue(placed)
    says = (
        told.which(first, last, total),
        told.moved(placed, spreads[0], beat),
        *told.columns(choice, division is not None),
        *tempo_says,
        *told.flams(placed, beat),
        *told.lost(lost, beat),
        *(told.late_start(placed, beat, first, total) if bars is None else ()),
        *drums.says,
        *([newer] if newer else []),
        *file.says,
    )
    return Import(beat, tempo, _title(file, drums), says, spreads)


def _range(bars: tuple[int, int] | None, hits: Sequence[Hit], lines: Bars) -> tuple[int, int]:
    """Check what was asked for as far as that needs no columns."""
    if bars is None:
        first = lines.bar_near(hits[0].tick * lines.file_tick, 1)
        return first, first
    first, last = bars
    if first < 1 or last < first:
        raise BaseBeatError(
            f"bars {first}-{last}: bars count from 1, and the second number is not below the first; try 1-2",
            field="bars",
        )
    if last - first >= MAX_BARS:
        raise BaseBeatError(
            f"bars {first}-{last} are {last - first + 1}, a beat has at most {MAX_BARS}; "
            f"try {first}-{first + MAX_BARS - 1}",
            field="bars",
        )
    total = lines.bar_near(hits[-1].tick * lines.file_tick, 1)
    if last > total + 1:  # rounding to columns can add one bar, not more
        raise _beyond(first, last, total)
    here = lines.holding(first)
    if here is not lines.holding(last):
        raise BaseBeatError(
            f"{told.bars_text(first, last)}: the time signature changes from {here.upper}/{here.lower} "
            f"inside them, and a beat has one meter; try {first}-{lines.last_of(here)}",
            field="bars",
        )
    return first, last


def _beyond(first: int, last: int, total: int) -> BaseBeatError:
    return BaseBeatError(
        f"asked for {told.bars_text(first, last)}, but the file's last stroke is in bar {total}; "
        f"try {min(first, total)}-{total}",
        field="bars",
    )


def _silent(first: int, last: int, hits: Sequence[Hit], lines: Bars, column: int) -> str:
    holding = (lines.bar_near(hit.tick * lines.file_tick, column) for hit in hits)
    other = next((bar for bar in holding if bar > last), 0) or lines.bar_near(hits[0].tick * lines.file_tick, column)
    return f"no strokes in {told.bars_text(first, last)}; there are some in bar {other}"


def _columns(division: str | None, hits: Sequence[Hit], stretch: Stretch, lines: Bars) -> Choice:
    meter = stretch.meter
    if division is not None:
        if meter.bar % COLUMNS[division]:
            allowed = ", ".join(name for name in COLUMNS if fits(meter, name))
            raise BaseBeatError(
                f"a bar of {meter} does not hold a whole number of {division}; try one of {allowed}",
                field="columns",
            )
        return Choice(division, True)
    places = []
    for hit in hits:
        at = hit.tick * lines.file_tick
        home = lines.at(at)
        if (home.upper, home.lower) == (stretch.upper, stretch.lower):
            places.append((at - home.start, BY_NAME[hit.surface].instrument))
    return choose(places, meter, lines.model_tick)


def tempo_of(lines: Bars, first: int, last: int, meter: Meter) -> tuple[int, list[str]]:
    """The tempo at the first bar, in hundredths of the meter's beat a minute, rounded, halves up."""
    beat = meter.tempo_unit[1]
    found = [
        (2 * 6_000_000_000 * QUARTER + us * beat) // (2 * us * beat)
        for us in lines.tempos_between(lines.start_of(first), lines.end_of(last))
    ]
    says = []
    if any(tempo != found[0] for tempo in found):
        says.append("The tempo changes inside these bars; the one at their start was taken.")
    tempo = min(max(found[0], MIN_TEMPO), MAX_TEMPO)
    if tempo != found[0]:
        says.append(
            f"The file's tempo of {found[0] / 100:g} is out of range ({MIN_TEMPO // 100} to "
            f"{MAX_TEMPO // 100}); {tempo // 100} was taken."
        )
    return tempo, says


def _title(file: MidiFile, drums: Drums) -> str:
    """The name of the piece: that of the first track, else of the drum track, else of any."""
    names = [text for text in file.texts if text.kind == TRACK_NAME and text.text]
    names.sort(key=lambda text: (text.track != (drums.track or 1), text.track))
    return names[0].text[:MAX_TITLE].strip() if names else ""
