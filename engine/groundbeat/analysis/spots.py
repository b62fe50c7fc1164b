"""Where are the tricky spots of a stage, why, and what is the least to leave out?

Only what is new in the stage is told: a spot whose strokes all were in the stage before, played by the same limbs, at
the same distances and dynamics, is not. Copies count as what they copy. In the base beat all is new, but there only
what is unequal or near a limit is told. What is impossible or beyond a floor is told in every stage that has it. The
same figure at the same place of several bars is one spot.

First comes what cannot be played, then what is past a floor, what is near a limit, what changes dynamics in one hand,
a ghost under the kick, hands together at different dynamics; longer rows before shorter ones, earlier before later, and
what is told a second time last (our choice). See `tricky` for what counts and `omission` for what to leave out.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from ..model.beat import Beat, Stroke
from ..model.groove import Groove
from ..model.kit import GRACE_WORDS
from ..model.roles import find_roles
from ..variation.stack import Stage
from ..variation.words import join
from .limbs import INSIDE, KICK_FOOT, PEDAL, Playing, play
from .omission import THOROUGH, Case, Effort, Least, least_of
from .player import USUAL, Player
from .rows import is_around, strokes_of
from .saying import in_bars, listing, milliseconds, number_word, place, sentence, span, things
from .tempo import fastest
from .tricky import (
    BEYOND,
    GHOST_UNDER,
    IN_THE_WAY,
    REACH,
    TOGETHER,
    Find,
    Key,
    level_of,
    tricky,
)
from .words import MOST_LISTED, possible_at


class Spot(NamedTuple):
    """A tricky spot: kind, first place in ticks, a sentence, its strokes, and the least to leave out with words for it
    ((), "" where leaving out a few strokes does not help)."""

    kind: str
    at: int
    text: str
    ids: tuple[str, ...]
    leave_out: tuple[str, ...]
    leave_out_text: str


def spots(
    groove: Groove,
    stages: Sequence[Stage],
    number: int,
    player: Player = USUAL,
    tempo: int = 0,
    *,
    played: Playing | None = None,
    before_it: Playing | None = None,
    effort: int = THOROUGH,
) -> tuple[Spot, ...]:
    """Find the tricky spots of a stage, the most important first; `tempo` in hundredths, 0 for the groove's own.

    `played` and `before_it` are this stage and the one before as they are played at that tempo, where that is known;
    `effort` bounds the trials of what to leave out (THOROUGH, or QUICK for a page that waits).
    """
    stage = stages[number]
    playing = played or play(groove, stage, player, tempo)
    found = tricky(playing, _riding(groove, stage), dict(stage.change.of))
    before: frozenset[Key] = frozenset()
    if number:
        last = stages[number - 1]
        if last.beat == stage.beat and last.feel == stage.feel:
            before = keys_of(found)
        else:
            before = keys_of(tricky(before_it or play(groove, last, player, tempo), _riding(groove, last)))
    told = [find for find in found if find.always or (not find.keys <= before and not (find.only_new and number == 0))]
    groups = _figures(told)
    if not groups:
        return ()
    plain = tricky(playing, _riding(groove, stage)) if stage.change.of else found
    case = Case(groove, stage, player, playing, _riding(groove, stage), keys_of(plain), Effort(effort))
    own = {(find.kind, find.ids): find for find in plain}
    groups = [[own[find.kind, find.ids] for find in group] for group in groups]
    # At the fastest tempo of all every place is possible, so each alone is.
    whole = (fastest(playing).bpm or 0) if any(group[0].kind == BEYOND for group in groups) else 0
    outs = least_of(case, groups)
    return tuple(_spot(case, group, out, whole) for group, out in zip(groups, outs, strict=True))


def _riding(groove: Groove, stage: Stage) -> tuple[str, ...]:
    return find_roles(stage.beat, stage.backbeats, groove.roles).riding


def keys_of(found: Sequence[Find]) -> frozenset[Key]:
    """All facts that some finds are made of."""
    return frozenset[Key]().union(*(find.keys for find in found))


def _figures(found: Sequence[Find]) -> list[list[Find]]:
    """Put the same figure in several bars together, and all in the order in which they are told."""
    groups: dict[Key, list[Find]] = {}
    for find in sorted(found, key=lambda find: (find.at, find.kind, find.ids)):
        groups.setdefault(find.figure, []).append(find)
    again: dict[Key, int] = {}
    ranked = []
    for index, group in enumerate(groups.values()):
        first = group[0]
        kind, limb, _, *shape = first.figure
        times = again[kind, limb, *shape] = again.get((kind, limb, *shape), -1) + 1
        tight = min((step.gap / step.comfort for step in first.steps), default=1.0)
        worst = min(first.rank, 2)  # what cannot be played comes first however often it does
        order = (worst, times > 0, first.rank, -len(first.strokes), round(tight, 6), first.at, index)
        ranked.append((order, group))
    return [group for _, group in sorted(ranked, key=lambda row: row[0])]


def _spot(case: Case, group: Sequence[Find], out: Least, whole: int) -> Spot:
    first = group[0]
    beat = case.stage.beat
    bars = [beat.bar_of(find.at) for find in group[1:]]
    again = f", and again in {in_bars(bars)}" if bars else ""
    ids = tuple(dict.fromkeys(name for find in group for name in find.ids))
    words = leave_out_text(out.ids, beat)
    if out.playing and not set(out.ids) & set(ids):
        words += _taken_over(first, case.playing, out.playing)
    return Spot(first.kind, first.at, sentence(_text(first, case.playing, whole) + again), ids, out.ids, words)


def _taken_over(find: Find, before: Playing, after: Playing) -> str:
    """Say which stroke the freed hand takes, where what is left out is none of the spot's own strokes."""
    for stroke in find.strokes:
        limb = after.limbs.get(stroke.id)
        if limb is not None and limb != before.limbs.get(stroke.id):
            hand = before.player.limbs[limb]
            return f"; then the {hand} can take the {stroke.surface} on {_counted(stroke, before.beat)}"
    return ""


