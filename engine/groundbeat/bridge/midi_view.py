"""How does a MIDI file go to a page?"""

from __future__ import annotations

import binascii
from collections.abc import Sequence
from typing import Any

from ..errors import RequestError
from ..midi.export import midi_file
from ..midi.laying import Wish
from ..model.groove import MAX_TEMPO, MIN_TEMPO, Groove
from ..variation.stack import Stage
from .midi_messages import ExportMidi
from .on_use import MidiOnUse


def export_view(groove: Groove, stages: Sequence[Stage], request: MidiOnUse) -> dict[str, Any]:
    """Make the reply with the file that is asked for; RequestError where it cannot be had."""
    assert isinstance(request, ExportMidi)
    if not 0 <= request.stage < len(stages):
        raise RequestError(f"there are stages 0 to {len(stages) - 1}, not {request.stage}", field="stage")
    low, high = MIN_TEMPO // 100, MAX_TEMPO // 100
    if request.tempo and not low <= request.tempo <= high:
        raise RequestError(f"the tempo may be {low} to {high}, or 0 for the goal", field="tempo")
    tempo = round(request.tempo * 100)
    made = midi_file(
        groove,
        stages,
        Wish(
            request.stage, request.through, request.loops, tempo, request.profile, request.ticks, request.straight,
            request.rimshot,
        ),
    )  # fmt: skip
    return {
        "answer": "export_midi",
        "name": made.name,
        "base64": binascii.b2a_base64(made.data, newline=False).decode("ascii"),
        "says": list(made.says),
    }
