"""Hands and lead: which hand plays, which hand leads, and two feet on the kick.

Only pinned hands change; with the double pedal only which kick is struck. Nothing moves, nothing merges.

One hand is never pinned twice at a place. Where two strokes would want it, one goes first and the other is left free,
and the stage says where: a hand that was pinned goes before one that was not, the riding hand before others, then the
lower line (drums before cymbals); open-handed the stroke that stands further out on the side of that hand, so that the
arms do not cross. `seat` of the kit says where things stand; left is what is left of the snare.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from ..lineage.ledger import Ledger
from ..model.beat import Beat, Stroke
from ..model.count import spoken
from ..model.kit import BY_NAME, FEET_ONLY
from ..model.place import place_at
from ..model.roles import FEET, KICKS
from .kind import Kind, Word
from .notes import read_cell
from .picking import pick_strokes
from .scene import Scene
from .selection import ALL, read_selection
from .setting import CHOICE, NOTE, PLACES, Setting
from .words import STROKES, join, note_words, places_words

SWAP, OPEN, LEFTY, LEAD = "swap hands", "open-handed", "left-handed", "lead with the left"
ALTERNATE, FROM_LEFT, PEDAL = "alternate", "alternate from the left", "double pedal"
HOW = (SWAP, OPEN, LEFTY, LEAD, ALTERNATE, PEDAL, FROM_LEFT)  # append only: the order is the numbering in links
MOST_SAID = 4  # places named in one remark; our choice
_OTHER = {"R": "L", "L": "R"}
_MIDDLE = BY_NAME["snare"].seat[0]
_KICK, _SECOND = KICKS

SETTINGS = (
    Setting("how", 1, CHOICE, SWAP, words=HOW, label="what the hands or feet do"),
    Setting("at", 2, PLACES, ALL, label="which strokes", example="Such as 2 4, e a, 2:3&, hi-hat, accents."),
    Setting("closer-than", 3, NOTE, "quarter", label="kicks closer together than this", offer="how close the kicks are",
            example="Such as eighth, or eighth triplet."),
)  # fmt: skip


def apply(scene: Scene, settings: dict[str, Any], ledger: Ledger) -> None:
    """Pin the hands of the chosen strokes, or share the kicks between two feet."""
    how = settings["how"]
    feet = how == PEDAL
    pool = [stroke for stroke in scene.beat.strokes if (stroke.surface in (KICKS if feet else _HANDS))]
    heard = len(ledger.says)
    strokes = pick_strokes(read_selection(settings["at"]), scene, pool, ledger.say)
    if not strokes and (not pool or len(ledger.says) == heard):
        ledger.say(f"found no {'kick' if feet else 'stroke of a hand'}" + (f" at {settings['at']}" if pool else ""))
    if not strokes:
        return
    if feet:
        _share(strokes, read_cell(settings["closer-than"])[0].ticks, settings["closer-than"], scene.beat, ledger)
    elif how in (ALTERNATE, FROM_LEFT):
        _alternate(strokes, "R" if how == ALTERNATE else "L", scene.beat, ledger)
    else:
        _pin(strokes, how, scene, ledger)


_HANDS = frozenset(BY_NAME) - FEET_ONLY


def _pin(strokes: tuple[Stroke, ...], how: str, scene: Scene, ledger: Ledger) -> None:
    """Give every stroke the hand that it is to have, as far as its place allows."""
    riding = scene.roles.riding
    if not riding:
        ledger.say("found no riding hand" + ("; strokes without a pinned hand stay free" if how == SWAP else ""))
    wish = _wishes(how, riding)
    wanted = [(stroke, hand) for stroke in strokes if (hand := wish(stroke))]
    asked = {stroke.id for stroke, _ in wanted}
    taken = {(stroke.at, stroke.hand) for stroke in scene.beat.strokes if stroke.hand and stroke.id not in asked}

    def turn(row: tuple[Stroke, str]) -> tuple[int, bool, bool, int, int]:
        stroke, hand = row
        aside = BY_NAME[stroke.surface].seat[0] * (1 if hand == "L" else -1) if how == OPEN else 0
        pinned = how == SWAP and stroke.hand != ""
        return stroke.at, not pinned, stroke.surface not in riding, aside, -BY_NAME[stroke.surface].row

    free: list[int] = []
    for stroke, hand in sorted(wanted, key=turn):
        if (stroke.at, hand) in taken:
            hand = ""
            free.append(stroke.at)
        taken.add((stroke.at, hand))
        ledger.alter(stroke, hand=hand)
    _tell_free(free, scene.beat, ledger)
    if how == LEFTY and wanted:
        ledger.say("the feet change sides too, and the kit stands mirrored")


def _wishes(how: str, riding: tuple[str, ...]) -> Callable[[Stroke], str]:
    """What hand a stroke is to have; "" where it stays as it is."""
    if how == SWAP:
        return lambda stroke: (
            _OTHER.get(stroke.hand) or ("" if not riding else "L" if stroke.surface in riding else "R")
        )
    if not riding:
        return lambda stroke: ""
    if how == OPEN:
        side = BY_NAME[riding[0]].seat[0]
        if side < _MIDDLE:
            return lambda stroke: "L" if BY_NAME[stroke.surface].seat[0] <= side else "R"
        return lambda stroke: "R" if BY_NAME[stroke.surface].seat[0] >= side else "L"
    return lambda stroke: "L" if stroke.surface in riding else "R" if how == LEFTY else ""


def _alternate(strokes: tuple[Stroke, ...], hand: str, beat: Beat, ledger: Ledger) -> None:
    """Let the hands take turns; where a hand is taken at a place the other one plays and the turn goes on from it."""
    asked = {stroke.id for stroke in strokes}
    taken = {(stroke.at, stroke.hand) for stroke in beat.strokes if stroke.hand and stroke.id not in asked}
    free: list[int] = []
    given: list[str] = []
    for stroke in strokes:
        able = [side for side in (hand, _OTHER[hand]) if (stroke.at, side) not in taken]
        if not able:
            free.append(stroke.at)
            ledger.alter(stroke, hand="")
            continue
        taken.add((stroke.at, able[0]))
        ledger.alter(stroke, hand=able[0])
        given.append(able[0])
        hand = _OTHER[able[0]]
    _tell_free(free, beat, ledger)
    if len(given) > 1 and given[0] == given[-1]:
        ledger.say("the last and the first stroke of the loop fall to the same hand")


def _share(strokes: tuple[Stroke, ...], close: int, note: str, beat: Beat, ledger: Ledger) -> None:
    """Let two feet take turns in every run of kicks; where both feet play at once a run ends."""
    first, other = ({stroke.at for stroke in beat.strokes if stroke.surface == name} for name in KICKS)
    both = first & other
    row = [stroke for stroke in strokes if stroke.at not in both]
    cycle = beat.cycle

    def follows(before: Stroke, stroke: Stroke) -> bool:
        gap = (stroke.at - before.at) % cycle
        return 0 < gap < close and not any((at - before.at) % cycle < gap for at in both)

    starts = [index for index, stroke in enumerate(row) if not follows(row[index - 1], stroke)]
    begin = starts[0] if starts else 0
    second: list[int] = []
    foot = ""
    runs = False
    for index in range(begin, begin + len(row)):
        stroke = row[index % len(row)]
        in_run = index > begin and follows(row[index % len(row) - 1], stroke)
        foot = (_SECOND if foot == _KICK else _KICK) if in_run else stroke.surface
        runs = runs or in_run
        ledger.alter(stroke, surface=foot)
        if foot == _SECOND:
            second.append(stroke.at)
    if not runs:
        ledger.say(f"found no kicks closer together than {note_words(note)}")
        return
    if not starts and len(row) % 2:
        ledger.say("the last and the first kick of the loop fall to the same foot")
    _tell_left_foot(second, beat, ledger)


def _tell_left_foot(second: list[int], beat: Beat, ledger: Ledger) -> None:
    """Say where the left foot is wanted on the hi-hat as well."""
    pedal = {stroke.at for stroke in beat.strokes if stroke.surface in FEET}
    both = sorted(pedal.intersection(second))
    if both:
        ledger.say(f"the left foot has the second kick and the hi-hat at once {_where(both, beat)}")
    if any(stroke.surface in ("hi-hat", "half-open hi-hat") for stroke in beat.strokes):
        ledger.say("the left foot leaves the hi-hat for the second kick: closed strokes ring unless a clutch holds it")


def _tell_free(free: list[int], beat: Beat, ledger: Ledger) -> None:
    if free:
        ledger.say(f"one hand cannot play two strokes {_where(sorted(set(free)), beat)}: one of them stays free")


def _where(ticks: list[int], beat: Beat) -> str:
    """Name places: "at 2 and at the e of 3"."""
    said = [f"at {spoken(place_at(at, beat.meter), bars=beat.bars)}" for at in ticks[:MOST_SAID]]
    more = len(ticks) - MOST_SAID
    return join([*said, f"at {more} more {'place' if more == 1 else 'places'}"] if more > 0 else said)


def sentence(settings: dict[str, Any]) -> tuple[Word, ...]:
    """Say it: "Play every stroke open-handed.", "Swap the hands for the backbeats."."""
    how = settings["how"]
    at = Word(places_words(settings["at"], STROKES), "at")
    close = Word(note_words(settings["closer-than"]), "closer-than")
    if how in (OPEN, LEFTY):
        words = [Word("Play "), at, Word(" "), Word(how, "how")]
    else:
        words = [Word(_SAID[how], "how"), Word(" for "), at]
    if how == PEDAL:
        words += [Word(", where kicks come closer together than "), close]
    elif settings["closer-than"] != "quarter":
        words += [Word(", leaving kicks closer together than "), close, Word(" alone")]
    return (*words, Word("."))


_SAID = {
    SWAP: "Swap the hands",
    LEAD: "Lead with the left hand",
    ALTERNATE: "Alternate the hands",
    FROM_LEFT: "Alternate the hands from the left",
    PEDAL: "Alternate the feet",
}

KIND = Kind("hands-and-lead", "Hands and lead", SETTINGS, apply, sentence, {"how": OPEN}, family="How it is struck")
