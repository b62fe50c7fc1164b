"""How do written notes become strokes of a beat?

A chord's notes are read together, because what is said of one may mean another: a letter of a sticking stands at the
first note of a chord and means a hand, grace notes belong to the stroke on the same instrument.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from fractions import Fraction
from typing import NamedTuple

from ...model.beat import Stroke
from ...model.kit import BY_NAME, LOUDNESS
from ...model.meter import QUARTER
from .read_marks import BUZZ, Marks, read_marks
from .read_surfaces import Meanings
from .read_time import number_of
from .read_walk import Walk, Written

VELOCITIES = {"ghost": 32, "soft": 56, "normal": 84, "accent": 112}  # as our own files have them; our choice
_FORTE = Fraction(90, 100)  # `dynamics` counts per cent of velocity 90 (MusicXML 4.0, note)
_GHOSTED = ("snare", "tom", "hi-hat")
_GRACES = {1: "flam", 2: "drag"}


class Read(NamedTuple):
    """A stroke and where its bar is: `at` in ticks from the start of the measure, exactly."""

    measure: int
    at: Fraction
    stroke: Stroke
    attack: Fraction  # how far beside its place it sounds, in ticks


class Reader:
    """Reads the strokes of one part."""

    def __init__(self, walk: Walk, meanings: Meanings, own: bool) -> None:
        self.walk, self.meanings, self.own = walk, meanings, own
        self.told: dict[str, list[str]] = {}
        shown = {note.node.get("dynamics") for measure in walk.measures for note in measure.notes}
        self._scaled = own or len(shown) > 1  # where all are the same, none is said

    def read(self) -> list[Read]:
        """Read all strokes in the order of the file."""
        found: list[Read] = []
        for index, measure in enumerate(self.walk.measures):
            groups: dict[int, list[Written]] = {}
            for note in measure.notes:
                groups.setdefault(note.group, []).append(note)
            for group in groups.values():
                found += self._chord(index, measure.number, group)
        return found

    def tell(self, sentence: str, bar: str) -> None:
        """Remember something doubtful, once with all its bars."""
        bars = self.told.setdefault(sentence, [])
        if bar not in bars:
            bars.append(bar)

    def _chord(self, index: int, bar: str, notes: Sequence[Written]) -> list[Read]:
        words = [text for note in notes for text in note.words]
        marks = [read_marks(note.node, words if n == 0 else (), self.own) for n, note in enumerate(notes)]
        found: list[tuple[Written, Marks, str]] = []
        for note, mark in zip(notes, marks, strict=True):
            meaning = self.meanings.of(self.walk, note, mark)
            if meaning.doubt:
                self.tell(meaning.doubt, bar)
            if meaning.surface:
                found.append((note, mark, meaning.surface))
        if not found:
            return []
        surfaces = [surface for _, _, surface in found]
        hands = self._hands([mark.hand for mark in marks], found, bar)
        graces = self._graces(notes, surfaces, bar)
        chokes = self._chokes(found, words)
        made: list[Read] = []
        for number, (note, mark, surface) in enumerate(found):
            grace = graces.get(number, "") or ("choke" if number in chokes else "")
            for at, more in self._tremolo(note, mark, bar):
                stroke = Stroke(0, surface, self._dynamic(note, mark, surface), grace or more, hands[number])
                made.append(Read(index, at * QUARTER, stroke, note.attack * QUARTER))
        return made

    def _hands(self, said: Sequence[str], found: Sequence[tuple[Written, Marks, str]], bar: str) -> list[str]:
        """Give letters to the hands of a chord: a note's own, and what is left over to the first hand without one."""
        hands = ["" if BY_NAME[name].limb != "hand" or mark.hand == "B" else mark.hand for _, mark, name in found]
        free = [n for n, (_, mark, name) in enumerate(found) if BY_NAME[name].limb == "hand" and not mark.hand]
        left = [letter for letter in said if letter in ("R", "L") and letter not in hands]
        for number, letter in zip(free, left, strict=False):
            hands[number] = letter
        if "B" in said and not any(hands):
            self.tell("B asks for both hands and does not say which plays what; no hands were taken", bar)
        return hands

    def _graces(self, notes: Sequence[Written], surfaces: Sequence[str], bar: str) -> dict[int, str]:
        """Find whose the grace notes are, and what they make."""
        graces = [grace for note in notes for grace in note.graces]
        if not graces:
            return {}
        counts: Counter[int] = Counter()
        strangers: set[int] = set()
        for grace in graces:
            name = self.meanings.of(self.walk, grace, read_marks(grace.node, ())).surface
            instrument = BY_NAME[name].instrument if name else ""
            mine = [n for n, each in enumerate(surfaces) if BY_NAME[each].instrument == instrument]
            if mine:
                counts[next((n for n in mine if surfaces[n] == name), mine[0])] += 1
            else:
                strangers.add(grace.group)
        if strangers and not counts:
            hands = [n for n, each in enumerate(surfaces) if BY_NAME[each].limb == "hand"]
            drums = [n for n in hands if BY_NAME[surfaces[n]].material == "drum"]
            target = (drums or hands or [0])[0]
            counts[target] = len(strangers)
            self.tell(f"grace notes on another surface were given to the {surfaces[target]}", bar)
        if any(many > 3 for many in counts.values()):
            self.tell("more than three grace notes were read as a four-stroke ruff", bar)
        return {n: _GRACES.get(many, "ruff") for n, many in counts.items()}

    def _chokes(self, found: Sequence[tuple[Written, Marks, str]], words: Iterable[str]) -> set[int]:
        own = {n for n, (note, _, _) in enumerate(found) if read_marks(note.node, ()).choke}
        if own or not any(mark.choke for _, mark, _ in found) or not words:
            return own
        metal = [n for n, (_, _, name) in enumerate(found) if BY_NAME[name].family in ("cymbal", "ride", "hi-hat")]
        return set(metal[:1])

    def _tremolo(self, note: Written, mark: Marks, bar: str) -> list[tuple[Fraction, str]]:
        """The strokes that a tremolo makes of a note: where, and with which grace."""
        if mark.tremolo == 0:
            return [(note.at, "")]
        if mark.tremolo == 1:
            return [(note.at, "diddle")]
        if mark.tremolo == 2:
            self.tell("two strokes through a stem were read as two diddles", bar)
            return [(note.at, "diddle"), (note.at + note.length / 2, "diddle")]
        if mark.tremolo != BUZZ:
            self.tell("three and more strokes through a stem were read as a buzz", bar)
        return [(note.at, "buzz")]

    def _dynamic(self, note: Written, mark: Marks, surface: str) -> str:
        if mark.ghost:
            return "ghost"
        if mark.accent:
            return "accent"
        said = number_of(note.node.get("dynamics"))
        if said is None or not self._scaled:
            return "normal"
        velocity = said * _FORTE
        word = min(
            sorted(LOUDNESS, key=LOUDNESS.__getitem__, reverse=True), key=lambda w: abs(VELOCITIES[w] - velocity)
        )
        quiet = BY_NAME[surface].family in _GHOSTED and BY_NAME[surface].limb == "hand"
        return "soft" if word == "ghost" and not quiet else word
