"""Sticking: lay a hand pattern over two surfaces; what does each hand play then?

The pattern starts at the first place, one letter a `step`, runs on through the loop and over the bar lines, and is cut
at the end. R plays the surface of the right hand, L that of the left, K adds a kick where none sounds (kicks that are
there are not touched), - is silent. At the chosen places it takes both instruments over, as an ostinato does: strokes
that their own hand hits stay and are pinned to that hand, strokes where it does not are left out, empty hits are
added. Backbeats stay, even under the other hand, unless `keep` is "nothing".

What is added is normal with the right hand and a ghost with the left unless `left-dynamic` says otherwise: the usual
sound of a pattern split between a cymbal and the snare. `accent` makes accents of what the pattern plays there.
"""

from __future__ import annotations

from math import gcd
from typing import Any

from ..lineage.ledger import Ledger
from ..model.beat import Stroke
from ..model.kit import FEET_ONLY, instrument
from ..model.roles import KICK, KICKS, RIDING
from .kind import Kind, Word, voice_of
from .notes import read_cell
from .patterns import hands_words
from .picking import pick_places, pick_strokes
from .scene import EVERYTHING, Scene
from .selection import ALL, LOUD, STAGE, Selection, read_selection
from .selection import BACKBEATS as BACKBEAT_WORD
from .setting import CHOICE, DYNAMIC, HANDS, NOTE, PLACES, TARGET, Setting
from .words import at_words, note_words, target_words

WRITTEN, INVERTED = "as written", "inverted"
BACKBEATS, NOTHING = "backbeats", "nothing"
_TURN = str.maketrans("RL", "LR")

SETTINGS = (
    Setting(
        "pattern", 1, HANDS, "RLRRLRLL", label="the hands", example="R, L, K for a kick, - for nothing: RLRR LRLL."
    ),
    Setting("right", 2, TARGET, RIDING, label="where the right hand plays", example="Such as riding or floor tom."),
    Setting("left", 3, TARGET, "snare", label="where the left hand plays", example="Such as snare or hi-hat."),
    Setting("step", 4, NOTE, "sixteenth", label="the note of each letter", example="Such as eighth triplet."),
    Setting(
        "turned", 5, CHOICE, WRITTEN, words=(WRITTEN, INVERTED), label="which hand leads", offer="turn the hands round"
    ),
    Setting(
        "at", 6, PLACES, ALL, label="the places", offer="only at some places", example="Such as 2:all, 4 4e 4& 4a."
    ),
    Setting(
        "keep", 7, CHOICE, BACKBEATS, words=(BACKBEATS, NOTHING), label="what stays", offer="the backbeats too"
    ),
    Setting("accent", 8, PLACES, "", label="the accents", offer="with accents", example="Such as beats, 2 4, 1 2& 4."),
    Setting("left-dynamic", 9, DYNAMIC, "ghost", label="how loud the left hand's new strokes are",
            offer="the left hand louder"),
)  # fmt: skip


def apply(scene: Scene, settings: dict[str, Any], ledger: Ledger) -> None:
    """Lay the pattern over the two instruments."""
    voices = {letter: _voice(settings[side], side, scene, ledger) for letter, side in (("R", "right"), ("L", "left"))}
    if not all(voices.values()):
        return
    beat = scene.beat
    letters = _letters(settings)
    step = read_cell(settings["step"])[0].ticks
    instruments = {letter: instrument(name) for letter, name in voices.items()}
    there = [stroke for stroke in beat.strokes if stroke.instrument in instruments.values()]
    ticks = sorted({*range(0, beat.cycle, step), *(stroke.at for stroke in there)})
    inside = _within(settings["at"], ticks, scene, ledger)
    if not inside:
        ledger.say(f"found nothing at {settings['at']}")
    accents = _within(settings["accent"], ticks, scene, ledger) if settings["accent"] else set()
    played = {at: letters[index % len(letters)] for index, at in enumerate(range(0, beat.cycle, step)) if at in inside}
    hits = {(at, instruments[hand]): hand for at, hand in played.items() if hand in instruments}
    if settings["accent"] and not accents.intersection(at for at, _ in hits):
        ledger.say(f"found no hand to accent at {settings['accent']}")
    held = set(scene.backbeats) if settings["keep"] == BACKBEATS else set()
    taken = set()
    for stroke in there:
        hand = hits.get((stroke.at, stroke.instrument), "")
        if hand:
            taken.add((stroke.at, stroke.instrument))
            ledger.alter(stroke, hand=hand, dynamic="accent" if stroke.at in accents else None)
        elif stroke.at in inside and stroke.id not in held:
            ledger.leave_out(stroke)
    quiet = {"R": "normal", "L": settings["left-dynamic"]}
    for (at, name), hand in hits.items():
        if (at, name) not in taken:
            ledger.add(at, voices[hand], "accent" if at in accents else quiet[hand], hand=hand)
    kicks = {stroke.at for stroke in beat.strokes if stroke.surface in KICKS}
    for at, letter in played.items():
        if letter == "K" and at not in kicks:
            ledger.add(at, KICK, "accent" if at in accents else "normal")
    _tell_round(len(letters) * step, scene, ledger)


