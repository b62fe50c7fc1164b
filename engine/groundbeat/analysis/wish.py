"""What should the next variation do, in a teacher's words?

A wish is one direction or several, each small, plain or much: "a little busier and quieter". A direction is a list of
ways: so much more or less of something that is measured. Measured are the parts of demand, and counts of the beat
before and after (see `differences`). A wish is reached only where every way is.

Words, directions and how far each goes are our choice. There is no measure of "harder" as such: it is read as more in
the six parts of demand taken together, whichever of them.
"""

from __future__ import annotations

import re
from typing import NamedTuple

from ..errors import RequestError, shown
from ..model.kit import nearest

EASIER = "easier"
ANYTHING = "something new"

# Measured over a beat before and after, besides the parts of demand. Counts are hundredths a whole note.
STROKES, GHOSTS, ACCENTS, LOUDNESS, SOUNDS = "strokes", "ghosts", "accents", "loudness", "new sounds"
FEET, FEET_FIRST = "new for the feet", "more for the feet than for the hands"
LEFT, LEFT_FIRST = "new for the left hand", "more for the left hand than for others"
RIGHT, RIGHT_FIRST = "new for the right hand", "more for the right hand than for others"
PARTS = ("density", "independence", "syncopation", "speed", "reach", "dynamics")  # of demand, without newness
NO_END = 10**6


class Way(NamedTuple):
    """The changes of these measures, added up, lie between `least` and `most`."""

    measures: tuple[str, ...]
    least: int
    most: int


class Wish(NamedTuple):
    """What is wished: its ways, how new it may be (hundredths of the beat), and whether it may be less comfortable."""

    text: str
    ways: tuple[Way, ...]
    least_new: int
    most_new: int
    harder: bool
    easier: bool = False


class Direction(NamedTuple):
    """A direction: its main measures and sign, how far it goes when small, plain and much, and what else must hold."""

    measures: tuple[str, ...]
    sign: int
    ranges: tuple[tuple[int, int], tuple[int, int], tuple[int, int]]
    also: tuple[Way, ...] = ()
    harder: bool = False


_NOT_MORE = tuple(Way((part,), -NO_END, 4) for part in PARTS)
_STROKES = ((50, 300), (100, 900), (400, NO_END))  # of about 1200 to 2400 in most beats
_NEW = ((50, 300), (100, 800), (300, NO_END))

DIRECTIONS = {
    "harder": Direction(PARTS, 1, ((3, 30), (10, 100), (50, NO_END)), harder=True),
    "simpler": Direction(PARTS, -1, ((3, 30), (5, NO_END), (50, NO_END)), _NOT_MORE),
    "busier": Direction((STROKES,), 1, _STROKES),
    "airier": Direction((STROKES,), -1, _STROKES),
    "quieter": Direction((LOUDNESS,), -1, ((5, 30), (10, 100), (40, NO_END))),
    "louder": Direction((LOUDNESS,), 1, ((5, 30), (10, 100), (40, NO_END))),
    "more syncopated": Direction(("syncopation",), 1, ((2, 10), (4, 30), (15, NO_END))),
    "straighter": Direction(("syncopation",), -1, ((2, 10), (4, NO_END), (15, NO_END))),
    "new sound": Direction((SOUNDS,), 1, ((1, 1), (1, 3), (2, NO_END))),
    "more ghosts": Direction((GHOSTS,), 1, ((50, 200), (100, 600), (300, NO_END))),
    "more accents": Direction((ACCENTS,), 1, ((50, 200), (100, 600), (300, NO_END))),
    "fewer ghosts": Direction((GHOSTS,), -1, ((50, 200), (100, NO_END), (300, NO_END))),
    "fewer accents": Direction((ACCENTS,), -1, ((50, 200), (100, NO_END), (300, NO_END))),
    "for the feet": Direction((FEET,), 1, _NEW, (Way((FEET_FIRST,), 0, NO_END),)),
    "for the left hand": Direction((LEFT,), 1, _NEW, (Way((LEFT_FIRST,), 0, NO_END),)),
    "for the right hand": Direction((RIGHT,), 1, _NEW, (Way((RIGHT_FIRST,), 0, NO_END),)),
}
NEWNESS = ((1, 20), (2, 35), (4, 60))  # how new a variation may be when the wish is small, plain or much

# What a page offers; any of them can be joined by "and".
OFFERED = (
    ANYTHING, EASIER, "simpler", "a little harder", "harder", "much harder", "a little busier", "busier", "much busier",
    "airier", "quieter", "louder", "more syncopated", "straighter", "new sound", "more ghosts", "more accents",
    "for the feet", "for the left hand", "for the right hand",
)  # fmt: skip

