"""What does a stage ask of a player, part by part?

Seven parts, each 0 to 100 with a short text that says what makes it so. They are never added up: a beat can be hard in
one way and easy in all others, and no difficulty grade for the drum set has been validated that we know of. The scales
are our choice. Where a part has no upper end its value is x / (x + h): 50 at h, never falling, flatter towards the top.

* density: strokes a second by hands and feet, ornaments counted out.
* independence, speed, reach, dynamics: see the modules `independence`, `speed`, `travel` and `levels`.
* syncopation: longest-known measure, with the top pressed together (see `syncopation`).
* newness: the share of strokes that are new here, against the stage before.

Laws: slower never raises speed and reach; leaving strokes out never raises density, speed and reach. The others may
rise then: a hole in an even stream can be the harder beat.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import NamedTuple

from ..errors import VariationError
from ..model.beat import Beat, Stroke
from ..model.count import spoken_at
from ..model.groove import Groove
from ..model.kit import FEET_ONLY
from ..model.roles import find_roles
from ..variation.stack import Stage
from .independence import independence
from .levels import levels
from .limbs import Playing
from .speed import speed
from .syncopation import of_beat
from .tempo import Tempo
from .travel import travel

PARTS = ("density", "independence", "syncopation", "speed", "reach", "dynamics", "newness")
MORE = {"flam": 1, "drag": 2, "ruff": 3, "buzz": 1, "diddle": 1}  # strokes that an ornament adds; a buzz as one
DENSE = 8  # strokes a second shown as 50. Our choice, near the middle of what drummers of many styles play
ALTERED = Fraction(1, 2)  # an altered stroke is half new: the way to it is known. Our choice


class Part(NamedTuple):
    """One part of the demand: its name, 0 to 100, and what makes it so."""

    name: str
    value: int
    text: str


def demand(
    groove: Groove,
    stages: Sequence[Stage],
    number: int,
    playing: Playing,
    known: tuple[Tempo, Tempo] | None = None,
) -> tuple[Part, ...]:
    """Tell the parts of a stage's demand, in the order of PARTS; `playing` is that stage as it is played at a tempo.

    `known` is its comfortable and its fastest tempo, where they were looked up already: that saves half of the time.
    Raises VariationError for a stage that there is not.
    """
    if not 0 <= number < len(stages):
        raise VariationError(f"there are stages 0 to {len(stages) - 1}, not {number}", field="stage")
    stage = stages[number]
    apart, near, moves, loud = independence(playing), speed(playing, known), travel(playing), levels(playing)
    return (
        _density(playing),
        Part("independence", apart.value, apart.text),
        _syncopation(groove, stage),
        Part("speed", near.value, near.text),
        Part("reach", moves.value, moves.text),
        Part("dynamics", loud.value, loud.text),
        _newness(stages, number),
    )


def _density(playing: Playing) -> Part:
    beat = playing.beat
    feet = sum(_strokes(stroke) for stroke in beat.strokes if stroke.surface in FEET_ONLY)
    hands = sum(_strokes(stroke) for stroke in beat.strokes) - feet
    if not hands + feet:
        return Part("density", 0, "nothing to play")
    # strokes a second = strokes x hundredths of a tempo x ticks it counts / (6000 x ticks of the loop)
    rate = Fraction(playing.tempo * playing.unit, 6000 * beat.cycle)
    each = (hands + feet) * rate
    text = f"{_number(each)} strokes a second: hands {_number(hands * rate)}, feet {_number(feet * rate)}"
    return Part("density", int(100 * each / (each + DENSE)), text + _busiest(beat))


def _strokes(stroke: Stroke) -> int:
    return 1 + MORE.get(stroke.grace, 0)


def _number(value: Fraction) -> str:
    return f"{float(value):.1f}".removesuffix(".0")


def _busiest(beat: Beat) -> str:
    """The counted beat with most strokes, where one has more than the others."""
    starts = [(number - 1) * beat.meter.number for number in beat.meter.beats]
    counts: dict[int, int] = {bar * beat.meter.bar + start: 0 for bar in range(beat.bars) for start in starts}
    for stroke in beat.strokes:
        bar, within = divmod(stroke.at, beat.meter.bar)
        counts[bar * beat.meter.bar + max(start for start in starts if start <= within)] += _strokes(stroke)
    most = max(counts.values())
    if len(counts) < 2 or most == min(counts.values()):
        return ""
    at = next(start for start, count in counts.items() if count == most)
    return f"; busiest on {spoken_at(at, beat.meter, beat.bars)}: {most} stroke{'s' if most > 1 else ''}"


def _syncopation(groove: Groove, stage: Stage) -> Part:
    found = of_beat(stage.beat, find_roles(stage.beat, stage.backbeats, groove.roles))
    lines = [(points, name) for name, points in found.lines if points]
    if not lines:
        return Part("syncopation", 0, "every stroke is on its beat or leads on without a gap")
    most, name = max(lines, key=lambda line: line[0])
    bars = _number(Fraction(sum(found.bars), stage.beat.bars))
    text = f"{bars} point{'' if bars == '1' else 's'} a bar"
    if len(lines) > 1:
        text += f", most of them from the {name} ({most} of {sum(found.bars)})"
    else:
        text += f", all from the {name}"
    return Part("syncopation", found.shown, text)


def _newness(stages: Sequence[Stage], number: int) -> Part:
    """How much is new against the stage before: added and moved strokes, left-out and altered ones by half."""
    if number == 0:
        return Part("newness", 0, "the base beat: what all stages come from")
    before, stage = stages[number - 1], stages[number]
    change = stage.change
    now = {stroke.id: stroke for stroke in stage.beat.strokes}
    moved = {move.id for move in change.moved if move.id in now}
    copies = {copy for copy, of in change.of if _comes_round(now.get(copy), now.get(of), before.beat.cycle)}
    added = [name for name in change.added if name not in copies]
    altered = {name for name in change.altered if name in now} - moved
    felt = set()
    if before.feel != stage.feel:
        kept = (stroke for stroke in stage.beat.strokes if stroke.id in set(change.kept))
        felt = {s.id for s in kept if Fraction(*before.feel.sounded(s.at)) != Fraction(*stage.feel.sounded(s.at))}
    gone = len(change.left_out)
    weight = len(added) + len(moved) + ALTERED * (len(altered) + len(felt) + gone)
    whole = len(now) + gone
    value = int(100 * min(weight / whole, Fraction(1))) if whole else 0
    told = [
        f"{count} {what}"
        for count, what in (
            (len(added), "new"),
            (len(moved), "moved"),
            (len(altered), "altered"),
            (gone, "left out"),
            (len(felt), "with another feel"),
        )
        if count
    ]
    strokes = f"{len(now)} stroke{'' if len(now) == 1 else 's'}"
    return Part("newness", value, f"{', '.join(told)}; {strokes} in all" if told else "nothing new to play")


def _comes_round(copy: Stroke | None, of: Stroke | None, cycle: int) -> bool:
    """Whether a copy is the stroke itself, sounding whole rounds later."""
    if copy is None or of is None or copy.surface != of.surface or copy.dynamic != of.dynamic:
        return False
    return copy.at > of.at and (copy.at - of.at) % cycle == 0
