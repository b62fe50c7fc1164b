"""Which beams does a file have, so that beams and tuplets lie inside each other or apart?

On paper a beam may begin within a tuplet and end behind it: the last sixteenth of a half-beat triplet and the eighth
after it. Programs that keep beams and tuplets as boxes in boxes cannot hold that; one that was tried silently shifts
the notes that follow. So such a beam is cut where the tuplet begins or ends, and graces that stand within a beam with a
tuplet have no beam of their own. Our choice, for files alone.
"""

from __future__ import annotations

from collections.abc import Sequence

from ..score import BACKWARD, BEGIN, CONTINUE, END, FORWARD, Chord

_LAST = {CONTINUE: END, BEGIN: BACKWARD, FORWARD: BACKWARD}  # what a word becomes at the end of a beam that is cut
_FIRST = {CONTINUE: BEGIN, END: FORWARD, BACKWARD: FORWARD}


def nested(chords: Sequence[Chord]) -> tuple[Chord, ...]:
    """Give the chords of a voice in a bar with no beam over the edge of a tuplet that it does not hold whole."""
    found = list(chords)
    tuplets = _spans([tuple(chord.edge.split()) for chord in chords], "start", "stop")
    waiting = _spans([chord.beams[:1] for chord in chords], BEGIN, END) if tuplets else []
    while waiting:
        low, high = waiting.pop()
        cut = next((cut for start, stop in tuplets if (cut := _crossing(low, high, start, stop))), 0)
        if not cut:
            continue
        for part in (range(low, cut), range(cut, high + 1)):
            struck = [index for index in part if found[index].strokes]  # rests below a beam have no words
            for index in struck:
                found[index] = _cut(found[index], index == struck[0], index == struck[-1])
            if len(struck) > 1:
                waiting.append((struck[0], struck[-1]))
    return tuple(found)


def _crossing(low: int, high: int, start: int, stop: int) -> int:
    """Where a beam is cut that crosses a tuplet; 0 where it does not."""
    if start < low <= stop < high:
        return stop + 1
    return start if low < start <= high < stop else 0


def mixed(chords: Sequence[Chord]) -> frozenset[int]:
    """Find the places of chords that stand within or at the end of a beam which holds a tuplet: no beam of graces may
    stand before them there."""
    return frozenset(
        chord.at
        for low, high in _spans([chord.beams[:1] for chord in chords], BEGIN, END)
        if any(chord.tuplet != (1, 1) for chord in chords[low : high + 1])
        for chord in chords[low + 1 : high + 1]
    )


def _spans(words: Sequence[tuple[str, ...]], begin: str, end: str) -> list[tuple[int, int]]:
    spans, low = [], 0
    for index, row in enumerate(words):
        if begin in row:
            low = index
        if end in row:
            spans.append((low, index))
    return spans


def _cut(chord: Chord, first: bool, last: bool) -> Chord:
    if first and last:
        return chord._replace(beams=())
    words = chord.beams
    if first:
        words = tuple(_FIRST.get(word, word) for word in words)
    elif last:
        words = tuple(_LAST.get(word, word) for word in words)
    return chord._replace(beams=words)
