"""How does a setting read inside a teacher's sentence?

Every value has words of its own: two different values never read the same. A law in the tests holds this.
"""

from __future__ import annotations

from ..model.count import spoken
from ..model.kit import GRACE_WORDS
from ..model.roles import BACKBEAT_VOICE, RIDING
from .notes import Note, read_cell
from .patterns import read_grouping, read_offset, read_swing
from .scene import EVERYTHING
from .selection import ALL, GONE, LOUD, NORMAL, PLACE, SINGULAR, STAGE, WHERE, Selection, Term, read_selection

STROKES = "every stroke"  # how "all" reads where strokes are meant, not places
_GHOSTS = {"ghost": "ghost notes", "soft": "soft notes", "normal": "plain notes", "accent": "accents"}


def join(items: list[str], last: str = "and") -> str:
    """Join words as a sentence does.

    >>> join(["e", "&", "a"])
    'e, & and a'
    """
    return items[0] if len(items) == 1 else f"{', '.join(items[:-1])} {last} {items[-1]}"


def target_words(target: str) -> str:
    """Say a surface or role: "the snare", "the riding hand", "the whole beat"."""
    if target == EVERYTHING:
        return "the whole beat"
    return {RIDING: "the riding hand", BACKBEAT_VOICE: "the backbeat voice"}.get(target, f"the {target}")


def places_words(text: str, every: str) -> str:
    """Say a selection; `every` is how "all" reads here ("every stroke", "every place").

    >>> places_words("e a", "every place"), places_words("first backbeats", "every stroke"), places_words("4a", "")
    ('every e and a', 'the first backbeat', 'the a of 4')
    """
    selection = read_selection(text)
    bare: list[str] = []
    said: list[str] = []
    for term in selection.terms:
        if term.word == PLACE and not (term.place.number or term.bar or term.order):
            bare.append(spoken(term.place).removeprefix("every "))
        else:
            said.append(_term(term, every))
    if bare and _bare_first(selection):
        said.insert(0, "every " + join(bare))
    elif bare:
        said.append("every " + join(bare))
    words = join(said)
    if selection.free:
        return f"{words} where nothing else sounds"
    return words


def _bare_first(selection: Selection) -> bool:
    first = selection.terms[0]
    return first.word == PLACE and not (first.place.number or first.bar or first.order)


def _term(term: Term, every: str) -> str:
    bar = f" in bar {term.bar}" if term.bar else ""
    if term.word == PLACE:
        name = spoken(term.place)
        if every == STROKES and term.place.number and not name.startswith("the "):
            name = f"the {name}"
        if term.order:
            name = f"the {term.order} {name.removeprefix('the ').removeprefix('every ')}"
    elif term.word == ALL:
        name = f"the {term.order} of all" if term.order else every
    elif term.word == STAGE:
        name = {"0": "what the base beat has", GONE: "what a stage brought that is gone"}.get(
            term.of, f"what stage {term.of} brought"
        )
        name = f"the {term.order} of {name}" if term.order else name
    elif term.word == WHERE:
        name = _where(term, every)
    elif term.word in LOUD:
        name = SINGULAR.get(term.word, f"{'plain' if term.word == NORMAL else term.word} stroke")
        name = f"the {term.order} {name}" if term.order else f"the {name}s"
    else:
        name = f"the {term.order} {SINGULAR[term.word]}" if term.order else f"the {SINGULAR[term.word]}s"
    return name + bar


def _where(term: Term, every: str) -> str:
    who = target_words(term.of)
    if every == STROKES:
        return f"the {term.order} stroke with {who}" if term.order else f"every stroke with {who}"
    return f"where {who} sounds{f' {term.order}' if term.order else ''}"


def at_words(text: str) -> str:
    """Say a selection of places with its "at": "at every e and a", "where the kick sounds"."""
    words = places_words(text, "every place")
    return words if words.startswith("where ") else f"at {words}"


def dynamic_words(dynamic: str, grace: str) -> str:
    """Say what is added: "ghost notes", "accents with a flam"."""
    words = _GHOSTS[dynamic]
    return f"{words} with a {GRACE_WORDS[grace]}" if grace else words


def cell_words(text: str) -> str:
    """Say a cell: "two sixteenths, eighth", with equal neighbours counted together.

    >>> cell_words("sixteenth sixteenth eighth")
    'two sixteenths and an eighth'
    """
    rows: list[tuple[Note, int]] = []
    for note in read_cell(text):
        if rows and rows[-1][0] == note:
            rows[-1] = (note, rows[-1][1] + 1)
        else:
            rows.append((note, 1))
    return join([_notes(note, count) for note, count in rows], "and")


_COUNTS = ("", "", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve")


def _notes(note: Note, count: int) -> str:
    name = (f"dotted {note.value}" if note.shape == "dotted" else note.value) + (
        " triplet" if note.shape == "triplet" else ""
    )
    if not note.sounds:
        name += " rest"
    if count > 1:
        return f"{_COUNTS[count] if count < len(_COUNTS) else count} {name}s"
    return f"{'an' if name.startswith('e') else 'a'} {name}"


def note_words(text: str, *, one: bool = True) -> str:
    """Say one note value: "a sixteenth", or "sixteenths" without `one`."""
    note = read_cell(text)[0]
    said = _notes(note, 1)
    return said if one else said.split(" ", 1)[1] + "s"


def row_words(row: tuple[str, ...], last: str = "and") -> str:
    """Say surfaces in their order: "the snare, the high tom and the floor tom"."""
    return join([target_words(name) for name in row], last)


def grouping_words(text: str) -> str:
    """Say a grouping: "threes", "3+3+2"."""
    sizes = read_grouping(text)
    many = {2: "twos", 3: "threes", 4: "fours", 5: "fives", 6: "sixes", 7: "sevens", 8: "eights", 9: "nines"}
    return many[sizes[0]] if len(sizes) == 1 and sizes[0] in many else text if len(sizes) > 1 else f"groups of {text}"


def ordinal(number: int) -> str:
    """Say which one: "second", "third", "13th"."""
    words = ("", "first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth")
    if number < len(words):
        return words[number]
    ending = "th" if number % 100 in (11, 12, 13) else {1: "st", 2: "nd", 3: "rd"}.get(number % 10, "th")
    return f"{number}{ending}"


def swing_words(text: str) -> str:
    """Say a swing: "straight", "the eighths swung 2 : 1"."""
    swung, long, short = read_swing(text)
    return f"the {swung} swung {long} : {short}" if swung else "straight"


def offset_words(text: str) -> str:
    """Say a push: "10 ms late", "in time"."""
    return text if read_offset(text) else "in time"
