"""With which letters is paper printed, and what of a text can they not print?

Source Sans has Latin with all its accents, Greek and Cyrillic; its italics have Latin only. A letter that it lacks is
written by its plain form where there is one (a wide letter by the usual one), else by a question mark, and counted:
whoever prints is told, and nothing comes out as an empty box.
"""

from __future__ import annotations

import unicodedata
from bisect import bisect
from functools import cache
from importlib.util import find_spec
from pathlib import Path

from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

REGULAR, BOLD, ITALIC = "SourceSansPro-Regular", "SourceSansPro-Bold", "SourceSansPro-It"
FAMILY = "Source Sans Pro"
LACKING = "?"


def font_file(name: str) -> Path:
    """Where the file of one of the fonts is."""
    found = find_spec("font_source_sans_pro")
    assert found is not None and found.submodule_search_locations
    return Path(found.submodule_search_locations[0]) / "files" / f"{name}.ttf"


@cache
def _letters() -> dict[str, frozenset[int]]:
    """Register the fonts and give the letters that each of them has."""
    found = {}
    for name in (REGULAR, BOLD, ITALIC):
        font = TTFont(name, str(font_file(name)))
        pdfmetrics.registerFont(font)
        found[name] = frozenset(font.face.charToGlyph)
    return found


def font_for(text: str, font: str) -> str:
    """Give the font itself, or the upright one where it lacks letters of a text: italics have only the Latin ones."""
    return font if all(ord(letter) in _letters()[font] for letter in text) else REGULAR


def printable(text: str) -> tuple[str, int]:
    """Write a text with the letters that there are; also give how many of its letters stand as question marks.

    >>> printable("Żółw Ａ 鼓"), printable("a\\nb")
    (('Żółw A ?', 1), ('a b', 0))
    """
    known = _letters()[REGULAR] & _letters()[BOLD]
    out, lost = [], 0
    for letter in unicodedata.normalize("NFC", text):
        if ord(letter) in known and letter >= " ":
            out.append(letter)
            continue
        kind = unicodedata.category(letter)
        if letter.isspace():
            out.append(" ")
            continue
        if kind in ("Cc", "Cf", "Mn", "Me"):  # controls and marks that turn or join letters: nothing to print
            continue
        plain = "".join(each for each in unicodedata.normalize("NFKD", letter) if ord(each) in known)
        if plain:
            out.append(plain)
        else:
            out.append(LACKING)
            lost += 1
    return "".join(out), lost


def width(text: str, font: str, size: float) -> float:
    """How wide a printable text is, in points."""
    _letters()
    return float(pdfmetrics.stringWidth(text, font, size))


def wrapped(text: str, font: str, size: float, room: float) -> list[str]:
    """Break a printable text into lines of at most `room` points; a word that is wider is broken too."""
    lines: list[str] = []
    line = ""
    for word in text.split():
        tried = f"{line} {word}" if line else word
        if width(tried, font, size) <= room:
            line = tried
            continue
        if line:
            lines.append(line)
        while width(word, font, size) > room and len(word) > 1:
            fits = _fitting(word, font, size, room)
            lines.append(word[:fits])
            word = word[fits:]
        line = word
    return [*lines, line] if line else lines


def _fitting(word: str, font: str, size: float, room: float) -> int:
    """How many letters of a word that is too wide stand on a line: as many as fit, and one at least."""
    return max(1, bisect(range(len(word)), room, key=lambda end: width(word[:end], font, size)) - 1)
