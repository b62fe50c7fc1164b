"""Where does everything stand in a MIDI file of ours, and what must be said of each note?

The timeline's places go to file ticks exactly and are rounded once. Every note is read back as it is written
(`naming.written_at`, the key's meaning, the nearest velocity), and what would come out wrong is named.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction
from typing import NamedTuple

from ..model.beat import Stroke
from ..model.feel import Feel
from ..model.groove import Groove
from ..model.meter import QUARTER
from ..timeline.unroll import BASE, Event, unroll
from ..variation.stack import Stage
from .bars import nearest
from .drums import DRUM_CHANNEL
from .file import PEDAL
from .naming import Named, Run, Section, note_text, written_at
from .profiles import ELECTRONIC, GENERAL, PEDAL_AT, RIMSHOTS, VELOCITIES, dynamic_of, meanings
from .writer import TEXT, Track

EXACT, USUAL = QUARTER, 480
_SHORTEST = 8  # parts of a quarter note: a 32nd


class Wish(NamedTuple):
    """What is wanted: a stage (-1 the last), or with `through` all up to it, each so many `rounds`; `tempo` in
    hundredths (0: the goal), keys, ticks a quarter note, and whether the feel stays out of the ticks."""

    stage: int = -1
    through: bool = False
    rounds: int = 1
    tempo: int = 0
    profile: str = GENERAL
    ticks: int = EXACT
    straight: bool = False
    rimshot: int = RIMSHOTS[0]


class Note(NamedTuple):
    """What sounds: exact place in file ticks from the first stage on, surface and dynamic, and of which stroke.

    `at` is the stroke's written tick from the first stage on, None for a part of another one (a grace, the second half
    of a diddle); `stop` is the file tick where it is choked.
    """

    place: Fraction
    surface: str
    dynamic: str
    stroke: Stroke
    at: int | None
    stop: Fraction | None

    @property
    def tick(self) -> int:
        """The file tick that it is written on; ties go up."""
        return nearest(self.place.numerator, self.place.denominator)


def file_ticks(model: int, wish: Wish) -> int:
    """File ticks of whole sixteenths, which every bar has: exact with both divisions."""
    return model * wish.ticks // QUARTER


def lay_out(chosen: Sequence[Stage], wish: Wish) -> tuple[list[Section], list[Run], int]:
    """Lay the stages one after the other: their beginnings for the file, for places, and where the last one ends."""
    sections, runs, at = [], [], 0
    for stage in chosen:
        beat, feel = stage.beat, stage.feel
        section = Section(
            file_ticks(at, wish), stage.number, beat.bars, beat.columns, wish.rounds, beat.meter.grouping,
            wish.profile, wish.rimshot, wish.straight, feel,
        )  # fmt: skip
        sections.append(section)
        runs.append(Run(at, beat.column, section.heard))
        at += beat.cycle * wish.rounds
    return sections, runs, file_ticks(at, wish)


def _offset(event: Event, parts: int, scale: Fraction, tick_us: Fraction) -> Fraction:
    """Give the file ticks of `us`; a grace that would lie further from its stroke than it has room comes closer."""
    late = event.us * tick_us
    over = abs(event.lead) * tick_us - Fraction(event.room, parts) * scale
    if not event.room or over <= 0:
        return late
    return late - over if event.lead > 0 else late + over


def sounding(groove: Groove, chosen: Sequence[Stage], wish: Wish, runs: Sequence[Run], us: int) -> Iterator[Note]:
    """Everything that sounds, in the order in which the timeline tells it."""
    scale = Fraction(wish.ticks, QUARTER)
    tick_us = Fraction(wish.ticks, us)  # file ticks a microsecond
    for stage, run in zip(chosen, runs, strict=True):
        heard = replace(stage, feel=Feel()) if wish.straight else stage
        line = unroll(groove, (heard, heard), 1)
        strokes = {stroke.id: stroke for stroke in stage.beat.strokes}
        stops = {event.id: Fraction(event.at, line.parts) * scale + event.us * tick_us
                 for event in line.events if event.stop}  # fmt: skip
        events = [event for event in line.events if not event.stop and event.layer != BASE]
        for turn in range(wish.rounds):
            start = run.start + turn * stage.beat.cycle
            for event in events:
                stroke = strokes[event.id]
                stop = stops.get(event.id)
                yield Note(
                    (start + Fraction(event.at, line.parts)) * scale + _offset(event, line.parts, scale, tick_us),
                    event.surface, event.dynamic, stroke,
                    None if event.grace else start + stroke.at,
                    None if stop is None else start * scale + stop,
                )  # fmt: skip


def put_notes(
    track: Track,
    by_note: dict[tuple[int, int], list[Note]],
    lead: int,
    length: int,
    how: tuple[Wish, dict[str, int], Sequence[Run], int],
) -> tuple[int, int, int]:
    """Write the notes; return where the last one ends, how many strokes share a note, and how many are named."""
    wish, keys, runs, us = how
    meant = meanings(keys)
    following: dict[int, int] = {}
    rows: list[tuple[int, int, list[Note], int | None]] = []
    for tick, key in sorted(by_note, reverse=True):
        rows.append((tick, key, by_note[tick, key], following.get(key)))
        following[key] = tick
    end, shared, named_count, pedal = length, 0, 0, -1
    for tick, key, row, after in reversed(rows):
        strokes = [note for note in row if note.at is not None]
        sounding = strokes or row
        velocity = max(VELOCITIES[note.dynamic] for note in sounding)
        texts = [
            note_text(key, _told(note, len(strokes) > 1, tick, velocity, (wish, meant[key], runs, us)))
            for note in sounding[: len(strokes) or 1]
        ]
        for text in texts:
            if text:
                track.text(lead + tick, TEXT, text)
                named_count += 1
        shared += len(strokes) - 1 if strokes else 0
        wanted = PEDAL_AT.get(sounding[0].surface, pedal) if wish.profile == ELECTRONIC else pedal
        if wanted != pedal:
            pedal = wanted
            track.control(lead + tick, DRUM_CHANNEL, PEDAL, pedal)
        off = _end(tick, sounding[0], after, length, wish)
        end = max(end, off)
        track.note(lead + tick, DRUM_CHANNEL, key, velocity, off - tick)
    return end, shared, named_count


def _end(tick: int, note: Note, after: int | None, length: int, wish: Wish) -> int:
    """The tick on which a note ends."""
    off = tick + wish.ticks // _SHORTEST
    if note.stop is not None and note.at is not None:
        off = nearest(note.stop.numerator, note.stop.denominator)
    if after is not None:
        off = min(off, after)
    return max(min(off, length) if tick < length else off, tick + 1)


def _told(note: Note, together: bool, tick: int, velocity: int, how: tuple[Wish, str, Sequence[Run], int]) -> Named:
    """What must be said of a note so that it reads back as the stroke that it is."""
    wish, meant, runs, us = how
    if note.at is None:
        return Named(part=True)
    found = written_at(runs, Fraction(tick * QUARTER, wish.ticks), note.surface, us)
    return Named(
        note.surface if together or note.surface != meant else "",
        note.dynamic if dynamic_of(velocity) != note.dynamic else "",
        note.stroke.grace,
        note.stroke.hand,
        note.at if found != note.at else None,
    )
