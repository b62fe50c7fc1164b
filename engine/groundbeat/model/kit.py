"""What can be struck, with what, and where does it stand?

One row a surface. `instrument` groups surfaces of which only one can be struck at a place (a drum, its rimshot
and its rim; ride, bell and edge; the hi-hat positions). `choke` names the group whose ringing a new stroke stops: the
hi-hat, whose plates close; other cymbals ring on and add up, and are stopped by the grace "choke" alone.
`number` is the surface's number in links: append only, never changed. `row` orders the lines of a page or a
tablature from the top. `staff` is the place on the drum staff as in treble clef, `head` the notehead, after
Weinberg, Guidelines for Drumset Notation (Percussive Notes, June 1994); places that the guide does not give are
our choice (cross-stick and rims crossed, china and stack cymbal above the staff, shell below it). `key` is the
General MIDI percussion key (GM 1 level, channel 10); stack cymbal, rims and edges have none there and take the
nearest, by our choice. `seat` is the place around a right-handed player in centimetres (right, away), our choice.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from ..errors import KitError

HAND, FOOT = "hand", "foot"
METAL, DRUM, EITHER = "metal", "drum", "either"  # which letter writes it in a groove file: x, o, or both
FAMILIES = ("kick", "snare", "hi-hat", "ride", "cymbal", "tom", "extra")


class Surface(NamedTuple):
    """One thing to strike; the module's header says what each field means."""

    name: str
    number: int
    row: int
    instrument: str
    choke: str
    limb: str
    material: str
    staff: str
    head: str
    key: int
    seat: tuple[int, int]
    short: str
    family: str


_ROWS = (
    # name, number, row, instrument, choke, limb, material, staff, head, key, seat, short, family
    ("kick", 0, 90, "kick", "", FOOT, DRUM, "F4", "normal", 36, (0, 60), "BD", "kick"),
    ("snare", 1, 70, "snare", "", HAND, DRUM, "C5", "normal", 38, (-10, 30), "SN", "snare"),
    ("hi-hat", 2, 24, "hi-hat", "hi-hat", HAND, METAL, "G5", "x", 42, (-45, 45), "HH", "hi-hat"),
    ("ride", 3, 20, "ride", "", HAND, METAL, "F5", "x", 51, (55, 60), "RD", "ride"),
    ("open hi-hat", 4, 22, "hi-hat", "hi-hat", HAND, METAL, "G5", "x", 46, (-45, 45), "HO", "hi-hat"),
    ("hi-hat foot", 5, 96, "hi-hat pedal", "hi-hat", FOOT, METAL, "D4", "x", 44, (-35, 40), "HF", "hi-hat"),
    ("floor tom", 6, 56, "floor tom", "", HAND, DRUM, "A4", "normal", 43, (45, 35), "FT", "tom"),
    ("crash", 7, 10, "crash", "", HAND, METAL, "A5", "x", 49, (-35, 75), "CR", "cymbal"),
    ("cross-stick", 8, 72, "snare", "", HAND, EITHER, "C5", "x", 37, (-10, 30), "XS", "snare"),
    ("rimshot", 9, 68, "snare", "", HAND, DRUM, "C5", "slashed", 40, (-10, 30), "RS", "snare"),
    ("ride bell", 10, 19, "ride", "", HAND, METAL, "F5", "diamond", 53, (55, 60), "RB", "ride"),
    ("high tom", 11, 50, "high tom", "", HAND, DRUM, "E5", "normal", 50, (-15, 60), "T1", "tom"),
    ("mid tom", 12, 52, "mid tom", "", HAND, DRUM, "D5", "normal", 47, (15, 60), "T2", "tom"),
    ("low tom", 13, 54, "low tom", "", HAND, DRUM, "B4", "normal", 45, (35, 50), "T3", "tom"),
    ("half-open hi-hat", 14, 23, "hi-hat", "hi-hat", HAND, METAL, "G5", "x", 46, (-45, 45), "HP", "hi-hat"),
    ("second kick", 15, 92, "second kick", "", FOOT, DRUM, "E4", "normal", 35, (-15, 60), "B2", "kick"),
    ("snare rim", 16, 74, "snare", "", HAND, EITHER, "C5", "cross", 37, (-10, 30), "SR", "snare"),
    ("high tom rim", 17, 51, "high tom", "", HAND, EITHER, "E5", "x", 50, (-15, 60), "R1", "tom"),
    ("mid tom rim", 18, 53, "mid tom", "", HAND, EITHER, "D5", "x", 47, (15, 60), "R2", "tom"),
    ("low tom rim", 19, 55, "low tom", "", HAND, EITHER, "B4", "x", 45, (35, 50), "R3", "tom"),
    ("floor tom rim", 20, 57, "floor tom", "", HAND, EITHER, "A4", "x", 43, (45, 35), "FR", "tom"),
    ("foot splash", 21, 97, "hi-hat pedal", "hi-hat", FOOT, METAL, "D4", "x", 44, (-35, 40), "FS", "hi-hat"),
    ("ride edge", 22, 21, "ride", "", HAND, METAL, "F5", "x", 59, (55, 60), "RE", "ride"),
    ("second crash", 23, 12, "second crash", "", HAND, METAL, "B5", "x", 57, (40, 80), "C2", "cymbal"),
    ("china", 24, 14, "china", "", HAND, METAL, "B5", "circle-x", 52, (70, 80), "CH", "cymbal"),
    ("splash", 25, 13, "splash", "", HAND, METAL, "C6", "x", 55, (0, 80), "SP", "cymbal"),
    ("stack cymbal", 26, 16, "stack cymbal", "", HAND, METAL, "A5", "inverted triangle", 52,
     (-55, 65), "ST", "cymbal"),
    ("cowbell", 27, 30, "cowbell", "", HAND, METAL, "E5", "triangle", 56, (10, 65), "CB", "extra"),
    ("wood block", 28, 32, "wood block", "", HAND, EITHER, "D5", "triangle", 76, (-5, 70), "WB", "extra"),
    ("shell", 29, 58, "shell", "", HAND, EITHER, "C4", "x", 77, (50, 25), "SH", "extra"),
)  # fmt: skip

