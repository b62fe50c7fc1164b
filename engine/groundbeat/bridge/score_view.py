"""How does a MusicXML file go to a page?"""

from __future__ import annotations

import binascii
from collections.abc import Sequence
from typing import Any

from ..errors import RequestError
from ..model.groove import MAX_TEMPO, MIN_TEMPO, Groove
from ..notation.xml.packed import packed
from ..notation.xml.wish import Wish
from ..notation.xml.write import musicxml
from ..variation.stack import Stage
from .on_use import ScoreOnUse
from .score_messages import ExportScore

PLAIN, PACKED = "musicxml", "mxl"


def export_view(groove: Groove, stages: Sequence[Stage], request: ScoreOnUse) -> dict[str, Any]:
    """Make the reply with the file that is asked for; RequestError where it cannot be had."""
    assert isinstance(request, ExportScore)
    if not 0 <= request.stage < len(stages):
        raise RequestError(f"there are stages 0 to {len(stages) - 1}, not {request.stage}", field="stage")
    if request.form not in (PLAIN, PACKED):
        raise RequestError(f'a score is {PLAIN} or {PACKED}, not "{request.form[:40]}"', field="form")
    low, high = MIN_TEMPO // 100, MAX_TEMPO // 100
    if request.tempo and not low <= request.tempo <= high:
        raise RequestError(f"the tempo may be {low} to {high}, or 0 for the goal", field="tempo")
    wish = Wish(
        request.stage, request.through, request.voices, request.sticking, request.counts, request.signs, request.older,
        round(request.tempo * 100),
    )  # fmt: skip
    made = musicxml(groove, stages, wish)
    whole = request.form == PACKED
    return {
        "answer": "export_score",
        "name": f"{made.name}.{request.form}",
        "text": "" if whole else made.text,
        "base64": binascii.b2a_base64(packed(made.text), newline=False).decode("ascii") if whole else "",
        "says": list(made.says),
    }
