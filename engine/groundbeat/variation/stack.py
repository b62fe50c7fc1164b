"""How do variations grow on a base beat, stage by stage, and how is the stack edited?

`grow` gives every stage with its beat and its change. The editing functions take a groove and give a new one; keys of
variations are never used again.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from ..errors import VariationError
from ..lineage.change import Change
from ..lineage.ledger import Ledger, Offer, born, untouched
from ..model.beat import Beat
from ..model.feel import Feel
from ..model.groove import MAX_NAME, MAX_NOTE, MAX_TITLE, MAX_VARIATIONS, Groove, Variation, check_text
from ..model.roles import BACKBEAT_SURFACES, find_backbeats
from .catalogue import kind
from .kind import Word
from .scene import Scene
from .setting import full, settle, with_stages


@dataclass(frozen=True, slots=True)
class Stage:
    """The beat as it stands after a variation; `variation` is None for the base beat.

    `says` are remarks for the reader ("found no backbeat"), `backbeats` the ids of the followed backbeats, `feel` how
    this stage is played, `offers` what would help it.
    """

    number: int
    variation: Variation | None
    beat: Beat
    change: Change
    says: tuple[str, ...]
    backbeats: tuple[str, ...]
    feel: Feel = Feel()
    offers: tuple[Offer, ...] = ()

    @property
    def key(self) -> int:
        """Key of its variation, 0 for the base beat."""
        return self.variation.key if self.variation else 0


def base_stage(groove: Groove) -> Stage:
    """Stage 0: the base beat, in which every stroke is born."""
    return Stage(0, None, groove.base, born(groove.base), (), find_backbeats(groove.base), groove.feel)


def next_stage(before: Stage, variation: Variation, corrections: tuple[tuple[str, str], ...] = ()) -> Stage:
    """Apply one variation to a stage."""
    number = before.number + 1
    if not variation.on:
        return Stage(number, variation, before.beat, untouched(before.beat), (), before.backbeats, before.feel)
    found = kind(variation.kind)
    ledger = Ledger(before.beat, variation.key)
    scene = Scene(before.beat, before.backbeats, corrections, before.feel)
    found.apply(scene, full(found.settings, variation.settings), ledger)
    beat, change = ledger.close()
    absorbed = change.absorbed()
    gone = set(change.left_out)
    followed = dict.fromkeys(absorbed.get(name, name) for name in before.backbeats if name not in gone)
    if change.of:  # a copy of a backbeat on its own drum is a backbeat too: a beat that is repeated has more of them
        surfaces = {stroke.id: stroke.surface for stroke in beat.strokes}
        for copy, of in change.of:
            if of in followed and surfaces[copy] in BACKBEAT_SURFACES:
                followed[copy] = copy
    feel = before.feel if ledger.feel is None else ledger.feel
    return Stage(number, variation, beat, change, tuple(ledger.says), tuple(followed), feel, tuple(ledger.offers))


def grow(
    groove: Groove, known: tuple[Groove, Sequence[Stage]] | None = None, last: int | None = None
) -> tuple[Stage, ...]:
    """Grow all stages of a groove, the base beat first; with `last` none beyond that number.

    `known` is a groove with its stages; those below the first difference are taken over.
    """
    stages = _shared(groove, *known) if known else []
    if not stages:
        stages = [base_stage(groove)]
    for variation in groove.variations[len(stages) - 1 : last]:
        stages.append(next_stage(stages[-1], variation, groove.roles))
    return tuple(stages)


def _shared(groove: Groove, old: Groove, stages: Sequence[Stage]) -> list[Stage]:
    if groove.base != old.base or groove.roles != old.roles or groove.feel != old.feel:
        return []
    same = 0
    for new, before in zip(groove.variations, old.variations, strict=False):
        if new != before:
            break
        same += 1
    return list(stages[: same + 1])


def sentence(variation: Variation, numbers: Mapping[int, int] | None = None) -> tuple[Word, ...]:
    """Say a variation as a teacher would, in words of which some stand for settings.

    `numbers` are those of the stages by key: what a selection names by a key is then said by its number.
    """
    found = kind(variation.kind)
    settings = variation.settings
    if numbers and any(key != number for key, number in numbers.items()):
        settings = with_stages(found.settings, settings, numbers)
    return found.sentence(full(found.settings, settings))


def plain(variation: Variation, numbers: Mapping[int, int] | None = None) -> str:
    """Say a variation as plain text."""
    return "".join(word.text for word in sentence(variation, numbers))


def make(
    key: int, name: str, raw: Mapping[str, object], *, on: bool = True, title: str = "", note: str = ""
) -> Variation:
    """Make a variation of a kind from raw settings; VariationError names what does not fit."""
    found = kind(name)
    title, note = check_text(title, "name", MAX_NAME), check_text(note, "note", MAX_NOTE)
    return Variation(key, found.name, settle(found.settings, raw, found.name), on, title, note)


def add(groove: Groove, name: str, raw: Mapping[str, object], after: int | None = None) -> Groove:
    """Add a variation behind the one with key `after` (0: first; None: last)."""
    if len(groove.variations) >= MAX_VARIATIONS:
        raise VariationError(f"a groove has at most {MAX_VARIATIONS} variations; take one out or begin a new groove")
    new = make(groove.next_key, name, raw)
    at = len(groove.variations) if after is None else 0 if after == 0 else _index(groove, after) + 1
    row = (*groove.variations[:at], new, *groove.variations[at:])
    return replace(groove, variations=row, next_key=groove.next_key + 1)


def remove(groove: Groove, key: int) -> Groove:
    """Take a variation out; its key is not used again."""
    at = _index(groove, key)
    return replace(groove, variations=groove.variations[:at] + groove.variations[at + 1 :])


def move(groove: Groove, key: int, to: int) -> Groove:
    """Put a variation at position `to` (1 is the first)."""
    at = _index(groove, key)
    if not 1 <= to <= len(groove.variations):
        raise VariationError(f"there are positions 1 to {len(groove.variations)}, not {to}", field="to")
    row = list(groove.variations)
    row.insert(to - 1, row.pop(at))
    return replace(groove, variations=tuple(row))


def switch(groove: Groove, key: int, on: bool) -> Groove:
    """Switch a variation on or off."""
    return _put(groove, replace(groove.variations[_index(groove, key)], on=on))


def edit(groove: Groove, key: int, raw: Mapping[str, object]) -> Groove:
    """Give a variation new settings; those not named stay, None takes one back to its default."""
    old = groove.variations[_index(groove, key)]
    merged = {**dict(old.settings), **raw}
    given = {name: value for name, value in merged.items() if value is not None}
    found = kind(old.kind)
    return _put(groove, replace(old, settings=settle(found.settings, given, found.name)))


def accept(groove: Groove, stages: Sequence[Stage], key: int, number: int) -> Groove:
    """Take up what a stage offers, by its number; VariationError where it offers no such thing."""
    at = _index(groove, key)
    offers = stages[at + 1].offers
    if not 0 <= number < len(offers):
        raise VariationError(f"this stage has {len(offers)} offers; there is no number {number}", field="number")
    offer = offers[number]
    if offer.kind:
        return add(groove, offer.kind, dict(offer.settings), after=stages[at].key)
    return edit(groove, key, dict(offer.settings))


def _put(groove: Groove, new: Variation) -> Groove:
    at = _index(groove, new.key)
    return replace(groove, variations=(*groove.variations[:at], new, *groove.variations[at + 1 :]))


def _index(groove: Groove, key: int) -> int:
    for at, variation in enumerate(groove.variations):
        if variation.key == key:
            return at
    raise VariationError(f"there is no variation with key {key}; the last may have been taken out", field="key")


def onto(base: Groove, groove: Groove) -> Groove:
    """Put the variations of one groove on the base beat of another.

    Title, tempo, feel and roles are those of the base; branches and keys come along with the variations.
    """
    title = groove.title if not base.title else f"{groove.title or 'Variations'} on {base.title}"
    return replace(
        base,
        title=title[:MAX_TITLE],
        note="",
        variations=groove.variations,
        branches=groove.branches,
        next_key=groove.next_key,
    )
