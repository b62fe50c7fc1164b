"""How does a file that we wrote read back: the same strokes, places, graces, hands and feel?

Such a file names itself and what its notes mean (see `naming`). A note goes to the place that is named for it, else to
its column; a dynamic is the one with the nearest velocity. Nothing is guessed from the whole file, so one bar of it
reads as the whole does. What another program moved or added is read all the same: notes go to columns, and how far is
told. A text whose note has gone means nothing any more, and is counted.
"""

from __future__ import annotations

from bisect import bisect_right
from collections import Counter
from collections.abc import Sequence
from fractions import Fraction
from typing import TYPE_CHECKING, NamedTuple

from ..codec.drum_keys import key_name, surfaces
from ..errors import MeterError
from ..model.beat import MAX_BARS, Stroke
from ..model.beat import base_beat as make_beat
from ..model.groove import MAX_TITLE
from ..model.kit import BY_NAME
from ..model.meter import QUARTER, Meter
from ..model.place import COLUMNS
from . import told
from .bars import Bars
from .drums import DRUM_CHANNEL, Hit
from .file import TRACK_NAME, MidiFile, Note
from .naming import Named, Run, Section, read_note, sections_of, written_at
from .placing import Placed, residue
from .profiles import dynamic_of, keys_of, meanings
from .writer import TEXT

if TYPE_CHECKING:
    from .base_beat import Import

_HEARD_MS = 0.5  # what lies less beside its column was not moved for an ear (see `told`)


class Found(NamedTuple):
    """A stroke of the file: written model tick from the first stage on, the stroke, its note, and ms off its place."""

    at: int
    stroke: Stroke
    note: Note
    ms: float


class Own:
    """A file of ours, read: its stages and strokes; places in model ticks from where the first stage begins."""

    def __init__(self, file: MidiFile, sections: Sequence[Section]) -> None:
        self.file, self.sections = file, list(sections)
        self.origin = self.sections[0].tick
        self.lines = Bars(file, 0)
        self.runs = [Run(self._model(s.tick), COLUMNS[s.columns], s.heard) for s in self.sections]
        self._starts = [run.start for run in self.runs]
        self._meant = [meanings(keys_of(s.profile, s.rimshot)) for s in self.sections]
        self.says: list[str] = []
        self.strokes = self._strokes()

    def index_at(self, at: int) -> int:
        """The index of the stage that a written tick lies in."""
        return max(bisect_right(self._starts, at) - 1, 0)

    def section_at(self, at: int) -> Section:
        """The stage that a written tick lies in."""
        return self.sections[self.index_at(at)]

    def start_of(self, bar: int) -> int:
        """The written tick on which a bar of the file begins."""
        return self.lines.start_of(bar) // self.lines.model_tick - self._origin_ticks

    def bar_of(self, at: int) -> int:
        """The bar of the file in which a written tick lies."""
        return self.lines.bar_near((at + self._origin_ticks) * self.lines.model_tick, self.lines.model_tick)

    @property
    def _origin_ticks(self) -> int:
        return self.origin * QUARTER // self.file.division

    def _model(self, tick: int) -> int:
        return (tick - self.origin) * QUARTER // self.file.division

    def _strokes(self) -> list[Found]:
        names: dict[tuple[int, int], list[Named]] = {}
        for text in self.file.texts:
            if text.kind == TEXT and (said := read_note(text.text)):
                names.setdefault((text.tick, said[0]), []).append(said[1])
        found: list[Found] = []
        left_out: Counter[int] = Counter()
        elsewhere = 0
        met: set[tuple[int, int]] = set()
        for note in self.file.notes:
            if note.channel != DRUM_CHANNEL:
                elsewhere += 1
                continue
            place = note.tick, note.key
            if place in met:
                continue  # the same key twice at one tick
            met.add(place)
            for named in names.get(place, [Named()]):
                if named.part:
                    continue
                surface = named.surface or self._surface(note)
                if not surface:
                    left_out[note.key] += 1
                    continue
                found.append(self._found(note, named, surface))
        gone = sum(place not in met for place in names)
        if gone:
            many = "1 note that the file names is" if gone == 1 else f"{gone} notes that the file names are"
            self.says.append(f"{many} no longer where it was written.")
        if left_out:
            keys = ", ".join(f"{times} on {key_name(key)}" for key, times in sorted(left_out.items())[:5])
            self.says.append(f"Left out of the file, because the kit does not have them: {keys}.")
        if elsewhere:
            self.says.append(f"{elsewhere} notes on other channels than {DRUM_CHANNEL} were left out.")
        return found

    def _surface(self, note: Note) -> str:
        meant = self._meant[self.index_at(self._model(note.tick))]
        return meant.get(note.key) or surfaces({note.key}).get(note.key, "")

    def _found(self, note: Note, named: Named, surface: str) -> Found:
        sounds = Fraction((note.tick - self.origin) * QUARTER, self.file.division)
        us = self.lines.us_at(note.tick)
        at, ms = named.at, 0.0
        if at is None:
            at = written_at(self.runs, sounds, surface, us)
            run = self.runs[self.index_at(at)]
            upper, lower = run.feel.sounded(at - run.start)
            off = sounds - run.start - Fraction(upper, lower) - Fraction(run.feel.push(surface) * 1000 * QUARTER, us)
            ms = float(off * us / QUARTER / 1000)
        hand = named.hand if BY_NAME[surface].limb == "hand" else ""
        stroke = Stroke(at, surface, named.dynamic or dynamic_of(note.velocity), named.grace, hand)
        return Found(at, stroke, note, ms)


