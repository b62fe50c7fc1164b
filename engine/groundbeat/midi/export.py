"""How does a stage, or every stage one after the other, become a MIDI file?

`timeline` says when everything sounds; here those places go to file ticks, get keys and velocities, and are named where
a note alone does not tell what it is (see `naming`). The file has 10080 ticks a quarter note, in which every written
place is exact, or 480 for programs that want no more; what that moves is told.

Notes last a 32nd, or until their key sounds again, or to the end of the file; a choked one until it is stopped. One key
sounds once at a tick: two strokes there are one note, as loud as the louder, and both are named. Where something sounds
before the beginning (a flam on 1, an early push) a bar of rest stands first. Stages that are off are left out where all
are written.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from fractions import Fraction
from typing import NamedTuple

from ..errors import MidiError, RequestError
from ..model.beat import Stroke
from ..model.feel import Feel
from ..model.groove import MAX_TEMPO, MIN_TEMPO, Groove
from ..model.meter import QUARTER
from ..timeline.unroll import BASE, unroll
from ..variation.stack import Stage, plain
from .bars import nearest
from .drums import DRUM_CHANNEL
from .file import PEDAL
from .naming import Named, Run, Section, note_text, section_texts, written_at
from .profiles import ELECTRONIC, GENERAL, PEDAL_AT, RIMSHOTS, VELOCITIES, dynamic_of, keys_of, meanings
from .writer import MARKER, NAME, TEXT, Track, file_bytes

EXACT, USUAL = QUARTER, 480
TICKS = (EXACT, USUAL)
MAX_ROUNDS = 64  # of a stage: at one bar of 92 a minute nearly three minutes. Our choice
MAX_NOTES = 60_000  # five events each stay below what our reader takes (track.MAX_EVENTS). Our choice
DRUMS = "Drums"  # the name of the track with the notes
_SHORTEST = 8  # parts of a quarter note: a 32nd
_US = 60_000_000 * 100  # microseconds a minute, times hundredths of a beat


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


class Made(NamedTuple):
    """A file: its bytes, a name for it, and what is to be told about it."""

    data: bytes
    name: str
    says: tuple[str, ...]


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


def midi_file(groove: Groove, stages: Sequence[Stage], wish: Wish = Wish()) -> Made:  # noqa: B008 -- a tuple
    """Write a stage of a groove, or all of them, as a Standard MIDI File.

    Raises RequestError for a wish that cannot be had, MidiError where the file would grow too long.
    """
    chosen = _chosen(stages, wish)
    keys = keys_of(wish.profile, wish.rimshot)
    us = microseconds(wish.tempo or groove.tempo, groove.base.meter.tempo_unit[1])
    sections, runs, length = _sections(chosen, wish)
    notes = list(_notes(groove, chosen, wish, runs, us))
    first = min((note.tick for note in notes), default=0)
    bar = _ticks(chosen[0].beat.meter.bar, wish)
    lead = -(-max(-first, 0) // bar) * bar
    by_note: dict[tuple[int, int], list[Note]] = {}
    for note in notes:
        by_note.setdefault((note.tick, keys[note.surface]), []).append(note)

    drums = Track()
    drums.text(0, NAME, DRUMS)
    drums.program(0, DRUM_CHANNEL, 1)  # the standard set by GM 2
    for section in sections:
        for text in section_texts(section):
            drums.text(lead + section.tick, TEXT, text)
    end, shared, named = _put_notes(drums, by_note, lead, length, (wish, keys, runs, us))
    if end > length:
        bar = _ticks(chosen[-1].beat.meter.bar, wish)
        end = length - (length - end) // bar * bar
    head = _head(groove, stages, chosen, [lead + section.tick for section in sections], us)
    says = _says(notes, wish, us, lead, end > length, shared, named)
    return Made(file_bytes(wish.ticks, [head, drums], lead + end), _name(groove, chosen, wish), says)


def microseconds(tempo: int, unit: int) -> int:
    """How long a quarter note lasts at a tempo in hundredths that counts notes of `unit` ticks.

    >>> microseconds(9200, 10080)
    652174
    """
    return nearest(_US * QUARTER, tempo * unit)


def _chosen(stages: Sequence[Stage], wish: Wish) -> list[Stage]:
    number = wish.stage if wish.stage >= 0 else len(stages) - 1
    if not -1 <= wish.stage < len(stages):
        raise RequestError(f"there are stages 0 to {len(stages) - 1}, not {wish.stage}", field="stage")
    if wish.ticks not in TICKS:
        raise RequestError(
            f"a file has {EXACT} ticks a quarter note, which is exact, or {USUAL}; not {wish.ticks}", field="ticks"
        )
    if not 1 <= wish.rounds <= MAX_ROUNDS:
        raise RequestError(f"a stage is written 1 to {MAX_ROUNDS} times, not {wish.rounds}", field="loops")
    if wish.tempo and not MIN_TEMPO <= wish.tempo <= MAX_TEMPO:
        low, high = MIN_TEMPO // 100, MAX_TEMPO // 100
        raise RequestError(f"a tempo is {low} to {high} beats a minute, not {wish.tempo / 100:g}", field="tempo")
    chosen = [stages[number]]
    if wish.through:
        chosen = [stage for stage in stages[: number + 1] if stage.variation is None or stage.variation.on]
    strokes = wish.rounds * sum(len(stage.beat.strokes) for stage in chosen)
    if strokes > MAX_NOTES:
        raise MidiError(
            f"the file would hold {strokes} strokes, at most {MAX_NOTES} are written; choose fewer rounds or one stage",
            code="midi.limit",
        )
    return chosen


def _ticks(model: int, wish: Wish) -> int:
    """File ticks of whole sixteenths, which every bar has: exact with both divisions."""
    return model * wish.ticks // QUARTER


def _sections(chosen: Sequence[Stage], wish: Wish) -> tuple[list[Section], list[Run], int]:
    """Lay the stages one after the other: their beginnings for the file, for places, and where the last one ends."""
    sections, runs, at = [], [], 0
    for stage in chosen:
        beat, feel = stage.beat, stage.feel
        section = Section(
            _ticks(at, wish), stage.number, beat.bars, beat.columns, wish.rounds, beat.meter.grouping,
            wish.profile, wish.rimshot, wish.straight, feel,
        )  # fmt: skip
        sections.append(section)
        runs.append(Run(at, beat.column, section.heard))
        at += beat.cycle * wish.rounds
    return sections, runs, _ticks(at, wish)


def _notes(groove: Groove, chosen: Sequence[Stage], wish: Wish, runs: Sequence[Run], us: int) -> Iterator[Note]:
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
                    (start + Fraction(event.at, line.parts)) * scale + event.us * tick_us,
                    event.surface, event.dynamic, stroke,
                    None if event.grace else start + stroke.at,
                    None if stop is None else start * scale + stop,
                )  # fmt: skip


def _put_notes(
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


def _head(groove: Groove, stages: Sequence[Stage], chosen: Sequence[Stage], ticks: Sequence[int], us: int) -> Track:
    """The first track: title, tempo, meters, and a marker a stage."""
    head = Track()
    if groove.title:
        head.text(0, NAME, groove.title)
    head.tempo(0, us)
    head.signature(0, chosen[0].beat.meter)
    numbers = {stage.key: stage.number for stage in stages}
    before = chosen[0].beat.meter
    for stage, tick in zip(chosen, ticks, strict=True):
        if (stage.beat.meter.count, stage.beat.meter.unit) != (before.count, before.unit):
            head.signature(tick, stage.beat.meter)
        before = stage.beat.meter
        told = plain(stage.variation, numbers) if stage.variation else "Base beat."
        head.text(tick, MARKER, f"Stage {stage.number}: {told}")
    return head


def _says(
    notes: Iterable[Note], wish: Wish, us: int, lead: int, longer: bool, shared: int, named: int
) -> tuple[str, ...]:
    says = []
    if wish.ticks != EXACT:
        offs = [off for note in notes if (off := abs(note.tick - note.place))]
        if offs:
            worst = max(offs)
            ms = float(worst * us / wish.ticks / 1000)
            says.append(
                f"With {wish.ticks} ticks a quarter note {len(offs)} notes stand beside their place, at most "
                f"{float(worst):.2f} ticks ({ms:.2f} ms)."
            )
        else:
            says.append(f"All notes stand exactly on their place with {wish.ticks} ticks a quarter note too.")
    if lead:
        says.append("Something sounds before the beginning: a rest stands first, and the beat begins after it.")
    if longer:
        says.append("Something sounds after the last bar: the file has a bar more for it.")
    if shared:
        many = "A stroke shares" if shared == 1 else f"{shared} strokes share"
        says.append(f"{many} the key of another at the same moment: other programs play one note there.")
    if named:
        says.append("Texts in the file name what keys cannot tell, for reading it back; other programs pass over them.")
    return tuple(says)


def _name(groove: Groove, chosen: Sequence[Stage], wish: Wish) -> str:
    """A file name: the title's letters and digits, and what is in it."""
    letters = "".join(sign if sign.isalnum() else " " for sign in groove.title.lower())
    stem = "-".join(letters.split())[:60].strip("-") or "groove"
    return f"{stem}-{'stages' if wish.through else f'stage-{chosen[-1].number}'}.mid"
