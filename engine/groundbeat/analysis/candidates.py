"""Which variations could come next on this beat?

Nothing here knows a kind by its name. A candidate is drawn from what the catalogue says of a kind: its settings, their
types, and the values that a page offers for them on this beat (the usual ones first, and drawn more often). Where a
setting is a list of changes by hand, the beat itself says what can be changed.

All chance is splitmix64 (Steele, Lea and Flood, "Fast splittable pseudorandom number generators", 2014), begun with
CRC-32 of the beat: the same numbers in every Python. How many settings are changed at once is our choice: few, so that
the sentence stays short.
"""

from __future__ import annotations

from binascii import crc32
from collections.abc import Mapping, Sequence
from typing import Any, NamedTuple

from ..errors import GroundbeatError
from ..model.beat import Beat
from ..model.count import count_text
from ..model.groove import Settings, Value, Variation
from ..model.kit import BY_NAME, DYNAMICS
from ..model.place import place_at, place_text
from ..variation import setting as types
from ..variation.catalogue import ENTRIES, kind
from ..variation.choices import choices
from ..variation.setting import Setting, full
from ..variation.stack import Stage, make, next_stage

TRIED = 10**6  # the key of a variation that is only tried; no document has it
Raw = dict[str, Any]  # settings as a groove file says them
_MASK = (1 << 64) - 1


class Chance:
    """Numbers that look random and are the same for the same text."""

    def __init__(self, text: str) -> None:
        self._state = crc32(text.encode()) << 32 | crc32(text[::-1].encode())

    def below(self, count: int) -> int:
        """A number from 0 to count - 1, all as likely."""
        self._state = (self._state + 0x9E3779B97F4A7C15) & _MASK
        mixed = (self._state ^ self._state >> 30) * 0xBF58476D1CE4E5B9 & _MASK
        mixed = (mixed ^ mixed >> 27) * 0x94D049BB133111EB & _MASK
        return (mixed ^ mixed >> 31) % count

    def early(self, count: int) -> int:
        """A number from 0 to count - 1, the lower ones more likely."""
        return min(self.below(count), self.below(count))


class Candidate(NamedTuple):
    """A variation that could come next, and the stage that it makes."""

    variation: Variation
    raw: Raw
    stage: Stage


def signature(beat: Beat) -> str:
    """Write all of a beat that is heard or played, for chance to begin with."""
    strokes = (f"{s.at} {s.surface} {s.dynamic} {s.grace} {s.hand}" for s in beat.strokes)
    return f"{beat.meter} {beat.bars} {beat.columns}: {'; '.join(strokes)}"


def raw_settings(settings: Settings) -> Raw:
    """Write settled settings as a groove file says them: lists for rows, tables for groups.

    >>> raw_settings((("at", "e a"), ("clear-of", ("kick",)), ("then", (("to", "ride"),))))
    {'at': 'e a', 'clear-of': ['kick'], 'then': {'to': 'ride'}}
    """
    return {name: _raw(value) for name, value in settings}


def _raw(value: Value) -> Any:
    if not isinstance(value, tuple):
        return value
    if value and isinstance(value[0], tuple):
        return raw_settings(value)  # type: ignore[arg-type]
    return list(value)


