"""What stands on a lesson sheet, and in which order?

Title and facts; the base beat and every stage with its sentence, the teacher's note, the staff, what changed, and the
tricky spots; how to practise it, short; the legend; where to hear it; what to mind. It is content only: `paper` makes
pages of it, a browser elements.

What changed is told without colour: a triangle stands under the notes, and words say what was done, for what was left
out has no note any more. How many places, spots and tempos are told is our choice: a sheet is read on a music stand.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from ..analysis.limbs import Playing, play
from ..analysis.omission import QUICK, THOROUGH
from ..analysis.player import USUAL, Player
from ..analysis.practice import ADVICE, BREAKS, HEARING, PAIN, PlanStep, plan
from ..analysis.spots import Spot, spots
from ..analysis.tempo import comfortable, fastest
from ..analysis.words import verdict
from ..codec.account import heading, numbers
from ..errors import RequestError
from ..model.feel import Feel
from ..model.groove import Groove
from ..variation.stack import Stage, plain
from .changes import changed, told
from .engrave import WIDTH, engrave
from .legend import legend
from .primitives import Drawing
from .spelling import spell

MOST_SPOTS = 3  # of one stage; our choice
MOST_TEMPOS = 4  # told one by one; our choice

ALL = -1  # stages
_HANDS, _BOTH = {"R": "R right hand", "L": "L left hand"}, ", B both"


class Wish(NamedTuple):
    """How a sheet is to be: `voices` 1 or 2, `width` of a line in staff spaces, `stage` ALL or the only one."""

    voices: int = 2
    counts: bool = True
    sticking: bool = True
    large: bool = False
    width: float = WIDTH
    stage: int = ALL
    player: Player = USUAL
    marks: bool = True  # triangles under what changed
    thorough: bool = True  # look long for what could be left out; a page that waits does not


USUAL_WISH = Wish()


class Part(NamedTuple):
    """One thing in a block: a text, or a drawing with the text that tells what it shows.

    Kinds: "sentence", "note" (the teacher's), "remark", "staff", "changed", "tempo", "spot", "easier" (to the spot
    before it), "fact", "step", "legend", "key", "caution".
    """

    kind: str
    text: str
    drawing: Drawing | None = None


class Block(NamedTuple):
    """What stays together on paper: a "stage" with its number, the "plan", the "legend", or the "cautions"."""

    kind: str
    heading: str
    stage: int
    parts: tuple[Part, ...]


class Sheet(NamedTuple):
    """A lesson sheet; `says` is what whoever makes it should know."""

    title: str
    facts: tuple[str, ...]
    note: str
    blocks: tuple[Block, ...]
    says: tuple[str, ...]


def lesson(groove: Groove, stages: Sequence[Stage], wish: Wish = USUAL_WISH) -> Sheet:
    """Lay out what stands on the sheet of a stack; RequestError for a stage that there is not.

    >>> from ..model.beat import Stroke, base_beat
    >>> from ..model.meter import Meter
    >>> from ..variation.stack import grow
    >>> hits = [Stroke(0, "kick"), Stroke(10080, "snare"), Stroke(20160, "kick"), Stroke(30240, "snare")]
    >>> groove = Groove(base=base_beat(Meter.of("4/4"), 1, "eighths", hits))
    >>> [block.heading for block in lesson(groove, grow(groove)).blocks]
    ['Base beat', 'How to practise it', 'Signs', 'Mind']
    """
    chosen = _chosen(stages, wish.stage)
    one = _Stages(groove, stages, wish)
    blocks = [one.block(number) for number in chosen]
    made = plan(groove, stages, chosen[-1], wish.player)
    last = stages[chosen[-1]]
    name = f"stage {last.number}, {heading(last)}" if last.number else "it"
    span = f"From {made.start:g} to {made.goal:g}, about {made.minutes} minutes."
    steps = [Part("fact", span), *(Part("step", _step(step)) for step in made.steps)]
    blocks.append(Block("plan", f"How to practise {name}", last.number, tuple(steps)))
    blocks += one.signs(chosen)
    cautions = tuple(Part("caution", text) for text in (HEARING, BREAKS, PAIN, ADVICE))
    blocks.append(Block("cautions", "Mind", ALL, cautions))
    unit = groove.base.meter.tempo_unit[0]
    bars = f"{groove.base.bars} bar{'s' * (groove.base.bars > 1)}"
    facts = (str(groove.base.meter), f"{bars} of {groove.base.columns}", f"{unit} = {groove.tempo_text}")
    return Sheet(groove.title or "Untitled", facts, groove.note, tuple(blocks), tuple(one.says))


def staff(
    groove: Groove, stages: Sequence[Stage], number: int, wish: Wish = USUAL_WISH, title: str = "", ids: bool = True
) -> tuple[Drawing, tuple[str, ...]]:
    """Draw one stage alone, and give what is to be told about how it is written."""
    _chosen(stages, number)
    return _Stages(groove, stages, wish).drawing(number, title, ids)


def _chosen(stages: Sequence[Stage], stage: int) -> list[int]:
    if not ALL <= stage < len(stages):
        raise RequestError(f"there are stages 0 to {len(stages) - 1}, not {stage}", field="stage")
    return [stage] if stage != ALL else list(range(len(stages)))


def _is_drawn(stage: Stage) -> bool:
    return stage.variation is None or stage.variation.on


class _Stages:
    """The stages as they are played and drawn, each worked out once."""

    def __init__(self, groove: Groove, stages: Sequence[Stage], wish: Wish) -> None:
        self._first = max(wish.stage, 0)
        self._limits = ""  # how fast the stage before goes, in words
        self.groove, self.stages, self.wish = groove, stages, wish
        self.marks = False  # whether a note was marked as changed
        self.letters: set[str] = set()  # of the sticking
        self.says: list[str] = []
        self._played: dict[int, Playing] = {}

    def played(self, number: int) -> Playing:
        if number not in self._played:
            self._played[number] = play(self.groove, self.stages[number], self.wish.player)
        return self._played[number]

    def drawing(
        self, number: int, title: str = "", ids: bool = True, tempo: bool = True
    ) -> tuple[Drawing, tuple[str, ...]]:
        stage, wish = self.stages[number], self.wish
        score = spell(stage.beat, wish.voices)
        letters: dict[str, str] = {}
        if wish.sticking:
            names = self.played(number).limb_names()
            letters = {name: limb[0].upper() for name, limb in names.items() if limb.endswith("hand")}
            self.letters.update(letters.values())
        marked = changed(stage) if number and wish.marks else frozenset[str]()
        self.marks = self.marks or bool(marked)
        drawn = engrave(
            score,
            width=wish.width,
            sticking=letters,
            counts=wish.counts,
            changed=marked,
            large=wish.large,
            title=title,
            about=f"{self.groove.title or 'Drum notation'}, {heading(stage)}, in {stage.beat.meter}",
            tempo=self.groove.tempo_text if tempo else "",
            feel=stage.feel.said().removesuffix(".") if tempo and stage.feel != Feel() else "",
            ids=ids,
        )
        return drawn, score.says

    def block(self, number: int) -> Block:
        stage, parts = self.stages[number], list[Part]()
        variation = stage.variation
        if variation is not None:
            parts.append(Part("sentence", plain(variation, numbers(self.stages))))
            if variation.note:
                parts.append(Part("note", variation.note))
        parts += [Part("remark", text) for text in stage.says]
        name = f"{number} {heading(stage)}" if number else heading(stage)
        if not _is_drawn(stage):
            parts.append(Part("remark", "Switched off: the beat is that of the stage before."))
            return Block("stage", name, number, tuple(parts))
        anew = number == self._first or stage.feel != self.stages[number - 1].feel
        drawn, says = self.drawing(number, tempo=anew)
        self.says += [f"{'stage ' + str(number) if number else 'the base beat'}: {text}" for text in says]
        parts.append(Part("staff", f"{heading(stage)}, on a staff", drawn))
        parts += [Part("remark", text) for text in says]
        if number:
            done = told(stage, self.stages[number - 1])
            parts += [Part("changed", line) for line in done] or [Part("remark", "No stroke changed.")]
        parts += self._hard(number)
        return Block("stage", name, number, tuple(parts))

    def _hard(self, number: int) -> list[Part]:
        """Tell how fast a stage goes, and its first tricky spots."""
        playing = self.played(number)
        judged = verdict(playing)
        if judged.playable:
            easily, limit = comfortable(playing), fastest(playing)
            words = [f"comfortable up to {easily.bpm}"] if easily.bpm else []
            words += [f"fastest {limit.bpm}"] if limit.bpm else []
            told_now = _sentence(", ".join(words)) if words else ""
        else:
            told_now = _sentence(judged.text)
        again = told_now == self._limits
        self._limits = told_now
        return [*([Part("tempo", told_now)] if told_now and not again else []), *self._spots(number)]

    def signs(self, chosen: Sequence[int]) -> list[Block]:
        """Explain the signs that stand on the sheet, and no others."""
        drawn = [stage for stage in (self.stages[number] for number in chosen) if _is_drawn(stage)]
        strokes = [stroke for stage in drawn for stroke in stage.beat.strokes]
        if not strokes:
            return []
        ways = {stroke.dynamic for stroke in strokes} | {stroke.grace for stroke in strokes}
        wish = self.wish
        shown = legend({stroke.surface for stroke in strokes}, ways, width=wish.width, large=wish.large)
        words = ["A triangle under a note: new, moved or changed in this stage."] if self.marks else []
        words += [f"Letters below: {' and '.join(_HANDS[each] for each in sorted(self.letters))}{_BOTH}."] * bool(
            self.letters
        )
        words += ["Lowest row: the count, grey where nothing is struck."] if wish.counts else []
        return [Block("legend", "Signs", ALL, (Part("legend", "", shown), *(Part("key", word) for word in words)))]

    def _spots(self, number: int) -> list[Part]:
        found: Sequence[Spot] = spots(
            self.groove,
            self.stages,
            number,
            self.wish.player,
            played=self.played(number),
            before_it=self.played(number - 1) if number else None,
            effort=THOROUGH if self.wish.thorough else QUICK,
        )
        parts: list[Part] = []
        for spot in found[:MOST_SPOTS]:
            parts.append(Part("spot", spot.text))
            if spot.leave_out_text:
                parts.append(Part("easier", _sentence(spot.leave_out_text)))
        if len(found) > MOST_SPOTS:
            more = len(found) - MOST_SPOTS
            parts.append(Part("remark", f"{more} more tricky spot{'s' if more > 1 else ''}: see the page."))
        return parts


def _step(step: PlanStep) -> str:
    """Tell a step in one line: "The whole beat: 55 to 92 in 10 tempos, 3 passes at each, 9 min"."""
    row = [f"{tempo:g}" for tempo in step.tempos]
    tempos = f"{row[0]} to {row[-1]} in {len(row)} tempos" if len(row) > MOST_TEMPOS else ", ".join(row)
    passes = f"{step.passes} pass{'es' if step.passes > 1 else ''}" + (" at each" if len(row) > 1 else "")
    return f"{step.title}: " + ", ".join([*([tempos, passes] if row else []), f"{step.minutes} min"])


def _sentence(text: str) -> str:
    return f"{text[:1].upper()}{text[1:]}" + ("" if text.endswith((".", "!", "?")) else ".")
