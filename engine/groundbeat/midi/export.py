"""How does a stage, or every stage one after the other, become a MIDI file?

`timeline` says when everything sounds; `laying` puts those places on file ticks and names what a note alone does not
tell (see `naming`). The file has 10080 ticks a quarter note, in which every written
place is exact, or 480 for programs that want no more; what that moves is told.

Notes last a 32nd, or until their key sounds again, or to the end of the file; a choked one until it is stopped. One key
sounds once at a tick: two strokes there are one note, as loud as the louder, and both are named. Where something sounds
before the beginning (a flam on 1, an early push) a bar of rest stands first. Stages that are off are left out where all
are written.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import NamedTuple

from ..errors import RequestError
from ..model.groove import MAX_TEMPO, MIN_TEMPO, Groove
from ..model.meter import QUARTER
from ..variation.stack import Stage, plain
from .bars import nearest
from .drums import DRUM_CHANNEL
from .laying import EXACT, USUAL, Note, Wish, file_ticks, lay_out, put_notes, sounding
from .naming import section_texts
from .profiles import keys_of
from .writer import MARKER, NAME, TEXT, Track, file_bytes

TICKS = (EXACT, USUAL)
MAX_ROUNDS = 64  # of a stage: at one bar of 92 a minute nearly three minutes. Our choice
MAX_STROKES = 8_000  # in a file: twice the fullest beat; six notes each are still read back (reader). Our choice
DRUMS = "Drums"  # the name of the track with the notes
_US = 60_000_000 * 100  # microseconds a minute, times hundredths of a beat


USUAL_WISH = Wish()


class Made(NamedTuple):
    """A file: its bytes, a name for it, and what is to be told about it."""

    data: bytes
    name: str
    says: tuple[str, ...]


def midi_file(groove: Groove, stages: Sequence[Stage], wish: Wish = USUAL_WISH) -> Made:
    """Write a stage of a groove, or all of them, as a Standard MIDI File.

    RequestError for a wish that cannot be had, or where the file would grow too long.
    """
    chosen = _chosen(stages, wish)
    keys = keys_of(wish.profile, wish.rimshot)
    us = microseconds(wish.tempo or groove.tempo, groove.base.meter.tempo_unit[1])
    sections, runs, length = lay_out(chosen, wish)
    notes = list(sounding(groove, chosen, wish, runs, us))
    first = min((note.tick for note in notes), default=0)
    bar = file_ticks(chosen[0].beat.meter.bar, wish)
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
    end, shared, named = put_notes(drums, by_note, lead, length, (wish, keys, runs, us))
    if end > length:
        bar = file_ticks(chosen[-1].beat.meter.bar, wish)
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
    if strokes > MAX_STROKES:
        raise RequestError(
            f"the file would hold {strokes} strokes, at most {MAX_STROKES} are written; choose fewer rounds or stages",
            field="loops",
        )
    return chosen


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
