"""Which surface does a written note mean?

What a file says is asked for in this order: in a file of ours the instrument's name; its key (`midi-unpitched`, less
1); its name; its sound; the part's name where that is one instrument and not a kit; the place on the staff with its
notehead. A part that is called after one instrument comes before the place, because there the place is custom or
chance. Last, the marks at the note: a hi-hat with an o is open, a snare with a slashed head is a rimshot.

`midi-unpitched` counts from 1, and some programs count from 0: where the names (else the places) of at least half of
a part's instruments fit the number better as it stands, it is taken so, and told.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from typing import NamedTuple

from ...codec.drum_keys import key_name, surfaces
from ...model.kit import BY_NAME
from .read_marks import CLOSED, HALF, OPEN, Marks
from .read_names import column_of, named, ours, spot_name, table_of
from .read_parts import DRUM_CHANNEL, Instrument, Part
from .read_walk import Walk, Written

_SLASH = "slash"
_CROSSED = ("x", "cross", "circle x", "slash x")


class Meaning(NamedTuple):
    """A surface, "" for what is left out; `doubt` says why it may be another, or what was left out."""

    surface: str
    doubt: str


class Meanings:
    """What the notes of all drum parts of a score mean."""

    def __init__(self, walks: Sequence[Walk], own: bool) -> None:
        self._own = own
        self._by_place = False
        self._told: list[str] = []
        self._lone: dict[int, Instrument | None] = {}
        used: set[int] = set()
        spots: Counter[tuple[int, str]] = Counter()
        self._offsets: dict[int, int] = {}
        for walk in walks:
            notes = [note for measure in walk.measures for note in measure.notes]
            self._lone[id(walk.part)] = _lone(walk.part, notes)
            self._offsets[id(walk.part)] = self._offset(walk.part, notes)
            for note in notes:
                found = self.instrument(walk.part, note)
                key = self._key(walk, note, found)
                if key:
                    used.add(key)
                if note.line is not None and not (found and (found.key or named(found.name))):
                    spots[note.line, note.head] += 1
        self._keys = surfaces(used)
        self.column = column_of(spots)
        self._table = table_of(self.column, spots)

    def says(self) -> list[str]:
        """What is to be told once all notes were asked for."""
        if not self._by_place:
            return self._told
        return [
            *self._told,
            "Where the score does not name what is struck, its place on the staff decided, by the custom of "
            f"{self.column}.",
        ]

    def instrument(self, part: Part, note: Written) -> Instrument | None:
        """The instrument that a note names, or the only one that it can mean."""
        return part.instruments.get(note.instrument) or (None if note.instrument else self._lone[id(part)])

    def of(self, walk: Walk, note: Written, marks: Marks) -> Meaning:
        """Find what a note means."""
        part = walk.part
        found = self.instrument(part, note)
        meaning = self._plain(walk, note, found)
        if note.instrument and found is None:
            meaning = meaning._replace(
                doubt=meaning.doubt or f'the instrument "{note.instrument[:30]}" is not in the part list; read by place'
            )
        if not meaning.surface:
            return meaning
        certain = self._own and found is not None and bool(ours(found.name))
        return _marked(meaning, note, marks, certain)

    def _plain(self, walk: Walk, note: Written, found: Instrument | None) -> Meaning:
        if found is not None and ours(found.name) and (self._own or not found.key):
            return Meaning(ours(found.name), "")
        if note.head == _SLASH and (found is None or not found.key):
            return Meaning("", "slashes, which ask to play on as before, were left out")
        name = named(found.name) if found is not None else None
        key = self._key(walk, note, found)
        if key and key in self._keys:
            surface = self._keys[key]
            if name and BY_NAME[name].key == key and name != surface:
                surface = name  # the key stands for several, and the name says which
            elif name and BY_NAME[name].family != BY_NAME[surface].family and found is not None:
                return Meaning(surface, f'"{found.name[:30]}" has the key of a {surface}; read by its key')
            return Meaning(surface, "")
        if key and not name:
            return Meaning("", f"{key_name(key)} was left out, because the kit does not have it")
        if name is not None and found is not None:
            doubt = "" if name else f"{found.name[:30]} was left out, because the kit does not have it"
            return Meaning(name, doubt)
        sound = named(found.sound) if found is not None and found.sound else None
        if sound:
            return Meaning(sound, "")
        single = named(walk.part.name)
        if single is not None:
            told = f'the part is called "{walk.part.name[:30]}"'
            return Meaning(single, "" if single else f"{told}, which the kit does not have; it was left out")
        return self._at_place(note)

    def _at_place(self, note: Written) -> Meaning:
        if note.line is None:
            return Meaning("snare", "a note without place, instrument or name was read as snare")
        spot = note.line, note.head
        self._by_place = True
        if spot in self._table:
            return Meaning(self._table[spot], "")
        for head in ("x", "normal") if note.head in _CROSSED else ("normal", "x"):
            if (note.line, head) in self._table:
                surface = self._table[note.line, head]
                return Meaning(
                    surface, f"{spot_name(spot)} was read as {surface}; no custom that we know has that head"
                )
        return Meaning("", f"{spot_name(spot)} was left out, because no custom that we know has it")

    def _key(self, walk: Walk, note: Written, found: Instrument | None) -> int:
        if found is not None and found.key:
            return max(found.key - self._offsets[id(walk.part)], 0)
        if note.pitch >= 0 and not walk.percussion:
            return note.pitch  # a pitched note of a part on the drums' channel
        return 0

    def _offset(self, part: Part, notes: Sequence[Written]) -> int:
        """What to take off this part's `midi-unpitched`: 1, or 0 where the file counts from 0."""
        shown: dict[str, str] = {}
        table = table_of("Weinberg", {})
        for note in notes:
            if note.line is not None and (note.line, note.head) in table:
                shown.setdefault(note.instrument, table[note.line, note.head])
        keyed = [each for each in part.instruments.values() if each.key]
        witnesses = [(each.key, name) for each in keyed if (name := named(each.name))]
        witnesses = witnesses or [(each.key, shown[each.id]) for each in keyed if each.id in shown]
        right = sum(_fits(key - 1, name) for key, name in witnesses)
        unshifted = sum(_fits(key, name) for key, name in witnesses)
        if unshifted <= right or 2 * (len(witnesses) - right) < len(witnesses):
            return 1
        self._told.append(
            f"{part.label}: midi-unpitched counts from 0 and not from 1, as names or places show; it was read so."
        )
        return 0