def _text(find: Find, playing: Playing, whole: int) -> str:
    beat = playing.beat
    here = place(find.at, beat)
    if find.text:
        return find.text
    if find.kind == GHOST_UNDER:
        hand, kick = find.strokes
        what = f"a {_quiet(hand)} on the {hand.surface} under the {kick.surface}"
        return f"{what} on {here}: the hand low while the foot is loud"
    if find.kind == TOGETHER:
        return f"the hands meet with different dynamics on {here}: {join([_loud(stroke) for stroke in find.strokes])}"
    if find.kind == IN_THE_WAY:
        first, second = find.strokes
        if first.at == second.at:
            return f"the arms cross on {here}: {things(find.strokes)}"
        return f"both hands get in each other's way over the {first.surface} from {span(first.at, second.at, beat)}"
    return _row(find, playing, whole)


def _row(find: Find, playing: Playing, whole: int) -> str:
    """Tell a row of one limb: how often, where, how loud, how far apart, and what would be comfortable."""
    row, beat = find.steps, playing.beat
    step, strokes = row[0], strokes_of(row)
    limb = f"the {playing.player.limbs[find.limb]}"
    gaps = milliseconds(each.gap for each in row)
    near = [each for each in row if not each.comfortable]
    limit = f", where {round(max(each.comfort for each in near))} are comfortable" if near else ""
    if find.kind == BEYOND:
        to = max(whole, possible_at(row, playing))
        limit = f", no faster than {round(max(each.floor for each in row))}; possible up to {to}"
    if step.about == INSIDE:
        return f"{limb} plays a diddle on {place(find.at, beat)}: two strokes {gaps} apart{limit}"
    if step.about == PEDAL:
        return f"{limb} has {gaps} on the hi-hat pedal from {span(strokes[0].at, strokes[1].at, beat)}{limit}"
    if find.kind == REACH or (len(row) == 1 and strokes[0].surface != strokes[1].surface):
        ways = " to ".join(f"the {stroke.surface} on {place(stroke.at, beat)}" for stroke in strokes)
        return f"{limb} goes from {ways}{_dynamics(find, playing)}, {gaps} for the way{limit}"
    around = is_around(row)
    count = len(strokes) - around
    if around or count > MOST_LISTED:
        where = " all the way around" if around else f" from {span(strokes[0].at, strokes[-1].at, beat)}"
        return f"{limb} plays {number_word(count)} in a row{where}, {gaps} apart{limit}"
    where = listing([stroke.at for stroke in strokes], beat)
    return f"{limb} plays {number_word(count)} in a row: {where}{_dynamics(find, playing)}, {gaps} apart{limit}"


