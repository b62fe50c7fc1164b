"""How do a few bars of a MusicXML file become a base beat?

The file is unpacked and parsed (`read_bytes`, `read_tree`), its parts are walked (`read_walk`), notes get their
surfaces (`read_surfaces`) and become strokes (`read_strokes`), bars are chosen (`read_bars`). All drum parts are read
together: one player at one kit. Whatever was doubtful or left out is told in words. See READING.md.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from fractions import Fraction
from typing import NamedTuple

from ...errors import BeatError, MusicXmlError
from ...model.beat import MAX_STROKES, Beat, Stroke
from ...model.beat import base_beat as make_beat
from ...model.count import spoken_at
from ...model.feel import Feel
from ...model.groove import DEFAULT_TEMPO, MAX_NOTE, MAX_TEMPO, MAX_TITLE, MIN_TEMPO
from ...model.kit import ROWS
from ...model.meter import QUARTER, Meter
from ...model.place import COLUMNS
from .read_bars import Bars, bars_of_walks, choose, meter_of, range_text
from .read_bytes import read_root
from .read_columns import columns_of
from .read_feel import Own, feel_of, own_of
from .read_parts import read_piece
from .read_strokes import Read, Reader
from .read_surfaces import Meanings, is_drums
from .read_walk import Walk, Walker, bars_of

_NAMED = 3  # places named in a sentence before "and more"


class Import(NamedTuple):
    """A base beat from a score.

    `tempo` is in hundredths of a beat a minute, `title` "" where the file has none, `says` what was done, in
    sentences.
    """

    beat: Beat
    tempo: int
    title: str
    says: tuple[str, ...]
    feel: Feel
    own: bool
    note: str


class _Placed(NamedTuple):
    read: Read
    at: Fraction  # ticks from the start of the chosen bars
    bar: int


def base_beat(data: bytes, bars: tuple[int, int] | None = None) -> Import:
    """Make a base beat of bars A to B of a score, both counted from 1 and included; None: see `read_bars`.

    Raises MusicXmlError for what is no score, has no drum part, or where the bars cannot be had.
    """
    root, says = read_root(data)
    piece = read_piece(root)
    walks = [Walker(part).walk() for part in piece.parts]
    drums = [walk for walk in walks if is_drums(walk)]
    if not drums:
        raise MusicXmlError(
            f"no drum part: none of the {len(walks)} parts has unpitched notes or a percussion clef. Export the "
            "score with its drum part, and that as percussion"
        )
    meanings = Meanings(drums, piece.own)
    readers = [Reader(walk, meanings, piece.own) for walk in drums]
    reads = [reader.read() for reader in readers]
    found = bars_of_walks(walks)
    homes = {index: (number, at) for number, bar in enumerate(found.bars, start=1) for index, at in bar.measures}
    holding = sorted({homes[read.measure][0] for row in reads for read in row if read.measure in homes})
    if not any(reads):
        raise MusicXmlError(_nothing(readers, drums))
    first, last = choose(found, holding, bars)
    meter = meter_of(found.bars[first - 1])
    own = own_of(root, sum(bar.opens for bar in found.bars[:first]) - 1) if piece.own else Own()
    tempo, tempo_says = _tempo(walks, found, first, last, meter)
    feel, feel_says = feel_of(walks, found.bars[first - 1].measures[0][0], own)
    placed, lost = _place([read for row in reads for read in row], homes, (first, last), meter, feel, tempo, own)
    if not placed:
        raise MusicXmlError(f"no strokes in {range_text(first, last)}; all stand outside the bars' length")
    beat, between = _beat(placed, meter, last - first + 1, own)
    told = [
        _which(first, last, found),
        *_parts(drums, walks),
        *says,
        *([] if found.pickup < 0 else _pickup(reads, found)),
        *between,
        *tempo_says,
        *feel_says,
        *_lost(lost, beat),
        *meanings.says(),
        *[line for reader in readers for line in _doubts(reader)],
        *[line for walk in drums for line in walk.says],
        *found.says,
        *_unsaid(drums),
    ]
    return Import(
        beat, tempo, _clean(piece.title, MAX_TITLE), tuple(dict.fromkeys(told)), feel, piece.own, _note(own.note)
    )


def _which(first: int, last: int, found: Bars) -> str:
    here = f" (here {range_text(1, last - first + 1)})" if 1 < first < last else ""
    return f"Read {range_text(first, last)} of {len(found.bars)}{here}."


def _parts(drums: Sequence[Walk], walks: Sequence[Walk]) -> list[str]:
    says = []
    if len(drums) > 1:
        names = ", ".join(walk.part.label[:40] for walk in drums[:6]) + (" and more" if len(drums) > 6 else "")
        says.append(f"{len(drums)} drum parts were read together, as one player's: {names}.")
    others = len(walks) - len(drums)
    if others:
        says.append("1 other part was left out." if others == 1 else f"{others} other parts were left out.")
    return says


def _pickup(reads: Sequence[Sequence[Read]], found: Bars) -> list[str]:
    strokes = sum(read.measure == found.pickup for row in reads for read in row)
    many = "1 stroke" if strokes == 1 else f"{strokes} strokes"
    return [f"The pickup before bar 1 ({many}) was left out."]


def _nothing(readers: Sequence[Reader], drums: Sequence[Walk]) -> str:
    doubts = [line for reader in readers for line in _doubts(reader)]
    if doubts:
        return f"nothing of it can be played on the kit. {' '.join(doubts[:2])}"
    names = ", ".join(walk.part.label[:40] for walk in drums[:3])
    return f"the drum part ({names}) has no strokes; export a score with some"


def _doubts(reader: Reader) -> list[str]:
    part = reader.walk.part.label
    return [f"{part}, {bars_of(bars)}: {text}." for text, bars in reader.told.items()]


def _place(
    reads: Sequence[Read],
    homes: dict[int, tuple[int, Fraction]],
    chosen: tuple[int, int],
    meter: Meter,
    feel: Feel,
    tempo: int,
    own: Own,
) -> tuple[list[_Placed], list[_Placed]]:
    """Put strokes into the chosen bars; what stands beyond a bar's end is the second list."""
    placed: list[_Placed] = []
    beyond: list[_Placed] = []
    per_ms = Fraction(tempo * meter.tempo_unit[1], 6_000_000)  # ticks a millisecond
    for read in reads:
        number, start = homes.get(read.measure, (0, Fraction(0)))
        if not chosen[0] <= number <= chosen[1]:
            continue
        inside = start * QUARTER + read.at
        if own.known:  # what no written value reaches stands beside its note
            inside += read.attack - feel.push(read.stroke.surface) * per_ms
        at = inside + (number - chosen[0]) * meter.bar
        where = _Placed(read, at, number)
        (placed if 0 <= round(inside) < meter.bar else beyond).append(where)
    return placed, beyond