def find_own(file: MidiFile) -> tuple[Own | None, str]:
    """Read a file as one of ours; None for any other, with what is to be told about that."""
    if not file.division or file.format == 2:
        return None, ""
    sections, newer = sections_of((text.tick, text.text) for text in file.texts if text.kind == TEXT)
    if newer:
        return None, "The file was made with a newer Groundbeat: it was read as any other MIDI file."
    if not sections or (file.notes and not any(note.channel == DRUM_CHANNEL for note in file.notes)):
        return None, ""
    return Own(file, sections), ""


def own_beat(own: Own, bars: tuple[int, int] | None, division: str | None) -> Import:
    """Make a base beat of bars of a file of ours; without `bars` of its first stage, once.

    BaseBeatError where bars or division cannot be had, MidiError for a meter that no beat has.
    """
    from . import base_beat  # which asks for this module on use

    first, last, total = _range(own, bars)
    section = own.section_at(own.start_of(first))
    meter = _meter(own.lines.holding(first).meter, section)
    columns = division or section.columns
    if meter.bar % COLUMNS[columns]:
        allowed = ", ".join(name for name, ticks in COLUMNS.items() if meter.bar % ticks == 0)
        if division:
            raise base_beat.BaseBeatError(
                f"a bar of {meter} does not hold a whole number of {division}; try one of {allowed}", field="columns"
            )
        columns = allowed.split(", ")[-1]
    start = own.start_of(first)
    end = start + (last - first + 1) * meter.bar
    taken: dict[tuple[int, str], Found] = {}
    met = 0
    for found in own.strokes:
        if not start <= found.at < end:
            continue
        place = found.at, BY_NAME[found.stroke.surface].instrument
        if place in taken:
            met += 1
        if place not in taken or found.note.velocity > taken[place].note.velocity:
            taken[place] = found
    kept = [(found, found.at - start) for found in taken.values()]
    beat = make_beat(
        meter, last - first + 1, columns,
        [Stroke(at, f.stroke.surface, f.stroke.dynamic, f.stroke.grace, f.stroke.hand) for f, at in kept],
    )  # fmt: skip
    tempo, tempo_says = base_beat.tempo_of(own.lines, first, last, meter)
    placed = [
        Placed(Hit(f.note.tick, f.stroke.surface, f.note.velocity, f.stroke.dynamic, f.note.offset),
               at // COLUMNS[columns], 0, f.ms, f.stroke.grace)
        for f, at in kept
    ]  # fmt: skip
    spreads = residue(placed) if placed else ()
    says = [told.which(first, last, total)]
    says.append(f"Groundbeat wrote this file (stage {section.stage}): it was read as it was written.")
    says += [told.moved(placed, spread, beat) for spread in spreads[:1] if spread.worst >= _HEARD_MS]
    if met:
        says.append(f"{met} strokes were left out, where one instrument had a louder one at the place.")
    says += [*tempo_says, *own.says, *own.file.says]
    title = next((text.text for text in own.file.texts if text.kind == TRACK_NAME and text.track == 1), "")
    return base_beat.Import(beat, tempo, title[:MAX_TITLE], tuple(says), spreads, section.feel, True)


def _range(own: Own, bars: tuple[int, int] | None) -> tuple[int, int, int]:
    """First and last of the bars that are wanted, and how many bars hold something."""
    from . import base_beat

    first = own.bar_of(0)
    end = first + own.sections[0].bars - 1
    written = (own.bar_of(run.start) + s.bars * s.rounds - 1 for run, s in zip(own.runs, own.sections, strict=True))
    total = max([*written, *(own.bar_of(found.at) for found in own.strokes)])
    if bars is None:
        here = own.lines.holding(first)
        return first, end if own.lines.holding(end) is here else own.lines.last_of(here), total
    if bars[0] < first or bars[1] > total:
        raise base_beat.BaseBeatError(
            f"asked for {told.bars_text(*bars)}, but the beat is in {told.bars_text(first, total)} of the file; "
            f"try {min(max(bars[0], first), total)}-{min(max(bars[1], first), total)}",
            field="bars",
        )
    if bars[1] < bars[0] or bars[1] - bars[0] >= MAX_BARS:
        raise base_beat.BaseBeatError(
            f"bars {bars[0]}-{bars[1]}: a beat has 1 to {MAX_BARS} bars; try {bars[0]}-{bars[0]}", field="bars"
        )
    here = own.lines.holding(bars[0])
    if here is not own.lines.holding(bars[1]):
        raise base_beat.BaseBeatError(
            f"{told.bars_text(*bars)}: the time signature changes from {here.upper}/{here.lower} inside them, and a "
            f"beat has one meter; try {bars[0]}-{own.lines.last_of(here)}",
            field="bars",
        )
    return *bars, total


def _meter(meter: Meter, section: Section) -> Meter:
    """The meter with the grouping that the file names, where that still fits."""
    try:
        return Meter.of(str(meter), "+".join(map(str, section.grouping)))
    except MeterError:
        return meter  # another program gave these bars another meter