def _dynamics(find: Find, playing: Playing) -> str:
    """Say dynamics where they differ: ": ghost, accent, ghost", with what is struck where that differs too."""
    strokes = strokes_of(find.steps)
    levels = {level_of(stroke, find.limb, playing) for stroke in strokes}
    if len(levels) < 2 or find.limb >= KICK_FOOT:
        return ""
    words = [
        stroke.dynamic if playing.limbs.get(stroke.id) == find.limb else f"grace of the {GRACE_WORDS[stroke.grace]}"
        for stroke in strokes
    ]
    if find.kind != REACH and len({stroke.surface for stroke in strokes}) > 1 and len(strokes) > 2:
        words = [f"{word} on the {stroke.surface}" for word, stroke in zip(words, strokes, strict=True)]
    return f": {', '.join(words)}"


def _loud(stroke: Stroke) -> str:
    return f"{stroke.surface} {stroke.dynamic}"


def _quiet(stroke: Stroke) -> str:
    return {"ghost": "ghost", "soft": "soft stroke"}.get(stroke.dynamic, f"{stroke.dynamic} stroke")


def leave_out_text(ids: Sequence[str], beat: Beat) -> str:
    """Say what to leave out: "Leave out the e of 4", with the surface where that is not plain; "" for nothing."""
    if not ids:
        return ""
    wanted = set(ids)
    strokes = [stroke for stroke in beat.strokes if stroke.id in wanted]
    plain = all(_is_plain(stroke, beat) for stroke in strokes)
    bars: dict[str, list[int]] = {}
    for bar in sorted({beat.bar_of(stroke.at) for stroke in strokes}):
        bars.setdefault(_named([s for s in strokes if beat.bar_of(s.at) == bar], beat, plain), []).append(bar)
    if beat.bars == 1:
        return f"Leave out {next(iter(bars))}"
    return f"Leave out {join([f'{words} in {in_bars(where)}' for words, where in bars.items()])}"


def _is_plain(stroke: Stroke, beat: Beat) -> bool:
    """Whether a place says enough: nothing else sounds there, and it has a name of its own."""
    alone = not any(other.at == stroke.at and other is not stroke for other in beat.strokes)
    return alone and _counted(stroke, beat).startswith("the ")


def _named(strokes: Sequence[Stroke], beat: Beat, plain: bool) -> str:
    """Name strokes of one bar, without it: "the a of 3 and the e of 4", "the hi-hat on 4"."""
    if plain:
        return join([_counted(stroke, beat) for stroke in strokes])
    by_surface: dict[str, list[str]] = {}
    for stroke in strokes:
        by_surface.setdefault(stroke.surface, []).append(_counted(stroke, beat))
    return join([f"the {surface} on {join(places)}" for surface, places in by_surface.items()])


def _counted(stroke: Stroke, beat: Beat) -> str:
    return place(stroke.at % beat.meter.bar, _one_bar(beat))


def _one_bar(beat: Beat) -> Beat:
    return Beat(beat.meter, 1, beat.columns)
