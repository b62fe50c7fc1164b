"""How does hand-written tablature become a base beat?

TAB.md says what is read. Whatever can be meant in two ways, and whatever is left out, is told with line and column.
Limits are checked before reading.
"""

from __future__ import annotations

import re
from typing import NamedTuple

from ..errors import TabError
from ..model.beat import MAX_BARS, Beat, Stroke, base_beat
from ..model.groove import MAX_TITLE
from ..model.kit import LOUDNESS
from ..model.meter import Meter
from ..model.place import COLUMNS
from .tab_bars import Hit, Remarks, TabBar, bars_of, cut
from .tab_heads import Heads, Own, own_text, read_heads, tempo_of, text_left
from .tab_layout import MAX_WIDTH, Layout, System, is_tab_line, lay_out, lines_of
from .tab_meter import by_counts, by_length, column_ticks, columns_named, lengths
from .tab_names import Named, line_named, nearest_line

# Sixteen bars of thirty-seconds on twelve lines are 7 kB; whole pieces as people write them have 20 kB. Our choice.
MAX_TEXT = 128 * 1024
MAX_LINES = 4000  # a whole piece has some hundreds. Our choice
MAX_TAB_BARS = 512  # bars of a text with its repeats; half an hour of music has about so many. Our choice
_GROOVE_FILE = re.compile(r"^[ \t]{0,40}(?:groundbeat\s{0,8}=|\[base\])", re.MULTILINE)
MOST_SAID = 24  # remarks about one text; more of them nobody reads. Our choice
_LOOKED_UP = 12  # unknown names that are compared with the known ones. Our choice


class TabImport(NamedTuple):
    """A base beat, its tempo in hundredths, its title, and what is to be told."""

    beat: Beat
    tempo: int
    title: str
    says: tuple[str, ...]


class _Segment(NamedTuple):
    bars: list[TabBar]
    times: int


def looks_like_tab(text: str) -> bool:
    """Tell whether a text holds tablature and is no groove file.

    >>> looks_like_tab("HH|x-x-x-x-|"), looks_like_tab('groundbeat = 1'), looks_like_tab("a | b")
    (True, False, False)
    """
    if len(text) > MAX_TEXT or _GROOVE_FILE.search(text):
        return False
    lines = lines_of(text)
    return any(is_tab_line(line[:MAX_WIDTH]) for line in lines[:MAX_LINES]) or own_text(text, lines) is not None


def read_tab(text: str, bars: tuple[int, int] | None = None) -> TabImport:
    """Read bars A to B of a tablature, both counted from 1 and included; None are all, or the first sixteen.

    Raises TabError where there is no tablature, or something would be lost that cannot be told; its `line` and
    `column` count from 1.

    >>> read_tab("HH|x-x-x-x-|\\nSN|--o---o-|").beat.strokes[1].surface
    'hi-hat'
    """
    lines = _limited(text)
    own = own_text(text, lines)
    layout = lay_out(own.lines if own else lines)
    heads, left = read_heads(layout.text)
    if own:
        heads, left = own.heads, []
    remarks = Remarks()
    segments, known = _segments(layout, remarks)
    played, repeats = _played(segments)
    if not played:
        played = _silent(own, known)
    first, last = _range(bars, len(played))
    chosen = played[first - 1 : last]
    meter, doubts = _meter(heads, chosen, frozenset(bar.columns for bar in played))
    chosen = [part for bar in chosen for part in _in_meter(bar, meter, remarks)][:MAX_BARS]
    beat, columns_said = _beat(chosen, meter, heads, remarks)
    tempo, tempo_says = tempo_of(heads, meter)
    title = "".join(letter for letter in heads.title if letter.isprintable() or own)[:MAX_TITLE]
    says = [
        *_which(first, last, len(played), bars is not None, own), *repeats, *doubts, *columns_said, *tempo_says,
        *remarks.sentences(), *(f"{said[0].upper()}{said[1:]}." for said in layout.says), *text_left(left),
    ]  # fmt: skip
    if len(says) > MOST_SAID:
        says = [*says[:MOST_SAID], f"There are {len(says) - MOST_SAID} more remarks like these."]
    return TabImport(beat, tempo, title, tuple(says))


