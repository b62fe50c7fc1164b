"""Which strokes or places does a variation mean, in a drummer's words?

A selection is words joined by *or*: places ("2e", "e", "3:4a"); the words ones, beats, upbeats, all, backbeats,
ghosts, soft, normal and accents; the name of a surface or role, for where it sounds ("kick", "hi-hat-foot"); and
"stage 2", for what the variation with key 2 brought ("stage 0": what the base beat has). Each may be of one bar
("2:beats"), and have first or last before it ("first backbeat", "2:first backbeat"). `free` is a filter, *and*: no
surface at all sounds there.

Changing kinds select strokes; adding kinds select places of the columns. Backbeats (followed from the base beat by
their ids), dynamics and what a stage brought are strokes; as places they are where those strokes stand.

What is not there on this beat is never an error: it is said.
"""

from __future__ import annotations

import re
from functools import lru_cache
from typing import NamedTuple

from ..errors import VariationError
from ..model.count import spoken
from ..model.kit import BY_NAME, nearest
from ..model.place import MAX_BAR, Place, place_text, read_place
from ..model.roles import ROLES

ONES, BEATS, UPBEATS, ALL, BACKBEATS, PLACE = "ones", "beats", "upbeats", "all", "backbeats", "place"
GHOSTS, SOFT, NORMAL, ACCENTS, STAGE, WHERE = "ghosts", "soft", "normal", "accents", "stage", "where"
# Append only: the order is the numbering in links. The last two are followed by a key and by a target.
WORDS = (ONES, BEATS, UPBEATS, ALL, BACKBEATS, GHOSTS, SOFT, NORMAL, ACCENTS, STAGE, WHERE)
GONE = "99999"  # beyond every key; stands for the number of a stage that was taken out
LOUD = {GHOSTS: "ghost", SOFT: "soft", NORMAL: "normal", ACCENTS: "accent"}
SINGULAR = {ONES: "one", BEATS: "beat", UPBEATS: "upbeat", BACKBEATS: "backbeat", GHOSTS: "ghost", ACCENTS: "accent"}
ORDERS = ("", "first", "last")  # append only, likewise
FREE = "free"
MAX_TERMS = 64  # more than a sentence can say; our choice
_PLAIN = frozenset(WORDS) - {STAGE, WHERE}
_PLURAL = {singular: word for word, singular in SINGULAR.items()}
_TARGETS = {name.replace(" ", "-"): name for name in (*BY_NAME, *ROLES)}
_BAR = re.compile(r"(\d{1,3}):(.*)\Z", re.ASCII)


class Term(NamedTuple):
    """One word of a selection: `bar` 0 is every bar, `word` one of WORDS or "place".

    `of` is the key of a stage, or the surface or role of which the places are meant.
    """

    bar: int
    order: str
    word: str
    place: Place
    of: str = ""


class Selection(NamedTuple):
    """Words joined by *or*, and whether only free places count."""

    terms: tuple[Term, ...]
    free: bool


_NO_PLACE = Place(0, 0, (0, 1))


@lru_cache(maxsize=512)
def read_selection(text: str) -> Selection:
    """Read a selection; VariationError or PlaceError where a word is not one.

    >>> selection_text(read_selection("e  a"))
    'e a'
    >>> selection_text(read_selection("2:first backbeat"))
    '2:first backbeat'
    """
    tokens = text.split()
    if not tokens:
        raise VariationError(
            'which places? write words such as "2 4", "e a", "beats", "first backbeat" or "all"', field="at"
        )
    if len(tokens) > 2 * MAX_TERMS:
        raise VariationError(f"at most {MAX_TERMS} places can be named, not {len(tokens)}", field="at")
    terms: list[Term] = []
    free = False
    rest = iter(tokens)
    for token in rest:
        if token == FREE:
            free = True
            continue
        bar, word = _split_bar(token)
        order = ""
        if word in ORDERS[1:]:
            order = word
            word = next(rest, "")
            if not word or word == FREE:
                raise VariationError(
                    f'"{token}" stands before another word; write for example "{order} backbeat"', field="at"
                )
        term = _stage(bar, order, next(rest, "")) if word == STAGE else _term(bar, order, word)
        if term not in terms:
            terms.append(term)
    if not terms:
        terms.append(Term(0, "", ALL, _NO_PLACE))
    return Selection(tuple(terms), free)


def _split_bar(token: str) -> tuple[int, str]:
    found = _BAR.match(token)
    if not found:
        return 0, token
    bar = int(found[1])
    if not 1 <= bar <= MAX_BAR:
        raise VariationError(f'"{token}": bars are numbered from 1 to {MAX_BAR}', field="at")
    return bar, found[2]


def _stage(bar: int, order: str, key: str) -> Term:
    if key == GONE:
        return Term(bar, order, STAGE, _NO_PLACE, GONE)
    if not (key.isascii() and key.isdigit() and len(key) <= 4):
        raise VariationError(
            '"stage" stands before the number of a variation, as in "stage 2" for what it brought; '
            '"stage 0" is the base beat',
            field="at",
        )
    return Term(bar, order, STAGE, _NO_PLACE, str(int(key)))


def _term(bar: int, order: str, word: str) -> Term:
    word = _PLURAL.get(word, word)
    if word in _PLAIN:
        return Term(bar, order, word, _NO_PLACE)
    if word in _TARGETS:
        return Term(bar, order, WHERE, _NO_PLACE, _TARGETS[word])
    if len(word) > 4 and word.replace("-", "").isalpha():
        raise VariationError(
            f'"{word}" is not a place; known words are {", ".join(w for w in WORDS if w in _PLAIN)}, free, first and '
            'last, surfaces such as "kick" or "hi-hat-foot", and "stage 2", besides places such as "2e"'
            + nearest(word, (*_PLAIN, *_TARGETS)),
            field="at",
        )
    place = read_place(word)
    if place.bar and bar:
        raise VariationError(f'"{bar}:{word}" names two bars; keep one', field="at")
    return Term(bar or place.bar, order, PLACE, place._replace(bar=0))


def selection_text(selection: Selection) -> str:
    """Write a selection in the one form that files and links keep."""
    words = []
    for term in selection.terms:
        name = place_text(term.place) if term.word == PLACE else _plain_text(term)
        order = f"{term.order} " if term.order else ""
        words.append((f"{term.bar}:" if term.bar else "") + order + name)
    if selection.free:
        if words == [ALL]:
            return FREE
        words.append(FREE)
    return " ".join(words)


def _plain_text(term: Term) -> str:
    if term.word == STAGE:
        return f"{STAGE} {term.of}"
    if term.word == WHERE:
        return term.of.replace(" ", "-")
    return SINGULAR.get(term.word, term.word) if term.order else term.word


def term_words(term: Term) -> str:
    """Name one word of a selection inside a message: "e", "2", "a of 3 in bar 2", "last beat", "accent"."""
    if term.word == PLACE:
        name = place_text(term.place) if not term.place.number else spoken(term.place).removeprefix("the ")
    elif term.word == STAGE:
        name = f"stroke that stage {term.of} brought" if term.of != "0" else "stroke of the base beat"
    elif term.word == WHERE:
        name = f"stroke with the {term.of}"
    elif term.word in LOUD:
        name = SINGULAR.get(term.word, f"{'plain' if term.word == NORMAL else term.word} stroke")
    else:
        name = SINGULAR.get(term.word, term.word)
    order = f"{term.order} " if term.order else ""
    return f"{order}{name}" + (f" in bar {term.bar}" if term.bar else "")