def _beat(placed: Sequence[_Placed], meter: Meter, bars: int, own: Own) -> tuple[Beat, list[str]]:
    says = []
    rounded = sum(each.at.denominator != 1 for each in placed) if not own.known else 0
    if rounded:
        many = "1 stroke stands" if rounded == 1 else f"{rounded} strokes stand"
        says.append(f"{many} between our ticks and went to the nearest, less than 1/10080 of a quarter away.")
    best: dict[tuple[int, str], Stroke] = {}
    dropped: list[Stroke] = []
    for each in placed:
        at = min(round(each.at), bars * meter.bar - 1)
        stroke = Stroke(at, each.read.stroke.surface, each.read.stroke.dynamic, each.read.stroke.grace,
                        each.read.stroke.hand)  # fmt: skip
        other = best.get((at, stroke.instrument))
        if other is None:
            best[at, stroke.instrument] = stroke
            continue
        louder, quieter = sorted((other, stroke), key=lambda s: (-s.level, not s.grace, ROWS[s.surface]))
        best[at, stroke.instrument] = louder
        if quieter.surface != louder.surface:
            dropped.append(quieter)
    columns, between = columns_of([stroke.at % meter.bar for stroke in best.values()], meter)
    if own.columns and not meter.bar % COLUMNS[own.columns]:
        columns, between = own.columns, 0
    try:
        beat = make_beat(meter, bars, columns, best.values())
    except BeatError as error:
        most = "; choose fewer bars" if len(best) > MAX_STROKES else ""
        raise MusicXmlError(error.message + most, field="bars") from None
    if between:
        many = "1 stroke lies" if between == 1 else f"{between} strokes lie"
        says.append(f"The columns are {columns}; {many} between them and stayed where they are.")
    if dropped:
        shown = "; ".join(f"{s.surface}, {spoken_at(s.at, meter, bars)}" for s in dropped[:_NAMED])
        more = f"; and {len(dropped) - _NAMED} more" if len(dropped) > _NAMED else ""
        says.append(f"Left out, where one instrument had a louder stroke at the place: {shown}{more}.")
    return beat, says


