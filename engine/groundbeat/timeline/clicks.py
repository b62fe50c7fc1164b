"""Where does the click fall, and what is counted before the beat begins?

Clicks lie on a grid that begins anew at every beat of the bar, so that 7/8 is clicked in its groups. They follow the
swing of the stage as its strokes do; triplets stay even, for they are what a swing is measured with (our choice).
Strong is the 1 of a bar. Quiet clicks lie between the beats; in a count, numbers are strong and syllables are not.

Some clicks differ from one round of the loop to the next. Then the clicks of several rounds are laid out one after
the other, and whoever plays them begins again after the last:
- "every other bar": the beats of one bar, then a silent bar, over the loop point too. Of a loop that is a part of the
  beat, every piece up to a bar line counts as a bar.
- "shrinking": the beats, then every other beat of a bar from its 1, then its 1 alone, then a silent round. A step that
  would sound like the one before it is left out, as the second is in 6/8. Our choice.

A count-in has whole bars, and ends where the loop begins: before a loop that begins on 3 it goes 3 4 1 2. It has the
numbers of the bar, and the syllables that the strokes of the stage's first bar call for: & for eighths, e & a for
sixteenths and all that is finer, trip let for triplets, trip let & trip let for sixteenth triplets.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from ..errors import TimelineError
from ..model.beat import Beat
from ..model.feel import Feel
from ..model.meter import QUARTER, Meter
from .saying import PARTS, in_triplets, said

BEATS = "beats"
KINDS = (BEATS, "eighths", "sixteenths", "triplets", "off-beats", "ones", "every other bar", "shrinking")
MOST_BARS = 2  # of a count-in; our choice
_GRIDS = {"eighths": QUARTER // 2, "sixteenths": QUARTER // 4}
QUIET = 0.4  # gain of a quiet click, 8 dB down: told from the others without being lost. Our choice


class Click(NamedTuple):
    """One click: sounded place in 1/`parts` tick, whether it is the 1 of a bar (or a number of the count), whether
    it sounds softer, and which syllable is said there in a count, "" for none."""

    at: int
    strong: bool
    quiet: bool = False
    say: str = ""


class Count(NamedTuple):
    """What sounds once before the loop: its length in 1/`parts` tick, and its clicks from its own start."""

    loop: int
    clicks: tuple[Click, ...]


def sounded(tick: int, feel: Feel, parts: int) -> int:
    """Map a written tick to 1/`parts` of a sounded one."""
    num, den = feel.sounded(tick)
    return num * parts // den


def lay_clicks(beat: Beat, feel: Feel, parts: int, kind: str, span: tuple[int, int]) -> tuple[int, tuple[Click, ...]]:
    """Lay out the clicks of a loop from `span[0]` to before `span[1]` (1/`parts` tick); places count from its start.

    Returns after how many rounds they begin again, and the clicks of all those rounds. TimelineError for another kind.
    """
    if kind not in KINDS:
        raise TimelineError(f'there is no click "{kind[:40]}"; there are {", ".join(KINDS)}', field="clicks")
    first, last = span
    meter, length = beat.meter, last - first

    def within(places: Iterable[Click], bar: int) -> tuple[Click, ...]:
        """The clicks of a bar of the beat that the loop holds, from the start of the loop."""
        even = kind == "triplets"
        rows = []
        for tick, strong, quiet, say in places:
            written = bar * meter.bar + tick
            at = written * parts if even else sounded(written, feel, parts)
            if first <= at < last:
                rows.append(Click(at - first, strong, quiet, say))
        return tuple(rows)

    bars = range(beat.bars)
    if kind == "every other bar":
        # A bar counts where some of it lies in the loop, with a click in it or without.
        edges = [sounded(bar * meter.bar, feel, parts) for bar in bars] + [beat.cycle * parts]
        pieces = [within(_beats(meter), bar) for bar in bars if edges[bar] < last and edges[bar + 1] > first]
        rounds = 1 if len(pieces) % 2 == 0 else 2
        heard = [
            tuple(click for k, piece in enumerate(pieces) if (turn * len(pieces) + k) % 2 == 0 for click in piece)
            for turn in range(rounds)
        ]
    elif kind == "shrinking":
        heard = []
        for step in (1, 2, meter.count, 0):
            row = tuple(click for bar in bars for click in within(_beats(meter)[::step] if step else (), bar))
            if not heard or row != heard[-1]:
                heard.append(row)
    else:
        heard = [tuple(click for bar in bars for click in within(_places(meter, kind), bar))]
    return len(heard), tuple(
        click._replace(at=click.at + turn * length) for turn, row in enumerate(heard) for click in row
    )


def count_in(beat: Beat, feel: Feel, parts: int, bars: int, start: int = 0) -> Count | None:
    """Count so many bars that end at tick `start` of the beat; None for no bars. TimelineError for too many."""
    if not 0 <= bars <= MOST_BARS:
        raise TimelineError(f"a count-in has 0 to {MOST_BARS} bars, not {bars}", field="count_in")
    if not bars:
        return None
    meter = beat.meter
    step = subdivision(beat)

    def sound(tick: int) -> int:
        return tick * parts if step in (3, 6) else sounded(tick, feel, parts)

    length, turn = meter.bar * parts, sound(start % meter.bar)
    places = []
    for number in range(meter.count):
        tick = number * meter.number
        begins = number + 1 in meter.beats
        # 1 is strong, the other beats are strong and softer; over 8 and 16 the numbers between them are not strong.
        places.append(Click(tick, begins, begins and number > 0, str(number + 1)))
        between = enumerate(PARTS[step], 1)
        places += [Click(tick + part * meter.number // step, False, True, say) for part, say in between]
    one = sorted(click._replace(at=(sound(click.at) - turn) % length) for click in places)
    return Count(
        bars * length, tuple(click._replace(at=click.at + bar * length) for bar in range(bars) for click in one)
    )


def subdivision(beat: Beat) -> int:
    """Say into how many parts each number of the count is divided by the first bar: 1, 2, 4, 3 or 6.

    Where sixteenths and triplets meet, the triplets are counted if they are more. Over 8 and 16 only & is said.
    """
    number = beat.meter.number
    between = [stroke.at % number for stroke in beat.strokes if stroke.at < beat.meter.bar and stroke.at % number]
    if not between:
        return 1
    off = [place for place in between if place * 2 != number]
    if not off or beat.meter.unit > 4:
        return 2
    if 2 * sum(place * 6 % number == 0 for place in off) <= len(off):
        return 4
    return 6 if any(place * 3 % number and place * 6 % number == 0 for place in between) else 3


def _beats(meter: Meter) -> tuple[Click, ...]:
    return tuple(Click((number - 1) * meter.number, number == 1, say=str(number)) for number in meter.beats)


def _places(meter: Meter, kind: str) -> tuple[Click, ...]:
    """The clicks of one bar, in written ticks from its start."""
    beats = _beats(meter)
    if kind == BEATS:
        return beats
    if kind == "ones":
        return beats[:1]
    ends = [*(click.at for click in beats[1:]), meter.bar]
    rows: list[Click] = []
    for click, end in zip(beats, ends, strict=True):
        if kind == "off-beats":
            rows += [Click(at, False, say=said(at, meter)) for at in _off(meter, click.at, end)]
            continue
        rows.append(click)
        for place, at in enumerate(range(click.at, end, _grid(kind, end - click.at))):
            if place:
                say = in_triplets(at, place, meter) if kind == "triplets" else said(at, meter)
                rows.append(Click(at, False, True, say))
    return tuple(rows)


def _grid(kind: str, beat: int) -> int:
    """Width of the grid in ticks: triplets are three to a quarter, and three to a beat that is no whole quarters."""
    if kind == "triplets":
        return QUARTER // 3 if beat % QUARTER == 0 else beat // 3
    return _GRIDS[kind]


def _off(meter: Meter, start: int, end: int) -> Iterable[int]:
    """Half way between beats; over 8 and 16 the numbers between two beats."""
    if meter.unit <= 4 or end - start == meter.number:
        return (start + (end - start) // 2,)
    return range(start, end, meter.number)[1:]
