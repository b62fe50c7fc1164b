"""How does a MIDI file of ours say what notes alone cannot?

By texts (meta event 1) in the track with the notes. Other programs show them or pass over them; our reader takes them
back. At the beginning of every stage stands

    groundbeat 1; stage=2; bars=1; columns=sixteenths; rounds=4; grouping=2+2+3; keys=gm; rimshot=40; feel=rendered;
        swing=sixteenths 2:1                               (one text)
    groundbeat push: snare 10                              (ms; late is positive; one text a surface)

and at the tick of a note, before it, what its key, velocity and tick do not tell:

    groundbeat 46: half-open hi-hat
    groundbeat 38: flam, left hand
    groundbeat 38: grace                    a note that is heard as part of another stroke
    groundbeat 42: at 3/56                  the written place from the first stage on, in whole notes
    groundbeat 52: china; groundbeat 52: stack cymbal, accent        two strokes that one note stands for

A text belongs to a note of that key at that tick, and to nothing where that note has gone: so notes may be moved,
added and taken out in another program. `written_at` says which place a sounding note means without a text; the writer
asks the same function, and names a place only where the answer would be wrong.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Iterable, Sequence
from fractions import Fraction
from typing import NamedTuple

from ..model.beat import MAX_BARS
from ..model.feel import MAX_PUSH, MAX_SHARE, SWUNG, Feel
from ..model.kit import BY_NAME, DYNAMICS, GRACES
from ..model.meter import QUARTER, WHOLE
from ..model.place import COLUMNS, fraction
from .bars import nearest
from .profiles import GENERAL, PROFILES, RIMSHOTS

VERSION = 1
GRACE = "grace"
_HANDS = {"R": "right hand", "L": "left hand"}
_SECTION = re.compile(r"groundbeat (\d{1,4});(.*)", re.ASCII | re.DOTALL)
_PUSH = re.compile(r"groundbeat push: ([a-z -]{1,40}) (-?\d{1,3})\Z", re.ASCII)
_NOTE = re.compile(r"groundbeat (\d{1,3}):(.*)", re.ASCII | re.DOTALL)
_PLACE = re.compile(r"at (\d{1,8})(?:/(\d{1,5}))?\Z", re.ASCII)
_SWING = re.compile(r"([a-z]+) (\d):(\d)\Z", re.ASCII)


class Section(NamedTuple):
    """One stage in a file: where it begins (file tick), what it is, and how it is written down."""

    tick: int
    stage: int
    bars: int
    columns: str
    rounds: int
    grouping: tuple[int, ...]
    profile: str
    rimshot: int
    straight: bool
    feel: Feel

    @property
    def heard(self) -> Feel:
        """The feel that is in the ticks of its notes."""
        return Feel() if self.straight else self.feel


class Named(NamedTuple):
    """What a text says of a note; "" and None: nothing."""

    surface: str = ""
    dynamic: str = ""
    grace: str = ""
    hand: str = ""
    at: int | None = None
    part: bool = False  # heard as part of another stroke


class Run(NamedTuple):
    """A section as far as places are concerned: written tick where it begins, its column, and the feel heard."""

    start: int
    column: int
    feel: Feel


def section_texts(section: Section) -> list[str]:
    """Write what stands at the beginning of a stage."""
    feel = section.feel
    fields = {
        "stage": section.stage, "bars": section.bars, "columns": section.columns, "rounds": section.rounds,
        "grouping": "+".join(map(str, section.grouping)), "keys": section.profile, "rimshot": section.rimshot,
        "feel": "straight" if section.straight else "rendered",
    }  # fmt: skip
    if feel.swung:
        fields["swing"] = f"{feel.swung} {feel.long}:{feel.short}"
    head = f"groundbeat {VERSION}; " + "; ".join(f"{name}={value}" for name, value in fields.items())
    return [head, *(f"groundbeat push: {name} {ms}" for name, ms in feel.pushes)]


def read_section(tick: int, text: str) -> Section | int | None:
    """Read a beginning back; the number of a newer version, None for any other text.

    What does not read in it is left at its default: a damaged text is no reason to refuse a file.
    """
    found = _SECTION.match(text)
    if not found:
        return None
    if int(found[1]) != VERSION:
        return int(found[1])
    fields = dict(part.strip().split("=", 1) for part in found[2].split(";") if "=" in part)
    columns, profile = fields.get("columns", ""), fields.get("keys", "")
    rimshot = _whole(fields.get("rimshot", ""), max(RIMSHOTS))
    return Section(
        tick,
        _whole(fields.get("stage", ""), 999, 0),
        _whole(fields.get("bars", ""), MAX_BARS),
        columns if columns in COLUMNS else "sixteenths",
        _whole(fields.get("rounds", ""), 9999),
        tuple(_whole(size, 99) for size in fields.get("grouping", "").split("+")[:99]),
        profile if profile in PROFILES else GENERAL,
        rimshot if rimshot in RIMSHOTS else RIMSHOTS[0],
        fields.get("feel") == "straight",
        Feel(*_swing(fields.get("swing", ""))),
    )


def with_push(section: Section, text: str) -> Section | None:
    """Add what a text says of a push; None where it says nothing of one."""
    found = _PUSH.match(text)
    if not found or (found[1] not in BY_NAME and found[1] != "all") or not 0 < abs(int(found[2])) <= MAX_PUSH:
        return None
    pushes = dict(section.feel.pushes) | {found[1]: int(found[2])}
    feel = section.feel
    return section._replace(feel=Feel(feel.swung, feel.long, feel.short, tuple(sorted(pushes.items()))))


def note_text(key: int, named: Named) -> str:
    """Write what is to be said of a note, "" where that is nothing.

    >>> note_text(38, Named(grace="flam", hand="L"))
    'groundbeat 38: flam, left hand'
    """
    words = [GRACE] if named.part else []
    words += [word for word in (named.surface, named.dynamic, named.grace) if word]
    words += [_HANDS[named.hand]] if named.hand else []
    words += [f"at {fraction(named.at)}"] if named.at is not None else []
    return f"groundbeat {key}: {', '.join(words)}" if words else ""


def read_note(text: str) -> tuple[int, Named] | None:
    """Read what is said of a note of a key; None for any other text. Unknown words are passed over.

    >>> read_note("groundbeat 42: open hi-hat, accent, at 3/16")
    (42, Named(surface='open hi-hat', dynamic='accent', grace='', hand='', at=7560, part=False))
    """
    found = _NOTE.match(text)
    if not found:
        return None
    told: dict[str, object] = {}
    hands = {word: hand for hand, word in _HANDS.items()}
    for word in (part.strip() for part in found[2].split(",")):
        if word == GRACE:
            told["part"] = True
        elif word in BY_NAME:
            told["surface"] = word
        elif word in DYNAMICS:
            told["dynamic"] = word
        elif word in hands:
            told["hand"] = hands[word]
        elif word and word in GRACES:
            told["grace"] = word
        elif place := _PLACE.match(word):
            whole, parts = int(place[1]) * WHOLE, int(place[2] or 1)
            if parts and whole % parts == 0:
                told["at"] = whole // parts
    return int(found[1]), Named(**told)  # type: ignore[arg-type]


def written_at(runs: Sequence[Run], sounds: Fraction, surface: str, us: int) -> int:
    """Say which written tick a note means that sounds at a model tick, both from where the first stage begins.

    Always a column of the stage that it lies in: pushes and swing are taken back, then the nearest is chosen. `us` are
    the microseconds of a quarter note there.
    """
    index = max(bisect_right([run.start for run in runs], sounds) - 1, 0)
    at = _column(runs[index], sounds, surface, us)
    if index + 1 < len(runs) and at >= runs[index + 1].start:  # early before the bar line of the next stage
        at = max(_column(runs[index + 1], sounds, surface, us), runs[index + 1].start)
    return max(at, 0)


def _column(run: Run, sounds: Fraction, surface: str, us: int) -> int:
    local = sounds - run.start - Fraction(run.feel.push(surface) * 1000 * QUARTER, us)
    straight = unswung(run.feel, local)
    return run.start + nearest(straight.numerator, run.column * straight.denominator) * run.column


def unswung(feel: Feel, sounds: Fraction) -> Fraction:
    """The written tick of a sounded one: `Feel.sounded` turned round.

    >>> unswung(Feel("eighths", 2, 1), Fraction(6720))
    Fraction(5040, 1)
    """
    if not feel.swung or feel.long == feel.short:
        return sounds
    half = QUARTER // 2 if feel.swung == "eighths" else QUARTER // 4
    pair, rest = divmod(sounds, 2 * half)
    total = feel.long + feel.short
    first = Fraction(2 * half * feel.long, total)
    if rest <= first:
        return pair * 2 * half + rest * total / (2 * feel.long)
    return pair * 2 * half + half + (rest - first) * total / (2 * feel.short)


def _whole(text: str, most: int, least: int = 1) -> int:
    return min(max(int(text), least), most) if text.isascii() and text.isdigit() and len(text) < 6 else least


def _swing(text: str) -> tuple[str, int, int]:
    found = _SWING.match(text)
    if not found or found[1] not in SWUNG:
        return "", 1, 1
    long, short = int(found[2]), int(found[3])
    return (found[1], long, short) if 1 <= long <= MAX_SHARE and 1 <= short <= MAX_SHARE else ("", 1, 1)


def sections_of(texts: Iterable[tuple[int, str]]) -> tuple[list[Section], int]:
    """Read all beginnings, in the order of time; and the number of a newer version, 0 where there is none."""
    found: list[Section] = []
    newer = 0
    for tick, text in texts:
        if not text.startswith("groundbeat "):
            continue
        section = read_section(tick, text)
        if isinstance(section, Section):
            found.append(section)
        elif section is not None:
            newer = max(newer, section)
        elif found and (pushed := with_push(found[-1], text)):
            found[-1] = pushed
    return found, newer
