"""What is a person told about bars that were read from a MIDI file?

Short sentences, the most useful first: which bars, how far strokes were moved, on which columns, what was
left out.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from ..model.beat import Beat
from ..model.count import spoken_at
from .columns import Choice
from .placing import FLAM_MS, Placed, Spread

_NAMED = 3  # places named in a sentence before "and more"
_LEANING_MS = 5  # a smaller lean is not heard. Our choice
_EXACT_MS = 0.5  # what is moved less was not moved for an ear; file ticks are longer


def bars_text(first: int, last: int) -> str:
    """Name some bars: "bar 3", "bars 3-4"."""
    return f"bar {first}" if first == last else f"bars {first}-{last}"


def which(first: int, last: int, total: int) -> str:
    """Tell which bars were read, and what they are called from now on."""
    here = f" (here {bars_text(1, last - first + 1)})" if 1 < first < last else ""
    return f"Read {bars_text(first, last)} of {total}{here}."


def moved(placed: Sequence[Placed], whole: Spread, beat: Beat) -> str:
    """Tell how far strokes were moved to their columns."""
    if whole.worst < _EXACT_MS:
        return "All strokes lay on the columns."
    worst = max(placed, key=lambda p: abs(p.ms))
    sentence = f"Strokes were moved {whole.moved:.0f} ms on average, {whole.worst:.0f} ms at most"
    sentence += f" ({_where(worst, beat)})."
    if abs(whole.mean) >= _LEANING_MS and 2 * abs(whole.mean) >= whole.moved:
        sentence += f" They were {abs(whole.mean):.0f} ms {'late' if whole.mean > 0 else 'early'} as a whole."
    return sentence


def columns(choice: Choice, asked: bool) -> list[str]:
    """Tell on which columns the file lies, where nobody chose them."""
    if asked:
        return []
    if choice.fits:
        return [f"The columns are {choice.columns}: the strokes of the file lie nearest to them."]
    return [
        "The strokes do not follow the file's tempo, so no columns fit them; sixteenths were taken. "
        "Listen before you trust it."
    ]


def flams(placed: Iterable[Placed], beat: Beat) -> list[str]:
    """Tell which pairs of strokes became flams."""
    found = [p for p in placed if p.grace]
    if not found:
        return []
    if len(found) == 1:
        return [f"Two strokes within {FLAM_MS} ms became a flam: {_list(found, beat)}."]
    return [f"{len(found)} pairs of strokes within {FLAM_MS} ms became flams: {_list(found, beat)}."]


def lost(placed: Sequence[Placed], beat: Beat) -> list[str]:
    """Tell which strokes met a louder one at their place."""
    if not placed:
        return []
    strokes = len(placed) + sum(bool(p.grace) for p in placed)  # the grace stroke of a flam goes with it
    head = "A stroke was" if strokes == 1 else f"{strokes} strokes were"
    return [f"{head} left out, where one instrument had a louder one at the place: {_list(placed, beat)}."]


def late_start(placed: Sequence[Placed], beat: Beat, first: int, total: int) -> list[str]:
    """Point to the next bar where the first one with strokes is empty for half of it or more."""
    begins = placed[0].column * beat.column
    if 2 * begins < beat.meter.bar or first >= total:
        return []
    return [
        f"Bar {first} begins with a rest: its first stroke is on {spoken_at(begins, beat.meter, 1)}. "
        f"Bar {first + 1} may be the one that you want."
    ]


def _where(p: Placed, beat: Beat) -> str:
    return f"{p.hit.surface}, {spoken_at(p.column * beat.column, beat.meter, beat.bars)}"


def _list(placed: Sequence[Placed], beat: Beat) -> str:
    names = [_where(p, beat) for p in placed[:_NAMED]]
    more = f"; and {len(placed) - _NAMED} more" if len(placed) > _NAMED else ""
    return "; ".join(names) + more
