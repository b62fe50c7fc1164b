"""How is a score drawn?

`engrave` lays out columns (`columns`), chooses lines and stretches them (`spacing`), adds stems and what stands on them
(`stems`), and puts around it the clef, the meter, bar lines and numbers, repeat signs, and straight rows below: signs
under strokes that changed, sticking letters, counts. The result is a `primitives.Drawing`: `svg()` writes it,
`marks()` gives its shapes to whoever draws elsewhere.

Kinds of marks: "staff" "clef" "meter" "bar line" "repeat dot" "repeated bar" "number" (of a bar) "title" "tempo";
"head"
"ledger" "parenthesis" "dot" "rest" "stem" "beam" "flag" "on stem" (buzz, diddle) "outside" (accents, hi-hat signs,
choke) "tuplet" "bracket"; "grace" "grace stem" "grace beam" "grace flag" "slash" "slur"; rows: "changed" "sticking"
"count"; in a legend also "name".
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence

from ..model.beat import in_order
from ..model.kit import FEET_ONLY
from .column import Column
from .columns import columns
from .furniture import (
    AFTER_METER,
    BAR_LINE,
    CLEF,
    NUMBER,
    REPEAT,
    block,
    closing,
    letters,
    meter_width,
    opening,
    tempo_mark,
    title_row,
    words,
)
from .glyphs import OUTLINES, SPACE, STEP
from .primitives import Drawing, Mark, Row, Sign, moved
from .score import Bar, Chord, Score
from .spacing import STRETCH, Piece, factor, lines, piece
from .staff import marks as hat_marks
from .stems import finish

WIDTH = 100.0  # staff spaces: 175 mm at 1.75 mm a space; our choice
LARGE = 150  # percent
MARGIN = 60
_LINES = 350  # between lines of the staff; our choice


def engrave(
    score: Score,
    *,
    width: float = WIDTH,
    sticking: Mapping[str, str] | None = None,
    counts: bool = False,
    changed: Collection[str] = (),
    large: bool = False,
    title: str = "",
    about: str = "",
    tempo: str = "",
    feel: str = "",
    loops: bool = True,
    repeats: bool = False,
    numbers: bool = True,
    ids: bool = True,
) -> Drawing:
    """Draw a score on lines of at most `width` staff spaces (of ordinary print).

    `sticking` gives letters ("R", "L") by stroke id, for strokes of hands; both in one place are written B. `changed`
    are ids of strokes to be marked below. `large` is print at 150 %. `title` stands above; `about` says what it shows
    to those who do not see it. `tempo` is a number as text, its unit is the meter's; `feel` are words behind it.
    `loops` puts repeat signs around all, `repeats` draws a bar that is as the one before as a repeat sign. `ids` keeps
    strokes apart, so that playback can light them.
    """
    scale = LARGE if large else 100
    room = max(round(width * SPACE * 100 / scale), 8 * SPACE) - 2 * MARGIN
    pieces = _pieces(score, room, sticking or {}, counts, changed, repeats)
    start = CLEF
    first = start + meter_width(score.meter) + AFTER_METER + (REPEAT if loops else 0)
    chosen = lines(pieces, room - first - (REPEAT if loops else 0), room - start)
    rows: list[Row] = []
    y, widest, known = MARGIN, 0, STRETCH
    if title:
        y, row = title_row(title, room, y)
        widest = row.marks[0].box[2]
        rows.append(row)
    for number, line in enumerate(chosen):
        begin, end = first if not number else start, number == len(chosen) - 1 and loops
        marks: list[Mark] = []
        right, known = _place(score, line, begin, room - (REPEAT if end else 0), known, numbers, marks)
        right += REPEAT if end else 0
        opening(score.meter, right, not number, loops, marks)
        if end:
            closing(right, marks)
        inside = [column for part in line for column in part.columns]
        marks += finish(inside, True) + finish(inside, False)
        for column in inside:
            marks += shifted(column)
        if not ids:
            marks = [mark._replace(stroke="") for mark in marks]
        letters(inside, marks)
        if not number and (tempo or feel):
            tempo_mark(score.meter, tempo, feel, room, marks)
        boxes = [mark.box for mark in marks]
        top, bottom = min([box[1] for box in boxes]), max([box[3] for box in boxes])
        rows.append(Row(MARGIN, y - top, tuple(marks)))
        y += bottom - top + _LINES
        widest = max([widest, *[box[2] for box in boxes]])
    return Drawing(
        widest + 2 * MARGIN,
        y - _LINES + MARGIN,
        tuple(rows),
        about or title or f"Drum notation in {score.meter}",
        scale,
    )


def _place(
    score: Score, line: Sequence[Piece], begin: int, end: int, known: int, numbers: bool, marks: list[Mark]
) -> tuple[int, int]:
    """Stretch a line from `begin` to `end`: set its columns' x, draw bar lines, numbers and signs of whole bars.

    Returns where it ends and by how much it was stretched; a line that would be stretched too far is as the one before.
    """
    gaps = [gap for part in line for gap in part.gaps]
    found = factor(gaps, end - begin)
    full = (end - begin) * 1000 <= STRETCH * sum(max(gap) for gap in gaps)
    if not full:
        found = known
    x = begin
    for part in line:
        start = x
        if part.first and numbers and len(score.bars) > 1:
            told = str(part.bar + 1)
            if part is line[0]:
                marks.append(words("number", told, 0, -8 * STEP - 70, NUMBER, "start"))
            else:
                marks.append(words("number", told, x - BAR_LINE // 2, -8 * STEP - 70, NUMBER, "middle"))
        for (least, length), column in zip(part.gaps, part.columns, strict=False):
            x += max(least, length * found // 1000)
            column.x = x
        for least, length in part.gaps[len(part.columns) :]:
            x += max(least, length * found // 1000)
        if part is line[-1] and full:
            x = max(x, end)
        if part.last:
            marks.append(block("bar line", x - BAR_LINE, -8 * STEP, BAR_LINE, 8 * STEP))
        _centred(score.bars[part.bar], part, start, x - BAR_LINE, marks)
    return x, found


def _centred(bar: Bar, part: Piece, left: int, right: int, marks: list[Mark]) -> None:
    """Put what stands for a whole bar into its middle."""
    if not part.columns:
        name, kind, y = "repeated bar", "repeated bar", -4 * STEP
    elif not any(voice.chords and any(chord.strokes for chord in voice.chords) for voice in bar.voices):
        name, kind, y = "rest 1", "rest", -6 * STEP
    else:
        return
    a, b, c, d = OUTLINES[name].box
    x = (left + right - c) // 2
    marks.append(Mark(kind, (x + a, y + b, x + c, y + d), Sign(name, x, y, 100), ""))


def shifted(column: Column) -> list[Mark]:
    """Give a column's marks, moved to its place on the line."""
    x = column.x
    strokes = column.strokes
    found = []
    for kind, (left, top, right, bottom), shape, number in column.marks:
        name = strokes[int(number)].id if number else ""
        box = (left + x, top, right + x, bottom)
        if isinstance(shape, Sign):
            found.append(Mark(kind, box, Sign(shape.name, shape.x + x, shape.y, shape.size), name))
        else:
            found.append(Mark(kind, box, moved(shape, x, 0), name))
    return found


