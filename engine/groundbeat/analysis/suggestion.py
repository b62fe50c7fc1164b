"""What is a suggestion, and how are its tempos told?"""

from __future__ import annotations

from typing import Any, NamedTuple

from ..model.groove import MAX_TEMPO

OFFERED = 5  # suggestions in a round: a person chooses among few. Our choice


class Suggestion(NamedTuple):
    """A variation to take: new settings for the one with key `key`, or (key 0) a new one behind that with key `after`.

    `settings` are as in a groove file, `plain` says it, `why` what it does to this beat. Tempos are whole beats a
    minute, None where it cannot be played at any. `parts` are the parts of demand before and after.
    """

    kind: str
    settings: dict[str, Any]
    key: int
    after: int
    plain: str
    why: str
    fastest: int | None
    comfortable: int | None
    parts: tuple[tuple[str, int, int], ...]


def tempo_words(fast: int | None, easy: int | None) -> str:
    """Say up to where a beat can be played.

    >>> tempo_words(150, 100), tempo_words(400, 400), tempo_words(None, None)
    ('in comfort up to 100 bpm, at most 150', 'comfortable at every tempo', 'for nobody to play')
    """
    if fast is None:
        return "for nobody to play"
    top = MAX_TEMPO // 100
    if easy is not None and easy >= top:
        return "comfortable at every tempo"
    comfort = f"in comfort up to {easy} bpm" if easy else "never in comfort"
    return comfort + (f", at most {fast}" if fast < top else "")
