"""What stands on a sheet for a class?

Three sheets, each made of one document and one of its stages:

* "turns", every place in turn: a variation that permutes, at all its turns. Where the document has none, one of the
  backbeats (round their beat) or of the kick (round the bar) is made on the chosen stage; the document stays as it is.
* "count", write the count: the chosen stage without its counts, and a blank at every place where something sounds, or
  where one chosen line does.
* "hear", which stage do you hear? All stages that sound unlike each other, lettered in an order that nobody knows
  beforehand, and another such order to play them in. Both follow from the beat and from `seed` alone.

A sheet is for the page and for paper; nothing of it is kept in the document. The order is that of splitmix64 (Steele,
Lea and Flood, "Fast splittable pseudorandom number generators", 2014), begun with CRC-32: both give the same numbers
in every Python, which the standard library does not promise of a shuffle.
"""

from __future__ import annotations

from binascii import crc32
from collections.abc import Iterator, Sequence
from typing import NamedTuple

from ..errors import VariationError
from ..model.count import spoken, spoken_at, syllable
from ..model.groove import Groove
from ..model.kit import ROWS, nearest
from ..model.own_kit import Kit
from ..model.place import place_at
from ..model.roles import KICK
from . import permute
from .on_kit import fit_stages
from .permute_sheet import siblings
from .picking import pick_strokes
from .scene import EVERYTHING, Scene, surfaces_of
from .selection import ALL, BACKBEATS, read_selection
from .setting import full
from .stack import Stage, add, grow, plain
from .words import target_words

TURNS, COUNT, HEAR = "turns", "count", "hear"
HEADINGS = {TURNS: "Every place in turn", COUNT: "Write the count", HEAR: "Which stage do you hear?"}
MOST_SEED = 9999  # a number that is easily told and written down; our choice
LEAST_BARS = 4  # a pass is at least this long, so that an ear can settle
UNSAID = "–"  # in place of a count where nothing is said aloud, as on most thirty-seconds

# What can be turned where no variation turns anything: settings, and how the offer reads.
_MADE = {
    BACKBEATS: ({"surface": EVERYTHING, "at": BACKBEATS, "within": permute.BEAT}, "the backbeats, round their beat"),
    KICK: ({"surface": KICK, "at": ALL, "within": permute.BAR}, "the kick, round the bar"),
}


class Blank(NamedTuple):
    """A place to be counted: ticks from the start, what is said there, and the place in words ("e of 2")."""

    at: int
    answer: str
    words: str


class Item(NamedTuple):
    """One beat of a sheet: its number or letter, what is said about it, and the stage that is drawn.

    `begins` tells where the turned figure begins, `figure` the ids of its strokes.
    """

    label: str
    sentence: str
    stage: Stage
    begins: str = ""
    figure: frozenset[str] = frozenset()
    blanks: tuple[Blank, ...] = ()


class Play(NamedTuple):
    """A beat to be played: the letter of its item, its stage and what that one is, and how often it goes round."""

    label: str
    stage: int
    told: str
    passes: int


class Sheet(NamedTuple):
    """A sheet: what to do, its items, what it can be made `of` (value and words), and what to play in which order."""

    name: str
    task: str
    items: tuple[Item, ...]
    of: str = ""
    choices: tuple[tuple[str, str], ...] = ()
    plays: tuple[Play, ...] = ()


def make_sheet(groove: Groove, name: str, number: int, *, of: str = "", seed: int = 1, kit: Kit | None = None) -> Sheet:
    """Make the sheet with a name ("turns", "count", "hear") of stage `number`.

    `of` is what is turned (the key of a variation, "backbeats", "kick") or the line to be counted, "" the first
    choice; `seed` from 1 to MOST_SEED orders "hear"; with `kit` the stages are those on a student's kit.
    Raises VariationError where there is no such sheet, stage or choice.
    """
    if name not in HEADINGS:
        raise VariationError(f'"{name[:40]}" is not a sheet{nearest(name, HEADINGS)}', field="sheet")
    stages = grow(groove)
    if not 0 <= number < len(stages):
        raise VariationError(f"there are stages 0 to {len(stages) - 1}, not {number}", field="stage")
    if name == TURNS:
        return _turns(groove, stages[number], stages, of, kit)
    shown = fit_stages(stages, kit).stages if kit else stages
    return _count(shown[number], of) if name == COUNT else _hear(groove, shown, seed)


