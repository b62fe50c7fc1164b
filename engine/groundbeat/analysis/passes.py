"""At which tempo is the next pass?

A pass is playing something through, at least four bars and fifteen seconds. The student says after each whether it was
clean. Tempos are hundredths of a beat a minute.

What is known: players who learned best corrected at once and went slower after an error (Duke, Simmons and Cash 2009,
Journal of Research in Music Education 56:310-321, an observation); beginning where a learner is and adding 7 per cent a
day avoided the harm of a fixed tempo (Quarterly Journal of Experimental Psychology 1989, 41A:251-262, another task);
slow passes mixed with passes at the goal did better than the goal alone (Henley 2001, JRME 49, known second-hand).
Everything else is our choice: 60 and 85 per cent, three clean passes, two bad ones, 10 per cent back, every fourth
pass, and the length of a pass.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import NamedTuple

from ..errors import RequestError
from ..model.groove import MAX_TEMPO, MIN_TEMPO

BARS, SECONDS = 4, 15  # of a pass, at least
BEGIN, NEARLY = 60, 85  # per cent of the goal
LEAST_UP, UP, MOST_UP, A_DAY = 105, 106, 107, 107  # per cent of the tempo; of yesterday's tempo
BACK = 90  # per cent of the tempo
CLEAN, BAD = 3, 2  # passes in a row
EVERY = 4  # each so-manieth pass is at the goal
WHOLE = 100  # a whole beat a minute: the marks of a metronome


class Pass(NamedTuple):
    """One pass that was played: its tempo, whether it was clean, and whether in the reduced form."""

    tempo: int
    clean: bool
    reduced: bool = False


class Next(NamedTuple):
    """What to play next: the tempo, whether in the reduced form, the tempo that is worked at, and why."""

    tempo: int
    reduced: bool
    work: int
    because: str


def next_tempo(history: Sequence[Pass], goal: int, yesterday: int = 0, *, reducible: bool = False) -> Next:
    """Say at which tempo the next pass is, after the passes of today (oldest first).

    `yesterday` is the last clean tempo before today, 0 where none is known; `reducible` whether there is a reduced
    form (with ghosts to leave out). RequestError for tempos that no groove can have.

    >>> next_tempo([], 9200).tempo
    5500
    >>> next_tempo([Pass(5500, True)] * 3, 9200).tempo
    5800
    """
    check_tempo(goal, "goal")
    if yesterday:
        check_tempo(yesterday, "yesterday")
    work = first(goal, yesterday)
    because = "yesterday's clean tempo" if yesterday else f"{BEGIN} % of the goal" if work < goal else "the goal"
    clean = bad = 0
    for played in history:
        if played.reduced:
            continue
        if played.clean and played.tempo >= work:
            clean, bad = clean + 1, 0
        elif not played.clean and played.tempo <= work:
            clean, bad = 0, bad + 1
        if clean == CLEAN:
            higher = _up_to(work, goal, yesterday)
            clean, because = 0, "three clean passes" if higher > work else _stays(work, goal)
            work = higher
        elif bad == BAD:
            bad, work, because = 0, back(work), "two passes that were not clean"
    if work < goal and (len(history) + 1) % EVERY == 0:
        if nearly(work, goal):
            return Next(goal, False, work, "every fourth pass at the goal")
        if reducible:
            return Next(goal, True, work, "every fourth pass at the goal, without the ghosts")
    return Next(work, False, work, because)


def first(goal: int, yesterday: int = 0) -> int:
    """The tempo to begin the day with: yesterday's clean one, else 60 % of the goal; never beyond the goal."""
    return min(goal, yesterday or max(MIN_TEMPO, goal * BEGIN // 100 // WHOLE * WHOLE))


def nearly(tempo: int, goal: int) -> bool:
    """Tell whether a tempo is so near to the goal that the goal is tried whole."""
    return tempo * 100 >= goal * NEARLY


def up(tempo: int) -> int:
    """The next tempo up, 5 to 7 per cent: on a whole beat a minute where there is one, else on a tenth.

    >>> up(6000), up(2100)
    (6400, 2230)
    """
    least, most = -(-tempo * LEAST_UP // 100), tempo * MOST_UP // 100
    for step in (WHOLE, WHOLE // 10):
        near = (2 * tempo * UP // 100 + step) // (2 * step) * step
        if least <= near <= most:
            return near
    return most


def back(tempo: int) -> int:
    """The tempo 10 per cent back, down to a whole beat a minute; not below the slowest that a groove has."""
    return max(MIN_TEMPO, tempo * BACK // 100 // WHOLE * WHOLE)


def ladder(goal: int, yesterday: int = 0) -> tuple[int, ...]:
    """All tempos of a day on which every pass is clean, slow to fast.

    >>> [tempo // 100 for tempo in ladder(9200)]
    [55, 58, 61, 65, 69, 73, 77, 82, 87, 92]
    """
    row = [first(goal, yesterday)]
    while (higher := _up_to(row[-1], goal, yesterday)) > row[-1]:
        row.append(higher)
    return tuple(row)


def rounds(cycle: int, bars: int, unit: int, tempo: int) -> int:
    """How often a loop is played in a pass: `cycle` and `unit` in ticks, `bars` of the loop, `unit` what tempo counts.

    >>> rounds(40320, 1, 10080, 9200)
    6
    """
    # a loop lasts cycle / unit beats of 6000 / tempo seconds
    enough = -(-SECONDS * unit * tempo // (6000 * cycle))
    return max(-(-BARS // bars), enough)


def seconds(cycle: int, bars: int, unit: int, tempo: int) -> float:
    """How long a pass lasts."""
    return rounds(cycle, bars, unit, tempo) * cycle * 6000 / (unit * tempo)


def last_clean(history: Iterable[Pass], before: int = 0) -> int:
    """The fastest tempo at which three whole passes in a row were clean, what tomorrow begins with; else `before`."""
    best, row = before, 0
    slowest = MAX_TEMPO
    for played in history:
        if played.reduced:
            continue
        row, slowest = (row + 1, min(slowest, played.tempo)) if played.clean else (0, MAX_TEMPO)
        if row == CLEAN:
            best, row, slowest = max(best, slowest), 0, MAX_TEMPO
    return best


def _up_to(tempo: int, goal: int, yesterday: int) -> int:
    """Up, but beyond neither the goal nor what a day allows; then as near to that as a whole beat a minute is."""
    day = yesterday * A_DAY // 100 if yesterday else MAX_TEMPO
    higher = min(up(tempo), goal)
    return higher if higher <= day else max(tempo, day // WHOLE * WHOLE)


def _stays(work: int, goal: int) -> str:
    return "the goal" if work >= goal else "no more than 7 % above yesterday's tempo in a day"


def check_tempo(tempo: int, field: str) -> None:
    """Raise RequestError for a tempo that no groove can have."""
    if not MIN_TEMPO <= tempo <= MAX_TEMPO:
        raise RequestError(
            f"{field} is {tempo / 100:g}; a tempo is {MIN_TEMPO // 100} to {MAX_TEMPO // 100} beats a minute",
            field=field,
        )