SURFACES: tuple[Surface, ...] = tuple(Surface(*row) for row in _ROWS)
BY_NAME: dict[str, Surface] = {surface.name: surface for surface in SURFACES}
INSTRUMENTS: dict[str, str] = {surface.name: surface.instrument for surface in SURFACES}
FEET_ONLY = frozenset(surface.name for surface in SURFACES if surface.limb == FOOT)
ROWS: dict[str, int] = {surface.name: surface.row for surface in SURFACES}
BY_NUMBER: dict[int, Surface] = {surface.number: surface for surface in SURFACES}

DYNAMICS = ("ghost", "soft", "normal", "accent")  # from quiet to loud; the order is the numbering in links
LOUDNESS = {name: level for level, name in enumerate(DYNAMICS)}
GRACES = ("", "flam", "drag", "ruff", "buzz", "diddle", "choke")  # append only: the order is the numbering
HANDS = ("", "R", "L")
GRACE_WORDS = {
    "flam": "flam", "drag": "drag", "ruff": "four-stroke ruff", "buzz": "buzz", "diddle": "diddle",
    "choke": "choked",
}  # fmt: skip


def surface(name: str) -> Surface:
    """Find a surface by its name; hyphens and spaces may stand for each other.

    >>> surface("Ride-Bell").name
    'ride bell'
    """
    found = BY_NAME.get(name) or _SPOKEN.get(_plain(name))
    if found is None:
        raise KitError(f'"{name}" is not a surface of the kit{nearest(name, BY_NAME)}', field="surface")
    return found


def instrument(name: str) -> str:
    """Name the instrument that a surface belongs to."""
    return BY_NAME[name].instrument


MOST_KNOWN = 20  # words listed in an error; our choice


def nearest(word: str, known: Iterable[str]) -> str:
    """Offer what the word may have been meant for, as the end of an error sentence."""
    import difflib  # only on the way to an error: costs 3 ms to import in a browser

    names = [name for name in known if name]
    close = difflib.get_close_matches(word, names, n=1, cutoff=0.55)
    if close:
        return f'; did you mean "{close[0]}"?'
    more = f" and {len(names) - MOST_KNOWN} more" if len(names) > MOST_KNOWN else ""
    return "; known are " + ", ".join(names[:MOST_KNOWN]) + more


def _plain(name: str) -> str:
    return " ".join(name.lower().replace("-", " ").split())


_SPOKEN = {_plain(name): row for name, row in BY_NAME.items()} | {
    "crosstick": BY_NAME["cross-stick"],
    "hihat": BY_NAME["hi-hat"],
    "open hihat": BY_NAME["open hi-hat"],
    "bass drum": BY_NAME["kick"],
}
