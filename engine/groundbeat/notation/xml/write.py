"""How does a stage, or every stage one after the other, become a MusicXML file?

One drum part. The score of a stage comes from `spelling`; here are the head, the bars and what stands at their
beginnings. Stages one after the other have a rehearsal mark each and a double bar line between them; those that are
off are left out. Divisions are as few as hold every length exactly.

The loop is not written as a repeat, and bars that repeat are written out: programs that know the sign drop the notes
under it. With `signs` they get the sign too (the notes are written all the same, as the standard asks).
"""

from __future__ import annotations

from collections.abc import Sequence
from math import gcd

from ... import __version__
from ...errors import RequestError
from ...model.feel import Feel
from ...model.groove import Groove
from ...model.meter import QUARTER, Meter
from ...variation.stack import Stage, plain
from ..score import Bar, Score
from ..spelling import spell
from ..staff import marks
from . import directions
from .element import Lines, leaf, node
from .instruments import PART, part_list
from .notes import Pen, voice_lines
from .wish import NONE, Hands, Made, Wish, checked

MAX_STROKES = 8_000  # in a file: as in our MIDI files, twice the fullest beat. Our choice
USUAL = Wish()
_HEAD = (
    '<?xml version="1.0" encoding="UTF-8"?>',
    '<!DOCTYPE score-partwise PUBLIC "-//Recordare//DTD MusicXML 4.0 Partwise//EN" '
    '"http://www.musicxml.org/dtds/partwise.dtd">',
)


def musicxml(groove: Groove, stages: Sequence[Stage], wish: Wish = USUAL, hands: Hands | None = None) -> Made:
    """Write a stage of a groove, or all of them, as MusicXML 4.0.

    `hands` are the hands to write, by stage and stroke; the strokes' own where it is None. RequestError for a wish that
    cannot be had, or where the file would grow too long.
    """
    checked(wish, len(stages))
    last = wish.stage if wish.stage >= 0 else len(stages) - 1
    chosen = [stages[last]]
    if wish.through:
        chosen = [stage for stage in stages[: last + 1] if stage.variation is None or stage.variation.on]
    strokes = sum(len(stage.beat.strokes) for stage in chosen)
    if strokes > MAX_STROKES:
        raise RequestError(
            f"the score would hold {strokes} strokes, at most {MAX_STROKES} are written; choose fewer stages",
            field="through",
        )
    scores = [spell(stage.beat, wish.voices) for stage in chosen]
    division = _division(scores)
    measures: Lines = []
    bars = 0
    pushed = moved = False
    for index, (stage, score) in enumerate(zip(chosen, scores, strict=True)):
        before = (chosen[index - 1], scores[index - 1]) if index else None
        head = _opening(groove, stages, stage, wish, before)
        pen = _pen(groove, stage, score, wish, division, hands)
        measures += _bars(pen, score, head, before and before[1], bars, index + 1 == len(chosen))
        bars += len(score.bars)
        pushed |= bool(stage.feel.pushes)
        moved |= bool(score.moved)
    text = node(
        "score-partwise",
        node("work", leaf("work-title", groove.title)) if groove.title else [],
        leaf("movement-title", _called(chosen[-1])) if not wish.through else [],
        _identification(groove, chosen),
        part_list(stroke.surface for stage in chosen for stroke in stage.beat.strokes),
        node("part", measures, id=PART),
        version="4.0",
    )
    says = dict.fromkeys(line for score in scores for line in score.says)
    if pushed or moved:
        says['How far a note sounds beside its written place stands in "attack", which few programs play.'] = None
    return Made("\n".join((*_HEAD, *text)) + "\n", _name(groove, wish, last), tuple(says))


def _division(scores: Sequence[Score]) -> int:
    """The longest time in ticks that divides a quarter note and every length in these scores."""
    lengths = {chord.ticks for score in scores for bar in score.bars for voice in bar.voices for chord in voice.chords}
    return gcd(QUARTER, *lengths, *(score.meter.bar for score in scores))


def _pen(groove: Groove, stage: Stage, score: Score, wish: Wish, division: int, hands: Hands | None) -> Pen:
    own = {stroke.id: stroke.hand for stroke in stage.beat.strokes if stroke.hand}
    if hands is not None:
        own = {name: hand for name, hand in hands.get(stage.number, {}).items() if hand}
    counts = {count.at: count.syllable for count in score.counts} if wish.counts else {}
    tempo, unit = wish.tempo or groove.tempo, groove.base.meter.tempo_unit[1]
    push = tempo * unit / 6_000_000  # ticks a millisecond: hundredths of a beat a minute
    return Pen(wish, f"s{stage.number}.", division, push, stage.feel, marks(stage.beat.strokes),
               {} if wish.sticking == NONE else own, counts, {})  # fmt: skip