def _lost(beyond: Sequence[_Placed], beat: Beat) -> list[str]:
    if not beyond:
        return []
    bars = Counter(each.bar for each in beyond)
    many = "1 stroke" if len(beyond) == 1 else f"{len(beyond)} strokes"
    named = bars_of([str(bar) for bar in sorted(bars)])
    return [f"{many} in {named} stood beyond the end of a bar of {beat.meter} and {_were(len(beyond))} left out."]


def _were(count: int) -> str:
    return "was" if count == 1 else "were"


def _unsaid(drums: Sequence[Walk]) -> list[str]:
    if any("dynamics" in measure.marks for walk in drums for measure in walk.measures):
        return ["Marks such as f and p were not taken over: a stroke is as loud as its own marks say."]
    return []


def _tempo(walks: Sequence[Walk], found: Bars, first: int, last: int, meter: Meter) -> tuple[int, list[str]]:
    """The tempo at the first chosen bar, in hundredths of the meter's beat a minute, rounded, halves up."""
    start = found.bars[first - 1].measures[0][0]
    end = found.bars[last - 1].measures[-1][0]
    said = sorted(
        (
            (index, tempo.at, tempo.quarters)
            for walk in walks
            for index, m in enumerate(walk.measures)
            for tempo in m.tempos
        ),
        key=lambda each: each[:2],
    )
    before = [quarters for index, at, quarters in said if (index, at) <= (start, 0)]
    after = [quarters for index, at, quarters in said if (start, 0) < (index, at) and index <= end]
    if not before and not said:
        return DEFAULT_TEMPO, [f"The score has no tempo; {DEFAULT_TEMPO // 100} was taken."]
    taken = before[-1] if before else said[0][2]
    says = []
    if any(quarters != taken for quarters in after):
        says.append("The tempo changes inside these bars; the one at their start was taken.")
    exact = taken * QUARTER * 100 / meter.tempo_unit[1]
    hundredths = int(exact + Fraction(1, 2))
    tempo = min(max(hundredths, MIN_TEMPO), MAX_TEMPO)
    if tempo != hundredths:
        says.append(
            f"The score's tempo of {hundredths / 100:g} is out of range ({MIN_TEMPO // 100} to {MAX_TEMPO // 100}); "
            f"{tempo // 100} was taken."
        )
    return tempo, says


def _note(text: str) -> str:
    return "".join(letter for letter in text if letter.isprintable() or letter in "\n\t")[:MAX_NOTE].strip()


def _clean(text: str, most: int) -> str:
    return "".join(letter for letter in " ".join(text.split()) if letter.isprintable())[:most].strip()