def _turns(groove: Groove, stage: Stage, stages: Sequence[Stage], of: str, kit: Kit | None) -> Sheet:
    choices = _turnable(groove, stage, stages)
    known = (groove, stages)
    of = _choose(of or _nearest(groove, stage), choices, f"stage {stage.number} has no backbeats and no kick to turn")
    made = _MADE.get(of)
    if made:
        key = groove.next_key
        settings = made[0] | {"step": stage.beat.columns[:-1]}  # a step is a column: "sixteenths" without their s
        groove = add(groove, permute.KIND.name, settings, after=stage.key)
    else:
        key = int(of)
    keys = [variation.key for variation in groove.variations]
    last = keys.index(key) + 1
    items = []
    figure: tuple[str, ...] = ()
    for turn, sibling in enumerate(siblings(groove, key)):
        grown = grow(sibling, known, last)[: last + 1]
        if not turn:
            figure = _figure(sibling, grown[-1])
        turned = (fit_stages(grown, kit).stages if kit else grown)[-1]
        variation = sibling.variations[last - 1]
        sentence = plain(variation) if turn else "As it was."
        absorbed = turned.change.absorbed()
        whole = frozenset(absorbed.get(name, name) for name in figure)
        items.append(Item(str(turn + 1), sentence, turned, _begins(turned, figure, absorbed), whole))
    task = (
        "The dark strokes come on every place in turn, the others stay. Play each beat until it sits, then go on to "
        "the next. Say aloud where the dark strokes begin."
    )
    return Sheet(TURNS, task, tuple(items), of, choices)


def _turnable(groove: Groove, stage: Stage, stages: Sequence[Stage]) -> tuple[tuple[str, str], ...]:
    """What can be turned: the variations that do, then what could be on the chosen stage."""
    there = [
        (str(each.key), f"stage {each.number}: {each.variation.name or plain(each.variation)}")
        for each in stages
        if each.variation and each.variation.kind == permute.KIND.name
    ]
    scene = Scene(stage.beat, stage.backbeats, groove.roles, stage.feel)
    where = f" at stage {stage.number}" if stage.number else " of the base beat"
    if stage.backbeats:
        there.append((BACKBEATS, _MADE[BACKBEATS][1].replace(",", where + ",")))
    if surfaces_of(KICK, scene):
        there.append((KICK, _MADE[KICK][1].replace(",", where + ",")))
    return tuple(there)


def _nearest(groove: Groove, stage: Stage) -> str:
    """The variation that permutes at the chosen stage, else the last before it, else the first after; "" for none."""
    row = [(at + 1, each.key) for at, each in enumerate(groove.variations) if each.kind == permute.KIND.name]
    before = [key for at, key in row if at <= stage.number]
    after = [key for at, key in row if at > stage.number]
    return str(before[-1]) if before else str(after[0]) if after else ""


def _choose(of: str, choices: tuple[tuple[str, str], ...], none: str) -> str:
    values = [value for value, _ in choices]
    if not values:
        raise VariationError(f"{none}; choose another stage", field="of")
    if of and of not in values:
        raise VariationError(f'no sheet can be made of "{of[:40]}" here{nearest(of, values)}', field="of")
    return of or values[0]


def _figure(unmoved: Groove, stage: Stage) -> tuple[str, ...]:
    """The ids of the strokes that are turned, in the order of time, as the variation that is off finds them."""
    settings = full(permute.KIND.settings, unmoved.variations[stage.number - 1].settings)
    scene = Scene(stage.beat, stage.backbeats, unmoved.roles, stage.feel)
    surfaces = surfaces_of(settings["surface"], scene)
    pool = [stroke for stroke in stage.beat.strokes if stroke.surface in surfaces]
    picked = pick_strokes(read_selection(settings["at"]), scene, pool, lambda said: None)
    return tuple(stroke.id for stroke in sorted(picked, key=lambda stroke: stroke.at))


def _begins(stage: Stage, figure: tuple[str, ...], absorbed: dict[str, str]) -> str:
    at = {stroke.id: stroke.at for stroke in stage.beat.strokes}
    first = next((at[name] for name in (absorbed.get(each, each) for each in figure) if name in at), None)
    if first is None:
        return ""
    return f"begins on {spoken(place_at(first, stage.beat.meter), bars=stage.beat.bars)}"


