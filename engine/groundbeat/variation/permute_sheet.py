"""What does an exercise sheet of a permutation show?

The document once for every turn of one of its variations: first unmoved (that variation off), then on every place in
turn. Only turns that can be written are there: at most 31 beside the unmoved one.
"""

from __future__ import annotations

from ..errors import VariationError
from ..model.groove import Groove
from .permute import KIND, MOST, turns
from .picking import pick_strokes
from .scene import Scene, surfaces_of
from .selection import read_selection
from .setting import full
from .stack import edit, grow, switch


def siblings(groove: Groove, key: int) -> tuple[Groove, ...]:
    """Give the document for every turn of the variation with this key, the unmoved one first.

    Raises VariationError where there is no such variation, or it does not permute.
    """
    found = next((each for each in groove.variations if each.key == key), None)
    if found is None or found.kind != KIND.name:
        what = "there is none" if found is None else f"it is {found.kind}"
        raise VariationError(
            f"an exercise sheet is made of a variation that permutes; with key {key} {what}; add permute first",
            field="key",
        )
    stage = grow(groove, last=groove.variations.index(found))[-1]
    settings = full(KIND.settings, found.settings)
    scene = Scene(stage.beat, stage.backbeats, groove.roles, stage.feel)
    surfaces = surfaces_of(settings["surface"], scene)
    pool = [stroke for stroke in stage.beat.strokes if stroke.surface in surfaces]
    strokes = pick_strokes(read_selection(settings["at"]), scene, pool, lambda said: None)
    count = min(turns([stroke.at for stroke in strokes], settings, stage.beat), MOST + 1)
    on = switch(groove, key, True)
    return (switch(groove, key, False), *(edit(on, key, {"turn": str(turn)}) for turn in range(1, count)))