def _opening(
    groove: Groove, stages: Sequence[Stage], stage: Stage, wish: Wish, before: tuple[Stage, Score] | None
) -> Lines:
    """What stands above the first bar of a stage."""
    lines: Lines = []
    if wish.through:
        lines += directions.rehearsal(_called(stage))
    if before is None:
        unit, ticks = groove.base.meter.tempo_unit
        lines += directions.tempo(wish.tempo or groove.tempo, unit, ticks)
    if stage.feel != (before[0].feel if before else Feel()):
        lines += directions.feel(stage.feel)
    if stage.variation is not None:
        numbers = {each.key: each.number for each in stages}
        lines += directions.words(plain(stage.variation, numbers), directions.ABOVE)
    return lines


def _called(stage: Stage) -> str:
    if stage.variation is None:
        return "Base beat"
    return f"Stage {stage.number}: {stage.variation.name}" if stage.variation.name else f"Stage {stage.number}"


def _bars(pen: Pen, score: Score, opening: Lines, before: Score | None, numbered: int, last: bool) -> Lines:
    """Write the bars of a stage, numbered on from `numbered`; `before` is the stage before it in the file."""
    lines: Lines = []
    repeating = bool(before and pen.wish.signs and before.bars[-1].repeats)
    for bar in score.bars:
        signs = pen.wish.signs and bar.repeats
        repeat: Lines = []
        if signs != repeating:
            sign = leaf("measure-repeat", 1, type="start") if signs else leaf("measure-repeat", type="stop")
            repeat = node("measure-style", sign)
        repeating = signs
        start = bar.number == 1
        attributes = _attributes(pen, score.meter, before, repeat) if start else repeat and node("attributes", repeat)
        end = bar.number == len(score.bars)
        bar_line = node("barline", leaf("bar-style", "light-heavy" if last else "light-light"), location="right")
        lines += node(
            "measure",
            leaf("print", new_system="yes") if start and before else [],
            attributes,
            opening if start else [],
            _voices(pen, bar, score.meter.bar),
            bar_line if end else [],
            number=numbered + bar.number,
        )
    return lines


def _attributes(pen: Pen, meter: Meter, before: Score | None, repeat: Lines) -> Lines:
    first = before is None
    return node(
        "attributes",
        leaf("divisions", QUARTER // pen.division) if first else [],
        node("key", leaf("fifths", 0)) if first else [],
        [] if before and before.meter == meter else _time(meter),
        node("clef", leaf("sign", "percussion")) if first else [],
        repeat,
    )


def _time(meter: Meter) -> Lines:
    """Write the meter; with its groups where a reader would take others, as in 3+2+2 over 8."""
    beats = str(meter.count) if meter.is_usual else "+".join(map(str, meter.grouping))
    return node("time", leaf("beats", beats), leaf("beat-type", meter.unit))


def _voices(pen: Pen, bar: Bar, ticks: int) -> Lines:
    lines: Lines = []
    said: set[int] = set()
    for number, voice in enumerate(bar.voices, start=1):
        if not voice.chords:
            continue
        if lines:
            lines += node("backup", leaf("duration", ticks // pen.division))
        lines += voice_lines(pen, voice, number, ticks, said)
    return lines


def _identification(groove: Groove, chosen: Sequence[Stage]) -> Lines:
    """Say what made the file, and of each stage what the standard has no word for: its columns and its feel."""
    fields: Lines = []
    for stage in chosen:
        name = f"stage {stage.number}"
        fields += leaf("miscellaneous-field", stage.beat.columns, name=f"{name} columns")
        if stage.feel != Feel():
            fields += leaf("miscellaneous-field", _feel(stage.feel), name=f"{name} feel")
    if groove.note:
        fields += leaf("miscellaneous-field", groove.note, name="note")
    supports = [leaf("supports", type="yes", element=element) for element in ("beam", "stem")]
    return node(
        "identification",
        node("encoding", leaf("software", f"Groundbeat {__version__}"), *supports),
        node("miscellaneous", fields),
    )


def _feel(feel: Feel) -> str:
    """Write a feel so that it can be read back: "swing eighths 2:1; push snare 10" (ms)."""
    words = [f"swing {feel.swung} {feel.long}:{feel.short}"] if feel.swung else []
    return "; ".join([*words, *(f"push {name} {ms}" for name, ms in feel.pushes)])


def _name(groove: Groove, wish: Wish, last: int) -> str:
    """A name for the file: the title's letters and digits, and what is in it."""
    letters = "".join(sign if sign.isalnum() else " " for sign in groove.title.lower())
    stem = "-".join(letters.split())[:60].strip("-") or "groove"
    return f"{stem}-{'stages' if wish.through else f'stage-{last}'}"