_OPPOSITE = {
    "harder": "simpler", "simpler": "harder", "busier": "airier", "airier": "busier", "quieter": "louder",
    "louder": "quieter", "more syncopated": "straighter", "straighter": "more syncopated", EASIER: "harder",
    "more ghosts": "fewer ghosts", "more accents": "fewer accents",
}  # fmt: skip
# Words by the direction that "more" of them, or their comparative, means.
_WORDS = {
    "harder": "hard harder difficult demanding challenging challenge tough tougher tricky trickier advanced",
    "simpler": "simple simpler plain plainer basic",
    EASIER: "easy easier",
    "busier": "busy busier full fuller dense denser notes strokes",
    "airier": "airy airier space spacious sparse sparser thin thinner room open empty emptier",
    "quieter": "quiet quieter soft softer gentle gentler",
    "louder": "loud louder strong stronger",
    "more syncopated": "syncopated syncopation offbeat off-beat funky funkier",
    "straighter": "straight straighter square squarer",
    "new sound": "sound sounds colour colours color colors surface surfaces",
    "more ghosts": "ghost ghosts",
    "more accents": "accent accents accented dynamics dynamic",
    "for the feet": "feet foot kick kicks bass",
    "for the left hand": "left",
    "for the right hand": "right",
    ANYTHING: "surprise something anything else",
}
_DIRECTION = {word: name for name, words in _WORDS.items() for word in words.split()}
# Words that say a direction only where no other one is said: "more notes", but "more ghost notes".
_WEAK = {
    "notes",
    "note",
    "strokes",
    "stroke",
    "sound",
    "sounds",
    "something",
    "anything",
    "else",
    "dynamics",
    "dynamic",
}
_SMALL = {"little", "bit", "slightly", "somewhat", "touch"}
_MUCH = {"much", "far", "lot", "lots", "way", "many"}
_LESS = {"less", "fewer"}
_FILL = {
    "a", "an", "the", "of", "for", "in", "on", "more", "with", "please", "it", "make", "this", "that", "new", "other",
    "another", "different", "me", "give", "hand", "hands", "my", "so", "then", "than", "beat", "feeling", "go", "i",
    "want", "would", "like", "to", "be",
}  # fmt: skip


def read_wish(text: str) -> Wish:
    """Read a wish; RequestError lists what is understood.

    >>> read_wish("A little busier, and quieter").text
    'a little busier and quieter'
    >>> read_wish("less busy").text, read_wish("").text
    ('airier', 'something new')
    """
    if len(text) > 200:
        raise RequestError("say a wish in a few words", field="wish")
    found: list[tuple[str, int]] = []
    for part in re.split(r"[,;.!&+]|\band\b|\bbut\b", text.lower()):
        if part.strip():
            found += _directions(part, text)
    named = [each for each in dict.fromkeys(found) if each[0] != ANYTHING] or [(ANYTHING, 1)]
    if any(name == EASIER for name, _ in named):
        if len(named) == 1:
            return Wish(EASIER, (), 0, 100, False, True)
        named = list(dict.fromkeys(("simpler" if name == EASIER else name, amount) for name, amount in named))
    ways: list[Way] = []
    said: list[str] = []
    for name, amount in named:
        said.append(_said(name, amount))
        if name in DIRECTIONS:
            ways += _ways(DIRECTIONS[name], amount)
    least = min(NEWNESS[amount][0] for _, amount in named)
    most = max(NEWNESS[amount][1] for _, amount in named)
    harder = any(DIRECTIONS[name].harder for name, _ in named if name in DIRECTIONS)
    return Wish(" and ".join(said), tuple(ways), least, most, harder)


def _said(name: str, amount: int) -> str:
    """Say a direction as the page offers it: "a little harder", "much more syncopated"."""
    return ("a little ", "", "much ")[amount] + name


def _ways(direction: Direction, amount: int) -> list[Way]:
    least, most = direction.ranges[amount]
    if direction.sign < 0:
        least, most = -most, -least
    return [Way(direction.measures, least, most), *direction.also]


def _directions(part: str, whole: str) -> list[tuple[str, int]]:
    """The directions that a part of a wish names, and their amount: 0 small, 1 plain, 2 much."""
    amount, less = 1, False
    strong: list[str] = []
    weak: list[str] = []
    for word in re.findall(r"[^\W_][^\s]*", part):
        if word in _SMALL:
            amount = 0
        elif word in _MUCH:
            amount = 2
        elif word in _LESS:
            less = not less
        elif word in _DIRECTION:
            (weak if word in _WEAK else strong).append(word)
        elif word not in _FILL:
            raise _unknown(word, whole)
    named = list(dict.fromkeys(_DIRECTION[word] for word in strong or weak[:1]))
    if "for the feet" in named:  # the left foot is no left hand
        named = [name for name in named if name not in ("for the left hand", "for the right hand")]
    if not named:
        raise _unknown(part.strip(), whole)
    if less:
        if any(name not in _OPPOSITE for name in named):
            raise _unknown(part.strip(), whole)
        named = [_OPPOSITE[name] for name in named]
    return [(name, amount) for name in named]


def _unknown(word: str, whole: str) -> RequestError:
    meant = nearest(word, _DIRECTION)
    return RequestError(
        f"the wish {shown(whole.strip())} is not understood at {shown(word)}"
        f"{meant[:-1] if 'did you mean' in meant else ''}; understood are, and joined by and: {', '.join(OFFERED)}",
        field="wish",
    )


def reached(way: Way, measured: dict[str, int]) -> bool | None:
    """Tell whether a way is reached; None where one of its measures is not known yet."""
    if any(name not in measured for name in way.measures):
        return None
    return way.least <= sum(measured[name] for name in way.measures) <= way.most