def _voice(target: str, side: str, scene: Scene, ledger: Ledger) -> str:
    """The surface of one hand; "" (and says so) where a hand cannot play it."""
    name = voice_of(target, scene, ledger)
    if name == EVERYTHING or name in FEET_ONLY:
        ledger.say(f"the {side} hand needs one surface of its own; {target_words(name)} is none; nothing was changed")
        return ""
    return name


def _letters(settings: dict[str, Any]) -> str:
    pattern = str(settings["pattern"])
    return pattern.translate(_TURN) if settings["turned"] == INVERTED else pattern


def _within(text: str, ticks: list[int], scene: Scene, ledger: Ledger) -> set[int]:
    """Those of the ticks, on the columns or between them, that a selection of places means.

    A step may be finer than the columns: "2:all" means all of bar 2, and not its columns alone.
    """
    selection = read_selection(text)
    named = tuple([term for term in selection.terms if term.word in (BACKBEAT_WORD, STAGE) or term.word in LOUD])
    plain = tuple([term for term in selection.terms if term not in named])
    found: set[int] = set()
    if named:
        found = set(pick_places(Selection(named, False), scene, ledger.say)).intersection(ticks)
    if plain:
        probes = [Stroke(at, KICK, id=str(at)) for at in ticks]
        found |= {probe.at for probe in pick_strokes(Selection(plain, False), scene, probes, ledger.say)}
    if selection.free:
        found -= {stroke.at for stroke in scene.beat.strokes}
    return found


def _tell_round(length: int, scene: Scene, ledger: Ledger) -> None:
    if scene.beat.cycle % length:
        bar = scene.beat.meter.bar
        rounds = length // gcd(length, bar)
        ledger.say(f"cut at the loop; comes round after {rounds} bar{'' if rounds == 1 else 's'}")


def _surface_words(target: str) -> str:
    return "the riding surface" if target == RIDING else target_words(target)


def sentence(settings: dict[str, Any]) -> tuple[Word, ...]:
    """Say it: "Lay RLRR LRLL in sixteenths over the ride with the right hand and the snare with the left."."""
    words = [
        Word("Lay "),
        Word(hands_words(settings["pattern"]), "pattern"),
        Word(" in "),
        Word(note_words(settings["step"], one=False), "step"),
        Word(" over "),
        Word(_surface_words(settings["right"]), "right"),
        Word(" with the right hand and "),
        Word(_surface_words(settings["left"]), "left"),
        Word(" with the left"),
    ]
    if settings["turned"] == INVERTED:
        words += [Word(", "), Word("the hands turned round", "turned")]
    if settings["at"] != ALL:
        words += [Word(", only "), Word(at_words(settings["at"]), "at")]
    if settings["accent"]:
        words += [Word(", accented "), Word(at_words(settings["accent"]), "accent")]
    if settings["left-dynamic"] != "ghost":
        loud = {"soft": "soft", "normal": "plain", "accent": "accented"}[settings["left-dynamic"]]
        words += [Word(", "), Word(f"the left hand's new strokes {loud}", "left-dynamic")]
    if settings["keep"] == NOTHING:
        words += [Word(", "), Word("taking over the backbeats too", "keep")]
    return (*words, Word("."))


KIND = Kind("sticking", "Sticking", SETTINGS, apply, sentence, family="Patterns")