def _count(stage: Stage, of: str) -> Sheet:
    beat = stage.beat
    lines = sorted({stroke.surface for stroke in beat.strokes}, key=lambda name: ROWS[name])
    choices = (("", "everything that sounds"), *((name, f"{target_words(name)} alone") for name in lines))
    if not lines:
        raise VariationError(
            f"stage {stage.number} is silent, there is nothing to count; choose another", field="stage"
        )
    of = _choose(of, choices, "")
    places = sorted({stroke.at for stroke in beat.strokes if of in ("", stroke.surface)})
    blanks = tuple(
        Blank(at, syllable(at, beat.meter, beat.columns) or UNSAID, spoken_at(at, beat.meter, beat.bars))
        for at in places
    )
    what = "something sounds" if not of else f"{target_words(of)} sounds"
    task = f"Write on each blank what is counted where {what}."
    if any(blank.answer == UNSAID for blank in blanks):
        task += f" Where nothing is said aloud, draw a dash ({UNSAID})."
    return Sheet(COUNT, task, (Item("", "", stage, blanks=blanks),), of, choices)


def _hear(groove: Groove, stages: Sequence[Stage], seed: int) -> Sheet:
    if not 1 <= seed <= MOST_SEED:
        raise VariationError(f"the order has a number from 1 to {MOST_SEED}, not {str(seed)[:20]}", field="seed")
    heard: dict[object, Stage] = {}
    for stage in stages:
        sound = (stage.beat.cycle, stage.feel, _sounding(stage))
        heard.setdefault(sound, stage)
    different = list(heard.values())
    if len(different) < 2:
        raise VariationError("all stages sound alike: nothing to tell apart; add a variation", field="stage")
    numbers = _numbers(groove, seed)
    lettered = [different[at] for at in shuffled(len(different), numbers)]
    items = tuple(Item(letter(at), "", stage) for at, stage in enumerate(lettered))
    order = shuffled(len(items), numbers)
    plays = tuple(
        Play(items[at].label, stage.number, _told(stage), max(1, -(-LEAST_BARS // stage.beat.bars)))
        for at in order
        for stage in (items[at].stage,)
    )
    task = f"You hear {len(plays)} of these beats, one after the other. Write down the letter of each."
    return Sheet(HEAR, task, items, plays=plays)


def _sounding(stage: Stage) -> tuple[tuple[int, str, str, str], ...]:
    return tuple((stroke.at, stroke.surface, stroke.dynamic, stroke.grace) for stroke in stage.beat.strokes)


def _told(stage: Stage) -> str:
    if stage.variation is None:
        return "the base beat"
    return f"stage {stage.number}: {stage.variation.name or plain(stage.variation)}"


def letter(at: int) -> str:
    """Letter the items of a sheet.

    >>> letter(0), letter(25), letter(26)
    ('A', 'Z', 'AA')
    """
    return (letter(at // 26 - 1) if at >= 26 else "") + chr(ord("A") + at % 26)


def _numbers(groove: Groove, seed: int) -> Iterator[int]:
    """Numbers that follow from a beat, its variations and a seed; names, notes and tempo do not count."""
    base = groove.base
    rows = [(stroke.at, stroke.surface, stroke.dynamic, stroke.grace) for stroke in base.strokes]
    said = [(each.kind, each.settings, each.on) for each in groove.variations]
    return _mixed(crc32(repr((str(base.meter), base.bars, rows, said)).encode()) << 32 | seed)


_MASK = 2**64 - 1


def _mixed(state: int) -> Iterator[int]:
    """Numbers of 64 bits without end: splitmix64."""
    while True:
        state = (state + 0x9E3779B97F4A7C15) & _MASK
        mixed = (state ^ state >> 30) * 0xBF58476D1CE4E5B9 & _MASK
        mixed = (mixed ^ mixed >> 27) * 0x94D049BB133111EB & _MASK
        yield mixed ^ mixed >> 31


def shuffled(count: int, numbers: Iterator[int]) -> tuple[int, ...]:
    """Bring 0 ... count - 1 into an order that the numbers decide, every order as likely as another."""
    row = list(range(count))
    for last in range(count - 1, 0, -1):
        other = next(numbers) % (last + 1)
        row[last], row[other] = row[other], row[last]
    return tuple(row)
