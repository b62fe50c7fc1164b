"""How does a setting read inside a teacher's sentence?

Every value has words of its own: two different values never read the same. A law in the tests holds this.
"""

from __future__ import annotations

from ..model.count import spoken
from ..model.kit import GRACE_WORDS
from ..model.roles import BACKBEAT_VOICE, RIDING
from .notes import Note, read_cell
from .selection import ALL, BACKBEATS, BEATS, ONES, PLACE, UPBEATS, Selection, Term, read_selection
from .setting import EVERYTHING

STROKES = "every stroke"  # how "all" reads where strokes are meant, not places
_WORDS = {ONES: "one", BEATS: "beat", UPBEATS: "upbeat", BACKBEATS: "backbeat"}
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
    else:
        name = f"the {term.order} {_WORDS[term.word]}" if term.order else f"the {_WORDS[term.word]}s"
    return name + bar


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