def _limited(text: str) -> list[str]:
    if len(text) > MAX_TEXT:
        raise TabError(
            f"the text has {len(text)} characters, at most {MAX_TEXT} are read: several whole pieces. "
            "Take the bars that you need into a text of their own"
        )
    lines = lines_of(text)
    if len(lines) > MAX_LINES:
        raise TabError(f"the text has {len(lines)} lines; at most {MAX_LINES} are read", line=MAX_LINES + 1)
    for number, line in enumerate(lines, 1):
        if len(line) > MAX_WIDTH and is_tab_line(line[:MAX_WIDTH]):
            raise TabError(
                f"the line has {len(line)} columns, at most {MAX_WIDTH} are read; go on in a system below",
                line=number, column=MAX_WIDTH + 1,
            )  # fmt: skip
    return lines


def _segments(layout: Layout, remarks: Remarks) -> tuple[list[_Segment], int]:
    """All bars in parts that are repeated as a whole, and how many lines were known."""
    segments: list[_Segment] = []
    before: TabBar | None = None
    known = 0
    unknown: set[str] = set()
    for system in layout.systems:
        names = _names(system, remarks, unknown)
        known += len(names)
        bars = bars_of(system, names, before, remarks)
        if bars:
            before = bars[-1]
            segments += _repeated(system, bars)
    if layout.systems and not known:
        row = layout.systems[0].rows[0]
        said = _unknown(row.name, set())
        hint = "" if row.name else ' Write what it is before the first bar line, as in "HH|x-x-x-x-|"'
        raise TabError(said + hint, line=row.line, column=1)
    return segments, known


def _names(system: System, remarks: Remarks, unknown: set[str]) -> dict[str, Named]:
    names: dict[str, Named] = {}
    for row in system.rows:
        named = line_named(row.name)
        if named is not None:
            names[row.name] = named
            if named.doubt:
                remarks.tell(f'The line "{row.name}" is read as {named.surface}; {named.doubt}', row.line)
        elif any(letter not in " -._|" for cell in row.cells for letter in cell.text):
            remarks.tell(f"{_unknown(row.name, unknown)} The line was left out", row.line)
    return names


def _unknown(name: str, unknown: set[str]) -> str:
    """Say that a name is not known, with the nearest; of many such names the first ones, for looking takes long."""
    if not name:
        return "A line has no name."
    unknown.add(name)
    near = nearest_line(name) if len(unknown) <= _LOOKED_UP else ""
    return f'"{name}" is no line that is known{near}' + ("" if near.endswith("?") else ".")


def _repeated(system: System, bars: list[TabBar]) -> list[_Segment]:
    """Part the bars of a system at its repeat signs."""
    row = max(system.rows, key=lambda row: (len(row.closes), len(row.opens)))
    times = max(row.times for row in system.rows)
    if len(bars) != len(row.cells) or not row.closes:
        return [_Segment(bars, max(times, 1))]
    segments: list[_Segment] = []
    start = 0
    for close in row.closes:
        begin = max((at for at in row.opens if start <= at <= close), default=start)
        if begin > start:
            segments.append(_Segment(bars[start:begin], 1))
        end = close == len(bars) - 1
        segments.append(_Segment(bars[begin : close + 1], times if times and end else 2))
        start = close + 1
    return segments + ([_Segment(bars[start:], 1)] if start < len(bars) else [])


def _played(segments: list[_Segment]) -> tuple[list[TabBar], list[str]]:
    if len(segments) == 1:
        times = segments[0].times
        return segments[0].bars, [f"It is to be played {times} times; it is here once, and loops."] if times > 1 else []
    total = sum(len(segment.bars) * max(segment.times, 1) for segment in segments)
    if total > MAX_TAB_BARS:
        raise TabError(f"with its repeats the text has {total} bars; at most {MAX_TAB_BARS} are read")
    bars = [bar for segment in segments for bar in segment.bars * max(segment.times, 1)]
    return bars, ["Repeats are written out."] if len(bars) > sum(len(segment.bars) for segment in segments) else []


