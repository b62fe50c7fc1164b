"""How are the chords and rests of a voice written as notes?

Elements stand in the order that the schema demands (MusicXML 4.0, complex type note). Every note of a stroke names its
instrument, graces and chord notes too, carries an id made of the stroke's, and its velocity as per cent of 90
(`dynamics`). `attack` says how far it sounds beside its written place, in divisions: pushes, and what stands at the
nearest written value because no value reaches its place.

A flam is one grace, a drag two, a four-stroke ruff three, with a slur to their stroke; where several strokes of a chord
have some, the last ones stand together. All are slashed, though books slash the flam alone: programs play a grace
without the slash on the beat and its stroke late, and on drums the stroke is on the beat.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from ...model.beat import Stroke
from ...model.feel import Feel
from ..score import Chord, Voice
from ..staff import place
from .directions import ABOVE, BELOW, words
from .element import Lines, leaf, node, number
from .instruments import instrument_id
from .nested import mixed, nested
from .note_marks import SLURS, TYPES, Bracket, brackets, modification, of_stroke, tuplet
from .wish import LYRIC, WORDS, Wish

# MIDI velocities of a stage, as the MIDI files have them; `dynamics` counts per cent of 90 (schema: note).
VELOCITIES = {"ghost": 32, "soft": 56, "normal": 84, "accent": 112}
GRACES = {"flam": 1, "drag": 2, "ruff": 3}
_FORTE = 90
# Surfaces whose place on the staff is no custom: their name stands at their first stroke. Our choice.
_TOLD = frozenset(
    ("second crash", "china", "splash", "stack cymbal", "snare rim", "wood block", "shell", "ride edge")
    + ("high tom rim", "mid tom rim", "low tom rim", "floor tom rim")
)
_ONE_PLACE = ("ride", "ride edge")  # one place and head for two surfaces: named at every change


class Pen(NamedTuple):
    """How the notes of one stage are written."""

    wish: Wish
    prefix: str  # of ids
    division: int  # ticks
    push: float  # ticks a millisecond
    feel: Feel
    marks: Mapping[str, str]
    hands: Mapping[str, str]
    counts: Mapping[int, str]
    told: dict[str, str]  # surfaces named so far in this stage


def note_id(stroke: Stroke, prefix: str) -> str:
    """Make an XML name of a stroke's id.

    >>> note_id(Stroke(12600, "hi-hat foot", id="0/hi-hat foot@5/16"), "s2.")
    's2.0.hi-hat-foot.5-16'
    """
    return prefix + stroke.id.replace("/", ".", 1).replace("@", ".").replace("/", "-").replace(" ", "-")


def voice_lines(pen: Pen, voice: Voice, number_: int, bar: int, said: set[int]) -> Lines:
    """Write a voice through one bar of `bar` ticks; `said` are places whose count stands at a note already."""
    lines: Lines = []
    chords = nested(voice.chords)
    unbeamed = mixed(chords)
    for chord, bracket in zip(chords, brackets(chords), strict=True):
        if not chord.strokes:
            lines += _rest(pen, chord, bracket, number_, bar)
            continue
        count = "" if chord.at in said else pen.counts.get(chord.at, "")
        said.add(chord.at)
        lines += _words(pen, chord, number_)
        lines += _graces(pen, chord, number_, voice.stem, chord.at not in unbeamed)
        for index, stroke in enumerate(chord.strokes):
            lines += _note(pen, chord, bracket, (number_, voice.stem), index, stroke, count)
    return lines


def _rest(pen: Pen, chord: Chord, bracket: Bracket | None, voice: int, bar: int) -> Lines:
    whole = chord.ticks == bar
    shown = tuplet(chord, bracket, ABOVE if voice == 1 else BELOW)
    return node(
        "note",
        leaf("rest", measure="yes" if whole else ""),
        leaf("duration", chord.ticks // pen.division),
        leaf("voice", voice),
        [] if whole else leaf("type", TYPES[chord.value]) + leaf("dot") * chord.dots,
        modification(chord, bracket),
        _beams(chord),
        node("notations", shown) if shown else [],
    )


def _words(pen: Pen, chord: Chord, voice: int) -> Lines:
    """What must be said of a chord in words: hands below, names of unusual surfaces and chokes above."""
    lines: Lines = []
    for stroke in chord.strokes:
        name = stroke.surface
        if name in _ONE_PLACE:
            before = pen.told.get("ride", "ride")
            pen.told["ride"] = name
            if before != name:
                lines += words(name, ABOVE, voice)
        elif name in _TOLD and name not in pen.told:
            pen.told[name] = name
            lines += words(name, ABOVE, voice)
        if stroke.grace == "choke":
            lines += words("choke", ABOVE, voice)
    letters = _letters(pen, chord)
    if letters and pen.wish.sticking == WORDS:
        lines += words(letters, BELOW, voice)
    return lines


def _letters(pen: Pen, chord: Chord) -> str:
    """The hands of a chord in one letter: R, L, or B for both."""
    found = {pen.hands.get(stroke.id, "") for stroke in chord.strokes} - {""}
    return "B" if len(found) > 1 else "".join(found)


def _graces(pen: Pen, chord: Chord, voice: int, stem: str, beamed: bool) -> Lines:
    many = [GRACES.get(stroke.grace, 0) for stroke in chord.strokes]
    most = max(many)
    lines: Lines = []
    for left in range(most, 0, -1):
        first = True
        for index, stroke in enumerate(chord.strokes):
            if many[index] < left:
                continue
            at = place(stroke.surface)
            slurred = many[index] == left and index < SLURS
            beams: Lines = []
            if first and most > 1 and beamed:
                word = "begin" if left == most else "end" if left == 1 else "continue"
                beams = leaf("beam", word, number=1) + leaf("beam", word, number=2)
            quiet = "soft" if stroke.dynamic == "accent" else "ghost"  # as they sound: see timeline
            lines += node(
                "note",
                leaf("grace", slash="yes"),
                [] if first else leaf("chord"),
                node("unpitched", leaf("display-step", at.step), leaf("display-octave", at.octave)),
                leaf("instrument", id=instrument_id(stroke.surface)),
                leaf("voice", voice),
                leaf("type", "eighth" if most == 1 else "16th"),
                leaf("stem", stem),
                [] if at.head == "normal" else leaf("notehead", at.head),
                beams,
                node("notations", leaf("slur", type="start", number=index + 1)) if slurred else [],
                dynamics=_dynamics(quiet),
                id=f"{note_id(stroke, pen.prefix)}.g{left}",
            )
            first = False
    return lines


def _note(
    pen: Pen, chord: Chord, bracket: Bracket | None, voice: tuple[int, str], index: int, stroke: Stroke, count: str
) -> Lines:
    at, first = place(stroke.surface), index == 0
    letter, sticking, up = pen.hands.get(stroke.id, ""), pen.wish.sticking, voice[1] == "up"
    ghost = stroke.dynamic == "ghost"
    signs = of_stroke(stroke, pen.marks.get(stroke.id, ""), letter, (sticking, pen.wish.older), up)
    if stroke.grace in GRACES and index < SLURS:
        signs.insert(0, leaf("slur", type="stop", number=index + 1))
    if first:
        signs.insert(0, tuplet(chord, bracket, ABOVE if up else BELOW))
    lyrics: Lines = []
    if first and sticking == LYRIC and (letters := _letters(pen, chord)):
        lyrics += _lyric(letters, 1, "hands")
    if first and count:
        lyrics += _lyric(count, 2, "count")
    attack = (stroke.at - chord.at + pen.feel.push(stroke.surface) * pen.push) / pen.division
    return node(
        "note",
        [] if first else leaf("chord"),
        node("unpitched", leaf("display-step", at.step), leaf("display-octave", at.octave)),
        leaf("duration", chord.ticks // pen.division),
        leaf("instrument", id=instrument_id(stroke.surface)),
        leaf("voice", voice[0]),
        leaf("type", TYPES[chord.value]),
        leaf("dot") * chord.dots,
        modification(chord, bracket),
        leaf("stem", voice[1]),
        [] if at.head == "normal" and not ghost else leaf("notehead", at.head, parentheses="yes" if ghost else ""),
        _beams(chord) if first else [],
        node("notations", *signs) if any(signs) else [],
        lyrics,
        node("play", leaf("other-play", letter, type="hand")) if letter else [],
        dynamics=_dynamics(stroke.dynamic),
        attack=number(attack) if attack else "",
        id=note_id(stroke, pen.prefix),
    )


def _beams(chord: Chord) -> Lines:
    return [line for level, word in enumerate(chord.beams, start=1) for line in leaf("beam", word, number=level)]


def _lyric(text: str, line: int, name: str) -> Lines:
    return node("lyric", leaf("syllabic", "single"), leaf("text", text), number=line, name=name)


def _dynamics(word: str) -> str:
    return number(round(VELOCITIES[word] * 100 / _FORTE, 2))