class Space:
    """Everything that can be drawn on the last of some stages; `below` are that stage and those under it."""

    def __init__(self, below: Sequence[Stage], corrections: tuple[tuple[str, str], ...] = ()) -> None:
        self.below = below
        self.before = below[-1]
        self._corrections = corrections
        self._known: dict[tuple[str, str], list[Any]] = {}
        self.names = tuple(entry.name for entry in ENTRIES)

    def values(self, name: str, path: str, setting: Setting) -> list[Any]:
        """List what a setting of a kind can be on this beat, the usual values first."""
        key = name, path
        if key not in self._known:
            if setting.type is types.CHANGES:
                self._known[key] = []
            else:
                listed = choices(Variation(TRIED, name), path, self.below).options
                row = [option.value for option in listed if option.value != ""]
                if setting.type is types.ROW:
                    self._known[key] = [text.split(", ") for text in row]
                else:
                    self._known[key] = list(row)
        return self._known[key]

    def draw(self, name: str, chance: Chance) -> Raw:
        """Draw settings of a kind: those that a new one begins with, or the needed ones, and some of them other."""
        found = kind(name)
        raw = raw_settings(tuple(found.start.items())) if chance.below(2) else {}  # type: ignore[arg-type]
        for each in found.settings:
            if each.default is None and each.name not in raw:
                self._set(raw, name, each, chance)
        for _ in range((1, 1, 2, 2, 3)[chance.below(5)]):
            self.change(raw, name, chance)
        return raw

    def change(self, raw: Raw, name: str, chance: Chance) -> None:
        """Draw one setting anew, and with it the setting without which it does nothing."""
        found = kind(name).settings
        each = found[chance.below(len(found))]
        self._set(raw, name, each, chance)
        if each.needs and each.needs not in raw:
            self._set(raw, name, next(other for other in found if other.name == each.needs), chance)

    def _set(self, raw: Raw, name: str, each: Setting, chance: Chance) -> None:
        if each.type is types.GROUP:
            group: Raw = {}
            for inner in each.inner:
                if inner.default is None or chance.below(3) == 0:
                    values = self.values(name, f"{each.name}.{inner.name}", inner)
                    if values:
                        group[inner.name] = values[chance.early(len(values))]
            raw[each.name] = group
        elif each.type is types.CHANGES:
            raw[each.name] = _by_hand(self.before.beat, chance)
        else:
            values = self.values(name, each.name, each)
            if not values:
                return
            raw[each.name] = values[chance.early(len(values))]
            if each.type is types.TARGETS:
                more = [raw[each.name], values[chance.early(len(values))]]
                raw[each.name] = list(dict.fromkeys(more[: 1 + chance.below(2)]))

    def attempt(self, name: str, raw: Mapping[str, Any]) -> Candidate | None:
        """Make the stage that such a variation gives; None where its settings do not hold together."""
        try:
            variation = make(TRIED, name, raw)
            return Candidate(variation, dict(raw), next_stage(self.before, variation, self._corrections))
        except GroundbeatError:
            return None

    def shortened(self, candidate: Candidate) -> Candidate:
        """Take away every setting without which the same beat comes out."""
        for name in tuple(dict(candidate.variation.settings)):
            raw = raw_settings(tuple(row for row in candidate.variation.settings if row[0] != name))
            other = self.attempt(candidate.variation.kind, raw)
            if other is None or other.stage.says != candidate.stage.says:
                continue
            if other.stage.beat == candidate.stage.beat and other.stage.feel == candidate.stage.feel:
                candidate = other
        return candidate


def awkward(candidate: Candidate) -> float:
    """Tell how awkward a variation is to say: 1 for a 10 to be counted, 1 for the same line named twice."""
    settings = kind(candidate.variation.kind).settings
    values = full(settings, candidate.variation.settings)
    given = dict(candidate.variation.settings)
    numbers = sum(int(str(given[each.name])) for each in settings if each.type is types.NUMBER and each.name in given)
    lines = [values[each.name] for each in settings if each.type in (types.TARGET, types.SURFACE) and not each.needs]
    return numbers / 10 + len(lines) - len(set(lines))


def _by_hand(beat: Beat, chance: Chance) -> list[str]:
    """One or two changes by hand: a stroke louder or quieter, one out, one more on a line that sounds."""
    changes: list[str] = []
    if not beat.strokes:
        return changes
    for _ in range(1 + chance.below(2)):
        stroke = beat.strokes[chance.below(len(beat.strokes))]
        sign = "=-+"[chance.below(3)]
        at = stroke.at
        if sign == "+":
            at = chance.below(beat.cycle // beat.column) * beat.column
        words = [sign, stroke.surface, text_at(at, beat)]
        if sign != "-":
            words.append(DYNAMICS[chance.below(len(DYNAMICS))])
        changes.append(" ".join(words))
    return changes


def text_at(at: int, beat: Beat) -> str:
    """Write the place of a tick as files do, with its bar where the beat has several."""
    return place_text(place_at(at, beat.meter)) if beat.bars > 1 else count_text(at, beat.meter)


def hand_surfaces(beat: Beat) -> list[str]:
    """Name what the hands strike in a beat, the most struck first."""
    counts: dict[str, int] = {}
    for stroke in beat.strokes:
        if BY_NAME[stroke.surface].limb == "hand":
            counts[stroke.surface] = counts.get(stroke.surface, 0) + 1
    return sorted(counts, key=lambda name: -counts[name])
