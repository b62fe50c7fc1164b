"""How does a drummer name the strokes that a hand has grasped?

The shortest true words: of all ways to say it those are taken first that name what the strokes are (the backbeats, the
upbeats of the hi-hat), and only then their places one by one. Words are true where they mean these strokes on this beat
and no others.
"""

from __future__ import annotations

from collections.abc import Iterable

from ..model.beat import Beat, Stroke
from ..model.place import SYLLABLES, Place, place_at, place_text
from ..model.roles import BACKBEAT_VOICE
from .picking import pick_strokes
from .scene import Scene, surfaces_of
from .selection import ACCENTS, ALL, BACKBEATS, BEATS, GHOSTS, ONES, UPBEATS, read_selection
from .stack import Stage

# In the order in which they are tried; of equally short words our choice.
_WORDS = (BEATS, UPBEATS, ONES, ACCENTS, GHOSTS, *(name for name in SYLLABLES if name))


def words_for(
    stage: Stage, ids: Iterable[str], corrections: tuple[tuple[str, str], ...] = ()
) -> tuple[str, str] | None:
    """Name strokes of a stage as a target and a selection; None where they stand on more than one surface.

    `corrections` are those of the groove's roles.
    """
    wanted = set(ids)
    strokes = [stroke for stroke in stage.beat.strokes if stroke.id in wanted]
    scene = Scene(stage.beat, stage.backbeats, corrections)
    for target, at in _ways(stage, strokes, scene):
        if _means(target, at, scene) == wanted:
            return target, at
    return None


def _ways(stage: Stage, strokes: list[Stroke], scene: Scene) -> Iterable[tuple[str, str]]:
    if len(set(surfaces_of(BACKBEAT_VOICE, scene))) == 1:
        yield BACKBEAT_VOICE, BACKBEATS
        yield BACKBEAT_VOICE, "first backbeat"
        yield BACKBEAT_VOICE, "last backbeat"
    surfaces = {stroke.surface for stroke in strokes}
    if len(surfaces) != 1:
        return
    surface = surfaces.pop()
    if len(strokes) > 1:
        yield surface, ALL
        for word in _WORDS:
            yield surface, word
        yield surface, _places(strokes, stage.beat, every_bar=True)
    yield surface, _places(strokes, stage.beat, every_bar=False)


def _places(strokes: list[Stroke], beat: Beat, *, every_bar: bool) -> str:
    drop = every_bar or beat.bars == 1
    places = [place_at(stroke.at, beat.meter) for stroke in strokes]
    return " ".join(dict.fromkeys(place_text(place._replace(bar=0) if drop else place) for place in places))


def _means(target: str, at: str, scene: Scene) -> set[str]:
    surfaces = surfaces_of(target, scene)
    pool = [stroke for stroke in scene.beat.strokes if stroke.surface in surfaces]
    return {stroke.id for stroke in pick_strokes(read_selection(at), scene, pool, lambda text: None)}


def place_in(beat: Beat, at: int) -> Place:
    """The place of a tick, without its bar where the beat has only one."""
    place = place_at(at, beat.meter)
    return place if beat.bars > 1 else place._replace(bar=0)
