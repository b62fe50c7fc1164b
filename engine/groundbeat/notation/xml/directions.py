"""What stands above and below the staff: stages, sentences, tempo, feel, hands, names?"""

from __future__ import annotations

from ...model.feel import Feel
from ...model.meter import QUARTER
from .element import Lines, leaf, node, number

ABOVE, BELOW = "above", "below"
_UNITS = {
    "half": ("half", 0), "quarter": ("quarter", 0), "dotted quarter": ("quarter", 1), "eighth": ("eighth", 0)
}  # fmt: skip
_SWUNG = {"eighths": "eighth", "sixteenths": "16th"}


def words(text: str, placement: str, voice: int = 0) -> Lines:
    """Write words at this place."""
    return direction(leaf("words", text), placement, voice=voice)


def direction(inside: Lines, placement: str, sound: Lines | None = None, voice: int = 0) -> Lines:
    """Write a direction of one sign, and perhaps what it means for the sound."""
    return node(
        "direction",
        node("direction-type", inside),
        leaf("voice", voice) if voice else [],
        sound or [],
        placement=placement,
    )


def tempo(hundredths: int, unit: str, ticks: int) -> Lines:
    """Write a metronome mark for a tempo that counts notes of `unit`, `ticks` long."""
    name, dots = _UNITS[unit]
    mark = node(
        "metronome",
        leaf("beat-unit", name),
        leaf("beat-unit-dot") * dots,
        leaf("per-minute", number(hundredths / 100)),
        parentheses="no",
    )
    return direction(mark, ABOVE, leaf("sound", tempo=number(hundredths * ticks / QUARTER / 100)))


def feel(told: Feel) -> Lines:
    """Write how it is played, in words and, as far as the standard goes, for the sound."""
    long, short = told.long, told.short
    swung = bool(told.swung) and long != short
    row = (
        [leaf("first", long), leaf("second", short), leaf("swing-type", _SWUNG[told.swung])]
        if swung
        else [leaf("straight")]
    )
    return direction(leaf("words", told.said()), ABOVE, node("sound", node("swing", *row)))


def rehearsal(text: str) -> Lines:
    """Write a rehearsal mark."""
    return direction(leaf("rehearsal", text), ABOVE)
