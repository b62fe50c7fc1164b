"""Embellish: add quiet notes, extra kicks or ornamented strokes at chosen free places, or beside chosen strokes.

Never on a taken place of its own instrument; `clear-of` names what must be silent there as well, `except` leaves
places out. Places are those of the columns, or (`beside`) lie a `step` before or after strokes of `of`, round the
loop, or half way between one of them and the next, where that is a whole number of steps from both.

`most` limits how many come into a bar: of n free places of a bar m stay, those numbered i * n // m for i from 0, so the
first always stays and the rest are spread over the others as evenly as they lie. Our choice.

A flam, drag or ruff takes both hands (a buzz or a diddle takes one). Where a third hand would be needed the stage says
so, or the riding hand leaves out its stroke there (`yields`).
"""

from __future__ import annotations

from collections.abc import Collection
from typing import Any

from ..lineage.ledger import Ledger
from ..model.beat import Stroke
from ..model.count import spoken
from ..model.kit import FEET_ONLY, GRACE_WORDS, INSTRUMENTS
from ..model.place import place_at
from ..model.roles import BACKBEAT_VOICE, RIDING
from .among import pick_among
from .kind import Kind, Word, chosen, places, voice_of
from .notes import read_cell
from .scene import EVERYTHING, Scene, surfaces_of
from .selection import read_selection
from .setting import CHOICE, DYNAMIC, GRACE, NOTE, NUMBER, PLACES, TARGET, TARGETS, Setting
from .words import STROKES, dynamic_words, join, note_words, places_words, target_words

AT, BEFORE, AFTER, BETWEEN = "at", "before", "after", "between"
NOTHING = "nothing"
TWO_HANDS = ("flam", "drag", "ruff")
_TOLD = 4  # places named in one remark; our choice
_OF, _STEP = BACKBEAT_VOICE, "sixteenth"

SETTINGS = (
    Setting("surface", 1, TARGET, "snare", label="what is added on"),
    Setting("at", 2, PLACES, "e a", places=True, label="the places",
            example="Such as 2 4, e a, 2:3&, first backbeat, upbeats free."),
    Setting("except", 3, PLACES, "", places=True, label="the places left out", offer="leave some places out",
            example="Such as 4a, or 2 4."),
    Setting("dynamic", 4, DYNAMIC, "ghost", label="how loud"),
    Setting("grace", 5, GRACE, "", label="the ornament", offer="with an ornament"),
    Setting("clear-of", 6, TARGETS, (), label="what must be silent there", offer="keep clear of other lines"),
    Setting("beside", 7, CHOICE, AT, words=(AT, BEFORE, AFTER, BETWEEN), label="at places, or beside strokes",
            offer="before, after or between strokes"),
    Setting("of", 8, TARGET, _OF, needs="beside", label="beside the strokes of what", offer="beside other strokes"),
    Setting("step", 9, NOTE, _STEP, needs="beside", label="how far from the stroke", offer="at another distance",
            example="Such as thirty-second, eighth triplet."),
    Setting("most", 10, NUMBER, "0", low=0, high=32, label="how many in a bar", offer="only so many in a bar",
            example="Such as 3; 0 is all of them."),
    Setting("yields", 11, CHOICE, NOTHING, words=(NOTHING, RIDING), label="what gives way where a hand is missing",
            offer="let the riding hand give way"),
)  # fmt: skip


def apply(scene: Scene, settings: dict[str, Any], ledger: Ledger) -> None:
    """Add a stroke at every chosen place that is free."""
    surface = voice_of(settings["surface"], scene, ledger)
    if not surface or surface == EVERYTHING:
        if surface:
            ledger.say("the whole beat is no surface to add strokes on")
        return
    found = places(read_selection(settings["at"]), scene, ledger) if settings["beside"] == AT else ()
    beside = _beside(scene, settings, ledger) if settings["beside"] != AT else set()
    left = _left_out(settings["except"], beside, scene, ledger)
    clear = {name for target in settings["clear-of"] for name in surfaces_of(target, scene)}
    busy = {stroke.at for stroke in scene.beat.strokes if stroke.surface in clear}
    busy |= {stroke.at for stroke in scene.beat.strokes if stroke.instrument == INSTRUMENTS[surface]}
    free = [at for at in sorted({*found, *beside}) if at not in left and at not in busy]
    if beside and not free:
        ledger.say("found no free place there")
    free = _thinned(free, int(settings["most"]), scene)
    for at in free:
        ledger.add(at, surface, settings["dynamic"], grace=settings["grace"])
    if settings["grace"] in TWO_HANDS and surface not in FEET_ONLY:
        _see_to_hands(free, scene, settings, ledger)