def is_drums(walk: Walk) -> bool:
    """Tell whether a part has strokes: unpitched notes, or notes in a percussion clef or on the drums' channel."""
    notes = [note for measure in walk.measures for note in measure.notes]
    if any(note.pitch < 0 for note in notes):
        return True
    channel = any(each.channel == DRUM_CHANNEL for each in walk.part.instruments.values())
    return bool(notes) and (walk.percussion or channel)


def _lone(part: Part, notes: Sequence[Written]) -> Instrument | None:
    """The only instrument of a part, where its notes name none and stand on one place: it is left to be understood."""
    places = {(note.line, note.head) for note in notes if not note.instrument}
    if len(part.instruments) == 1 and len(places) <= 1:
        return next(iter(part.instruments.values()))
    return None


def _fits(key: int, name: str) -> bool:
    """Tell whether a key is that of a surface; six keys stand for toms."""
    meant = surfaces({key}).get(key, "")
    return meant == name or (bool(meant) and BY_NAME[name].family == "tom" == BY_NAME[meant].family)


def _marked(meaning: Meaning, note: Written, marks: Marks, certain: bool) -> Meaning:
    """Change a surface by its marks and head."""
    surface, doubt = meaning
    if surface in ("hi-hat", "open hi-hat", "half-open hi-hat"):
        if marks.hat:
            return Meaning({OPEN: "open hi-hat", HALF: "half-open hi-hat", CLOSED: "hi-hat"}[marks.hat], doubt)
        if surface == "hi-hat" and note.head == "circle x" and not certain:
            return Meaning("open hi-hat", doubt or "a hi-hat with a circled head was read as open")
    elif surface == "hi-hat foot" and marks.hat == OPEN:
        return Meaning("foot splash", doubt)
    elif surface == "snare" and not certain:
        if note.head == "slashed" or marks.rimshot:
            return Meaning("rimshot", doubt)
        if note.head in ("x", "cross"):
            return Meaning("cross-stick", doubt or "a snare with a crossed head was read as cross-stick")
    elif surface == "ride" and not certain:
        if note.head == "diamond":
            return Meaning("ride bell", doubt)
        if marks.edge:
            return Meaning("ride edge", doubt)
    return Meaning(surface, doubt)