def _silent(own: Own | None, known: int) -> list[TabBar]:
    """The bars of a text without strokes: only one that Groundbeat wrote is a beat nevertheless."""
    if own is None or known or own.heads.meter is None:
        raise TabError('there is no tablature in the text; its lines look like "HH|x-x-x-x-x-x-x-x-|"')
    return [TabBar(own.heads.meter.bar // COLUMNS[own.heads.columns], "", {}, 1)] * own.heads.bars


def _range(bars: tuple[int, int] | None, total: int) -> tuple[int, int]:
    if bars is None:
        return 1, min(total, MAX_BARS)
    first, last = bars
    if not 1 <= first <= last or last - first >= MAX_BARS:
        raise TabError(f"bars {first}-{last} are no 1 to {MAX_BARS} bars; try 1-{min(total, 4)}", field="bars")
    if last > total:
        raise TabError(
            f"asked for bars {first}-{last}, but the text has {total}; try 1-{min(total, MAX_BARS)}", field="bars"
        )
    return first, last


def _which(first: int, last: int, total: int, asked: bool, own: Own | None) -> list[str]:
    says = []
    if own and own.stages > 1:
        says.append(f"The text holds {own.stages} stages; stage {own.stage} was taken.")
    if last - first + 1 < total:
        what = f"bars {first}-{last}" if last > first else f"bar {first}"
        says.append(
            f"Read {what} of {total}." + ("" if asked else f" A beat has at most {MAX_BARS}; others may be chosen.")
        )
    return says


def _meter(heads: Heads, bars: list[TabBar], others: frozenset[int]) -> tuple[Meter, list[str]]:
    if heads.meter is not None:
        return heads.meter, []
    for bar in bars:
        found = by_counts(bar.counts)
        if found:
            doubt = f'The counts are read as {found.meter}; for {found.doubt} write the meter above, as in "Time: 3/4".'
            return found.meter, [doubt] if found.doubt else []
    most = max(bars, key=lambda bar: sum(other.columns == bar.columns for other in bars))
    found = by_length(most.columns, others) or by_length(16 if most.columns % 16 == 0 else most.columns, others)
    if found is None:
        raise TabError(
            f"a bar has {most.columns} columns, which tells no meter; "
            'write it above, as in "Time: 7/8", or add a line of counts',
            line=most.line, column=1,
        )  # fmt: skip
    if not found.doubt:
        return found.meter, []
    return found.meter, [
        f"A bar has {most.columns} columns and no counts; it is read as {found.meter} and may be {found.doubt}: "
        'then write the meter above, as in "Time: 3/4".'
    ]


def _in_meter(bar: TabBar, meter: Meter, remarks: Remarks) -> list[TabBar]:
    """A bar as it is, or cut where it holds several bars of sixteenths; TabError where it fits no columns."""
    if column_ticks(meter, bar.columns):
        return [bar]
    usual, rest = divmod(meter.bar, COLUMNS["sixteenths"])
    if not rest and bar.columns > usual and bar.columns % usual == 0:
        remarks.tell(f"{bar.columns} columns are read as {bar.columns // usual} bars of sixteenths", bar.line)
        return cut(bar, usual)
    raise TabError(
        f"a bar has {bar.columns} columns, but one of {meter} has {', '.join(map(str, lengths(meter)))}; "
        "count its letters, or write another meter above",
        line=bar.line, column=1,
    )  # fmt: skip


def _beat(bars: list[TabBar], meter: Meter, heads: Heads, remarks: Remarks) -> tuple[Beat, list[str]]:
    taken: dict[tuple[int, str], tuple[Stroke, Hit]] = {}
    sizes: dict[int, int] = {}
    for number, bar in enumerate(bars):
        ticks = column_ticks(meter, bar.columns)
        sizes[ticks] = sizes.get(ticks, 0) + 1
        for hit in (hit for hits in bar.hits.values() for hit in hits):
            at = number * meter.bar + hit.column * ticks
            stroke = Stroke(at, hit.meant.surface, hit.meant.dynamic, hit.meant.grace, hit.hand)
            old = taken.get((at, stroke.instrument))
            if old is not None:
                loser = hit if LOUDNESS[stroke.dynamic] <= LOUDNESS[old[0].dynamic] else old[1]
                remarks.tell(
                    f"One {stroke.instrument} is struck once at a place; the other stroke was left out",
                    loser.line, loser.place,
                )  # fmt: skip
                if loser is hit:
                    continue
            taken[at, stroke.instrument] = (stroke, hit)
    strokes = [stroke for stroke, _ in taken.values()]
    columns = heads.columns or columns_named(sizes, {stroke.at for stroke in strokes}, meter)
    says = []
    if len(sizes) > 1:
        says.append(f"The bars have different columns ({_lengths(bars)}); each is read as one bar of {meter}.")
    if meter.bar % COLUMNS[columns]:
        raise TabError(f"a bar of {meter} does not hold a whole number of {columns}")
    return base_beat(meter, len(bars), columns, strokes), says


def _lengths(bars: list[TabBar]) -> str:
    return ", ".join(str(size) for size in sorted({bar.columns for bar in bars}))
