"""How is a stage practised, from slow to the goal?

The steps stand in one order: count aloud, the layers of the beat, loops around the hardest spot, the whole, the goal
without ghosts, two bars of the stage before and two of this one, trading. What has nothing to do is left out. Tempos
follow `passes`; a step takes about three minutes, the whole beat as many blocks of that as it needs.

What is known and what is our choice: three-minute blocks (Carter and Grahn 2016, Frontiers in Psychology 7:1251, ten
clarinettists; later reviews find little of it outside laboratories: Czyz et al. 2024); parts joined forwards (Ash and
Holding 1990, Human Factors); the whole audible while parts are practised (Kurtz and Lee 2003, a polyrhythm). The order
of the steps, their number of passes, breaks of 5 minutes in 25 and half a minute to get ready are our choice.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from typing import NamedTuple

from ..errors import VariationError
from ..model.beat import Stroke
from ..model.groove import MIN_TEMPO, Groove
from ..model.roles import find_roles
from ..variation.stack import Stage
from .limbs import Playing, play, play_beat
from .passes import BEGIN, CLEAN, EVERY, check_tempo, first, ladder, nearly, seconds
from .player import USUAL, Player
from .practice_parts import Layer, around, counted, layers, reduced
from .saying import sentence
from .spots import spots
from .tempo import comfortable, fastest
from .words import verdict

RUNGS = 3  # tempos of a step: with three passes each about three minutes. Our choice
READY = 30  # seconds to get ready for a step. Our choice
WORK, BREAK = 25, 5  # minutes. A convention, no finding
BLOCK = 3  # minutes (Carter and Grahn 2016)
TRADING = "trade"
TRADED = 4  # bars of the beat, and as many of one's own: as teachers trade
A_DAY = 45  # minutes of one day; longer plans are for more days. Our choice

HEARING = (
    "Protect your hearing: drums without damping can use up the safe noise of a whole day in 15 to 30 minutes, and "
    "loud headphones can too."
)
BREAKS = f"Warm up first. Rest {BREAK} minutes in every {WORK}; they are counted in."
PAIN = "Stop if it hurts, tingles or goes numb. Slower and looser comes before faster."
ADVICE = "Your teacher, a qualified clinician and the rules of your place come before this plan."


class PlanStep(NamedTuple):
    """One step: what to do, what to listen for, and what sounds.

    `against` is a stage that it is played in turn with, `start` and `end` a part of the loop in ticks (None: all of
    it), `ids` the strokes that sound (None: all), `tempos` beats a minute from slow to fast, `passes` those at each,
    `own` how many bars of one's own follow on as many of the beat (0: none).
    """

    title: str
    do: str
    listen: str
    stage: int
    against: int | None
    start: int | None
    end: int | None
    ids: tuple[str, ...] | None
    tempos: tuple[float, ...]
    passes: int
    minutes: int
    own: int = 0


class Plan(NamedTuple):
    """A plan for a stage (the last one, where it is for all): tempos in beats a minute, minutes with the breaks.

    `reduced` are the strokes that sound in the reduced form, () where there is none.
    """

    title: str
    stage: int
    start: float
    goal: float
    steps: tuple[PlanStep, ...]
    minutes: int
    cautions: tuple[str, ...]
    reduced: tuple[str, ...]


def plan(groove: Groove, stages: Sequence[Stage], number: int, player: Player = USUAL, clean: float = 0) -> Plan:
    """Make a practice plan for a stage; `clean` is the last tempo in beats a minute that was clean, 0 unknown.

    Raises VariationError for a stage that there is not, RequestError for a tempo that no groove can have.
    """
    if not 0 <= number < len(stages):
        raise VariationError(f"there are stages 0 to {len(stages) - 1}, not {number}", field="stage")
    one = _Stage(groove, stages, number, player, round(clean * 100))
    steps = tuple(step for step, _ in one.steps())
    title = f"{groove.title}: {one.name}" if groove.title else sentence(one.name).removesuffix(".")
    return _made(title, one, steps, one.says)


def plan_all(groove: Groove, stages: Sequence[Stage], player: Player = USUAL, clean: float = 0) -> Plan:
    """Make a plan through all stages in order; what an earlier stage had just so is not practised again.

    Trading comes once, at the end. Raises RequestError for a tempo that no groove can have.
    """
    known: set[object] = set()
    steps: list[PlanStep] = []
    says: list[str] = []
    trading: list[PlanStep] = []
    numbers = [number for number in range(len(stages)) if not number or _differs(stages[number - 1], stages[number])]
    for number in numbers:
        one = _Stage(groove, stages, number, player, round(clean * 100))
        for step, key in one.steps():
            named = step._replace(title=f"{one.short}: {step.title}")
            if isinstance(key, tuple) and key[0] == TRADING:
                trading = [named]
            elif key not in known:
                known.add(key)
                steps.append(named)
        says += [f"{one.short}: {text}" for text in one.says]
    title = f"{groove.title}: all stages" if groove.title else "All stages"
    return _made(title, one, (*steps, *trading), says)


def _differs(before: Stage, stage: Stage) -> bool:
    return before.beat != stage.beat or before.feel != stage.feel


def _made(title: str, one: _Stage, steps: tuple[PlanStep, ...], says: Iterable[str]) -> Plan:
    work = sum(step.minutes for step in steps)
    minutes = work + BREAK * max(0, (work - 1) // WORK)
    more = (f"That is more than one day's work: {A_DAY} minutes a day are enough.",) if minutes > A_DAY else ()
    cautions = (*says, *more, HEARING, BREAKS, PAIN, ADVICE)
    return Plan(title, one.number, _bpm(one.start), _bpm(one.goal), steps, minutes, cautions, reduced(one.beat))


def _bpm(tempo: int) -> float:
    """A tempo as people say it: 92, 92.5."""
    return tempo // 100 if tempo % 100 == 0 else tempo / 100


class _Stage:
    """What is known of one stage while its plan is made."""

    def __init__(self, groove: Groove, stages: Sequence[Stage], number: int, player: Player, clean: int) -> None:
        self.groove, self.stages, self.number, self.player = groove, stages, number, player
        self.stage = stages[number]
        self.beat = self.stage.beat
        self.unit = groove.base.meter.tempo_unit[1]
        self.roles = find_roles(self.beat, self.stage.backbeats, groove.roles)
        self.playing = play(groove, self.stage, player)
        self.short = f"Stage {number}" if number else "Base beat"
        variation = self.stage.variation
        self.name = f"stage {number}, {variation.name or variation.kind}" if variation else "the base beat"
        self.says: list[str] = []
        self.goal, self.playable = self._goal()
        if clean:
            check_tempo(clean, "clean")
        self.clean = clean
        self.start = first(self.goal, clean)
        self.tempos = ladder(self.goal, clean)

    def _goal(self) -> tuple[int, bool]:
        """The tempo to aim at, never beyond the fastest, and whether there is one for the whole beat."""
        wanted = self.groove.tempo
        most, ease = fastest(self.playing), comfortable(self.playing)
        if most.bpm is None or most.bpm * 100 < MIN_TEMPO:
            why = verdict(self.playing).text
            self.says.append(f"{why} So the plan has only what can be played of it; make the stage easier first.")
            return wanted, False
        easy = max(MIN_TEMPO, (ease.bpm or 0) * 100)
        if most.bpm * 100 < wanted:
            goal = min(easy, most.bpm * 100)
            self.says.append(
                f"At {_bpm(wanted)} this is faster than hands and feet go, {most.bpm} is the most. The plan aims at "
                f"{_bpm(goal)}{', which is comfortable' if goal < most.bpm * 100 else ''}."
            )
            return goal, True
        if easy < wanted:
            self.says.append(f"Up to {_bpm(easy)} this is comfortable; above that go on only while you stay loose.")
        return wanted, True

    def steps(self) -> Iterable[tuple[PlanStep, object]]:
        """The steps in order, each with what makes two of them the same."""
        if not self.beat.strokes:
            return
        few = self.tempos[:RUNGS]
        count = f'Let the beat play and count aloud: "{counted(self.beat)}". Then tap the numbers with your foot.'
        listen = "Every syllable in its place, also where nothing sounds."
        yield self._step("Count aloud", count, listen, None, few[:1]), ("count", self.beat.meter, self.beat.columns)
        for layer in layers(self.playing, self.roles, self.stage.backbeats):
            if self._can(layer):
                yield (
                    self._step(layer.title, layer.do, layer.listen, layer.ids, few),
                    (layer.kind, self._sound(layer.ids)),
                )
        if not self.playable:
            return
        yield from self._loops(few)
        yield self._whole(), ("whole", self.number)
        less = reduced(self.beat)
        if less and not nearly(self.start, self.goal):
            do = "Leave the ghosts out and play two passes at the goal. Then go back to your own tempo."
            listen = "What the beat feels like at the goal."
            step = self._step("The goal without ghosts", do, listen, less, (self.goal,), passes=2)
            yield step, ("goal", self._sound(less))
        yield from self._in_turn(few)
        do = "Four bars of the beat, four bars of your own, without a gap; a click helps there. Come back on the 1."
        own = "The count goes on through your own bars."
        step = self._step("Trading", do, own, None, few[:1], bars=2)._replace(own=TRADED)
        yield step, (TRADING, self.number)

    def _loops(self, few: tuple[int, ...]) -> Iterable[tuple[PlanStep, object]]:
        hard = next(iter(spots(self.groove, self.stages, self.number, self.player, self.goal)), None)
        if hard is None:
            return
        parts = around(hard, self.beat)
        for index, part in enumerate(parts):
            if index == 0:
                title, do = "The hardest spot", f"{hard.text} Loop these counts."
                if part is None:
                    do = f"{hard.text} It takes the whole loop: play it slowly and wait for that place."
            else:
                title = "The spot and the beat behind it" if index == 1 else "The spot and two beats behind it"
                do = "Join on what follows. Go on through the seam without stopping."
                if part is None:
                    title, do = (
                        "The spot and on",
                        f"{do} Behind the last beat comes the 1: it is the whole loop, slowly.",
                    )
            step = self._step(title, do, "The spot sounds like the rest.", None, few)
            if part is not None:
                step = step._replace(start=part[0], end=part[1])
            yield step, ("loop", self.number, index)

    def _whole(self) -> PlanStep:
        do = f"All of it. Up one tempo after {CLEAN} clean passes in a row, down 10 % after two that were not clean."
        tries = [tempo for tempo in self.tempos if nearly(tempo, self.goal)]
        if tries and tries[0] < self.goal:
            do += f" From {_bpm(tries[0])} on, every {EVERY}th pass at {_bpm(self.goal)}."
        if self.tempos[-1] < self.goal:
            do += f" Not beyond {_bpm(self.tempos[-1])} today: that is as far as a day goes."
        elif not self.clean and self.start < self.goal:
            do += f" It begins at {BEGIN} % of the goal; the way up may take days."
        step = self._step("The whole beat", do, "Nothing missed, all even: then a pass is clean.", None, self.tempos)
        if step.minutes > BLOCK + 1:
            step = step._replace(do=f"{do} In blocks of {BLOCK} minutes, something else in between.")
        return step

    def _in_turn(self, few: tuple[int, ...]) -> Iterable[tuple[PlanStep, object]]:
        if not self.number:
            return
        before = self.stages[self.number - 1]
        if not _differs(before, self.stage):
            return
        bars = max(before.beat.bars, self.beat.bars)
        last = f"stage {self.number - 1}" if self.number > 1 else "the base beat"
        do = f"Two bars of {last}, two bars of this stage" if bars <= 2 else f"{last} once, this stage once"
        do = sentence(f"{do}, round and round")
        step = self._step("In turn with the stage before", do, "Only what was changed sounds changed.", None, few)
        yield step._replace(against=self.number - 1), ("turn", self.number)

    def _can(self, layer: Layer) -> bool:
        """Whether a layer can be played at its tempos; in a beat that can, every layer can."""
        if self.playable:
            return True
        wanted = set(layer.ids)
        rest = [stroke for stroke in self.beat.strokes if stroke.id in wanted]
        return _part(self.playing, rest, self.roles.riding, self.tempos[:RUNGS][-1]).playable

    def _sound(self, ids: Iterable[str]) -> frozenset[tuple[int, str, str, str]]:
        wanted = set(ids)
        return frozenset((s.at, s.surface, s.dynamic, s.grace) for s in self.beat.strokes if s.id in wanted)

    def _step(
        self,
        title: str,
        do: str,
        listen: str,
        ids: tuple[str, ...] | None,
        tempos: tuple[int, ...],
        passes: int = CLEAN,
        bars: int = 1,
    ) -> PlanStep:
        """Make a step; a pass takes `bars` times as long as one of the beat."""
        each = (bars * passes * seconds(self.beat.cycle, self.beat.bars, self.unit, tempo) for tempo in tempos)
        time = sum(each) + READY
        whole = ids if ids is not None and len(ids) < len(self.beat.strokes) else None
        said = tuple(_bpm(tempo) for tempo in tempos)
        return PlanStep(title, do, listen, self.number, None, None, None, whole, said, passes, max(1, round(time / 60)))


def _part(playing: Playing, strokes: Iterable[Stroke], riding: Iterable[str], tempo: int) -> Playing:
    beat = replace(playing.beat, strokes=tuple(strokes))
    return play_beat(beat, playing.feel, riding, tempo, playing.unit, playing.player)
