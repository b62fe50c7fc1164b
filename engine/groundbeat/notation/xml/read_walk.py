"""What does one part play, bar by bar, and when?

Places are fractions of a quarter note from the start of their bar. A part is walked in the order of the file: notes
move on, `backup` and `forward` move the place, a `chord` note stands where the last one did.

Programs round: three triplets in divisions of 4, seven notes of 69 divisions in a quarter of 480. Where a note's
written value (type, dots, tuplet) differs from its duration by less than one division, the written one is exact and is
taken; where it differs by more, the duration says when the next note comes, and is. After a jump the place is the
simpler of the two that rounding may have meant.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import NamedTuple

from .read_parts import Part
from .read_time import Tempo, Time, number_of, read_tempo, read_time, written
from .read_tree import Node

_CLEF_STEPS = {"G": 32, "F": 24, "C": 28}  # diatonic number of the note on the clef's line; the octave's C is 7 * it
_BOTTOM = 30  # E4, the bottom line in treble clef
_STEPS = "CDEFGAB"


class Written(NamedTuple):
    """One stroke as it is written. `line` is None where no place is given, `group` is one for the notes of a chord."""

    at: Fraction
    length: Fraction
    node: Node
    line: int | None
    head: str
    instrument: str
    pitch: int  # the MIDI key of a pitched note, -1 for an unpitched one
    graces: tuple[Written, ...]
    words: tuple[str, ...]
    group: int
    attack: Fraction


class Measure(NamedTuple):
    """One measure of a part."""

    number: str
    implicit: bool
    length: Fraction  # as far as it is filled
    time: Time | None  # where it is said
    notes: tuple[Written, ...]
    tempos: tuple[Tempo, ...]
    marks: frozenset[str]  # "rehearsal", "repeat", "dynamics", "swing words"
    swing: tuple[str, int, int] | None


class Walk(NamedTuple):
    """A part, walked: its measures; whether its clef is for percussion; what is to be told."""

    part: Part
    measures: list[Measure]
    percussion: bool
    says: tuple[str, ...]


class Walker:
    """Walks one part; what carries over from bar to bar stands here."""

    def __init__(self, part: Part) -> None:
        self.part = part
        self.divisions = Fraction(0)
        self._shifts: dict[str, int] = {}
        self._one_line = False
        self._graces: dict[str, list[Written]] = {}
        self._repeat = 0
        self._group = 0
        self.percussion = False
        self.told: dict[str, list[str]] = {}  # a sentence, the bars that it is about

    def walk(self) -> Walk:
        """Walk all measures."""
        done: list[Measure] = []
        for index, node in enumerate(self.part.measures):
            measure = _One(self, node, node.get("number") or str(index + 1)).read()
            if self._repeat and not measure.notes and index >= self._repeat:
                before = done[index - self._repeat]
                measure = measure._replace(notes=before.notes, length=max(before.length, measure.length))
                self.tell(
                    "A sign that repeats the bar before has no notes of its own; they were copied", measure.number
                )
            done.append(measure)
        for rest in self._graces.values():
            if rest:
                self.tell("Grace notes without a note after them were left out", done[-1].number)
        if any(note.pitch < 0 for measure in done for note in measure.notes):
            done = [self._unpitched(measure) for measure in done]  # a part of both has its drums unpitched
        return Walk(self.part, done, self.percussion, tuple(self._says()))

    def _unpitched(self, measure: Measure) -> Measure:
        kept = tuple(note for note in measure.notes if note.pitch < 0)
        if len(kept) < len(measure.notes):
            self.tell("Notes with a pitch were left out, because others have none", measure.number)
        return measure._replace(notes=kept)

    def tell(self, sentence: str, bar: str) -> None:
        """Remember something for the end, once with all its bars."""
        bars = self.told.setdefault(sentence, [])
        if bar not in bars:
            bars.append(bar)

    def _says(self) -> list[str]:
        return [f"{self.part.label}, {bars_of(bars)}: {text[0].lower()}{text[1:]}." for text, bars in self.told.items()]

    def attributes(self, node: Node) -> None:
        """Take what an `attributes` element changes for the notes after it."""
        divisions = number_of(node.said("divisions"))
        if divisions is not None and divisions > 0:
            self.divisions = divisions
        for clef in node.all("clef"):
            sign = clef.said("sign")
            self.percussion = self.percussion or sign == "percussion"
            line = number_of(clef.said("line")) or {"G": 2, "F": 4, "C": 3}.get(sign, 2)
            bottom = _CLEF_STEPS[sign] - 2 * (int(line) - 1) if sign in _CLEF_STEPS else _BOTTOM
            self._shifts[clef.get("number") or "1"] = _BOTTOM - bottom
        for details in node.all("staff-details"):
            if details.has("staff-lines"):
                self._one_line = details.said("staff-lines") == "1"
        for style in node.all("measure-style"):
            repeat = style.find("measure-repeat")
            if repeat is not None:
                count = number_of(repeat.text) or Fraction(1)
                self._repeat = min(int(count), 8) or 1 if repeat.get("type") != "stop" else 0

    def line_of(self, note: Node, unpitched: Node) -> int | None:
        """The place of a note on the staff, as in treble clef."""
        step = unpitched.said("display-step") or unpitched.said("step")
        octave = number_of(unpitched.said("display-octave") or unpitched.said("octave"))
        if self._one_line or step not in _STEPS or not step or octave is None:
            return None
        return 7 * int(octave) + _STEPS.index(step) - _BOTTOM + self._shifts.get(note.said("staff") or "1", 0)

    def next_group(self) -> int:
        """A new number for a note that is not of the chord before."""
        self._group += 1
        return self._group

    def graces_of(self, voice: str) -> list[Written]:
        """The grace notes of a voice that wait for their note."""
        return self._graces.setdefault(voice, [])


class _One:
    """Reads one measure."""

    def __init__(self, walker: Walker, node: Node, number: str) -> None:
        self.walker, self.node, self.number = walker, node, number
        self.raw = self.exact = Fraction(0)  # by the durations, and by the written values
        self.reached = Fraction(0)
        self.last = Fraction(0)  # where the note began that a chord note joins
        self.words: list[tuple[Fraction, str]] = []
        self.notes: list[Written] = []
        self.tempos: list[Tempo] = []
        self.marks: set[str] = set()
        self.time: Time | None = None
        self.swing: tuple[str, int, int] | None = None
        self.group = 0
        self.after_grace = False

    def read(self) -> Measure:
        for node in self.node.children:
            if node.tag == "note":
                self._note(node)
            elif node.tag in ("backup", "forward"):
                self._jump(node)
            elif node.tag == "attributes":
                self.walker.attributes(node)
                self.time = read_time(node) or self.time
            elif node.tag == "direction":
                self._direction(node)
            elif node.tag == "sound":
                self._sound(node, self.exact)
            elif node.tag == "barline" and (node.has("repeat") or node.has("ending")):
                self.marks.add("repeat")
        implicit = self.node.get("implicit") == "yes"
        return Measure(
            self.number, implicit, self.reached, self.time, tuple(self.notes), tuple(self.tempos),
            frozenset(self.marks), self.swing,
        )  # fmt: skip

    def _divisions(self, note: Node | None = None, duration: Fraction | None = None) -> Fraction:
        walker = self.walker
        if not walker.divisions:
            value = written(note) if note is not None else None
            walker.divisions = duration / value if value and duration else Fraction(1)
            walker.tell("The file does not say how long a division is; it was taken from the first note", self.number)
        return walker.divisions

    def _jump(self, node: Node) -> None:
        duration = number_of(node.said("duration"))
        if duration is None:
            self.walker.tell(f"A {node.tag} without a duration was passed over", self.number)
            return
        by = duration / self._divisions() * (-1 if node.tag == "backup" else 1)
        places = (self.raw + by, self.exact + by)
        best = min(places, key=lambda place: (place.denominator, abs(place)))
        if best < 0:
            self.walker.tell("A backup reaches before the start of the bar; the start was taken", self.number)
            best = Fraction(0)
        self.raw = self.exact = self.last = best
        if by > 0:
            self.reached = max(self.reached, best)

    def _length(self, note: Node) -> tuple[Fraction, Fraction]:
        """How long a note is: by its duration, and exactly."""
        duration = number_of(note.said("duration"))
        value = written(note)
        if duration is None or duration < 0:
            if value is None:
                self.walker.tell("A note without duration and type was taken as a quarter", self.number)
                value = Fraction(1)
            else:
                self.walker.tell("A note without a duration was taken as long as it is written", self.number)
            return value, value
        divisions = self._divisions(note, duration)
        lasts = duration / divisions
        if value is None or value == lasts:
            return lasts, lasts
        if abs(value - lasts) * divisions < 1:
            return lasts, value
        if not note.has("rest"):
            self.walker.tell("The duration of a note is not its written value; the duration was taken", self.number)
        return lasts, lasts

    def _note(self, note: Node) -> None:
        grace, chord = note.has("grace"), note.has("chord")
        lasts, length = (Fraction(0), Fraction(0)) if grace else self._length(note)
        joins = chord and not (self.after_grace and not grace)
        at = self.last if joins else self.exact
        if not joins:
            self.last = at
            self.group = self.walker.next_group()
            self.raw += lasts
            self.exact += length
            self.reached = max(self.reached, self.exact)
        self.after_grace = grace
        if note.has("rest"):
            self._drop_graces(note)
            return
        if note.has("cue"):
            self.walker.tell("Small notes that only show what others play (cues) were left out", self.number)
            return
        if any(tie.get("type") == "stop" for tie in note.all("tie")):
            return  # the stroke sounds on
        stroke = self._stroke(note, at, length)
        if stroke is None:
            return
        waiting = self.walker.graces_of(note.said("voice"))
        if grace:
            waiting.append(stroke)
            return
        if waiting and not joins:
            stroke = stroke._replace(graces=tuple(waiting))
            waiting.clear()
        self.notes.append(stroke)

    def _drop_graces(self, note: Node) -> None:
        waiting = self.walker.graces_of(note.said("voice"))
        if waiting:
            self.walker.tell("Grace notes before a rest were left out", self.number)
            waiting.clear()

    def _stroke(self, note: Node, at: Fraction, length: Fraction) -> Written | None:
        unpitched, pitched = note.find("unpitched"), note.find("pitch")
        place = unpitched if unpitched is not None else pitched
        if place is None:
            self.walker.tell("Notes that are neither pitched nor unpitched nor rests were passed over", self.number)
            return None
        head = note.find("notehead")
        instrument = note.find("instrument")
        attack = number_of(note.get("attack"))
        words = tuple(text for where, text in self.words if where == at)
        self.words = [(where, text) for where, text in self.words if where > at]
        return Written(
            at, length, note, self.walker.line_of(note, place), head_of(head.text if head is not None else ""),
            instrument.get("id") if instrument is not None else "",
            _midi_key(pitched) if unpitched is None and pitched is not None else -1,
            (), words, self.group, (attack or Fraction(0)) / (self.walker.divisions or 1),
        )  # fmt: skip

    def _direction(self, node: Node) -> None:
        offset = number_of(node.said("offset")) or Fraction(0)
        at = self.exact + (offset / self._divisions() if offset else 0)
        for kind in node.all("direction-type"):
            for sign in kind.children:
                if sign.tag == "words" and sign.text.strip():
                    text = " ".join(sign.text.split())
                    self.words.append((at, text))
                    if "swing" in text.lower() or "shuffle" in text.lower():
                        self.marks.add("swing words")
                elif sign.tag == "rehearsal":
                    self.marks.add("rehearsal")
                elif sign.tag == "dynamics":
                    self.marks.add("dynamics")
                elif sign.tag == "metronome":
                    tempo = read_tempo(sign)
                    if tempo and not node.has("sound"):
                        self.tempos.append(Tempo(at, tempo))
        for sound in node.all("sound"):
            self._sound(sound, at)

    def _sound(self, node: Node, at: Fraction) -> None:
        tempo = number_of(node.get("tempo"))
        if tempo and tempo > 0:
            self.tempos.append(Tempo(at, tempo))
        if any(node.get(name) for name in ("dacapo", "dalsegno", "tocoda")):
            self.marks.add("repeat")
        swing = node.find("swing")
        if swing is not None:
            first, second = number_of(swing.said("first")), number_of(swing.said("second"))
            straight = swing.has("straight") or not first or not second
            self.swing = (
                ("", 1, 1) if straight else (swing.said("swing-type") or "eighth", int(first or 1), int(second or 1))
            )


def head_of(text: str) -> str:
    """A notehead in the words of the kit.

    >>> head_of("circle-x"), head_of(" Circle X"), head_of("")
    ('circle x', 'circle x', 'normal')
    """
    plain = " ".join(text.lower().replace("-", " ").replace("_", " ").split())
    return {"": "normal", "circled": "circle x", "cross": "cross", "back slashed": "slashed"}.get(plain, plain)


def _midi_key(pitch: Node) -> int:
    step, octave = pitch.said("step"), number_of(pitch.said("octave"))
    alter = number_of(pitch.said("alter")) or Fraction(0)
    if step not in _STEPS or not step or octave is None:
        return -1
    return 12 * (int(octave) + 1) + (0, 2, 4, 5, 7, 9, 11)[_STEPS.index(step)] + int(alter)


def bars_of(bars: Sequence[str]) -> str:
    """Name some bars: "bar 3", "bars 3, 4", "bars 3, 4, 5 and 12 more"."""
    if len(bars) == 1:
        return f"bar {bars[0][:20]}"
    shown = ", ".join(bar[:20] for bar in bars[:3])
    return f"bars {shown}" + (f" and {len(bars) - 3} more" if len(bars) > 3 else "")