def _pieces(
    score: Score, room: int, sticking: Mapping[str, str], counts: bool, changed: Collection[str], repeats: bool
) -> list[Piece]:
    """Lay out every bar, and part those that are too wide for a line."""
    strokes = in_order(
        stroke for bar in score.bars for voice in bar.voices for c in voice.chords for stroke in c.strokes
    )
    hats = hat_marks(strokes)
    spoken: dict[int, list[tuple[int, str, bool]]] = {}
    if counts:
        for count in score.counts:
            spoken.setdefault(count.at // score.meter.bar, []).append(count)
    pieces: list[Piece] = []
    for number, bar in enumerate(score.bars):
        end = bar.start + score.meter.bar
        if bar.repeats and repeats:
            pieces.append(piece(number, (), end))
            continue
        inside = columns(bar, hats)
        if sticking or changed:
            for column in inside:
                _label(column, sticking, changed)
        if counts:
            inside = _spoken(bar, inside, spoken.get(number, []))
        whole = piece(number, inside, end)
        if sum(least for least, _ in whole.gaps) <= room - 3 * SPACE:
            pieces.append(whole)
        else:
            pieces += _parts(score, bar, number, inside)
    return pieces


def _label(column: Column, sticking: Mapping[str, str], changed: Collection[str]) -> None:
    letters = {sticking.get(stroke.id, "") for stroke in column.strokes if stroke.surface not in FEET_ONLY} - {""}
    column.letter = letters.pop() if len(letters) == 1 else "B" if letters else ""
    column.changed = any(stroke.id in changed for stroke in column.strokes)


def _spoken(bar: Bar, inside: list[Column], rows: Sequence[tuple[int, str, bool]]) -> list[Column]:
    """Give columns their syllables, and make columns for syllables where nothing is written.

    Inside a tuplet only what is written is counted: a grey "e" between the notes of a triplet says nothing true.
    """
    found = {column.at: column for column in inside}
    tuplets = [
        (chord.at, chord.at + chord.ticks) for voice in bar.voices for chord in voice.chords if chord.tuplet != (1, 1)
    ]
    for at, syllable, played in rows:
        column = found.get(at)
        if column is None:
            if any(low < at < high for low, high in tuplets):
                continue
            column = found[at] = Column(at)
        column.syllable, column.played = syllable, played
    return [found[at] for at in sorted(found)]


def _parts(score: Score, bar: Bar, number: int, inside: list[Column]) -> list[Piece]:
    """Break a bar at beats where nothing goes across."""
    meter = score.meter
    borders = [bar.start + (beat - 1) * meter.number for beat in meter.beats[1:]]
    free = [at for at in borders if all(_free(voice.chords, at) for voice in bar.voices)]
    edges = [bar.start, *free, bar.start + meter.bar]
    parts = []
    for low, high in zip(edges, edges[1:], strict=False):
        held = [column for column in inside if low <= column.at < high]
        if held:
            parts.append(piece(number, held, high, low == bar.start, high == edges[-1]))
    return parts


def _free(chords: Sequence[Chord], at: int) -> bool:
    """True where a chord begins at `at` and no beam or tuplet holds it to the one before."""
    held = False
    for chord in chords:
        if chord.at == at:
            return not held and chord.beams[:1] not in (("continue",), ("end",))
        if chord.tuplet != (1, 1):
            held = not chord.edge.endswith("stop")
        elif chord.at > at:
            break
    return not chords