def _beside(scene: Scene, settings: dict[str, Any], ledger: Ledger) -> set[int]:
    """The places before, after or between the chosen strokes."""
    row = sorted({stroke.at for stroke in chosen(settings["of"], settings["at"], scene, ledger)})
    step, cycle = read_cell(settings["step"])[0].ticks, scene.beat.cycle
    if settings["beside"] != BETWEEN:
        by = -step if settings["beside"] == BEFORE else step
        return {(at + by) % cycle for at in row}
    found = set()
    for at, after in zip(row, [*row[1:], *(first + cycle for first in row[:1])], strict=True):
        if (after - at) % (2 * step) == 0:
            found.add((at + (after - at) // 2) % cycle)
    if row and not found:
        ledger.say(f"no place half way between them lies in steps of {note_words(settings['step'])}")
    return found


def _left_out(text: str, beside: Collection[int], scene: Scene, ledger: Ledger) -> set[int]:
    if not text:
        return set()
    selection = read_selection(text)
    if not beside:
        return set(places(selection, scene, ledger, quiet=True))
    beat = scene.beat  # these may lie off the columns
    taken = {stroke.at for stroke in beat.strokes}
    every = {*range(0, beat.cycle, beat.column), *taken, *beside}
    return set(pick_among(selection, every, scene, lambda said: None, taken))


def _thinned(free: list[int], most: int, scene: Scene) -> list[int]:
    """Leave at most so many in a bar; see above for which."""
    if not most:
        return free
    bars: dict[int, list[int]] = {}
    for at in free:
        bars.setdefault(scene.beat.bar_of(at), []).append(at)
    return [
        at
        for row in bars.values()
        for at in (row if len(row) <= most else [row[i * len(row) // most] for i in range(most)])
    ]


def _see_to_hands(added: list[int], scene: Scene, settings: dict[str, Any], ledger: Ledger) -> None:
    """Where an ornament takes both hands and another hand stroke falls there, somebody must give way."""
    riding = set(scene.roles.riding)
    there: dict[int, list[Stroke]] = {}
    for stroke in scene.beat.strokes:
        if stroke.surface not in FEET_ONLY:
            there.setdefault(stroke.at, []).append(stroke)
    helped: list[int] = []
    stuck: list[int] = []
    for at in added:
        hands = there.get(at, [])
        if not all(stroke.surface in riding for stroke in hands):
            stuck.append(at)
        elif hands and settings["yields"] == RIDING:
            for stroke in hands:
                ledger.leave_out(stroke)
        elif hands:
            helped.append(at)
    grace = GRACE_WORDS[settings["grace"]]
    if helped:
        own = "its stroke" if len(helped) == 1 else "its strokes"
        ledger.say(_needs(grace, helped, scene))
        ledger.offer(f"Let the riding hand leave out {own} there", {"yields": RIDING})
    if stuck:
        ledger.say(f"{_needs(grace, stuck, scene)}; the hands are busy there")


def _needs(grace: str, row: list[int], scene: Scene) -> str:
    beat = scene.beat
    named = [spoken(place_at(at, beat.meter), bars=beat.bars) for at in row[:_TOLD]]
    if len(row) > _TOLD:
        named.append(f"{len(row) - _TOLD} more place{'s' if len(row) > _TOLD + 1 else ''}")
    return (
        f"a {grace} at {named[0]} needs a third hand"
        if len(row) == 1
        else f"{grace}s at {join(named)} need a third hand"
    )


def sentence(settings: dict[str, Any]) -> tuple[Word, ...]:
    """Say it: "Add ghost notes on the snare at every e and a, clear of the kick, except the a of 4."."""
    words = [Word("Add "), Word(dynamic_words(settings["dynamic"], ""), "dynamic")]
    if settings["grace"] == "choke":
        words += [Word(", "), Word(GRACE_WORDS["choke"], "grace"), Word(",")]
    elif settings["grace"]:
        words += [Word(" with a "), Word(GRACE_WORDS[settings["grace"]], "grace")]
    words += [Word(" on "), Word(target_words(settings["surface"]), "surface"), *_where(settings)]
    if settings["clear-of"]:
        words += [Word(", clear of "), Word(join([target_words(name) for name in settings["clear-of"]]), "clear-of")]
    if settings["except"]:
        words += [Word(", except "), Word(places_words(settings["except"], "every place"), "except")]
    if settings["most"] != "0":
        words += [Word(", "), Word(f"at most {settings['most']} in a bar", "most")]
    if settings["yields"] == RIDING:
        words += [Word(", and "), Word("the riding hand gives way where a third hand would be needed", "yields")]
    return (*words, Word("."))


def _where(settings: dict[str, Any]) -> list[Word]:
    beside, of = settings["beside"], Word(target_words(settings["of"]), "of")
    step = Word(note_words(settings["step"]), "step")
    if beside == AT:
        words = [Word(" at "), Word(places_words(settings["at"], "every place"), "at")]
        if (settings["of"], settings["step"]) != (_OF, _STEP):  # they do nothing here, and the sentence says so
            words += [Word(", "), Word("not", "beside"), Word(" "), step, Word(" beside "), of]
        return words
    at = Word(places_words(settings["at"], STROKES), "at")
    if beside == BETWEEN:
        half = Word("half way between", "beside")
        return [Word(" "), half, Word(" "), at, Word(" of "), of, Word(", in steps of "), step]
    return [Word(" "), step, Word(" "), Word(beside, "beside"), Word(" "), at, Word(" of "), of]


KIND = Kind(
    "embellish", "Embellish", SETTINGS, apply, sentence, {"clear-of": ("kick",)}, family="More and fewer strokes"
)
